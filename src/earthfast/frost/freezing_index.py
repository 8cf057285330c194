"""How hard a winter freezes: the freezing index, its definitions and its return values."""

from __future__ import annotations

import numpy as np
from scipy.special import ndtr

from earthfast.estimate import FloatLike, Floats
from earthfast.frost.periods import DAY, DAYS_OF_YEAR, YEAR

ARMY_RECORD, ARMY_COLDEST = 30, 3
SHORT_RECORD = 10


def freezing_index_sine(mean: FloatLike, amplitude: FloatLike) -> Floats:
    """Freezing index of a year whose temperature is a cosine.

    Parameters
    ----------
    mean : array-like
        Mean annual temperature. [°C]
    amplitude : array-like
        Half the range between the warmest and the coldest day. [K]

    Returns
    -------
    freezing_index : ndarray
        Time integral of temperature below 0 °C. [K·s]

    Notes
    -----
    FI = (P/pi) (sqrt(A² - m²) - m arccos(m/A)), with P the year of 365 days, m the mean and A the
    amplitude; 0 where m >= A and -m P where m <= -A. Real days scatter about the cosine: in mild climates
    this gives 0 where every winter has frost, so use `expected_freezing_index` there.

    References
    ----------
    definition, integral of a cosine below zero [C]
    """
    m, amp = np.broadcast_arrays(np.asarray(mean, float), np.asarray(amplitude, float))
    ratio = _mean_over_amplitude(m, amp)
    root = np.sqrt(np.maximum(amp * amp - m * m, 0.0))
    return np.asarray(YEAR / np.pi * (root - m * np.arccos(ratio)))


def thawing_index_sine(mean: FloatLike, amplitude: FloatLike) -> Floats:
    """Thawing index of a year whose temperature is a cosine.

    Parameters
    ----------
    mean : array-like
        Mean annual temperature. [°C]
    amplitude : array-like
        Half the range between the warmest and the coldest day. [K]

    Returns
    -------
    thawing_index : ndarray
        Time integral of temperature above 0 °C. [K·s]

    Notes
    -----
    TI = FI + m P, with FI of `freezing_index_sine`, m the mean and P the year.

    References
    ----------
    definition, integral of a cosine above zero [C]
    """
    return np.asarray(freezing_index_sine(mean, amplitude) + np.asarray(mean, float) * YEAR)


def freezing_season_sine(mean: FloatLike, amplitude: FloatLike) -> Floats:
    """Length of the season below 0 °C of a year whose temperature is a cosine.

    Parameters
    ----------
    mean : array-like
        Mean annual temperature. [°C]
    amplitude : array-like
        Half the range between the warmest and the coldest day. [K]

    Returns
    -------
    season : ndarray
        Time below 0 °C. [s]

    Notes
    -----
    season = P arccos(m/A) / pi, with P the year, m the mean and A the amplitude.

    References
    ----------
    definition, crossing points of a cosine [C]
    """
    m, amp = np.broadcast_arrays(np.asarray(mean, float), np.asarray(amplitude, float))
    return np.asarray(YEAR / np.pi * np.arccos(_mean_over_amplitude(m, amp)))


def _mean_over_amplitude(mean: Floats, amplitude: Floats) -> Floats:
    sign = np.sign(mean)
    ratio = np.divide(mean, amplitude, out=np.where(sign == 0.0, 1.0, sign), where=amplitude > 0.0)
    return np.asarray(np.clip(ratio, -1.0, 1.0))


def expected_freezing_index(mean: FloatLike, amplitude: FloatLike, daily_scatter: FloatLike) -> Floats:
    """Mean over many winters of the sum of daily means below 0 °C.

    Parameters
    ----------
    mean : array-like
        Mean annual temperature. [°C]
    amplitude : array-like
        Amplitude of the yearly cosine. [K]
    daily_scatter : array-like
        Standard deviation of a daily mean about the cosine. [K]

    Returns
    -------
    freezing_index : ndarray
        Expected time integral of daily means below 0 °C. [K·s]

    Notes
    -----
    Sum over the 365 days of s phi(m_d/s) - m_d Phi(-m_d/s), with s the scatter, m_d the cosine on day d,
    phi and Phi the standard normal density and distribution. Takes scatter as Gaussian and equal through
    the year. Persistence does not change an expectation; add the variance of the winter offset to s²
    where there is one.

    References
    ----------
    definition, mean of a normal variable below zero [C]
    """
    m, amp, s = (np.asarray(x, float)[..., None] for x in (mean, amplitude, daily_scatter))
    daily = m + amp * np.cos(2.0 * np.pi * np.arange(DAYS_OF_YEAR) / DAYS_OF_YEAR)
    daily, s = np.broadcast_arrays(daily, s)
    standard = np.divide(daily, s, out=np.zeros_like(daily), where=s > 0.0)
    density = np.exp(-0.5 * standard * standard) / np.sqrt(2.0 * np.pi)
    shortfall = np.where(s > 0.0, s * density - daily * ndtr(-standard), np.maximum(-daily, 0.0))
    return np.asarray(shortfall.sum(axis=-1) * DAY)


