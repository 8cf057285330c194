"""Curves of strength against dose, water and porosity fitted to results."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from earthfast.estimate import FloatLike, Floats
from earthfast.mixes.age import REFERENCE_AGE

CEMENT_SOLIDS = 3100.0  # kg/m³, common value


@dataclass(frozen=True, slots=True)
class PowerLaw:
    """Strength as a power of dose.

    Attributes
    ----------
    strength_at_one_percent : Pa.
    exponent : of dose.
    log_sd : scatter of ln strength about the curve; 0 for two points.
    """

    strength_at_one_percent: float
    exponent: float
    log_sd: float

    def strength(self, dose: FloatLike) -> FloatLike:
        """Strength at a dose, Pa."""
        return self.strength_at_one_percent * (dose / 0.01) ** self.exponent


def power_law_fit(dose: Floats, strength: Floats) -> PowerLaw:
    """Power of dose through results on one soil, by least squares in logarithms.

    Parameters
    ----------
    dose : array-like
        Cement as a fraction of dry soil mass, two or more different. [-]
    strength : array-like
        Strength at each. [Pa]

    Returns
    -------
    law : PowerLaw
        Curve and scatter about it.

    Notes
    -----
    ln q = ln q1 + b ln(C / 1 %). An exponent near or above 2 is the mark of a clean sand with a threshold
    dose, see `threshold_line_fit`.

    References
    ----------
    gajurel_2021, appendix C, fits by soil [C]
    """
    log_dose, log_strength = np.log(np.asarray(dose) / 0.01), np.log(strength)
    exponent, level = np.polyfit(log_dose, log_strength, 1)
    residual = log_strength - level - exponent * log_dose
    freedom = len(log_dose) - 2
    log_sd = float(np.sqrt(np.sum(residual**2) / freedom)) if freedom > 0 else 0.0
    return PowerLaw(float(np.exp(level)), float(exponent), log_sd)


@dataclass(frozen=True, slots=True)
class ThresholdLine:
    """Strength rising in a straight line from a threshold dose.

    Attributes
    ----------
    slope : Pa for each unit of dose.
    threshold_dose : fraction of dry soil mass at which the line starts from 0.
    """

    slope: float
    threshold_dose: float


def threshold_line_fit(dose: Floats, strength: Floats) -> ThresholdLine:
    """Straight line of strength against dose, and the dose at which it starts.

    Parameters
    ----------
    dose : array-like
        Cement as a fraction of dry soil mass, two or more different. [-]
    strength : array-like
        Strength at each. [Pa]

    Returns
    -------
    line : ThresholdLine
        Slope and threshold.

    Notes
    -----
    q = m (C − C0). Clean uniform sand has so many voids to bridge that the first few percent do nothing.

    References
    ----------
    gajurel_2021, appendix C, dune sand [C]
    """
    slope, start = np.polyfit(dose, strength, 1)
    return ThresholdLine(float(slope), float(-start / slope))


def wet_mix_strength(water_cement_ratio: FloatLike, age: FloatLike) -> Floats:
    """Strength of clay mixed with cement wetter than its liquid limit, by true water over cement.

    Parameters
    ----------
    water_cement_ratio : array-like
        All water over cement, by mass. [-]
    age : array-like
        Age at 20 °C. [s]

    Returns
    -------
    strength : array-like
        Median crushing strength of a poured 100 mm cube. [Pa]

    Notes
    -----
    ln q = 9.158 − 2.378 ln(w/c) + 0.337 ln(t/28 d), q in kPa; scatter 0.30 in ln. For w/c of 1.1 to 7.9, 7
    to 90 days, one clay of liquid limit 58 %. Not for compacted damp mixes, where density rules.

    References
    ----------
    zhang_2022, fit on 150 rows [C]
    """
    log_kilopascal = (
        9.158 - 2.378 * np.log(water_cement_ratio) + 0.337 * np.log(np.asarray(age) / REFERENCE_AGE)
    )
    return np.asarray(1000.0 * np.exp(log_kilopascal))


def wet_mix_water_cement_ratio(water_over_soil: FloatLike, cement_ratio: FloatLike) -> FloatLike:
    """True water over cement of a wet mix from the ratios in which it is batched.

    Parameters
    ----------
    water_over_soil : array-like
        Water over dry soil, by mass. [-]
    cement_ratio : array-like
        Cement over water and dry soil together, by mass. [-]

    Returns
    -------
    water_cement_ratio : array-like
        Water over cement, by mass. [-]

    Notes
    -----
    w/c = Cw / (Cc (1 + Cw)), with Cw and Cc in the order of the arguments.

    References
    ----------
    zhang_2022, definitions [S]
    """
    return water_over_soil / (cement_ratio * (1.0 + water_over_soil))


def mix_porosity(mix_dry_density: FloatLike, dose: FloatLike, soil_solids_density: FloatLike) -> FloatLike:
    """Porosity of a compacted mix of soil and cement.

    Parameters
    ----------
    mix_dry_density : array-like
        Dry density of the mix, soil and cement. [kg/m³]
    dose : array-like
        Cement as a fraction of dry soil mass. [-]
    soil_solids_density : array-like
        Density of the soil's grains. [kg/m³]

    Returns
    -------
    porosity : array-like
        Voids over total volume. [-]

    Notes
    -----
    η = 1 − ρ/(1 + c) (1/ρs + c/ρc), with ρ, c, ρs in the order of the arguments and ρc = 3100 kg/m³.

    References
    ----------
    definition, volumes in a mix [C]
    """
    return 1.0 - mix_dry_density / (1.0 + dose) * (1.0 / soil_solids_density + dose / CEMENT_SOLIDS)


def volumetric_cement(mix_dry_density: FloatLike, dose: FloatLike) -> FloatLike:
    """Volume of cement grains in a compacted mix.

    Parameters
    ----------
    mix_dry_density : array-like
        Dry density of the mix, soil and cement. [kg/m³]
    dose : array-like
        Cement as a fraction of dry soil mass. [-]

    Returns
    -------
    share : array-like
        Cement volume over total volume. [-]

    Notes
    -----
    Civ = ρ c / ((1 + c) ρc), with ρ and c in the order of the arguments and ρc = 3100 kg/m³.

    References
    ----------
    definition, volumes in a mix [C]
    """
    return mix_dry_density * dose / ((1.0 + dose) * CEMENT_SOLIDS)


def porosity_cement_index(porosity: FloatLike, cement_share: FloatLike, exponent: FloatLike) -> FloatLike:
    """Index of porosity over volume of cement, a regressor for strength.

    Parameters
    ----------
    porosity : array-like
        Voids over total volume. [-]
    cement_share : array-like
        Cement volume over total volume. [-]
    exponent : array-like
        0.28 for fine and silty soils, 1 for clean sand. [-]

    Returns
    -------
    index : array-like
        Index, built on percent as in the source. [-]

    Notes
    -----
    I = η / Civ^x with η and Civ in percent. Mixes of equal index differ in strength: a regressor, not an
    equivalence.

    References
    ----------
    consoli_index_2022, form and 0.28 [S]
    from_memory, 1 for clean sand [M]
    """
    percent = 100.0
    return percent * porosity / (percent * cement_share) ** exponent
