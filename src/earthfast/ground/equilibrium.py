"""Strength that ground settles to under paving in the long wet run."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import cache

import numpy as np

from earthfast.estimate import FloatLike, Floats
from earthfast.sources import read_table

THIN, THICK = 0.30, 1.20  # construction thicknesses of the table, m
CLEAN_TO, FINE_FROM = 0.20, 0.45  # fines
NEAR_WATER, FAR_WATER = 0.30, 1.00  # water below formation in its two halves, m


class WaterTable(StrEnum):
    """Half of the table: water high, about 0.3 m below formation, or low, about 1 m."""

    HIGH = "high"
    LOW = "low"


class Protection(StrEnum):
    """How well formation is drained and kept dry while building."""

    POOR = "poor"
    AVERAGE = "average"
    GOOD = "good"


@dataclass(frozen=True, slots=True)
class EquilibriumRow:
    """One row of the equilibrium table, CBR in percent."""

    plasticity_index_percent: int
    water: str
    construction: str
    thin: float
    thick: float


@cache
def _column(water: WaterTable, protection: Protection) -> tuple[EquilibriumRow, ...]:
    rows = [
        row
        for row in read_table("equilibrium_cbr", EquilibriumRow).rows
        if (row.water, row.construction) == (water, protection)
    ]
    return tuple(sorted(rows, key=lambda row: row.plasticity_index_percent))


def tabulated_equilibrium_cbr(
    plasticity_index: FloatLike,
    water: WaterTable = WaterTable.HIGH,
    protection: Protection = Protection.AVERAGE,
    thickness: FloatLike = THIN,
) -> Floats:
    """CBR that fine soil comes to under paving in the long run, by the two water levels of the table.

    Parameters
    ----------
    plasticity_index : array-like
        Plasticity index as a fraction; 0 for a silt. [-]
    water : WaterTable
        Whether the water stands high or low below formation.
    protection : Protection
        How well formation is drained and kept dry while building.
    thickness : array-like
        Thickness of construction above formation. [m]

    Returns
    -------
    cbr : array-like
        In percent by definition. [-]

    Notes
    -----
    Table after LR1132, linear in thickness between 300 mm and 1.2 m as the source allows, and linear in
    plasticity index between rows; held constant outside. Silt stands at plasticity index 0, so soil of
    slight plasticity lies between silt and index 10 (P). With no information take high water and average
    conditions. The printed "> 8" is read as 8.

    References
    ----------
    rogers_highway_engineering, table 7.3 [S]
    earthfast_proposal, linear between the rows [P]
    """
    rows = _column(WaterTable(water), Protection(protection))
    percent = 100.0 * np.asarray(plasticity_index, dtype=np.float64)
    steps = [row.plasticity_index_percent for row in rows]
    thin = np.interp(percent, steps, [row.thin for row in rows])
    thick = np.interp(percent, steps, [row.thick for row in rows])
    share = np.clip((np.asarray(thickness) - THIN) / (THICK - THIN), 0.0, 1.0)
    return np.asarray(thin + share * (thick - thin))


def equilibrium_cbr(
    plasticity_index: FloatLike,
    water_below_formation: FloatLike = NEAR_WATER,
    protection: Protection = Protection.AVERAGE,
    thickness: FloatLike = THIN,
) -> Floats:
    """CBR of fine soil at formation once its water has come to rest under paving.

    Parameters
    ----------
    plasticity_index : array-like
        Plasticity index as a fraction; 0 for a silt. [-]
    water_below_formation : array-like
        Depth of the water table below formation. [m]
    protection : Protection
        How well formation is drained and kept dry while building.
    thickness : array-like
        Thickness of construction above formation. [m]

    Returns
    -------
    cbr : array-like
        In percent by definition. [-]

    Notes
    -----
    Table of tabulated_equilibrium_cbr, linear in the depth of water between 0.3 m (high) and 1.0 m (low)
    below formation; held constant outside.

    References
    ----------
    rogers_highway_engineering, table 7.3 [S]
    from_memory, depths meant by high and low water [M]
    earthfast_proposal, linear between high and low water [P]
    """
    far = np.clip((np.asarray(water_below_formation) - NEAR_WATER) / (FAR_WATER - NEAR_WATER), 0.0, 1.0)
    high = tabulated_equilibrium_cbr(plasticity_index, WaterTable.HIGH, protection, thickness)
    low = tabulated_equilibrium_cbr(plasticity_index, WaterTable.LOW, protection, thickness)
    return np.asarray(high + far * (low - high))


def table_rule(fines: FloatLike) -> Floats:
    """How far the table of fine soils rules a soil: not up to 20 % of fines, wholly from 45 % on (P)."""
    return np.clip((np.asarray(fines) - CLEAN_TO) / (FINE_FROM - CLEAN_TO), 0.0, 1.0)


def softening_by_standing_water(
    plasticity_index: FloatLike,
    fines: FloatLike,
    water_below_formation: FloatLike,
    protection: Protection = Protection.AVERAGE,
) -> Floats:
    """Long-term wet CBR with water standing on formation, over that with the water where it stands by itself.

    Parameters
    ----------
    plasticity_index : array-like
        Plasticity index as a fraction; 0 for a silt. [-]
    fines : array-like
        Share finer than 0.075 mm. [-]
    water_below_formation : array-like
        Depth of the water table below formation. [m]
    protection : Protection
        How well formation is drained and kept dry while building.

    Returns
    -------
    ratio : array-like
        1 where the water stands within 0.3 m of formation already, and in soil with few fines. [-]

    Notes
    -----
    (CBR at high water over CBR at its own water)^r by `equilibrium_cbr`, r how far fines rule the soil: 0 up to 20 % of
    fines, 1 from 45 % on.

    References
    ----------
    rogers_highway_engineering, table 7.3 [S]
    earthfast_proposal, water that stands on formation counts as high water; in between by fines [P]
    """
    own = equilibrium_cbr(plasticity_index, water_below_formation, protection)
    standing = tabulated_equilibrium_cbr(plasticity_index, WaterTable.HIGH, protection)
    return np.asarray((standing / own) ** table_rule(fines))


class CleanSoil(StrEnum):
    """Soils with few fines, whose equilibrium strength depends on grading alone."""

    POORLY_GRADED_SAND = "poorly graded sand"
    WELL_GRADED_SAND = "well graded sand"
    SANDY_GRAVEL = "well graded sandy gravel"


CLEAN_CBR = {
    CleanSoil.POORLY_GRADED_SAND: 20.0,
    CleanSoil.WELL_GRADED_SAND: 40.0,
    CleanSoil.SANDY_GRAVEL: 60.0,
}


def equilibrium_cbr_clean(soil: CleanSoil) -> float:
    """CBR of clean granular soil under paving, whatever the water.

    Parameters
    ----------
    soil : CleanSoil
        Which of the three clean soils.

    Returns
    -------
    cbr : float
        In percent by definition. [-]

    Notes
    -----
    Poorly graded sand 20, well graded sand 40, well graded sandy gravel 60.

    References
    ----------
    rogers_highway_engineering, table 7.3 [S]
    """
    return CLEAN_CBR[CleanSoil(soil)]
