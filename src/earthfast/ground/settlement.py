"""Settlement of the ground under a lasting load, and how much of it shows as tilt."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from earthfast.estimate import FloatLike, Floats
from earthfast.sources import Table, read_table

VISIBLE_TILT = 1.0 / 200.0  # relative rotation that shows in paving: judgement
COUNTED_STRESS_RATIO = 0.1  # lower end of the 10..20 % below which clay settlement is neglected


@dataclass(frozen=True, slots=True)
class CompressibilityRange:
    """Range of one-dimensional compressibility m_v of a soil, m²/N."""

    material: str
    low: float
    high: float


def compressibilities() -> Table[CompressibilityRange]:
    """One-dimensional compressibility of clays.

    Returns
    -------
    table : Table
        Range of m_v by soil; open-ended rows end at 0 or infinity. [m²/N]

    Notes
    -----
    Strain per stress in one-dimensional loading, for stress increments of about 100 kPa; smaller when
    preloaded.

    References
    ----------
    bell_2000, quoted in a secondary source [S]
    """
    return read_table("compressibility", CompressibilityRange)


def compressibilities_hydrogeology() -> Table[CompressibilityRange]:
    """One-dimensional compressibility of clays and sands as used for pumping subsidence.

    Returns
    -------
    table : Table
        Range of m_v by soil. [m²/N]

    Notes
    -----
    A second opinion on compressibilities, with sands.

    References
    ----------
    domenico_mifflin_1965, quoted in a secondary source [S]
    """
    return read_table("compressibility_hydrogeology", CompressibilityRange)


def immediate_settlement(
    vertical_stress: FloatLike,
    lateral_stress: FloatLike,
    thickness: FloatLike,
    modulus: FloatLike,
    poisson_ratio: FloatLike,
) -> Floats:
    """Settlement on loading, summed over sublayers.

    Parameters
    ----------
    vertical_stress : array-like
        Increase of vertical stress at mid-depth of each sublayer, sublayers along the last axis. [Pa]
    lateral_stress : array-like
        Sum of the increases of the two horizontal stresses there. [Pa]
    thickness : array-like
        Thickness of each sublayer. [m]
    modulus : array-like
        Settlement (large-strain) modulus of each sublayer. [Pa]
    poisson_ratio : array-like
        Poisson's ratio of each sublayer. [-]

    Returns
    -------
    settlement : array-like
        Settlement of the top of the sublayers against their base. [m]

    Notes
    -----
    s = Σ h (Δσ_z − ν (Δσ_x + Δσ_y)) / E; h thickness, E modulus, ν Poisson's ratio. Exact for an elastic
    ground as sublayers get thin, with error falling as the square of their thickness. With lateral stress 0
    it is too large.

    References
    ----------
    definition, Hooke's law summed over depth [C]
    """
    strain = (vertical_stress - poisson_ratio * np.asarray(lateral_stress)) / np.asarray(modulus)
    return np.asarray(np.sum(strain * thickness, axis=-1))


def consolidation_settlement(
    vertical_stress: FloatLike, thickness: FloatLike, compressibility: FloatLike, correction: FloatLike = 1.0
) -> Floats:
    """Long-term settlement of clay as water is squeezed out, summed over sublayers.

    Parameters
    ----------
    vertical_stress : array-like
        Increase of vertical stress at mid-depth of each sublayer, sublayers along the last axis. [Pa]
    thickness : array-like
        Thickness of each sublayer. [m]
    compressibility : array-like
        One-dimensional compressibility of each sublayer. [m²/N]
    correction : array-like
        Reduction for overconsolidated clay, 0.7 to 1. [-]

    Returns
    -------
    settlement : array-like
        Settlement when consolidation is complete. [m]

    Notes
    -----
    s = µ Σ m_v Δσ h; m_v compressibility, Δσ stress increase, h thickness, µ correction. Sublayers where
    the increase is below 10 to 20 % of the stress already there are left out by custom; see
    counts_for_settlement.

    References
    ----------
    definition, one-dimensional compressibility [C]
    from_memory, correction for overconsolidated clay [M]
    """
    compression = compressibility * np.asarray(vertical_stress) * thickness
    return np.asarray(correction * np.sum(compression, axis=-1))


def counts_for_settlement(vertical_stress: FloatLike, effective_stress: FloatLike) -> Floats:
    """Whether a stress increase is large enough to settle clay that has carried its own weight for long.

    Parameters
    ----------
    vertical_stress : array-like
        Increase of vertical stress. [Pa]
    effective_stress : array-like
        Vertical effective stress already there. [Pa]

    Returns
    -------
    counted : array-like
        1 where the sublayer counts, 0 where it is left out. [-]

    Notes
    -----
    Counted where Δσ ≥ 0.1 σ'; custom neglects increases below 10 to 20 %, and the lower end is the cautious
    one.

    References
    ----------
    from_memory, depth of influence by stress ratio [M]
    """
    return np.asarray(
        np.asarray(vertical_stress) >= COUNTED_STRESS_RATIO * np.asarray(effective_stress), float
    )


def tilt(settlement_here: FloatLike, settlement_there: FloatLike, distance: FloatLike) -> Floats:
    """Slope that two unequal settlements put into a surface.

    Parameters
    ----------
    settlement_here : array-like
        Settlement of one point. [m]
    settlement_there : array-like
        Settlement of the other point. [m]
    distance : array-like
        Distance between them. [m]

    Returns
    -------
    tilt : array-like
        Relative rotation, never negative. [-]

    Notes
    -----
    |s₁ − s₂| / L; s the settlements, L the distance. About 1/200 shows in paving, a matter of judgement; it
    matters more than the total.

    References
    ----------
    definition [C]
    earthfast_proposal, 1/200 as visible [P]
    """
    return np.asarray(np.abs(np.subtract(settlement_here, settlement_there)) / distance)


def differential_settlement(settlement: FloatLike, variation: FloatLike, correlation: FloatLike) -> Floats:
    """Scatter of the difference in settlement between two points on varying ground.

    Parameters
    ----------
    settlement : array-like
        Mean settlement of either point. [m]
    variation : array-like
        Coefficient of variation of the settlement from place to place. [-]
    correlation : array-like
        Correlation of the ground between the two points. [-]

    Returns
    -------
    standard_deviation : array-like
        Standard deviation of the difference. [m]

    Notes
    -----
    sd = s V √(2 (1 − ρ)); s settlement, V variation, ρ correlation. 0 where the two points move together.

    References
    ----------
    definition, variance of a difference [C]
    """
    spread = np.sqrt(2.0 * (1.0 - np.asarray(correlation, dtype=np.float64)))
    return np.asarray(settlement * np.asarray(variation) * spread)
