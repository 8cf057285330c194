"""Stone for unpaved surfaces: the equation is met, scaling, limits, and the published tables beside it."""

from itertools import pairwise

import numpy as np
import pytest

from earthfast.ground import (
    StoneCatalogue,
    SurfaceUse,
    ground_stress_limit,
    investigation_depths,
    minimum_stone,
    permeable_categories,
    stone_catalogue,
    stone_thickness_corps,
    stone_thickness_giroud_han,
    stone_thickness_giroud_noiray,
)

CBRS = np.linspace(0.8, 4.5, 12)


def test_solved_thickness_meets_the_published_equation():
    load, pressure, base, rut, passes = 45e3, 600e3, 30.0, 0.06, 2000.0
    thickness = stone_thickness_giroud_han(load, pressure, base, CBRS, rut, passes)
    radius = np.sqrt(load / (np.pi * pressure))
    share = rut / 0.075 * (1.0 - 0.9 * np.exp(-((radius / thickness) ** 2)))
    ratio = np.minimum(5.0, 3.48 * base**0.3 / CBRS)
    traffic = (0.868 + 0.661 * (radius / thickness) ** 1.5 * np.log10(passes)) / (1.0 + 0.204 * (ratio - 1.0))
    strength = np.sqrt(load / (np.pi * radius**2 * share * 3.14 * 30e3 * CBRS))
    np.testing.assert_allclose(thickness, traffic * (strength - 1.0) * radius, rtol=1e-9)
    assert np.all(np.diff(thickness) < 0.0)


def test_thickness_grows_as_the_root_of_load_at_one_pressure():
    once = stone_thickness_giroud_han(10e3, 500e3, 25.0, CBRS, 0.075, 500.0)
    np.testing.assert_allclose(stone_thickness_giroud_han(40e3, 500e3, 25.0, CBRS, 0.075, 500.0), 2.0 * once)
    corps = stone_thickness_corps(10e3, 500e3, CBRS)
    np.testing.assert_allclose(stone_thickness_corps(40e3, 500e3, CBRS), 2.0 * corps)


def test_ground_that_carries_the_wheel_needs_no_stone():
    assert stone_thickness_giroud_han(2e3, 90e3, 25.0, 4.0, 0.075, 100.0) == 0.0
    assert stone_thickness_corps(40e3, 100e3, 10.0) == 0.0
    assert stone_thickness_giroud_noiray(2e3, 0.15, 100e3, 1.0) == 0.0


def test_more_passes_never_need_less_stone():
    passes = np.array([1.0, 10.0, 100.0, 1e3, 1e4])
    assert np.all(np.diff(stone_thickness_giroud_noiray(80e3, 0.075, 30e3, passes)) > 0.0)
    assert np.all(np.diff(stone_thickness_giroud_han(40e3, 550e3, 25.0, 1.5, 0.075, passes)) > 0.0)


def test_fabric_always_lets_the_ground_carry_more():
    for plain, fabric in (
        (SurfaceUse.STATIC, SurfaceUse.STATIC_FABRIC),
        (SurfaceUse.MANY_PASSES, SurfaceUse.MANY_PASSES_FABRIC),
        (SurfaceUse.FEW_PASSES, SurfaceUse.FEW_PASSES_FABRIC),
    ):
        assert ground_stress_limit(20e3, plain) < ground_stress_limit(20e3, fabric)
    assert all(ground_stress_limit(1.0, use) > 0.0 for use in SurfaceUse)


@pytest.mark.parametrize("catalogue", StoneCatalogue)
def test_published_tables_cover_every_cbr_and_never_ask_more_on_stronger_ground(catalogue):
    rows = stone_catalogue(catalogue).rows
    for use in {row.use for row in rows}:
        of_use = [row for row in rows if row.use == use]
        assert of_use[0].cbr_low == 0.0
        assert of_use[-1].cbr_high == np.inf
        assert all(one.cbr_high == two.cbr_low for one, two in pairwise(of_use))
        total = [row.capping + row.sub_base for row in of_use]
        assert total == sorted(total, reverse=True)


def test_unpaved_methods_agree_with_the_road_table_within_a_factor_of_two():
    rows = [
        row for row in stone_catalogue(StoneCatalogue.ROAD_FOUNDATION).rows if row.use == "sub-base alone"
    ]
    for row in rows[1:4]:
        found = stone_thickness_giroud_noiray(80e3, 0.040, 30e3 * row.cbr_low, 1000.0)
        assert 0.5 < found / row.sub_base < 2.0


def test_drives_never_get_less_stone_than_walks():
    rows = minimum_stone().rows
    for walk, drive in zip(rows[::2], rows[1::2], strict=True):
        assert walk.thickness < drive.thickness


def test_heavier_use_is_looked_at_deeper_and_counts_more_axles():
    depth = {row.use: row.depth for row in investigation_depths().rows}
    assert depth["walkway"] < depth["light building"] < depth["minor road, flexible"]
    axles = [row.standard_axles for row in permeable_categories().rows]
    assert axles == sorted(axles)
