"""How properties scatter, how errors add up, and how many tests are enough."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.special import stdtrit

from earthfast.estimate import Estimate, FloatLike, Floats, lognormal


@dataclass(frozen=True, slots=True)
class SpreadRow:
    """Scatter of one property, as a fraction of its value.

    Attributes
    ----------
    property : what scatters.
    kind : "inherent" from place to place, "measurement", or "model" of a correlation (log-sd).
    low, typical, high : coefficient of variation or log-standard deviation.
    source, status : where it comes from.
    """

    property: str
    kind: str
    low: float
    typical: float
    high: float
    source: str
    status: str


def combined_log_sd(
    inherent: FloatLike, measurement: FloatLike, model: FloatLike, count: FloatLike
) -> Floats:
    """Spread of a mean from several tests read through one correlation.

    Parameters
    ----------
    inherent : array-like
        Log-standard deviation from place to place. [-]
    measurement : array-like
        Log-standard deviation of a single measurement. [-]
    model : array-like
        Log-standard deviation of the correlation; tests do not wear it down. [-]
    count : array-like
        Number of tests. [-]

    Returns
    -------
    log_sd : array-like
        [-]

    Notes
    -----
    sqrt((inherent² + measurement²) / n + model²). Beyond three to five tests the correlation rules.

    References
    ----------
    definition, independent errors add as squares [C]
    """
    single = np.asarray(inherent) ** 2 + np.asarray(measurement) ** 2
    return np.asarray(np.sqrt(single / np.asarray(count) + np.asarray(model) ** 2))


def count_for_mean(spread: FloatLike, error: FloatLike, score: FloatLike = 1.645) -> Floats:
    """Number of tests that pin down a mean, before rounding up.

    Parameters
    ----------
    spread : array-like
        Coefficient of variation of a single test. [-]
    error : array-like
        Error accepted, as a fraction of the mean. [-]
    score : array-like
        Standard normal score of the confidence wanted; 1.645 for 90 % two-sided. [-]

    Returns
    -------
    count : array-like
        [-]

    Notes
    -----
    n = (z COV / E)².

    References
    ----------
    definition, standard error of a mean [C]
    """
    return np.asarray((np.asarray(score) * np.asarray(spread) / np.asarray(error)) ** 2)


@dataclass(frozen=True, slots=True)
class LowValues:
    """Cautious values from a few lognormal tests, in the unit of the tests.

    Attributes
    ----------
    log_mean, log_sd : of the logarithms, -.
    median : exp(log_mean).
    low_mean : the mean exceeds this with 95 % confidence.
    low_tenth : one place in ten lies below this, taking the sample's own spread.
    mean_less_half_sd : arithmetic mean less half a standard deviation.
    """

    log_mean: float
    log_sd: float
    median: float
    low_mean: float
    low_tenth: float
    mean_less_half_sd: float


def low_values(tests: Floats) -> LowValues:
    """Cautious low values from a handful of tests of a lognormal property.

    Parameters
    ----------
    tests : array-like
        Results, two or more, all above 0, in any one unit. [-]

    Returns
    -------
    values : LowValues

    Notes
    -----
    m, s mean and standard deviation of the logarithms; low mean exp(m - t s/√n), t Student's 95 % with n - 1
    degrees; low tenth exp(m - 1.2816 s); beside them the mean less half a standard deviation.

    References
    ----------
    definition, Student's distribution [C]
    from_memory, mean less half a standard deviation after Schneider [M]
    """
    values = np.asarray(tests, dtype=np.float64)
    logs, count = np.log(values), values.size
    mean, sd = float(np.mean(logs)), float(np.std(logs, ddof=1))
    student = float(stdtrit(count - 1, 0.95))
    return LowValues(
        log_mean=mean,
        log_sd=sd,
        median=float(np.exp(mean)),
        low_mean=float(np.exp(mean - student * sd / np.sqrt(count))),
        low_tenth=float(np.exp(mean - 1.2815515655446004 * sd)),
        mean_less_half_sd=float(np.mean(values) - 0.5 * np.std(values, ddof=1)),
    )


def grid_hit_chance(diameter: FloatLike, spacing: FloatLike) -> Floats:
    """Chance that a square grid of points meets a round soft spot.

    Parameters
    ----------
    diameter : array-like
        Diameter of the soft spot, up to the spacing. [m]
    spacing : array-like
        Distance between points. [m]

    Returns
    -------
    chance : array-like
        [-]

    Notes
    -----
    π r² / G² for r <= G/2. Points alone do not find trenches: walk over, look up the history, roll.

    References
    ----------
    definition, area of a circle in a square [C]
    """
    return np.asarray(np.pi * (0.5 * np.asarray(diameter)) ** 2 / np.asarray(spacing) ** 2)


def random_hit_chance(soft_share: FloatLike, count: FloatLike) -> Floats:
    """Chance that random points meet soft ground at least once.

    Parameters
    ----------
    soft_share : array-like
        Share of the area that is soft. [-]
    count : array-like
        Number of points. [-]

    Returns
    -------
    chance : array-like
        [-]

    Notes
    -----
    1 - (1 - p)^n.

    References
    ----------
    definition, independent trials [C]
    """
    return np.asarray(1.0 - (1.0 - np.asarray(soft_share)) ** np.asarray(count))


def points_for_hit(soft_share: FloatLike, chance: FloatLike = 0.95) -> Floats:
    """Number of random points that meet soft ground with a given chance.

    Parameters
    ----------
    soft_share : array-like
        Share of the area that is soft. [-]
    chance : array-like
        Chance wanted of meeting it at least once. [-]

    Returns
    -------
    count : array-like
        Rounded up. [-]

    Notes
    -----
    n = ln(1 - chance) / ln(1 - p), rounded up.

    References
    ----------
    definition, independent trials [C]
    """
    return np.asarray(np.ceil(np.log1p(-np.asarray(chance)) / np.log1p(-np.asarray(soft_share))))


def updated(prior: Estimate, readings: Floats, single_log_sd: float, model_log_sd: float) -> Estimate:
    """Lognormal belief after readings that share the error of their correlation.

    Parameters
    ----------
    prior : Estimate
        Belief before, lognormal.
    readings : array-like
        Values read, in the unit of the prior. [-]
    single_log_sd : float
        Log-standard deviation of one reading about its like. [-]
    model_log_sd : float
        Log-standard deviation of the error all readings share. [-]

    Returns
    -------
    posterior : Estimate

    Notes
    -----
    Normal update on logarithms with data variance s²/n + m². Leaving out m trusts repeated readings too much.

    References
    ----------
    definition, product of normal densities [C]
    """
    logs = np.log(np.asarray(readings, dtype=np.float64))
    data_precision = 1.0 / (single_log_sd**2 / logs.size + model_log_sd**2)
    prior_precision = 1.0 / prior.spread**2
    precision = prior_precision + data_precision
    centre = (prior_precision * np.log(prior.centre) + data_precision * np.mean(logs)) / precision
    return lognormal(float(np.exp(centre)), float(precision**-0.5))


def suggested_points(area: float) -> int:
    """Number of soundings to start with on a site of this size.

    Parameters
    ----------
    area : float
        Area to be built on. [m²]

    Returns
    -------
    count : int
        [-]

    Notes
    -----
    3 below 30 m², 5 to 100 m², then 8 and one for each 100 m² to 1000 m², then a 20 m grid and not fewer than
    18, each 0.6 m below formation and at least 1.0 m deep. No code gives a number.

    References
    ----------
    earthfast_proposal, points by area [P]
    """
    if area < 30.0:
        return 3
    if area < 100.0:
        return 5
    if area <= 1000.0:
        return 8 + int(area // 100.0)
    return max(18, int(np.ceil(area / 400.0)))
