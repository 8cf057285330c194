"""Punching through stone or a crust: limits of no crust, thick crust and a strong clay."""

import numpy as np
import pytest

from earthfast.ground import (
    bearing_resistance_drained,
    cone_capacity,
    crust_punching_circle_brown_meyerhof,
    crust_punching_meyerhof_hanna,
    crust_punching_strip_brown_meyerhof,
    punching_coefficient,
    stone_punching_meyerhof_hanna,
)

THICKNESSES = np.linspace(0.0, 2.0, 41)
CRUSTS = [
    pytest.param(crust_punching_strip_brown_meyerhof, 5.14, id="strip"),
    pytest.param(crust_punching_circle_brown_meyerhof, 6.05, id="circle"),
]


@pytest.mark.parametrize(("crust", "factor"), CRUSTS)
def test_no_crust_is_the_clay_and_a_thick_crust_is_the_crust(crust, factor):
    found = crust(60e3, 15e3, THICKNESSES, 0.4)
    assert found[0] == pytest.approx(factor * 15e3)
    assert found[-1] == pytest.approx(factor * 60e3)
    assert np.all(np.diff(found) >= 0.0)


def test_crust_on_clay_of_its_own_strength_is_one_clay():
    for thickness in (0.0, 0.2, 1.0):
        found = crust_punching_meyerhof_hanna(30e3, 30e3, 20e3, thickness, 4e3, 0.5, np.inf)
        assert found == pytest.approx(5.14 * 30e3 + 4e3)


def test_stone_of_no_thickness_leaves_the_clay_and_thick_stone_fails_by_itself():
    found = stone_punching_meyerhof_hanna(40.0, 20e3, 10e3, THICKNESSES, 0.3, 0.5, 0.5, 3.0)
    assert found[0] == pytest.approx(1.2 * 5.14 * 10e3 + 20e3 * 0.3)
    assert found[-1] == pytest.approx(float(bearing_resistance_drained(40.0, 0.0, 6e3, 20e3, 0.5, 0.5)))
    assert np.all(np.diff(found) >= 0.0)


def test_more_spread_or_thickness_carries_more_and_none_carries_the_contact_alone():
    factor = 1.2 * (np.pi + 2.0)
    assert cone_capacity(0.1, 0.0, 20e3, factor, 1.0) == pytest.approx(np.pi * 0.01 * factor * 20e3)
    two_to_one, wide = cone_capacity(0.1, THICKNESSES[1:, None], 20e3, factor, np.array([0.5, 1.0])).T
    assert np.all(wide > two_to_one)


def test_proposed_punching_coefficient_lies_inside_the_chart_around_the_worked_value():
    band = punching_coefficient()
    assert 1.0 < band.low < 3.5 < band.high < 20.0
