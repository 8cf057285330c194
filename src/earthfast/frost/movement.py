"""What heave may be: uneven movement, what paving takes, and how often frost comes and goes."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from earthfast.estimate import FloatLike, Floats
from earthfast.sources import Table, read_table

STANDING = 0.01  # K about 0 °C within which a place that is freezing or thawing stands


class PavingKind(StrEnum):
    """What has to stay level."""

    BLOCKS = "blocks"
    FLAGS_ON_SAND = "flags on sand"
    MORTAR_BEDDED_FLAGS = "mortar-bedded flags or a thin slab"


@dataclass(frozen=True, slots=True)
class AllowableMovement:
    """Movement that a kind of paving takes, m.

    Attributes
    ----------
    paving : kind of paving.
    differential : between points 3 m apart.
    total : away from buildings.
    at_threshold : at doors and against buildings.
    """

    paving: str
    differential: float
    total: float
    at_threshold: float


def allowable_movements() -> Table[AllowableMovement]:
    """Table of working limits for heave and settlement of paving.

    Returns
    -------
    table : Table of AllowableMovement
        Limits for each kind of paving. [m]

    Notes
    -----
    Differential over 3 m: 10 mm blocks, 5 mm flags on sand, 3 mm mortar-bedded flags or thin slabs; total
    25 mm, 15 mm at thresholds. No published limit for domestic paving was found; these follow surface
    regularity clauses (10 mm under a 3 m straight edge for blocks, 3 mm for flags) and the 15 mm of the
    UK aggregate test.

    References
    ----------
    earthfast_proposal, working limits [P]
    uk_earthworks_clauses, surface regularity [S]
    """
    return read_table("allowable_movement", AllowableMovement)


def allowable_movement(paving: PavingKind) -> AllowableMovement:
    """Working limits for one kind of paving.

    Parameters
    ----------
    paving : PavingKind
        Kind of paving. [-]

    Returns
    -------
    limits : AllowableMovement
        Differential, total and threshold limits. [m]

    Notes
    -----
    A row of `allowable_movements`.

    References
    ----------
    earthfast_proposal, working limits [P]
    """
    return next(row for row in allowable_movements().rows if row.paving == paving)


def differential_movement(total: FloatLike, *, is_variable: bool) -> Floats:
    """Uneven part of a heave over a few metres.

    Parameters
    ----------
    total : array-like
        Heave. [m]
    is_variable : bool
        Whether the ground varies over the plan. [-]

    Returns
    -------
    differential : ndarray
        Difference over about 3 m. [m]

    Notes
    -----
    Half the total on variable ground, a quarter on uniform ground.

    References
    ----------
    earthfast_proposal, share of the total [P]
    """
    share = 0.5 if is_variable else 0.25
    return np.asarray(share * np.asarray(total, float))


def freeze_thaw_cycles(temperatures: Floats) -> Floats:
    """Times that a place freezes in a series of temperatures.

    Parameters
    ----------
    temperatures : ndarray
        Temperatures in order along the last axis. [°C]

    Returns
    -------
    cycles : ndarray
        Falls from above freezing to below. [-]

    Notes
    -----
    A place is frozen from the first T < -0.01 K and thawed again from the first T > 0.01 K; in between it stays what it was, and
    a series that starts below counts that as one. While its water freezes or thaws a place stands at 0 °C to within what any
    solver leaves: without the band it would be counted again and again (nine times instead of six at a face of stone and silt,
    in two solvers alike).

    References
    ----------
    definition, crossings of the freezing point by more than a solver leaves [C]
    """
    degrees = np.asarray(temperatures, float)
    clear = np.abs(degrees) > STANDING
    last_clear = np.maximum.accumulate(np.where(clear, np.arange(degrees.shape[-1]), 0), axis=-1)
    below = np.take_along_axis(degrees < -STANDING, last_clear, axis=-1)
    falls = below[..., 1:] & ~below[..., :-1]
    return np.asarray(falls.sum(axis=-1) + below[..., 0], float)
