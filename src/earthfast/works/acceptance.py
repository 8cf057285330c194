"""Acceptance of a lot: the share of it within limits, and how little a few results prove."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.special import betainc, nctdtrinc, ndtr

from earthfast.estimate import FloatLike, Floats

_BAND = (0.05, 0.95)

FEW_RESULTS = 5  # fewer prove little: each result is shown against its limit first


def quality_index(mean: float, standard_deviation: float, lower_limit: float) -> float:
    """Distance of a lot's mean from its lower limit in standard deviations.

    Parameters
    ----------
    mean : float
        Mean of the results. [-]
    standard_deviation : float
        Sample standard deviation, above 0. [-]
    lower_limit : float
        Limit. [-]

    Returns
    -------
    index : float
        Quality index. [-]

    Notes
    -----
    Q = (m − L) / s; for an upper limit Q = (U − m) / s. It cannot exceed (n − 1) / sqrt(n).

    References
    ----------
    fhwa_t5080_12, quality index [S]
    """
    return (mean - lower_limit) / standard_deviation


def within_limits_from_index(index: FloatLike, count: int) -> Floats:
    """Share of a normal lot within one limit, estimated from its quality index.

    Parameters
    ----------
    index : array
        Quality index Q. [-]
    count : int
        Number of results, 3 or more. [-]

    Returns
    -------
    share : array
        Share within the limit, 0..1. [-]

    Notes
    -----
    P = 1 − I_x(a, a), a = n/2 − 1, x = 1/2 − Q sqrt(n) / (2 (n − 1)) clipped to 0..1, with I the regularised
    incomplete beta function: the exact form behind the printed tables, and the best unbiased estimate for a
    normal lot.

    References
    ----------
    fhwa_t5080_12, table 1B [S]
    """
    if count < 3:
        raise ValueError(f"a share within limits needs three results or more, got {count}")
    half = count / 2.0 - 1.0
    reach = np.asarray(index) * np.sqrt(count) / (2.0 * (count - 1.0))
    return np.asarray(1.0 - betainc(half, half, np.clip(0.5 - reach, 0.0, 1.0)))


@dataclass(frozen=True, slots=True)
class Lot:
    """Statistics of one lot against its limits.

    Attributes
    ----------
    count : number of results.
    mean, standard_deviation : of the results.
    within : estimated share of the lot within the limits, 0..1.
    within_low, within_high : 5..95 % band of the share within the nearer limit; nan where it cannot be told.
    outside : which results lie outside a limit.
    """

    count: int
    mean: float
    standard_deviation: float
    within: float
    within_low: float
    within_high: float
    outside: tuple[bool, ...]

    @property
    def proves_little(self) -> bool:
        """So few results that the share is hardly more than a guess."""
        return self.count < FEW_RESULTS


def lot_within_limits(results: Floats, lower_limit: float = -np.inf, upper_limit: float = np.inf) -> Lot:
    """Share of a lot within one limit or two, with the results that lie outside.

    Parameters
    ----------
    results : array
        Results of one lot, three or more. [-]
    lower_limit : float
        Lower limit, or minus infinity. [-]
    upper_limit : float
        Upper limit, or infinity. [-]

    Returns
    -------
    lot : Lot
        Statistics, share within and its band, results outside.

    Notes
    -----
    P = P_L + P_U − 1, each from within_limits_from_index; results without scatter are all in or all out. The
    band comes from the noncentral t distribution of Q sqrt(n), on the side of the nearer limit.

    References
    ----------
    fhwa_t5080_12, table 1B [S]
    definition, confidence bound of a normal quantile [C]
    """
    values = np.asarray(results, dtype=np.float64)
    count, mean = len(values), float(values.mean())
    deviation = float(values.std(ddof=1)) if count > 1 else 0.0
    outside = tuple(bool(out) for out in (values < lower_limit) | (values > upper_limit))
    if count < 3:
        raise ValueError(f"a share within limits needs three results or more, got {count}")
    if deviation <= 1e-12 * max(abs(mean), 1.0):
        inside = float(lower_limit <= mean <= upper_limit)
        return Lot(count, mean, deviation, inside, np.nan, np.nan, outside)
    below, above = (mean - lower_limit) / deviation, (upper_limit - mean) / deviation
    shares = [float(within_limits_from_index(q, count)) if np.isfinite(q) else 1.0 for q in (below, above)]
    low, high = _share_band(min(below, above), count)
    return Lot(count, mean, deviation, max(sum(shares) - 1.0, 0.0), low, high, outside)


def _share_band(index: float, count: int) -> tuple[float, float]:
    """Shares of a normal lot for which the index seen is as high, or as low, as its 5..95 % band allows."""
    if not np.isfinite(index):
        return 1.0, 1.0
    noncentral = nctdtrinc(count - 1, np.array(_BAND[::-1]), index * np.sqrt(count))
    low, high = ndtr(noncentral / np.sqrt(count))
    return float(low), float(high)


def pay_adjustment(within: Floats) -> Floats:
    """Bonus or deduction on a lot by its share within limits.

    Parameters
    ----------
    within : array
        Share within limits, 0..1. [-]

    Returns
    -------
    adjustment : array
        Fraction of the price. [-]

    Notes
    -----
    a = 0.4 P − 0.36: nothing at 0.90. One agency's line for density, shown for what it is.

    References
    ----------
    fhwa_hrt_12_027, appendix B [S]
    """
    return np.asarray(0.4 * np.asarray(within) - 0.36)
