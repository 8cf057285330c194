"""Winters: daily temperatures as they might come, and the indices of those on record."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np

from earthfast.estimate import Floats
from earthfast.frost.climate import Climate
from earthfast.frost.freezing_index import freezing_index_seasonal, freezing_index_sum
from earthfast.frost.periods import DAYS_OF_YEAR

WEEK = 7  # days


@dataclass(frozen=True, slots=True)
class WinterRecord:
    """Freezing index of each complete winter of a daily record.

    Attributes
    ----------
    first_years : year in which each winter starts.
    seasonal : largest fall of the cumulative curve, K·s.
    sum_of_negatives : every degree-day below 0 °C, K·s.
    """

    first_years: tuple[int, ...]
    seasonal: Floats
    sum_of_negatives: Floats


def daily_winters(climate: Climate, n_winters: int, generator: np.random.Generator) -> Floats:
    """Daily mean air temperatures of so many winters, each from one warmest day to the next.

    Parameters
    ----------
    climate : Climate
        Weather of the place. [-]
    n_winters : int
        Number of winters. [-]
    generator : Generator
        Source of chance. [-]

    Returns
    -------
    temperatures : ndarray
        Shape (n_winters, 365); the coldest day of the cosine is near number 182. [°C]

    Notes
    -----
    T_d = m + A cos(2 pi d/365) + b + x_d with x_d = r x_(d-1) + s sqrt(1 - r²) e_d, e_d standard normal,
    and b one normal shift of the whole winter. Without b the years differ too little: on Chicago's record
    96 against 155 °C·day, so design winters would come out too mild. Scatter is that of winter all year
    round, so summers vary too much; only the cold half is meant to be read.

    References
    ----------
    earthfast_proposal, winters with persistence and a common shift [P]
    chicago_daily_temperatures, scatter of winters with and without the shift [C]
    """
    innovations = generator.standard_normal((n_winters, DAYS_OF_YEAR))
    innovations[:, 1:] *= np.sqrt(1.0 - climate.lag_one**2)
    scatter = np.ascontiguousarray(innovations.T)
    for day in range(1, DAYS_OF_YEAR):
        scatter[day] += climate.lag_one * scatter[day - 1]
    shift = climate.winter_offset_sd * generator.standard_normal((n_winters, 1))
    cosine = climate.amplitude * np.cos(2.0 * np.pi * np.arange(DAYS_OF_YEAR) / DAYS_OF_YEAR)
    return np.asarray(climate.mean + cosine + shift + climate.daily_scatter * scatter.T)


def freezing_index_of_winters(climate: Climate, n_winters: int, generator: np.random.Generator) -> Floats:
    """Seasonal air freezing index of so many simulated winters.

    Parameters
    ----------
    climate : Climate
        Weather of the place. [-]
    n_winters : int
        Number of winters. [-]
    generator : Generator
        Source of chance. [-]

    Returns
    -------
    freezing_indices : ndarray
        One seasonal index a winter. [K·s]

    Notes
    -----
    `freezing_index_seasonal` of `daily_winters`; winters are independent.

    References
    ----------
    earthfast_proposal, winters with persistence and a common shift [P]
    """
    return freezing_index_seasonal(daily_winters(climate, n_winters, generator))


def coldest_week_of_winters(climate: Climate, n_winters: int, generator: np.random.Generator) -> Floats:
    """Mean temperature of the coldest week of so many simulated winters.

    Parameters
    ----------
    climate : Climate
        Weather of the place. [-]
    n_winters : int
        Number of winters. [-]
    generator : Generator
        Source of chance. [-]

    Returns
    -------
    temperature : ndarray
        Lowest mean of seven days in a row, one a winter. [°C]

    Notes
    -----
    The smallest moving mean of seven days of `daily_winters`.

    References
    ----------
    definition, moving mean [C]
    """
    sums = np.cumsum(daily_winters(climate, n_winters, generator), axis=1)
    return np.asarray((sums[:, WEEK:] - sums[:, :-WEEK]).min(axis=1) / WEEK)


def winters_of_record(temperatures: Floats, first_date: date) -> WinterRecord:
    """Freezing index of every complete winter, 1 July to 30 June, in a daily record.

    Parameters
    ----------
    temperatures : ndarray
        Daily means; a winter with a missing value is left out. [°C]
    first_date : date
        Date of the first value. [-]

    Returns
    -------
    winters : WinterRecord
        Seasonal index and sum of negatives of each winter. [K·s]

    Notes
    -----
    Northern winters: each runs from 1 July to 30 June. Indices as in `freezing_index_seasonal` and
    `freezing_index_sum`.

    References
    ----------
    ufc_3_130_04, definition of the freezing index [S]
    """
    daily = np.asarray(temperatures, float)
    origin = first_date.toordinal()
    years, seasonal, negatives = [], [], []
    for year in range(first_date.year, date.fromordinal(origin + daily.size - 1).year):
        start, end = (date(y, 7, 1).toordinal() - origin for y in (year, year + 1))
        winter = daily[max(start, 0) : end]
        if start < 0 or end > daily.size or not np.isfinite(winter).all():
            continue
        years.append(year)
        seasonal.append(float(freezing_index_seasonal(winter)))
        negatives.append(float(freezing_index_sum(winter)))
    return WinterRecord(tuple(years), np.array(seasonal), np.array(negatives))
