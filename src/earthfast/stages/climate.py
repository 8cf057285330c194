"""The climate of a job: a preset, a few numbers, twelve months or a file of days, with located errors."""

from __future__ import annotations

import csv
from dataclasses import dataclass, replace
from datetime import date
from itertools import pairwise
from pathlib import Path

import numpy as np

from earthfast.estimate import Floats, Origin
from earthfast.frost import (
    Climate,
    climate_from_daily,
    climate_from_monthly,
    climate_like,
    climate_places,
)
from earthfast.job import Climate as ClimateEntry
from earthfast.job import Hemisphere, JobProblems, LoadedJob, Problem
from earthfast.sources import SourceNote, source_note
from earthfast.stages.climate_tuning import SHOWN_INDEX, TuningFailed, Wanted, tuned_climate

FALLBACK = "London-like"
DAILY_SCATTER, LAG_ONE, WINTER_OFFSET = 5.0, 0.69, 1.6
ASSUMED_SCATTER = source_note("earthfast_proposal, scatter of days and winters as of Chicago [P]")
WARMEST_DAY = 201  # of the year: about 20 July, northern
HALF_YEAR = 182
MONTH = 365.0 / 12.0
KINDS = ("preset", "monthly", "daily", "warmest_month", "amplitude")
WAYS_TO_SAY = "`preset`, `monthly`, `daily`, or `warmest_month` and `coldest_month`, or `mean` with `amplitude` or `frost_index`"


@dataclass(frozen=True, slots=True)
class Weather:
    """The climate, where it comes from, and a sentence on it.

    Attributes
    ----------
    climate, origin, because, sources : as they enter the trail.
    warmest_day : day of the year on which the yearly cosine is warmest.
    """

    climate: Climate
    origin: Origin
    because: str
    sources: tuple[SourceNote, ...]
    warmest_day: int = WARMEST_DAY


def weather_of(job: LoadedJob) -> Weather:
    """The climate of a job, assumed where nothing is said."""
    entry = job.job.site.climate if job.job.site else None
    if entry is None or entry == ClimateEntry():
        note = source_note("from_memory, indicative presets [M]")
        return Weather(climate_like(FALLBACK), Origin.ASSUMED, f"no climate given; {FALLBACK} taken", (note,))
    _refuse(job, _contradictions(job, entry))
    weather = _in_hemisphere(job, entry, _tuned(job, entry, _untuned(job, entry)))
    if weather.climate.mean <= 0.0:
        found = f"a mean of {weather.climate.mean:.1f} °C over the year"
        _refuse(job, [_problem(job, "mean", found, "a mean above 0 °C: permafrost is outside these methods")])
    return weather


def _problem(job: LoadedJob, field: str, found: str, accepted: str) -> Problem:
    where = ("site", "climate", field) if field else ("site", "climate")
    return Problem(".".join(where), found, accepted, job.line(*where))


def _refuse(job: LoadedJob, problems: list[Problem]) -> None:
    if problems:
        raise JobProblems(problems, str(job.path or ""))


def _contradictions(job: LoadedJob, entry: ClimateEntry) -> list[Problem]:
    """Everything that cannot stand together beyond what loading refuses, all at once."""
    problems = []
    said = [name for name in KINDS if getattr(entry, name)]
    if len(said) > 1:
        problems.append(_problem(job, said[1], f"{' and '.join(said)} together", f"one of {WAYS_TO_SAY}"))
    warm, cold = entry.warmest_month, entry.coldest_month
    if (warm is None) != (cold is None):
        given, wanted = ("warmest", "coldest") if warm else ("coldest", "warmest")
        problems.append(
            _problem(
                job, f"{given}_month", f"the {given} month alone", f"`{wanted}_month` beside `{given}_month`"
            )
        )
    if entry.amplitude and not entry.mean:
        problems.append(_problem(job, "amplitude", "the amplitude alone", "`mean` beside `amplitude`"))
    problems += _doubts_of_spell(job, entry, said)
    usual, rare = entry.frost_index, entry.design_frost_index
    if usual and rare and rare.centre <= usual.centre:
        found = f"{rare.text}, not above the {usual.text} of an ordinary winter"
        problems.append(
            _problem(job, "design_frost_index", found, "an index above that of an ordinary winter")
        )
    if entry.preset and entry.preset not in climate_places():
        problems.append(_problem(job, "preset", f"'{entry.preset}'", f"one of {', '.join(climate_places())}"))
    if not said and not (entry.mean and (usual or rare)) and cold is None and not problems:
        found = "a climate without preset, monthly means, daily file, the two months, an amplitude or a frost index"
        problems.append(_problem(job, "", found, WAYS_TO_SAY))
    return problems


