"""Water at formation: falls, rise, soaking and what immersion does to a treated layer."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from earthfast.estimate import Estimate, FloatLike, Floats, lognormal_from_band
from earthfast.sources import Table, read_table

SANDY_TO, FINE_FROM = 0.12, 0.35  # fines
CLAY_FROM = 0.20  # plasticity index


class DrainageSoil(StrEnum):
    """Soils by how water moves in them."""

    GRAVEL = "gravel"
    SAND = "sand"
    SILT = "silt"
    CLAY = "clay"


class PavedArea(StrEnum):
    """What a fall is for."""

    CARRIAGEWAY = "carriageway"
    OTHER = "other area"
    RIVEN_FLAGS = "riven flags"
    DOMESTIC_FLAGS = "domestic flags"
    DOMESTIC_BLOCKS = "domestic blocks"


@dataclass(frozen=True, slots=True)
class Fall:
    """Fall asked of a paved area, as a slope.

    Attributes
    ----------
    area : what it is for.
    cross : crossfall.
    along : fall along it; None where none is asked.
    status : how the figure reached us.
    """

    area: str
    cross: float
    status: str
    along: float | None = None


@dataclass(frozen=True, slots=True)
class WaterMovement:
    """One row of the table of permeability (m/s) and capillary rise (m), as bands."""

    soil: str
    permeability_low: float
    permeability_high: float
    rise_low: float
    rise_high: float


def falls() -> Table[Fall]:
    """Table of falls for paved areas.

    Returns
    -------
    table : Table of Fall
        Crossfall and long fall. [-]

    Notes
    -----
    Carriageways 2.5 percent across and 1.25 along; other areas 1.25 and 1; riven flags 1.7 to 2; at home
    1:80 for flags and 1:60 to 1:40 for blocks, away from the house.

    References
    ----------
    bs_7533, quoted at second hand [S]
    common_practice, falls at home [CP]
    """
    return read_table("falls", Fall)


def least_fall(area: PavedArea) -> float:
    """Smallest crossfall for a paved area.

    Parameters
    ----------
    area : PavedArea
        What the area is. [-]

    Returns
    -------
    fall : float
        Slope. [-]

    Notes
    -----
    A row of `falls`.

    References
    ----------
    bs_7533, quoted at second hand [S]
    common_practice, falls at home [CP]
    """
    return next(row.cross for row in falls().rows if row.area == area)


def _water_movement(soil: DrainageSoil) -> WaterMovement:
    rows: tuple[WaterMovement, ...] = read_table("water_movement", WaterMovement).rows
    return next(row for row in rows if row.soil == soil)


def permeability_prior(soil: DrainageSoil) -> Estimate:
    """Permeability to expect of a soil known only by name.

    Parameters
    ----------
    soil : DrainageSoil
        Gravel, sand, silt or clay. [-]

    Returns
    -------
    permeability : Estimate
        Coefficient of permeability. [m/s]

    Notes
    -----
    Bands: gravel 1e-2 to 1, clean sand 1e-5 to 1e-3, silt 1e-8 to 1e-6, clay 1e-11 to 1e-9 m/s, taken as
    5 to 95 percent. More than 15 percent fines keep a granular soil from draining freely; above 30
    percent it drains little.

    References
    ----------
    from_memory, permeability bands [M]
    """
    row = _water_movement(soil)
    return lognormal_from_band(row.permeability_low, row.permeability_high)


def capillary_rise_prior(soil: DrainageSoil) -> Estimate:
    """Height to which water climbs in a soil known only by name.

    Parameters
    ----------
    soil : DrainageSoil
        Gravel, sand, silt or clay. [-]

    Returns
    -------
    rise : Estimate
        Height above the water table. [m]

    Notes
    -----
    Bands: gravel 0.01 to 0.1, sand 0.1 to 1, silt 1 to 10, clay 10 to 30 m, taken as 5 to 95 percent.

    References
    ----------
    from_memory, capillary rise bands [M]
    """
    row = _water_movement(soil)
    return lognormal_from_band(row.rise_low, row.rise_high)


def capillary_rise(fines: FloatLike, plasticity_index: FloatLike, score: FloatLike) -> Floats:
    """Height to which water climbs in a soil of known fines and plasticity.

    Parameters
    ----------
    fines : array-like
        Mass finer than about 0.07 mm. [-]
    plasticity_index : array-like
        Plasticity index as a fraction. [-]
    score : array-like
        Standard normal score of its place within the band. [-]

    Returns
    -------
    rise : ndarray
        Height above the water table. [m]

    Notes
    -----
    The bands of `capillary_rise_prior`, in the logarithm: sand up to 12 percent fines, silt or clay from 35 percent on, clay from
    a plasticity index of 20 percent, silt at 0, straight in between.

    References
    ----------
    from_memory, capillary rise bands [M]
    earthfast_proposal, straight lines between them [P]
    """
    return _along_grains(capillary_rise_prior, fines, plasticity_index, score)


def permeability(fines: FloatLike, plasticity_index: FloatLike, score: FloatLike) -> Floats:
    """Permeability of a soil of known fines and plasticity.

    Parameters
    ----------
    fines : array-like
        Mass finer than about 0.07 mm. [-]
    plasticity_index : array-like
        Plasticity index as a fraction. [-]
    score : array-like
        Standard normal score of its place within the band. [-]

    Returns
    -------
    permeability : ndarray
        Coefficient of permeability. [m/s]

    Notes
    -----
    The bands of `permeability_prior`, in the logarithm and along the grains as in `capillary_rise`.

    References
    ----------
    from_memory, permeability bands [M]
    earthfast_proposal, straight lines between them [P]
    """
    return _along_grains(permeability_prior, fines, plasticity_index, score)


def _along_grains(
    prior: Callable[[DrainageSoil], Estimate],
    fines: FloatLike,
    plasticity_index: FloatLike,
    score: FloatLike,
) -> Floats:
    """A lognormal property between its bands for sand, silt and clay."""
    sand, silt, clay = (prior(soil) for soil in (DrainageSoil.SAND, DrainageSoil.SILT, DrainageSoil.CLAY))
    clayey = np.clip(np.asarray(plasticity_index, float) / CLAY_FROM, 0.0, 1.0)
    fine = np.clip((np.asarray(fines, float) - SANDY_TO) / (FINE_FROM - SANDY_TO), 0.0, 1.0)
    ln_fine = np.log(silt.centre) + clayey * np.log(clay.centre / silt.centre)
    ln_middle = np.log(sand.centre) + fine * (ln_fine - np.log(sand.centre))
    spread_fine = silt.spread + clayey * (clay.spread - silt.spread)
    return np.asarray(np.exp(ln_middle + (sand.spread + fine * (spread_fine - sand.spread)) * score))


def is_free_draining(fines: FloatLike) -> np.typing.NDArray[np.bool_]:
    """Whether a granular layer drains freely.

    Parameters
    ----------
    fines : array-like
        Mass finer than about 0.07 mm. [-]

    Returns
    -------
    is_draining : ndarray of bool
        True up to 15 percent fines. [-]

    Notes
    -----
    Not free-draining above 15 percent fines; of low permeability above 30 percent.

    References
    ----------
    look_handbook, drainage by fines [S]
    """
    return np.asarray(np.asarray(fines, float) <= 0.15)


def soaked_cbr_ratio_prior(soil: DrainageSoil) -> Estimate:
    """Soaked over unsoaked CBR of a compacted soil.

    Parameters
    ----------
    soil : DrainageSoil
        Gravel, sand, silt or clay. [-]

    Returns
    -------
    ratio : Estimate
        Soaked CBR over CBR as compacted. [-]

    Notes
    -----
    0.2 to 0.5 for silts and clays; 0.9 to 1.0 for clean gravels, here also for sands.

    References
    ----------
    from_memory, soaked CBR ratios [M]
    """
    if soil in {DrainageSoil.SILT, DrainageSoil.CLAY}:
        return lognormal_from_band(0.2, 0.5)
    return lognormal_from_band(0.9, 1.0)
