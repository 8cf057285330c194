"""Strength of soils left out of the prior for level and dose, and the prior itself, against public tests."""

import importlib.util
from pathlib import Path

import numpy as np
import pytest
from scipy.constants import psi

from earthfast.mixes import SoilGroup, prior_table, spread_for_new_soil

_SPEC = importlib.util.spec_from_file_location(
    "prediction_scoring", Path(__file__).parent / "prediction_scoring.py"
)
scoring = importlib.util.module_from_spec(_SPEC)
_SPEC.loader.exec_module(scoring)


@pytest.fixture(scope="module")
def soils():
    return scoring.iowa_soils()


@pytest.fixture(scope="module")
def scores(soils):
    return {count: scoring.score(soils, count) for count in scoring.SPECIMEN_COUNTS}


@pytest.mark.parametrize("count", [0, 1, 2, 4])
def test_90_percent_bands_hold_85_to_95_percent_of_soils_left_out(scores, count):
    assert 0.85 <= scores[count].coverage <= 0.95


def test_one_specimen_halves_the_error_on_a_new_soil(scores):
    assert scores[1].median_error < 0.5 * scores[0].median_error
    assert max(scores[2].median_error, scores[4].median_error) < 0.6 * scores[0].median_error


def test_page_shows_the_scores_as_computed():
    assert scoring.table() in scoring.PAGE.read_text(encoding="utf-8")


@pytest.mark.parametrize("group", [SoilGroup.GRANULAR, SoilGroup.LEAN, SoilGroup.FAT_CLAY])
def test_prior_table_follows_from_the_public_rows(soils, group):
    groups = scoring.group_rows(soils)
    spread = scoring.pooled_sd(groups)
    row = next(row for row in prior_table().rows if row.group == group)
    level = spread_for_new_soil(groups[group][:, 0], spread[0])
    exponent = spread_for_new_soil(groups[group][:, 1], spread[1])
    assert np.log(row.median_28d_pa) == pytest.approx(level.mean + np.log(1.302), abs=0.002)
    assert row.log_sd == pytest.approx(level.sd, abs=0.001)
    assert row.exponent_mean == pytest.approx(exponent.mean, abs=0.001)
    assert row.exponent_sd == pytest.approx(exponent.sd, abs=0.001)


def test_clean_sand_prior_is_the_dune_sand_line(soils):
    # published fit: 100 psi for each percent from 5.23 %, and 1.302 from 7 to 28 days
    row = next(row for row in prior_table().rows if row.group == SoilGroup.CLEAN_SAND)
    assert row.median_28d_pa == pytest.approx(1.302 * 100.0 * (12.0 - 5.233) * psi, rel=0.002)
    assert row.threshold_dose == pytest.approx(0.0523)


@pytest.mark.parametrize(
    ("group", "median_7d", "exponent"),
    [(SoilGroup.GRANULAR, 2.61e6, 0.83), (SoilGroup.LEAN, 1.83e6, 1.11), (SoilGroup.FAT_CLAY, 1.01e6, 1.23)],
)
def test_prior_agrees_with_an_independent_fit_of_the_groups(group, median_7d, exponent):
    row = next(row for row in prior_table().rows if row.group == group)
    assert row.median_28d_pa / 1.302 == pytest.approx(median_7d, rel=0.01)
    assert row.exponent_mean == pytest.approx(exponent, abs=0.005)


def test_b39_levels_of_all_soils_have_the_middle_and_spread_found_independently(soils):
    levels = np.concatenate(list(scoring.group_rows(soils).values()))[:, 0]
    assert np.exp(levels.mean()) == pytest.approx(1.543e6, rel=0.01)
    assert levels.std(ddof=1) == pytest.approx(0.573, rel=0.01)