def _doubts_of_spell(job: LoadedJob, entry: ClimateEntry, said: list[str]) -> list[Problem]:
    """A coldest week needs the year it lies in, and nothing else that tells the same."""
    if entry.cold_spell is None:
        return []
    for other in ("daily", "frost_index"):
        if getattr(entry, other):
            found = f"`cold_spell` beside `{other}`, which tells it already"
            return [_problem(job, "cold_spell", found, "one of them")]
    if said:
        return []
    accepted = "the year beside it: `preset`, `monthly`, the two months, or `mean` and `amplitude`"
    return [_problem(job, "cold_spell", "`cold_spell` without the year it lies in", accepted)]


def _untuned(job: LoadedJob, entry: ClimateEntry) -> Weather:
    if entry.daily:
        return _from_daily(job, entry.daily)
    if entry.monthly:
        means = np.array([month.centre for month in entry.monthly])
        climate = climate_from_monthly(means, DAILY_SCATTER, LAG_ONE, WINTER_OFFSET)
        because = "twelve monthly means; scatter of days assumed"
        return Weather(climate, Origin.GIVEN, because, (ASSUMED_SCATTER,), _warmest_of(means))
    if entry.preset:
        note = source_note("from_memory, indicative presets [M]")
        return Weather(climate_like(entry.preset), Origin.GIVEN, f"preset {entry.preset}", (note,))
    return _from_numbers(entry)


