"""How strength grows with age and temperature, and what delay before rolling costs."""

from __future__ import annotations

from enum import StrEnum

import numpy as np
from scipy.constants import R as GAS_CONSTANT
from scipy.constants import day, hour, zero_Celsius

from earthfast.estimate import FloatLike, Floats

REFERENCE_AGE = 28.0 * day  # s
LAB_TEMPERATURE = 20.0  # °C


class CementSpeed(StrEnum):
    """How fast a cement gains strength."""

    RAPID = "rapid"
    NORMAL = "normal"
    SLOW = "slow"


# S: en_1992_1_1 cl. 3.1.2(6), as documented in open libraries
_COEFFICIENT = {CementSpeed.RAPID: 0.20, CementSpeed.NORMAL: 0.25, CementSpeed.SLOW: 0.38}


def cement_coefficient(speed: CementSpeed) -> float:
    """Coefficient s of the concrete age factor for a class of cement.

    Parameters
    ----------
    speed : CementSpeed
        Rapid (42.5 R, 52.5 N and R), normal (32.5 R, 42.5 N) or slow (32.5 N).

    Returns
    -------
    coefficient : float
        s of `age_factor`. [-]

    Notes
    -----
    s = 0.20, 0.25 and 0.38. Soil-cement from Iowa grew as s = 0.26, close to a normal cement in concrete.

    References
    ----------
    en_1992_1_1, 3.1.2(6) as documented in open libraries [S]
    """
    return _COEFFICIENT[speed]


def age_factor(age: FloatLike, coefficient: FloatLike) -> FloatLike:
    """Strength at an age over strength at 28 days, by the concrete law.

    Parameters
    ----------
    age : array-like
        Age at 20 °C. [s]
    coefficient : array-like
        s, see `cement_coefficient`. [-]

    Returns
    -------
    factor : array-like
        Ratio of strengths. [-]

    Notes
    -----
    β = exp(s (1 − sqrt(28 d / t))), with s the coefficient and t the age. For 3 days and older.

    References
    ----------
    en_1992_1_1, 3.1.2(6) as documented in open libraries [S]
    """
    return np.exp(coefficient * (1.0 - np.sqrt(REFERENCE_AGE / age)))


def coefficient_from_ratio(ratio_28_to_7: FloatLike) -> FloatLike:
    """Coefficient of the concrete age law that gives a measured ratio of 28 to 7-day strength.

    Parameters
    ----------
    ratio_28_to_7 : array-like
        Strength at 28 days over strength at 7 days. [-]

    Returns
    -------
    coefficient : array-like
        s of `age_factor`. [-]

    Notes
    -----
    s = ln r, because sqrt(28/7) = 2.

    References
    ----------
    definition, inversion of the age law [C]
    """
    return np.asarray(np.log(ratio_28_to_7))


def age_factor_power(age: FloatLike, exponent: FloatLike) -> FloatLike:
    """Strength at an age over strength at 28 days, by a power of age.

    Parameters
    ----------
    age : array-like
        Age at 20 °C. [s]
    exponent : array-like
        Power of age. [-]

    Returns
    -------
    factor : array-like
        Ratio of strengths. [-]

    Notes
    -----
    β = (t / 28 d)^d, with t the age and d the exponent: 0.18 to 0.19 for cement in soil, 0.25 to 0.30 for
    cement with lime, 0.34 for wet clay mixes, over 7 to 90 days.

    References
    ----------
    gajurel_2021, appendix C, 14 pairs of 7 and 28 days [C]
    tabarsa_2021, appendix table [C]
    zhang_2022, appendix table [C]
    """
    return (age / REFERENCE_AGE) ** exponent


def exponent_from_ratio(ratio_28_to_7: FloatLike) -> FloatLike:
    """Power of age that gives a measured ratio of 28 to 7-day strength.

    Parameters
    ----------
    ratio_28_to_7 : array-like
        Strength at 28 days over strength at 7 days. [-]

    Returns
    -------
    exponent : array-like
        Power of age. [-]

    Notes
    -----
    d = ln r / ln 4.

    References
    ----------
    definition, inversion of the power law [C]
    """
    return np.asarray(np.log(ratio_28_to_7) / np.log(4.0))


def age_factor_log(age: FloatLike, growth: FloatLike) -> FloatLike:
    """Strength at an age over strength at 28 days, by the logarithm of age.

    Parameters
    ----------
    age : array-like
        Age at 20 °C. [s]
    growth : array-like
        Gain over a tenfold of age, as a share of 28-day strength. [-]

    Returns
    -------
    factor : array-like
        Ratio of strengths. [-]

    Notes
    -----
    β = 1 + k log10(t / 28 d), with t the age and k the growth; it turns negative at very early ages.

    References
    ----------
    from_memory, form of the logarithmic law [M]
    """
    return 1.0 + growth * np.log10(age / REFERENCE_AGE)