def freezing_index_sum(daily_temperatures: Floats) -> Floats:
    """Freezing index by the plainest definition: every degree-day below 0 °C counts.

    Parameters
    ----------
    daily_temperatures : ndarray
        Daily means, days along the last axis. [°C]

    Returns
    -------
    freezing_index : ndarray
        Sum of -T over the days below 0 °C. [K·s]

    Notes
    -----
    FI = sum of max(-T, 0) over days. Larger than `freezing_index_seasonal` by 25 to 125 °C·day at places
    that thaw in winter, because thawing between cold spells is not taken off.

    References
    ----------
    definition, sum of negative degree-days [S]
    """
    return np.asarray(np.maximum(-np.asarray(daily_temperatures, float), 0.0).sum(axis=-1) * DAY)


def freezing_index_seasonal(daily_temperatures: Floats) -> Floats:
    """Freezing index of a season: the largest fall of the cumulative degree-day curve.

    Parameters
    ----------
    daily_temperatures : ndarray
        Daily means through one winter, days along the last axis, starting in warm weather. [°C]

    Returns
    -------
    freezing_index : ndarray
        Largest fall from a high to a later low of the running sum of T. [K·s]

    Notes
    -----
    FI = max over j >= i of (S_i - S_j), S the running sum of daily means: thaws inside the winter are
    taken off. The accumulator of ISO 13793 annex A, which adds -T and restarts whenever it would fall
    below zero, reaches the same peak, always.

    References
    ----------
    ufc_3_130_04, definition of the freezing index [S]
    frost_index_iso_13793, annex A [S]
    """
    daily = np.asarray(daily_temperatures, float)
    start = np.zeros((*daily.shape[:-1], 1))
    running = np.concatenate([start, np.cumsum(daily, axis=-1)], axis=-1)
    falls = np.maximum.accumulate(running, axis=-1) - running
    return np.asarray(falls.max(axis=-1) * DAY)


def gumbel_factor(return_period: FloatLike) -> Floats:
    """Standard deviations above the mean of the winter met once in so many winters.

    Parameters
    ----------
    return_period : array-like
        Mean number of winters between exceedances, above 1. [-]

    Returns
    -------
    factor : ndarray
        K in F = mean + K sd. [-]

    Notes
    -----
    K = -(sqrt(6)/pi) (gamma + ln ln(n/(n-1))), n the return period, gamma 0.5772 Euler's constant:
    Gumbel's distribution fitted by moments. From 15 winters the 1-in-100 value is far outside the data.

    References
    ----------
    definition, Gumbel distribution by moments [C]
    """
    n = np.asarray(return_period, float)
    return np.asarray(-np.sqrt(6.0) / np.pi * (np.euler_gamma + np.log(np.log(n / (n - 1.0)))))


def return_value(mean: FloatLike, sd: FloatLike, return_period: FloatLike) -> Floats:
    """Winter index met once in so many winters on average.

    Parameters
    ----------
    mean : array-like
        Mean freezing index of the winters. [K·s]
    sd : array-like
        Standard deviation between winters. [K·s]
    return_period : array-like
        Mean number of winters between exceedances, above 1. [-]

    Returns
    -------
    freezing_index : ndarray
        Index exceeded once in that many winters. [K·s]

    Notes
    -----
    F = mean + K sd with K of `gumbel_factor`.

    References
    ----------
    definition, Gumbel distribution by moments [C]
    """
    return np.asarray(np.asarray(mean, float) + gumbel_factor(return_period) * np.asarray(sd, float))


def design_freezing_index(winter_indices: Floats) -> Floats:
    """Design index as US practice takes it from a record of winters.

    Parameters
    ----------
    winter_indices : ndarray
        Freezing index of each winter, oldest first, along the last axis. [K·s]

    Returns
    -------
    freezing_index : ndarray
        Design freezing index. [K·s]

    Notes
    -----
    Mean of the three coldest of the last 30 winters; with fewer than 30 on record, the coldest of the
    last 10. On Gumbel winters these lie 1.99 and 1.79 standard deviations above the mean.

    References
    ----------
    ufc_3_130_04, design freezing index [S]
    """
    winters = np.asarray(winter_indices, float)
    if winters.shape[-1] < ARMY_RECORD:
        return np.asarray(winters[..., -SHORT_RECORD:].max(axis=-1))
    ranked = np.sort(winters[..., -ARMY_RECORD:], axis=-1)
    return np.asarray(ranked[..., -ARMY_COLDEST:].mean(axis=-1))
