"""Rutting: the strain that may come so many times, against the published criteria and monotone facts."""

from dataclasses import replace

import numpy as np
import pytest

from earthfast.checks import (
    CHECKS,
    CheckName,
    damage_weighted_passes,
    equivalent_passes,
    passes_in_worst_thaw,
    rutting_strain,
    spring_share_of_year,
    strain_exponent,
    worst_strain_met,
)
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
    result = RUTTING.judge(case, SILENT)
    assert np.all(np.diff(result.demand.values / result.capacity.values, axis=0) <= 0.0)


def test_passes_in_a_spring_as_firm_as_the_year_count_once():
    assert damage_weighted_passes(1000.0, 0.1, 500e-6, 500e-6, 4.0) == 1000.0
    assert damage_weighted_passes(1000.0, 0.0, 1500e-6, 500e-6, 4.0) == 1000.0
    # a tenth of the passes at twice the strain, by hand: 0.9 + 0.1 x 2^4
    assert damage_weighted_passes(1000.0, 0.1, 1000e-6, 500e-6, 4.0) == pytest.approx(2500.0)


def test_four_months_of_thaw_follow_the_published_season_of_188_days():
    weak = float(spring_share_of_year(188.0 * 86400.0, 1.0))
    assert weak == pytest.approx(4.0 / 12.0, abs=0.01)  # ufc_3_260_03, evaluation example, S
    assert spring_share_of_year(188.0 * 86400.0, 0.25) == pytest.approx(0.25 * weak)


def test_winters_never_make_it_rut_less(case_of, stone_way):
    chances = []
    for index, rank in ((0.0, 3.0), (400.0, 0.0), (400.0, 3.0)):
        case = case_of(stone_way(0.15), loads=("car",), index=index, frost_rank=rank)
        result = RUTTING.judge(case, SILENT)
        chances.append((result.demand.values / result.capacity.values).mean())
    assert chances[0] <= chances[1] < chances[2]


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


def test_wear_of_all_loads_adds_up_as_miner_has_it():
    # by hand: D = Σ n/N with N = (A/ε)^(1/n) of the middle line; at D = 1 the worst load's strain is what its limit allows
    strain, passes, modulus = np.array([900e-6, 600e-6, 300e-6]), np.array([2e5, 3e5, 9e5]), 40e6
    power = strain_exponent(modulus)
    together = equivalent_passes(passes, strain, strain[0], power).sum()
    intercept = rutting_strain(1.0, modulus, 0.0, np.inf)
    life = (intercept / strain) ** power
    damage = np.sum(passes / life)
    scaled = strain[0] * damage ** (1.0 / power) / strain[0]
    assert (strain[0] / rutting_strain(together, modulus, 0.0, np.inf)) == pytest.approx(scaled, rel=1e-9)


def test_two_loads_alike_wear_as_one_that_comes_twice_as_often(case_of, stone_way):
    car = load_library()["car"]
    once, twice = (replace(car, passes_per_year=exact(passes)) for passes in (2000.0, 4000.0))
    two = RUTTING.judge(case_of(stone_way(0.15), loads=(once, once)), SILENT)
    one = RUTTING.judge(case_of(stone_way(0.15), loads=(twice,)), SILENT)
    assert two.capacity.values == pytest.approx(one.capacity.values, rel=1e-12)


def test_a_light_load_beside_a_heavy_one_adds_next_to_nothing(case_of, stone_way):
    heavy = RUTTING.judge(case_of(stone_way(0.15), loads=("refuse lorry",)), SILENT)
    both = RUTTING.judge(case_of(stone_way(0.15), loads=("refuse lorry", "person")), SILENT)
    assert both.chance[0] >= heavy.chance[0]
    assert both.capacity.values == pytest.approx(heavy.capacity.values, rel=0.02)


def test_what_only_stands_does_not_rut(case_of, stone_way):
    assert not RUTTING.judge(case_of(stone_way(0.15), loads=("hot tub",)), SILENT).applies.any()


def test_the_largest_strain_that_comes_is_that_of_poisson_arrivals():
    # by hand: of two loads the harsher comes with 1 − e^−0.2, any of the two with 1 − e^−(0.2 + 1)
    score = np.random.default_rng(4).standard_normal(200_000)
    found = worst_strain_met(score, a=1e-3, b=1.0, c=3e-3, d=0.2)
    assert np.mean(found == 3e-3) == pytest.approx(1.0 - np.exp(-0.2), abs=4e-3)
    assert np.mean(found == 1e-3) == pytest.approx(np.exp(-0.2) - np.exp(-1.2), abs=4e-3)
    assert np.mean(found == 0.0) == pytest.approx(np.exp(-1.2), abs=4e-3)


def test_passes_in_the_thaw_are_their_share_of_the_year():
    # four months of a season of 188 days (ufc_3_260_03, evaluation example, S): a third of a year's 12 passes
    assert passes_in_worst_thaw(240.0, 20.0, 188.0 * 86400.0) == pytest.approx(4.0, rel=0.01)


def test_cars_do_not_make_a_lorry_come_in_the_thaw(case_of, stone_way):
    lorry, car = load_library()["refuse lorry"], load_library()["car"]
    rare = replace(lorry, passes_per_year=exact(0.02))
    often = replace(car, passes_per_year=exact(8000.0))

    def chance(*loads):
        case = case_of(stone_way(0.45), loads=loads, index=400.0, frost_rank=3.0)
        return RUTTING.judge(case, SILENT).chance[0]

    assert chance(rare, often) <= chance(rare) + chance(often) + 0.02
