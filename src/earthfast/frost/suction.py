"""Suction in the ground at rest above a water table."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from earthfast.estimate import FloatLike, Floats
from earthfast.sources import read_table

UNIT_WEIGHT_WATER = 9.81e3  # N/m³
PERCENT = 100.0


@dataclass(frozen=True, slots=True)
class WaterTableFactor:
    """One row of the table of suction by plasticity index in percent: factor on the thickness of cover."""

    plasticity_index: float
    factor: float


def effective_water_table_depth(
    water_table_depth: FloatLike, plasticity_index: FloatLike, thickness: FloatLike
) -> Floats:
    """Depth of the water table below formation that gives the same suction once the ground is covered.

    Parameters
    ----------
    water_table_depth : array-like
        Depth of the water table below formation. [m]
    plasticity_index : array-like
        Plasticity index as a fraction. [-]
    thickness : array-like
        Thickness of everything above formation. [m]

    Returns
    -------
    depth : ndarray
        Effective depth. [m]

    Notes
    -----
    D = WT + S t, with S by plasticity index in percent: 0 at 0, 0.3 at 10, 0.55 at 15, 0.80 at 20, 1.1 at
    25, 1.4 at 30, 1.6 at 35, linear between, and 2.0 above 35.

    References
    ----------
    pavement_manual_2002, appendix B, table B-1 [S]
    """
    rows = read_table("suction_factors", WaterTableFactor).rows
    pi = PERCENT * np.asarray(plasticity_index, float)
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
