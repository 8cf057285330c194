"""When treated soil may be built: the latest date before hard frost, and the limits of cold and heat."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np
import numpy.typing as npt
from scipy.constants import day

from earthfast.checks import Case, Way, frost_strength_wanted
from earthfast.estimate import FloatLike, Floats
from earthfast.frost import Climate, daily_winters, day_of_hard_frost, may_treat
from earthfast.mixes.age import LAB_TEMPERATURE, REFERENCE_AGE
from earthfast.stages.climate import Weather
from earthfast.stages.understanding import Area

WINTERS = 512
HARD_FROST = -4.0  # °C, daily mean
CHANCE = 0.10  # that hard frost comes first
AGE_EXPONENT = 0.185  # of strength with age, cement in soil
YOUNGEST, OLDEST = 7.0 * day, 56.0 * day
DATUM = 0.0  # °C, the cautious reading
FROSTS = 6.0  # winters of frost that a layer near the surface sees
DAYS_FIT = 0.8  # share of years in which a day may be worked on
HOT_MONTH, HOT_DAY = 20.0, 25.0  # °C


@dataclass(frozen=True, slots=True)
class BuildSeason:
    """When to build with a binder, days after the warmest day of the year.

    Attributes
    ----------
    latest : last day from which strength is reached before hard frost in nine winters of ten; infinite where
        hard frost is rarer than that.
    first, last : span of the year in which most days may be worked on; the span wraps where the two are equal.
    age : age at 20 °C that the strength wanted takes, s.
    """

    latest: float
    first: int
    last: int
    age: float


def age_for_strength(strength_at_28_days: FloatLike, wanted: FloatLike) -> Floats:
    """Age at 20 °C at which treated soil has the strength wanted.

    Parameters
    ----------
    strength_at_28_days : array-like
        Strength at 28 days. [Pa]
    wanted : array-like
        Strength wanted. [Pa]

    Returns
    -------
    age : array-like
        Age at 20 °C, between 7 and 56 days. [s]

    Notes
    -----
    t = 28 d (q_w/q)^(1/0.185), q and q_w in the order of the arguments: a power of age as cement in soil has it, turned round. At
    least a week; where even 56 days do not bring it, 56 days are taken and the check of durability says so.

    References
    ----------
    gajurel_2021, appendix C, growth with age [C]
    earthfast_proposal, no less than a week and no more than 56 days [P]
    """
    ratio = np.asarray(wanted) / np.asarray(strength_at_28_days)
    age = REFERENCE_AGE * np.minimum(ratio, 10.0) ** (1.0 / AGE_EXPONENT)
    return np.asarray(np.clip(age, YOUNGEST, OLDEST))


def latest_build_date(
    climate: Climate, age: float, generator: np.random.Generator, chance: float = CHANCE
) -> float:
    """Last day on which treated soil still reaches its strength before hard frost.

    Parameters
    ----------
    climate : Climate
        Weather of the place. [-]
    age : float
        Age at 20 °C that the strength wanted takes. [s]
    generator : Generator
        Source of chance. [-]
    chance : float
        Chance put up with that hard frost comes first. [-]

    Returns
    -------
    latest : float
        Days after the warmest day of the year; infinite where hard frost is rarer than the chance. [-]

    Notes
    -----
    In each simulated autumn the days count by maturity, Σ max(T, 0)/20 over daily means, back from the first daily mean of −4 °C
    until they make up the age; the quantile of those days at the chance. Chinese practice asks for 15 to 30 days before such
    frost.

    References
    ----------
    cold_weather_treatment, days before hard frost [S]
    astm_c1074, temperature-time factor [S]
    earthfast_proposal, counting back in simulated autumns [P]
    """
    autumns = daily_winters(climate, WINTERS, generator)[:, : 365 * 3 // 4]
    frost = day_of_hard_frost(autumns, HARD_FROST)
    maturity = np.cumsum(np.maximum(autumns - DATUM, 0.0) / (LAB_TEMPERATURE - DATUM), axis=1)
    latest = [
        float(np.searchsorted(ripe, ripe[int(first) - 1] - age / day)) if np.isfinite(first) else np.inf
        for ripe, first in zip(maturity, frost, strict=True)
    ]
    return float(np.sort(latest)[int(np.floor(chance * WINTERS))])


def build_season(climate: Climate, age: float, generator: np.random.Generator) -> BuildSeason:
    """The latest date, and the span of the year in which most days are fit for treating soil."""
    latest = latest_build_date(climate, age, generator)
    year = daily_winters(climate, WINTERS, generator)
    fit = may_treat(np.concatenate([year, year[:, :8]], axis=1))[:, :365].mean(axis=0) >= DAYS_FIT
    first, last = _fit_span(fit)
    return BuildSeason(latest, first, last, age)


def _fit_span(fit: npt.NDArray[np.bool_]) -> tuple[int, int]:
    """First and last day, after the warmest, of the span about the warmest day in which days are fit."""
    if fit.all():
        return 0, 0
    unfit = np.flatnonzero(~fit)
    return int(unfit[-1]) + 1, int(unfit[0]) - 1


def season_of(way: Way, area: Area, weather: Weather, generator: np.random.Generator) -> BuildSeason | None:
    """When to build a way; None where nothing in it is treated."""
    if way.build_up.treated is None:
        return None
    return build_season(weather.climate, strength_age(area.setting.alone(way)), generator)


def strength_age(case: Case) -> float:
    """Age at 20 °C at which the treated soil of one way has the strength it wants before frost, s."""
    wanted = frost_strength_wanted(np.median(case.ground.fines.values), FROSTS)
    return float(age_for_strength(float(np.median(case.mix.strength.values)), wanted))


def season_sentences(season: BuildSeason | None, weather: Weather) -> tuple[str, ...]:
    """When to build, in sentences; empty where nothing is treated."""
    if season is None:
        return ()
    days = f"{season.age / day:.0f} days' strength at 20 °C"
    if np.isinf(season.latest):
        sentences = [f"Hard frost is rare here: no latest date, but give the layer {days} before it freezes."]
    elif season.latest <= 0.0:
        sentences = ["Hard frost comes before treated soil has its strength, whenever it is built."]
    else:
        on = _day_words(season.latest, weather)
        sentences = [
            f"Build treated soil by about {on}: nine winters in ten then leave it {days} before the first hard frost."
        ]
    is_in_part = season.first != season.last
    if is_in_part:
        start, end = (_day_words(float(one), weather) for one in (season.first, season.last))
        sentences.append(
            f"By the weather of the days themselves, most are fit for it from about {start} to {end}: 2 °C or more, and no "
            "frost in the week after."
        )
    if is_in_part and 0.0 < season.latest < np.inf:
        sentences.append("Of the two ends the earlier holds.")
    warmest = weather.climate.mean + weather.climate.amplitude
    if warmest >= HOT_MONTH:
        sentences.append(
            f"In summer days above {HOT_DAY:.0f} °C shorten the working time and dry the surface: mix early in the day, "
            "and keep it damp."
        )
    return tuple(sentences)


def _day_words(days_after_warmest: float, weather: Weather) -> str:
    """A day of the year as a person says it, '4 November'."""
    on = date(2001, 1, 1) + timedelta(days=(weather.warmest_day - 1 + round(days_after_warmest)) % 365)
    return f"{on.day} {on:%B}"
