"""The strength a soil settles to under paving, once its water has found its level."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from earthfast.estimate import FloatLike, Floats
from earthfast.sources import read_table

THIN, THICK = 0.3, 1.2  # m, pavement thicknesses of the table
UNIT_WEIGHT_WATER = 9.81e3  # N/m³


class WaterTable(StrEnum):
    """Where the water stands: high is about 300 mm below formation, low about 1 m or more."""

    HIGH = "high"
    LOW = "low"


class Construction(StrEnum):
    """How dry and undisturbed formation was kept while it lay open."""

    POOR = "poor"
    AVERAGE = "average"
    GOOD = "good"


class GranularSoil(StrEnum):
    """Soils whose equilibrium CBR does not depend on water."""

    POORLY_GRADED_SAND = "poorly graded sand"
    WELL_GRADED_SAND = "well graded sand"
    WELL_GRADED_SANDY_GRAVEL = "well graded sandy gravel"


@dataclass(frozen=True, slots=True)
class EquilibriumRow:
    """One row of the table: CBR in percent under thin (300 mm) and thick (1200 mm) pavements."""

    soil: str
    plasticity_index: float
    water_table: str
    construction: str
    thin: float
    thick: float


@dataclass(frozen=True, slots=True)
class WaterTableFactor:
    """One row of the table of suction by plasticity: factor on the thickness of cover."""

    plasticity_index: float
    factor: float


_GRANULAR = {
    GranularSoil.POORLY_GRADED_SAND: 20.0,
    GranularSoil.WELL_GRADED_SAND: 40.0,
    GranularSoil.WELL_GRADED_SANDY_GRAVEL: 60.0,
}


def _by_thickness(thin: FloatLike, thick: FloatLike, thickness: FloatLike) -> Floats:
    share = np.clip((np.asarray(thickness, float) - THIN) / (THICK - THIN), 0.0, 1.0)
    return np.asarray(thin + share * (np.asarray(thick, float) - thin))


def equilibrium_cbr(
    plasticity_index: FloatLike, thickness: FloatLike, water_table: WaterTable, construction: Construction
) -> Floats:
    """CBR that a clay comes to under paving in the long run.

    Parameters
    ----------
    plasticity_index : array-like
        Plasticity index, in percent. [-]
    thickness : array-like
        Thickness of everything above formation. [m]
    water_table : WaterTable
        High, about 300 mm below formation, or low, about 1 m. [-]
    construction : Construction
        How formation was looked after while open. [-]

    Returns
    -------
    cbr : ndarray
        Equilibrium CBR, in percent. [-]

    Notes
    -----
    Table by plasticity index (10 to 70), linear in thickness between 300 and 1200 mm as the source
    allows, and linear in plasticity index between rows, which is our assumption; held at the ends
    outside. With nothing known take a high water table and average construction. The cell printed "> 8"
    counts as 8.

    References
    ----------
    trl_lr1132, table of equilibrium CBR, read in a textbook reprint as table 7.3 [S]
    earthfast_proposal, linear in plasticity index [P]
    """
    rows = [
        row
        for row in read_table("equilibrium_cbr", EquilibriumRow).rows
        if (row.water_table, row.construction) == (water_table, construction) and row.soil != "silt"
    ]
    rows.sort(key=lambda row: row.plasticity_index)
    known = [row.plasticity_index for row in rows]
    thin = np.interp(plasticity_index, known, [row.thin for row in rows])
    thick = np.interp(plasticity_index, known, [row.thick for row in rows])
    return _by_thickness(thin, thick, thickness)


def equilibrium_cbr_silt(thickness: FloatLike, water_table: WaterTable, construction: Construction) -> Floats:
    """CBR that a silt comes to under paving in the long run.

    Parameters
    ----------
    thickness : array-like
        Thickness of everything above formation. [m]
    water_table : WaterTable
        High, about 300 mm below formation, or low, about 1 m. [-]
    construction : Construction
        How formation was looked after while open. [-]

    Returns
    -------
    cbr : ndarray
        Equilibrium CBR, in percent. [-]

    Notes
    -----
    Table row of silt, linear in thickness between 300 and 1200 mm.

    References
    ----------
    trl_lr1132, table of equilibrium CBR, read in a textbook reprint as table 7.3 [S]
    """
    row = next(
        row
        for row in read_table("equilibrium_cbr", EquilibriumRow).rows
        if (row.soil, row.water_table, row.construction) == ("silt", water_table, construction)
    )
    return _by_thickness(row.thin, row.thick, thickness)


def equilibrium_cbr_granular(soil: GranularSoil) -> float:
    """CBR that a sand or a sandy gravel comes to under paving in the long run.

    Parameters
    ----------
    soil : GranularSoil
        Grading of the soil. [-]

    Returns
    -------
    cbr : float
        Equilibrium CBR, in percent. [-]

    Notes
    -----
    20, 40 and 60 percent; water and thickness make no difference in the source.

    References
    ----------
    trl_lr1132, table of equilibrium CBR, read in a textbook reprint as table 7.3 [S]
    """
    return _GRANULAR[soil]


def effective_water_table_depth(
    water_table_depth: FloatLike, plasticity_index: FloatLike, thickness: FloatLike
) -> Floats:
    """Depth of the water table below formation that gives the same suction once the ground is covered.

    Parameters
    ----------
    water_table_depth : array-like
        Depth of the water table below formation. [m]
    plasticity_index : array-like
        Plasticity index, in percent. [-]
    thickness : array-like
        Thickness of everything above formation. [m]

    Returns
    -------
    depth : ndarray
        Effective depth. [m]

    Notes
    -----
    D = WT + S t, with S by plasticity index: 0 at 0, 0.3 at 10, 0.55 at 15, 0.80 at 20, 1.1 at 25, 1.4 at
    30, 1.6 at 35, linear between, and 2.0 above 35.

    References
    ----------
    pavement_manual_2002, appendix B, table B-1 [S]
    """
    rows = read_table("suction_factors", WaterTableFactor).rows
    pi = np.asarray(plasticity_index, float)
    factor = np.interp(pi, [row.plasticity_index for row in rows[:-1]], [row.factor for row in rows[:-1]])
    factor = np.where(pi > rows[-1].plasticity_index, rows[-1].factor, factor)
    return np.asarray(np.asarray(water_table_depth, float) + factor * thickness)


def suction_at_depth(effective_depth: FloatLike) -> Floats:
    """Suction at formation in balance with a water table.

    Parameters
    ----------
    effective_depth : array-like
        Effective depth of the water table below formation. [m]

    Returns
    -------
    suction : ndarray
        Suction, positive. [Pa]

    Notes
    -----
    u = 9.81 kN/m³ times the depth.

    References
    ----------
    pavement_manual_2002, appendix B [S]
    """
    return np.asarray(UNIT_WEIGHT_WATER * np.asarray(effective_depth, float))
