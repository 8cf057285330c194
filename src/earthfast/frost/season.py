"""When it is too late in the year to build with a binder."""

from __future__ import annotations

import numpy as np

from earthfast.estimate import Floats
from earthfast.frost.climate import Climate
from earthfast.frost.periods import DAYS_OF_YEAR
from earthfast.frost.winters import daily_winters

LEAST_AIR_TEMPERATURE = 2.0  # °C
FROST_FREE_DAYS = 7
HARD_FROST = -4.0  # °C, daily mean standing for nights of -3 to -5 °C


def may_treat(daily_temperatures: Floats) -> np.typing.NDArray[np.bool_]:
    """Days whose weather allows treating soil with a binder.

    Parameters
    ----------
    daily_temperatures : ndarray
        Daily means, days along the last axis. [°C]

    Returns
    -------
    may_treat : ndarray of bool
        True where the day and the week after allow it. [-]

    Notes
    -----
    At least 2 °C on the day and no daily mean below 0 °C in it or the next 7 days; the last 7 days of the
    series have no week after them and are false. Other practice asks for 4 °C and rising, or 5 °C as the
    daily least, and for lime ground above 1.7 °C.

    References
    ----------
    cold_weather_treatment, 2 °C and 7 days without frost [S]
    """
    daily = np.asarray(daily_temperatures, float)
    allowed = daily >= LEAST_AIR_TEMPERATURE
    days = daily.shape[-1]
    for ahead in range(1, FROST_FREE_DAYS + 1):
        allowed[..., days - ahead :] = False
        allowed[..., : days - ahead] &= daily[..., ahead:] >= 0.0
    return np.asarray(allowed)


def day_of_hard_frost(daily_temperatures: Floats, threshold: float) -> Floats:
    """First day of a winter as cold as a threshold.

    Parameters
    ----------
    daily_temperatures : ndarray
        Daily means from a warm day on, days along the last axis. [°C]
    threshold : float
        Daily mean that counts as hard frost. [°C]

    Returns
    -------
    day : ndarray
        Days from the start; infinite where the winter has none. [-]

    Notes
    -----
    First d with T_d <= threshold.

    References
    ----------
    definition, first passage [C]
    """
    hard = np.asarray(daily_temperatures, float) <= threshold
    first = np.argmax(hard, axis=-1).astype(float)
    return np.asarray(np.where(hard.any(axis=-1), first, np.inf))


def latest_day_to_build(
    climate: Climate,
    days_to_strength: float,
    chance: float,
    n_winters: int,
    generator: np.random.Generator,
) -> float:
    """Last day on which a bound layer still gains its strength before hard frost, with a given chance of failing.

    Parameters
    ----------
    climate : Climate
        Weather of the place. [-]
    days_to_strength : float
        Days that the layer needs at the place's autumn temperatures. [-]
    chance : float
        Chance accepted that hard frost comes first. [-]
    n_winters : int
        Winters to simulate. [-]
    generator : Generator
        Source of chance. [-]

    Returns
    -------
    day : float
        Days after the warmest day of the year; infinite where hard frost is rarer than the chance. [-]

    Notes
    -----
    The quantile at that chance of the first day with a mean of -4 °C or less, less the days needed.
    Chinese practice asks for 15 to 30 days before the first frost of -3 to -5 °C.

    References
    ----------
    cold_weather_treatment, days before hard frost [S]
    earthfast_proposal, quantile of the first hard frost [P]
    """
    winters = daily_winters(climate, n_winters, generator)[:, : DAYS_OF_YEAR * 3 // 4]
    first = day_of_hard_frost(winters, HARD_FROST)
    quantile = np.sort(first)[int(np.floor(chance * n_winters))]
    return float(quantile - days_to_strength)
