"""Which observations belong to which stratum; a sounding is shared out among the strata it goes through."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from earthfast.ground.observation import Observation
from earthfast.ground.observations.strength import ConePenetrometer


def observations_within(
    observations: Sequence[Observation], top: float, bottom: float, *, takes_unplaced: bool
) -> tuple[Observation, ...]:
    """Observations that speak of the ground between two depths.

    Parameters
    ----------
    observations : sequence of Observation
        All observations of the place.
    top : float
        Depth of the top of the stratum. [m]
    bottom : float
        Depth of its bottom; inf for the lowest. [m]
    takes_unplaced : bool
        Whether observations without a depth are taken for this stratum.

    Returns
    -------
    observations : tuple of Observation
        In their order; of a cone sounding, the sets whose middle lies between the depths.

    Notes
    -----
    An observation belongs to the stratum that holds its depth. A sounding carries its own depths, whatever
    depth is noted beside it, and is cut at the strata.

    References
    ----------
    definition, depth of an observation [C]
    """
    found: list[Observation] = []
    for row in observations:
        if isinstance(row, ConePenetrometer):
            part = _part_of(row, top, bottom)
            found.extend([part] if part is not None else [])
        elif takes_unplaced if row.depth is None else top <= row.depth < bottom:
            found.append(row)
    return tuple(found)


def _part_of(sounding: ConePenetrometer, top: float, bottom: float) -> ConePenetrometer | None:
    edges = np.array([sounding.start, *sounding.depths])
    middle = 0.5 * (edges[1:] + edges[:-1])
    inside = np.flatnonzero((middle >= top) & (middle < bottom))
    if inside.size == 0:
        return None
    return replace(
        sounding,
        start=float(edges[inside[0]]),
        blows=tuple(sounding.blows[i] for i in inside),
        depths=tuple(float(edges[i + 1]) for i in inside),
    )
