"""Bearing of one stratum: calculation sheet, exact solutions, limits and scaling."""

import numpy as np
import pytest

from earthfast.ground import (
    PARTIAL_FACTORS,
    WEIGHT_FACTORS,
    DesignCombination,
    WeightFactor,
    bearing_resistance_drained,
    bearing_resistance_undrained,
    cohesion_factor,
    design_friction_angle,
    inclination_factors,
    partial_factors,
    shape_factors,
    surcharge_factor,
)

ANGLES = np.linspace(1.0, 45.0, 23)


def test_inclined_footing_of_the_calculation_sheet_bears_95_kpa():
    inclination = inclination_factors(30.0, 0.0, 0.70, 5.12, 200e3, 60e3, 30e3)
    resistance = bearing_resistance_drained(30.0, 0.0, 7.5e3, 10e3, 0.70, 5.12, inclination)
    assert resistance == pytest.approx(95e3, abs=500.0)  # as printed on the sheet
    assert resistance == pytest.approx(94.9071e3, rel=1e-6)  # computed independently


def test_design_angle_of_34_degrees_carries_through_to_the_resistance():
    angle = design_friction_angle(34.0, 1.25)
    resistance = bearing_resistance_drained(angle, 0.0, 4e3, 19e3, 0.5, 0.5)
    assert resistance == pytest.approx(141.588e3, abs=0.5)


def test_surcharge_factor_is_the_prandtl_solution_in_its_other_form():
    sine = np.sin(np.deg2rad(ANGLES))
    other = np.exp(np.pi * np.tan(np.deg2rad(ANGLES))) * (1.0 + sine) / (1.0 - sine)
    np.testing.assert_allclose(surcharge_factor(ANGLES), other, rtol=1e-12)


def test_cohesion_factor_meets_the_undrained_one_smoothly_as_friction_vanishes():
    found = cohesion_factor(np.array([0.0, 1e-9, 1e-6, 1e-3]))
    np.testing.assert_allclose(found, np.pi + 2.0, rtol=1e-4)
    assert np.all(np.diff(found) >= 0.0)


def test_ground_without_friction_bears_as_undrained_clay_within_the_shape_rule():
    drained = bearing_resistance_drained(0.0, 25e3, 3e3, 18e3, 0.4, np.inf)
    undrained = bearing_resistance_undrained(25e3, 3e3, 0.4, np.inf)
    assert drained == pytest.approx(float(undrained), rel=1e-12)
    square = shape_factors(0.0, 1.0, 1.0).cohesion
    assert square == pytest.approx(1.2, abs=0.01)  # 1 + 1/(π + 2) against the rounded 1.2


def test_every_weight_factor_form_is_registered_grows_and_vanishes_without_friction():
    assert set(WEIGHT_FACTORS) == set(WeightFactor)
    for form in WEIGHT_FACTORS.values():
        assert form(0.0) == 0.0
        assert np.all(np.diff(form(ANGLES)) > 0.0)


def test_upright_load_is_not_reduced_and_a_sliding_one_bears_nothing():
    upright = inclination_factors(30.0, 2e3, 0.5, 1.0, 50e3, 0.0, 0.0)
    assert (upright.cohesion, upright.surcharge, upright.weight) == (1.0, 1.0, 1.0)
    sliding = inclination_factors(30.0, 0.0, 0.5, 1.0, 50e3, 60e3, 0.0)
    assert (sliding.cohesion, sliding.surcharge, sliding.weight) == (0.0, 0.0, 0.0)


def test_a_square_footing_does_not_mind_which_way_it_is_pushed():
    one = inclination_factors(32.0, 1e3, 0.8, 0.8, 90e3, 20e3, 5e3)
    other = inclination_factors(32.0, 1e3, 0.8, 0.8, 90e3, 5e3, 20e3)
    assert one.surcharge == pytest.approx(other.surcharge, rel=1e-13)
    assert one.weight == pytest.approx(other.weight, rel=1e-13)


def test_doubling_every_stress_and_weight_doubles_the_resistance():
    once = bearing_resistance_drained(ANGLES, 3e3, 5e3, 18e3, 0.5, 0.9)
    twice = bearing_resistance_drained(ANGLES, 6e3, 10e3, 36e3, 0.5, 0.9)
    np.testing.assert_allclose(twice, 2.0 * once, rtol=1e-13)
    assert np.all(np.diff(once) > 0.0)


def test_undrained_resistance_halves_its_clay_part_at_sliding_and_is_gone_beyond():
    side, strength, overburden = 0.5, 20e3, 1e3
    slide = side * side * strength
    still, limit, gone = bearing_resistance_undrained(
        strength, overburden, side, side, np.array([0.0, slide, 1.01 * slide])
    )
    assert limit - overburden == pytest.approx(0.5 * (still - overburden), rel=1e-7)
    assert gone == 0.0


def test_draws_and_build_ups_broadcast():
    angles = np.linspace(25.0, 35.0, 7)[:, None]
    widths = np.array([0.2, 0.4, 0.8])
    assert bearing_resistance_drained(angles, 0.0, 2e3, 18e3, widths, 2.0).shape == (7, 3)
    assert bearing_resistance_undrained(angles * 1e3, 2e3, widths, 2.0).shape == (7, 3)
    assert inclination_factors(angles, 0.0, widths, 2.0, 5e3, 1e2, 0.0).weight.shape == (7, 3)


def test_one_combination_factors_loads_and_the_other_strengths():
    assert set(PARTIAL_FACTORS) == set(DesignCombination)
    loads, strength = (partial_factors(one) for one in DesignCombination)
    assert loads.friction == loads.cohesion == loads.undrained_strength == strength.permanent == 1.0
    assert loads.variable > strength.variable > 1.0
