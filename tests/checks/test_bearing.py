"""Bearing of the ground, through the functions that judge it, against published examples, limits and monotone facts."""

import numpy as np
import pytest

from earthfast.checks import CHECKS, CheckName, PavingUnit, crust_resistance, ground_resistance
from earthfast.estimate import Trail, exact
from earthfast.loads import Footprint, load_from_mass

SILENT = Trail(recording=False)


def judged(name, case):
    return CHECKS[name].judge(case, SILENT)


def test_undrained_example_through_the_judging_function():
    # M-23: square of 0.40 m, c_u 25 kPa, q 3.6 kPa: 157.848 kPa
    assert ground_resistance(25e3, 30.0, 0.0, 3.6e3, 0.40) == pytest.approx(157.848e3, rel=1e-5)


def test_drained_ground_of_no_width_is_carried_by_its_cover_alone():
    # N_q 18.4011 at 30 degrees (M-20), s_q = 1 + sin 30 degrees for a square
    assert ground_resistance(1.0, 30.0, 1.0, 10e3, 1e-9) == pytest.approx(18.4011 * 1.5 * 10e3, rel=1e-5)


def test_own_weight_adds_to_drained_resistance_in_proportion_to_width():
    # N_γ 20.0931 at 30 degrees, s_γ 0.7, γ 9 kN/m³
    widths = np.array([0.2, 0.4])
    resistance = ground_resistance(1.0, 30.0, 1.0, 0.0, widths)
    assert resistance == pytest.approx(0.5 * 9.0e3 * widths * 20.0931 * 0.7, rel=1e-5)


def test_draws_that_drain_and_draws_that_do_not_are_told_apart():
    both = ground_resistance(np.full(2, 50e3), 34.0, np.array([0.0, 1.0]), 3e3, 0.3)
    assert both[0] == ground_resistance(50e3, 34.0, 0.0, 3e3, 0.3)
    assert both[1] == ground_resistance(50e3, 34.0, 1.0, 3e3, 0.3)


@pytest.mark.parametrize(
    ("thickness", "holds", "printed"), [(0.2, 1.0, 281.0), (0.5, 1.0, 484.0), (0.2, 0.0, 121.0)]
)
def test_crust_punching_example_through_the_judging_function(thickness, holds, printed):
    # M-24: circle of 0.3 m on a crust of 80 kPa over 20 kPa; 6.05 x 20 kPa once shear is lost
    assert crust_resistance(160e3, holds, 20e3, thickness, 0.3, 0.0) == pytest.approx(printed * 1e3, rel=1e-4)


def test_broken_crust_never_carries_less_than_the_ground_alone():
    strengths = np.geomspace(5e3, 2e6, 12)
    assert np.all(crust_resistance(strengths, 0.0, 60e3, 0.2, 0.2, 0.0) == pytest.approx(6.05 * 60e3))


@pytest.mark.parametrize("name", [CheckName.BEARING, CheckName.SOFTENING])
def test_thicker_stone_never_raises_stress_on_the_ground(name, case_of, stone_way):
    case = case_of(
        *(stone_way(thickness) for thickness in np.arange(0.06, 0.60, 0.03)), loads=("car", "person")
    )
    assert np.all(np.diff(judged(name, case).demand.values, axis=0) <= 0.0)


def test_stronger_ground_never_raises_the_chance(case_of, stone_way):
    chances = []
    for strength in np.geomspace(5e3, 2e5, 9):
        case = case_of(stone_way(0.1), loads=("lorry axle, code",), strength_wet=strength)
        chances.append(judged(CheckName.SOFTENING, case).chance[0])
    assert np.all(np.diff(chances) <= 0.0)
    assert chances[0] > 0.5 > chances[-1]


def test_twice_the_load_asks_twice_the_stress(case_of, stone_way):
    feet = Footprint(1.2, 1.2)
    once, twice = (load_from_mass("tank", exact(mass), feet) for mass in (500.0, 1000.0))
    unit = PavingUnit(0.0, 0.0)
    demands = [
        judged(CheckName.BEARING, case_of(stone_way(0.15), loads=(one,), unit=unit)).demand.values
        for one in (once, twice)
    ]
    assert demands[1] == pytest.approx(2.0 * demands[0], rel=1e-12)


def test_treated_soil_is_asked_for_punching_and_falls_to_it_only_once_broken(case_of, treated_way):
    weak = case_of(treated_way(0.10), loads=("refuse lorry",), strength=2e5, strength_wet=40e3)
    strong = case_of(treated_way(0.10), loads=("refuse lorry",), strength=2e7, strength_wet=40e3)
    assert "punching" in judged(CheckName.SOFTENING, weak).governed_by[0]
    assert "punching" not in judged(CheckName.SOFTENING, strong).governed_by[0]


def test_of_several_loads_the_one_that_asks_most_governs(case_of, stone_way):
    alone = [judged(CheckName.BEARING, case_of(stone_way(0.1), loads=(one,))) for one in ("car", "person")]
    both = judged(CheckName.BEARING, case_of(stone_way(0.1), loads=("car", "person")))
    shares = [one.demand.values / one.capacity.values for one in alone]
    assert both.demand.values / both.capacity.values == pytest.approx(np.maximum(*shares), rel=1e-12)
    assert both.governed_by == ("car, wheels",)
