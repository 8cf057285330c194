"""The weather of a place, as a yearly cosine with persistent daily scatter and colder or milder winters."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np

from earthfast.estimate import Floats
from earthfast.sources import read_table

DAYS_OF_CALENDAR_YEAR = 365.2425
COLD_QUARTER = np.cos(np.pi / 4.0)  # the quarter of the year about the coldest day


@dataclass(frozen=True, slots=True)
class Climate:
    """Weather of a place as the frost checks need it.

    Attributes
    ----------
    mean : mean annual air temperature, °C.
    amplitude : amplitude of the yearly cosine, K.
    daily_scatter : standard deviation of daily means about the cosine in winter, K.
    lag_one : correlation of that scatter from one day to the next.
    winter_offset_sd : standard deviation of a shift common to a whole winter, K.
    """

    mean: float
    amplitude: float
    daily_scatter: float
    lag_one: float
    winter_offset_sd: float

    def __post_init__(self) -> None:
        spreads = (self.amplitude, self.daily_scatter, self.winter_offset_sd)
        if min(spreads) < 0.0 or not 0.0 <= self.lag_one < 1.0:
            raise ValueError(f"a climate needs spreads of 0 or more and lag_one in 0..1, got {self}")


@dataclass(frozen=True, slots=True)
class ClimateRow:
    """One row of the table of climates, with the status of its figures."""

    place: str
    mean: float
    amplitude: float
    daily_scatter: float
    lag_one: float
    winter_offset_sd: float
    status: str

    @property
    def climate(self) -> Climate:
        """The climate without its place and status."""
        return Climate(self.mean, self.amplitude, self.daily_scatter, self.lag_one, self.winter_offset_sd)


def climate_places() -> tuple[str, ...]:
    """Places whose climate is on the table.

    Returns
    -------
    places : tuple of str
        Names that `climate_like` accepts. [-]

    Notes
    -----
    Names say what weather is resembled; they are no substitute for a local record.

    References
    ----------
    from_memory, indicative climates [M]
    """
    return tuple(row.place for row in read_table("climates", ClimateRow).rows)


def climate_like(place: str) -> Climate:
    """Climate on the table under that name.

    Parameters
    ----------
    place : str
        A name of `climate_places`. [-]

    Returns
    -------
    climate : Climate
        Yearly cosine, scatter, persistence and winter shift. [-]

    Notes
    -----
    T(day) = mean + amplitude cos(2 pi day/365) + scatter + winter shift. Only the Chicago row was fitted
    to daily records; the others are recalled and borrow its persistence and winter shift.

    References
    ----------
    from_memory, indicative climates [M]
    chicago_daily_temperatures, fit to 2001 to 2016 [C]
    """
    rows: tuple[ClimateRow, ...] = read_table("climates", ClimateRow).rows
    match = next((row for row in rows if row.place == place), None)
    if match is None:
        raise ValueError(f"no climate '{place}'; there are {', '.join(climate_places())}")
    return match.climate


def climate_from_monthly(
    monthly_means: Floats, daily_scatter: float, lag_one: float, winter_offset_sd: float
) -> Climate:
    """Climate from twelve monthly normals and an assumed scatter.

    Parameters
    ----------
    monthly_means : ndarray
        Normal mean temperature of January to December. [°C]
    daily_scatter : float
        Standard deviation of daily means in winter. [K]
    lag_one : float
        Correlation of the scatter from one day to the next. [-]
    winter_offset_sd : float
        Standard deviation of a shift common to a whole winter. [K]

    Returns
    -------
    climate : Climate
        Climate with the normals' mean and first harmonic. [-]

    Notes
    -----
    First Fourier harmonic of the twelve means, its amplitude divided by sinc(1/12) = 0.98862 because a
    monthly mean flattens the cosine. Monthly means alone show no frost where most winters have some, so
    the scatter has to come from elsewhere.

    References
    ----------
    definition, Fourier harmonic of monthly means [C]
    """
    means = np.asarray(monthly_means, float)
    if means.shape != (12,):
        raise ValueError(f"monthly normals are twelve means, January first; got {means.size}")
    harmonic = np.abs(np.fft.rfft(means)[1]) / 6.0 / np.sinc(1.0 / 12.0)
    return Climate(float(means.mean()), float(harmonic), daily_scatter, lag_one, winter_offset_sd)


def climate_from_daily(temperatures: Floats, first_date: date) -> Climate:
    """Climate fitted to a daily record.

    Parameters
    ----------
    temperatures : ndarray
        Daily means without gaps, at least two years. [°C]
    first_date : date
        Date of the first value. [-]

    Returns
    -------
    climate : Climate
        Fitted cosine, winter scatter, persistence and winter shift. [-]

    Notes
    -----
    Least-squares cosine with the period of a year; then, over the quarter of each year about the coldest
    day: scatter s about that winter's mean, lag-one correlation r, and the variance between winter means
    in excess of the s² (1+r)/(1-r)/n that persistence alone would give. A record of few winters makes
    that last figure uncertain, and a trend counts as shift.

    References
    ----------
    earthfast_proposal, fit of cosine, persistence and winter shift [P]
    """
    daily = np.asarray(temperatures, float)
    if daily.size < 2 * DAYS_OF_CALENDAR_YEAR:
        raise ValueError(f"a daily record needs at least two years, got {daily.size} days")
    phase = 2.0 * np.pi * (first_date.timetuple().tm_yday + np.arange(daily.size)) / DAYS_OF_CALENDAR_YEAR
    basis = np.column_stack([np.ones_like(phase), np.cos(phase), np.sin(phase)])
    mean, cosine, sine = np.linalg.lstsq(basis, daily, rcond=None)[0]
    amplitude = float(np.hypot(cosine, sine))
    from_warmest = np.mod(phase - np.arctan2(sine, cosine), 2.0 * np.pi)
    winters = _cold_quarters(daily - basis @ np.array([mean, cosine, sine]), from_warmest)
    return _with_winter_scatter(float(mean), amplitude, winters)


def _cold_quarters(residual: Floats, from_warmest: Floats) -> list[Floats]:
    cold = -np.cos(from_warmest) > COLD_QUARTER
    starts = np.flatnonzero(cold & ~np.concatenate([[True], cold[:-1]]))
    ends = np.flatnonzero(~cold & np.concatenate([[False], cold[:-1]]))
    return [residual[start : ends[ends > start][0]] for start in starts if (ends > start).any()]


def _with_winter_scatter(mean: float, amplitude: float, winters: list[Floats]) -> Climate:
    centred = [winter - winter.mean() for winter in winters]
    squares = sum(float(np.dot(c, c)) for c in centred)
    products = sum(float(np.dot(c[1:], c[:-1])) for c in centred)
    days = sum(c.size for c in centred)
    lag_one = float(np.clip(products / squares, 0.0, 0.99))
    variance = squares / (days - len(centred))
    of_means = variance * (1.0 + lag_one) / (1.0 - lag_one) * len(centred) / days
    between = float(np.var([winter.mean() for winter in winters], ddof=1)) if len(winters) > 1 else 0.0
    winter_shift = float(np.sqrt(max(between - of_means, 0.0)))
    return Climate(mean, amplitude, float(np.sqrt(variance)), lag_one, winter_shift)
