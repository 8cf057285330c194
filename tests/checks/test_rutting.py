"""Rutting: the strain that may come so many times, against the published criteria and monotone facts."""

from dataclasses import replace

import numpy as np
import pytest

from earthfast.checks import CHECKS, CheckName, rutting_strain
from earthfast.estimate import Trail, exact
from earthfast.ground import limiting_strain_band
from earthfast.loads import load_library

SILENT = Trail(recording=False)
RUTTING = CHECKS[CheckName.RUTTING]
PASSES = np.geomspace(10.0, 1e7, 13)


def test_middle_score_is_the_geometric_mean_of_the_published_criteria():
    many = PASSES[PASSES > 1e5]
    band = limiting_strain_band(many, 40e6)
    assert rutting_strain(many, 40e6, 0.0, 1.0) == pytest.approx(band.middle, rel=1e-12)


def test_one_score_either_way_stays_among_the_published_criteria():
    # LR1132 to the first fourth root at 1e6 passes (M-40): 452.581 to 885.438 µε, Austroads above both
    low, high = rutting_strain(1e6, 34.5e6, np.array([-1.0, 1.0]), 1.0)
    assert 452.581e-6 * 0.9 < low < high < 1292.23e-6


def test_more_passes_never_allow_more_strain():
    assert np.all(np.diff(rutting_strain(PASSES, 40e6, 0.0, 3.5e-3)) <= 0.0)


def test_no_number_of_passes_allows_more_than_the_cap():
    assert np.max(rutting_strain(np.array([1.0, 10.0, 100.0]), 40e6, 2.0, 3.5e-3)) == 3.5e-3


def test_thicker_stone_never_ruts_sooner(case_of, stone_way):
    case = case_of(*(stone_way(t) for t in np.arange(0.06, 0.50, 0.04)), loads=("refuse lorry",))
    assert np.all(np.diff(RUTTING.judge(case, SILENT).demand.values, axis=0) <= 0.0)


def test_ten_times_the_passes_never_lower_the_chance(case_of, stone_way):
    car = load_library()["car"]
    chances = [
        RUTTING.judge(
            case_of(stone_way(0.15), loads=(replace(car, passes_per_year=exact(passes)),)), SILENT
        ).chance[0]
        for passes in (10.0, 100.0, 1000.0, 10000.0)
    ]
    assert np.all(np.diff(chances) >= 0.0)
    assert chances[-1] > chances[0]


def test_what_only_stands_does_not_rut(case_of, stone_way):
    assert not RUTTING.judge(case_of(stone_way(0.15), loads=("hot tub",)), SILENT).applies.any()
