"""Bands hold the truth as often as they say, on ground drawn from the prior."""

from __future__ import annotations

import numpy as np
import pytest

from earthfast.ground import Property, coverage_study, stratum_prior

SETS = {
    "hands": ("thread", "dry strength", "ribbon", "thumb", "boot heel", "colour and smell", "moisture"),
    "cone": ("thread", "ribbon", "jar", "thumb", "mottling", *["cone penetrometer"] * 3),
    "laboratory": ("liquid limit", "plastic limit", "grading", "water content", "cbr", "cone penetrometer"),
}


def test_bands_hold_the_truth_about_nine_times_in_ten():
    rows = coverage_study(SETS["cone"], stratum_prior(), 32, np.random.default_rng(5), count=512)
    assert {row.property for row in rows} == set(Property)
    # 32 grounds and 22 properties: four standard errors are 22 points; the slow test is the sharp one
    assert all(row.covered >= 0.68 for row in rows)
    assert np.mean([row.covered for row in rows]) == pytest.approx(0.90, abs=0.07)


@pytest.mark.slow
@pytest.mark.parametrize("kinds", SETS.values(), ids=SETS)
def test_bands_of_every_property_cover_85_to_95_percent(kinds):
    rows = coverage_study(kinds, stratum_prior(), 512, np.random.default_rng(3), count=512)
    for row in rows:
        assert 0.85 <= row.covered <= 0.95, row
        assert row.below < 0.10, row
        assert row.above < 0.10, row
