"""What the job says of water and of formation reaches the long-term strength of the ground."""

from __future__ import annotations

import numpy as np
import pytest

from earthfast.job import JobProblems
from earthfast.stages.climate import weather_of
from earthfast.stages.profile import ground_profile

SEASON = 'season = "wet"\nmade_ground'


def bearing(changed, *lines):
    job = changed((SEASON, "\n".join((*lines, SEASON)))).job
    bare = job.model_copy(update={"observations": ()})
    return ground_profile(bare, 1024, np.random.SeedSequence(5)).bearing_stratum.estimate.draws


def test_a_winter_water_level_stated_is_the_one_used(changed):
    single = bearing(changed, 'winter_water_depth = "0.8 m"').winter_water_depth
    assert np.median(single) == pytest.approx(0.8, rel=0.02)
    low, high = np.quantile(
        bearing(changed, 'winter_water_depth = "0.6..1.2 m"').winter_water_depth, [0.05, 0.95]
    )
    assert (low, high) == pytest.approx((0.6, 1.2), rel=0.05)


def test_nearer_water_never_strengthens_the_ground(changed):
    medians = [
        np.median(bearing(changed, f'winter_water_depth = "{depth} m"').cbr_wet) for depth in (0.4, 0.8, 1.6)
    ]
    assert medians == sorted(medians)
    assert medians[0] < medians[-1]


def test_better_care_of_formation_never_weakens_the_ground(changed):
    medians = [
        np.median(bearing(changed, f'formation_care = "{care}"').cbr_wet)
        for care in ("poor", "average", "good")
    ]
    assert medians == sorted(medians)
    assert medians[0] < medians[-1]
    assert np.median(bearing(changed).cbr_wet) == medians[1]  # with no information average conditions, S


def test_seasons_of_the_south_lie_half_a_year_on(changed):
    preset = 'preset = "London-like"'
    north, south = (
        weather_of(changed((preset, f'{preset}\nhemisphere = "{half}"'))) for half in ("north", "south")
    )
    assert south.climate == north.climate
    assert (south.warmest_day - north.warmest_day) % 365 == pytest.approx(182.5, abs=1.0)


def test_temperatures_that_say_the_other_half_are_refused(changed):
    months = ", ".join(
        f'"{round(10.0 + 8.0 * np.cos(2.0 * np.pi * month / 12.0), 1)} °C"' for month in range(12)
    )
    job = changed(('preset = "London-like"', f'monthly = [{months}]\nhemisphere = "north"'))
    with pytest.raises(JobProblems) as refused:
        weather_of(job)
    (problem,) = refused.value.problems
    assert problem.where == "site.climate.hemisphere"
    assert weather_of(changed(('preset = "London-like"', f"monthly = [{months}]"))).warmest_day < 40