def growth_from_ratio(ratio_28_to_7: FloatLike) -> FloatLike:
    """Gain over a tenfold of age that gives a measured ratio of 28 to 7-day strength.

    Parameters
    ----------
    ratio_28_to_7 : array-like
        Strength at 28 days over strength at 7 days. [-]

    Returns
    -------
    growth : array-like
        k of `age_factor_log`. [-]

    Notes
    -----
    k = (1 − 1/r) / log10 4.

    References
    ----------
    definition, inversion of the logarithmic law [C]
    """
    return np.asarray((1.0 - 1.0 / ratio_28_to_7) / np.log10(4.0))


def equivalent_age_nurse_saul(durations: FloatLike, temperatures: FloatLike, datum: float) -> Floats:
    """Age at 20 °C that brings the same strength as a temperature history, by temperature times time.

    Parameters
    ----------
    durations : array-like
        Length of each step, along the last axis. [s]
    temperatures : array-like
        Temperature of the mix in each step. [°C]
    datum : float
        Temperature below which no strength is gained. [°C]

    Returns
    -------
    age : array-like
        Equivalent age at 20 °C. [s]

    Notes
    -----
    te = Σ max(T − T0, 0) Δt / (20 − T0), with T0 the datum: −10 °C in one reading of the standard, 0 °C in
    another; 0 °C is the cautious one in the cold.

    References
    ----------
    astm_c1074, temperature-time factor [S]
    from_memory, datum of 0 °C [M]
    """
    excess = np.maximum(np.asarray(temperatures, dtype=np.float64) - datum, 0.0)
    return np.asarray(np.sum(excess * durations, axis=-1) / (LAB_TEMPERATURE - datum))


def equivalent_age_arrhenius(
    durations: FloatLike, temperatures: FloatLike, activation_energy: float
) -> Floats:
    """Age at 20 °C that brings the same strength as a temperature history, by reaction rate.

    Parameters
    ----------
    durations : array-like
        Length of each step, along the last axis. [s]
    temperatures : array-like
        Temperature of the mix in each step. [°C]
    activation_energy : float
        Apparent activation energy. [J/mol]

    Returns
    -------
    age : array-like
        Equivalent age at 20 °C. [s]

    Notes
    -----
    te = Σ exp(−E/R (1/T − 1/Tr)) Δt, with E the activation energy, 40 to 45 kJ/mol for cement, and T, Tr =
    20 °C in kelvin.

    References
    ----------
    astm_c1074, equivalent age [S]
    from_memory, activation energy [M]
    """
    kelvin = np.asarray(temperatures, dtype=np.float64) + zero_Celsius
    reference = LAB_TEMPERATURE + zero_Celsius
    rate = np.exp(-activation_energy / GAS_CONSTANT * (1.0 / kelvin - 1.0 / reference))
    return np.asarray(np.sum(rate * durations, axis=-1))


def density_factor(relative_density: FloatLike, exponent: FloatLike) -> Floats:
    """Strength at a density over strength at the reference density.

    Parameters
    ----------
    relative_density : array-like
        Dry density over the reference dry density. [-]
    exponent : array-like
        Power of density: 4.6 to 6.2 over a wide range, up to 9.7 over a narrow one. [-]

    Returns
    -------
    factor : array-like
        Ratio of strengths. [-]

    Notes
    -----
    f = (ρ/ρ0)^n. Density at 95 % of the reference costs 27 % of the strength at n = 6.2.

    References
    ----------
    tabarsa_2021, appendix table, fits by soil [C]
    castaneda_lopez_2023, soil B alone [C]
    """
    return np.power(relative_density, exponent)


def density_exponent_from_losses(density_loss: FloatLike, strength_loss: FloatLike) -> FloatLike:
    """Power of density behind a loss of density and a loss of strength seen together.

    Parameters
    ----------
    density_loss : array-like
        Share of dry density lost. [-]
    strength_loss : array-like
        Share of strength lost. [-]

    Returns
    -------
    exponent : array-like
        Power of density. [-]

    Notes
    -----
    n = ln(1 − lq) / ln(1 − lρ), with lρ and lq in the order of the arguments.

    References
    ----------
    ubani_delay, losses after 5 hours [S]
    """
    return np.asarray(np.log1p(-np.asarray(strength_loss)) / np.log1p(-np.asarray(density_loss)))


def delay_factor(delay: FloatLike) -> FloatLike:
    """Strength left when rolling is delayed after the binder went in.

    Parameters
    ----------
    delay : array-like
        Time from mixing to rolling. [s]

    Returns
    -------
    factor : array-like
        Strength over strength without delay. [-]

    Notes
    -----
    f = (1 − 0.295)^(t / 5 h), an exponential through one published point: 29.5 % lost after 5 hours. Most
    acts through lost density, but one study found strength lost while density was not, so reaching density
    is no proof.

    References
    ----------
    ubani_delay, losses after 5 hours [S]
    earthfast_proposal, exponential between the points [P]
    """
    return (1.0 - 0.295) ** (np.asarray(delay) / (5.0 * hour))
