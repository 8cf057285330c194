"""The winters of a job: its climate, and the coldest winter of the design life in every draw."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from datetime import date
from itertools import pairwise
from pathlib import Path

import numpy as np
from scipy.special import ndtr

from earthfast.checks import Winters, freezing_season_length
from earthfast.estimate import Draws, Floats, Meaning, Origin, Trail
from earthfast.frost import (
    Climate,
    SurfaceCover,
    climate_from_daily,
    climate_from_monthly,
    climate_like,
    climate_places,
    freezing_index_of_winters,
    n_factor,
)
from earthfast.job import Climate as ClimateEntry
from earthfast.job import JobProblems, LoadedJob, Problem
from earthfast.sources import SourceNote, source_note

SIMULATED = 2048
FALLBACK = "London-like"
DAILY_SCATTER, LAG_ONE, WINTER_OFFSET = 5.0, 0.69, 1.6
INDEX = "K s"
INDEX_SHOWN = "°C day"


@dataclass(frozen=True, slots=True)
class Weather:
    """The climate, where it comes from, and a sentence on it."""

    climate: Climate
    origin: Origin
    because: str
    sources: tuple[SourceNote, ...]


def weather_of(job: LoadedJob) -> Weather:
    """The climate of a job, assumed where nothing is said."""
    entry = job.job.site.climate if job.job.site else None
    if entry is None or entry == ClimateEntry():
        note = source_note("from_memory, indicative presets [M]")
        return Weather(climate_like(FALLBACK), Origin.ASSUMED, f"no climate given; {FALLBACK} taken", (note,))
    if entry.daily:
        return _from_daily(job, entry.daily)
    if entry.monthly:
        means = np.array([month.centre for month in entry.monthly])
        climate = climate_from_monthly(means, DAILY_SCATTER, LAG_ONE, WINTER_OFFSET)
        return Weather(climate, Origin.GIVEN, "twelve monthly means; scatter of days assumed", ())
    if entry.preset:
        if entry.preset not in climate_places():
            raise JobProblems([_unknown_preset(job, entry.preset)], str(job.path or ""))
        note = source_note("from_memory, indicative presets [M]")
        return Weather(climate_like(entry.preset), Origin.GIVEN, f"preset {entry.preset}", (note,))
    return _from_numbers(job, entry)


def _unknown_preset(job: LoadedJob, preset: str) -> Problem:
    return Problem(
        "site.climate.preset",
        f"'{preset}'",
        f"one of {', '.join(climate_places())}",
        job.line("site", "climate", "preset"),
    )


def _from_numbers(job: LoadedJob, entry: ClimateEntry) -> Weather:
    warm, cold = entry.warmest_month, entry.coldest_month
    if warm is None or cold is None:
        raise JobProblems(
            [
                Problem(
                    "site.climate",
                    "a climate without preset, monthly means, daily file or the two months",
                    "`warmest_month` and `coldest_month` (and `mean`), or `preset`, `monthly` or `daily`",
                    job.line("site", "climate"),
                )
            ],
            str(job.path or ""),
        )
    mean = entry.mean.centre if entry.mean else 0.5 * (warm.centre + cold.centre)
    months = mean + 0.5 * (warm.centre - cold.centre) * np.cos(2.0 * np.pi * (np.arange(12) - 6) / 12.0)
    climate = climate_from_monthly(months, DAILY_SCATTER, LAG_ONE, WINTER_OFFSET)
    return Weather(climate, Origin.GIVEN, "warmest and coldest month; scatter of days assumed", ())


def _from_daily(job: LoadedJob, name: str) -> Weather:
    path = (job.path.parent if job.path else Path()) / name
    days, temperatures = _read_days(job, path)
    return Weather(climate_from_daily(temperatures, days), Origin.GIVEN, f"daily record {name}", ())


def _read_days(job: LoadedJob, path: Path) -> tuple[date, Floats]:
    """First day and daily means of a two-column file: date, temperature in °C, no day missing."""
    accepted = "a CSV file of lines 'year-month-day,temperature in °C', one for each day, at least two years"
    try:
        with path.open(encoding="utf-8", newline="") as file:
            rows = [row for row in csv.reader(file) if row and row[0][:1].isdigit()]
        days = [date.fromisoformat(row[0].strip()) for row in rows]
        temperatures = np.array([float(row[1]) for row in rows])
    except (OSError, ValueError, IndexError, UnicodeDecodeError) as problem:
        found = f"{path.name}, which cannot be read ({problem})"
        raise JobProblems([_daily_problem(job, found, accepted)], str(job.path or "")) from None
    gaps = any((later - earlier).days != 1 for earlier, later in pairwise(days))
    if len(days) < 2 * 365 or gaps or not np.isfinite(temperatures).all():
        found = f"{path.name} with {len(days)} days{' and gaps' if gaps else ''}"
        raise JobProblems([_daily_problem(job, found, accepted)], str(job.path or ""))
    return days[0], temperatures


def _daily_problem(job: LoadedJob, found: str, accepted: str) -> Problem:
    return Problem("site.climate.daily", found, accepted, job.line("site", "climate", "daily"))


def winters_of(
    weather: Weather,
    years: float,
    cover: SurfaceCover,
    draws: Draws,
    trail: Trail,
    generator: np.random.Generator,
) -> Winters:
    """The coldest winter of the design life, one a draw.

    The climate's winters are simulated; the coldest of n independent winters is the quantile u^(1/n) of their
    distribution, u uniform.
    """
    steps = trail.under("winter")
    indices = np.sort(freezing_index_of_winters(weather.climate, SIMULATED, generator))
    rank = ndtr(draws.normal("winter")) ** (1.0 / max(years, 1.0))
    places = (np.arange(SIMULATED) + 0.5) / SIMULATED
    coldest = steps.enter(
        "freezing_index",
        Meaning(f"Frost index of the coldest of {years:.0f} winters", INDEX, INDEX_SHOWN),
        np.interp(rank, places, indices),
        weather.origin,
        weather.because + "; winters simulated with persistence",
        weather.sources,
    )
    season = steps.derive(
        "season",
        Meaning("Length of that freezing season", "s", "day"),
        freezing_season_length,
        {"freezing_index": coldest},
    )
    mean = steps.enter(
        "mean_annual_temperature",
        Meaning("Mean air temperature of the year", "°C", "°C"),
        weather.climate.mean,
        weather.origin,
        weather.because,
        weather.sources,
    )
    factor = steps.enter(
        "surface_factor",
        Meaning("Frost index of the surface over that of the air", "-", "-"),
        n_factor(cover),
        Origin.ASSUMED,
        f"{cover.value}",
        (source_note("ufc_3_130_04, table 4-1 [S]"),),
    )
    return Winters(coldest, season, mean, factor)