def _in_hemisphere(job: LoadedJob, entry: ClimateEntry, weather: Weather) -> Weather:
    """The seasons half a year on in the south; refused where months or days say otherwise."""
    if entry.hemisphere is None:
        return weather
    south = entry.hemisphere is Hemisphere.SOUTH
    if entry.monthly is None and entry.daily is None:
        return replace(weather, warmest_day=(WARMEST_DAY + HALF_YEAR) % 365) if south else weather
    from_july = abs((weather.warmest_day - WARMEST_DAY + HALF_YEAR) % 365 - HALF_YEAR)
    if south != (from_july > HALF_YEAR // 2):
        warm = "January" if not south else "July"
        found = f"'{entry.hemisphere}', while the temperatures given are warmest about {warm}"
        _refuse(job, [_problem(job, "hemisphere", found, "the half that the temperatures show, or nothing")])
    return weather


def _warmest_of(monthly: Floats) -> int:
    """Day of the year at which the first harmonic of twelve means is highest."""
    turned = float(np.angle(np.conj(np.fft.rfft(monthly)[1])))
    return round((turned / (2.0 * np.pi) * 12.0 + 0.5) * MONTH) % 365


def _from_numbers(entry: ClimateEntry) -> Weather:
    warm, cold = entry.warmest_month, entry.coldest_month
    if warm is None or cold is None:
        assert entry.mean is not None
        if entry.amplitude:
            values = (entry.mean.centre, entry.amplitude.centre, DAILY_SCATTER, LAG_ONE, WINTER_OFFSET)
            because = "mean and amplitude of the year; scatter of days assumed"
            return Weather(Climate(*values), Origin.GIVEN, because, (ASSUMED_SCATTER,))
        like = climate_like(FALLBACK)
        climate = replace(like, mean=entry.mean.centre, daily_scatter=DAILY_SCATTER)
        because = "mean of the year and frost index; scatter of days assumed"
        return Weather(climate, Origin.GIVEN, because, (ASSUMED_SCATTER,))
    mean = entry.mean.centre if entry.mean else 0.5 * (warm.centre + cold.centre)
    months = mean + 0.5 * (warm.centre - cold.centre) * np.cos(2.0 * np.pi * (np.arange(12) - 6) / 12.0)
    climate = climate_from_monthly(months, DAILY_SCATTER, LAG_ONE, WINTER_OFFSET)
    because = "warmest and coldest month; scatter of days assumed"
    return Weather(climate, Origin.GIVEN, because, (ASSUMED_SCATTER,))


def _tuned(job: LoadedJob, entry: ClimateEntry, weather: Weather) -> Weather:
    """The climate brought to the frost indices and the coldest week typed, where any are."""
    typed = {"usual": entry.frost_index, "rare": entry.design_frost_index, "cold_spell": entry.cold_spell}
    wanted = Wanted(**{name: one.centre for name, one in typed.items() if one is not None})
    if not wanted.count:
        return weather
    only_mean = not any(getattr(entry, name) for name in KINDS)
    try:
        climate = tuned_climate(weather.climate, wanted, by_amplitude=only_mean)
    except TuningFailed as failed:
        _refuse(job, [_out_of_reach(job, entry, failed)])
    told = "coldest week" if entry.cold_spell else "frost index"
    because = f"{weather.because}, brought to the {told} given"
    return replace(weather, climate=climate, because=because)


def _out_of_reach(job: LoadedJob, entry: ClimateEntry, failed: TuningFailed) -> Problem:
    if failed.field == "cold_spell":
        accepted = (
            f"a coldest week of {failed.low:.0f} to {failed.high:.0f} °C, which is what the year given allows"
        )
    else:
        low, high = failed.low / SHOWN_INDEX, failed.high / SHOWN_INDEX
        accepted = f"an index of {low:.0f} to {high:.0f} °C day, which is what the temperatures given allow"
    return _problem(job, failed.field, getattr(entry, failed.field).text, accepted)


def _from_daily(job: LoadedJob, name: str) -> Weather:
    path = (job.path.parent if job.path else Path()) / name
    first, temperatures = _read_days(job, path)
    climate = climate_from_daily(temperatures, first)
    start = first.timetuple().tm_yday
    month = ((np.arange(temperatures.size) + start - 1) % 365.2425 / 365.2425 * 12.0).astype(int)
    means = np.array([temperatures[month == one].mean() for one in range(12)])
    return Weather(climate, Origin.GIVEN, f"daily record {name}", (), _warmest_of(means))


def _read_days(job: LoadedJob, path: Path) -> tuple[date, Floats]:
    """First day and daily means of a two-column file: date, temperature in °C, no day missing."""
    accepted = "a CSV file of lines 'year-month-day,temperature in °C', one for each day, at least two years"
    days: list[date] = []
    temperatures: list[float] = []
    try:
        with path.open(encoding="utf-8", newline="") as file:
            rows = csv.reader(file)
            for row in rows:
                if row and row[0][:1].isdigit():
                    days.append(date.fromisoformat(row[0].strip()))
                    temperatures.append(float(row[1]))
    except (OSError, UnicodeDecodeError) as problem:
        found = f"{path.name}, which cannot be read ({problem.__class__.__name__})"
        raise JobProblems([_problem(job, "daily", found, accepted)], str(job.path or "")) from None
    except (ValueError, IndexError) as problem:
        found = f"{path.name}, line {rows.line_num}: {problem}"
        raise JobProblems([_problem(job, "daily", found, accepted)], str(job.path or "")) from None
    _refuse(job, _doubts_of_days(job, path.name, days, np.array(temperatures), accepted))
    return days[0], np.array(temperatures)


def _doubts_of_days(
    job: LoadedJob, name: str, days: list[date], temperatures: Floats, accepted: str
) -> list[Problem]:
    gap = next((later for earlier, later in pairwise(days) if (later - earlier).days != 1), None)
    if gap is not None:
        return [_problem(job, "daily", f"{name}, where {gap} does not follow the day before it", accepted)]
    if len(days) < 2 * 366:
        return [_problem(job, "daily", f"{name} with {len(days)} days", accepted)]
    odd = np.flatnonzero(~(np.abs(temperatures) < 70.0))
    if odd.size:
        found = f"{name}, where {days[odd[0]]} has {temperatures[odd[0]]:g} °C"
        return [_problem(job, "daily", found, accepted)]
    return []
