from __future__ import annotations

import numpy as np
import pytest
from shapely.geometry import Polygon
from shapely.ops import unary_union

from earthfast.works import bays_of, corner_check, diagonals_check, plan_from_corners, rectangular_plan
from earthfast.works.plan import Squareness

L_SHAPE = [[0, 0], [6.4, 0], [6.4, 2.8], [3.9, 2.8], [3.9, 5.1], [0, 5.1]]
TRAPEZOID = [[0, 0], [10, 0], [8, 5], [1, 5]]


def turned(corners, degrees):
    angle = np.radians(degrees)
    return np.asarray(corners) @ np.array([[np.cos(angle), np.sin(angle)], [-np.sin(angle), np.cos(angle)]])


def test_crossed_outline_is_refused_and_asks_for_the_corner_order():
    with pytest.raises(ValueError, match="order you walk them"):
        plan_from_corners([[0, 0], [4, 0], [0, 3], [4, 3]])


def test_base_of_a_published_patio_grows_by_an_eighth():
    # C: 4 x 6 m on a 150 mm base becomes 4.3 x 6.3 m
    assert rectangular_plan(6.0, 4.0).extended(0.15).area == pytest.approx(4.3 * 6.3)


def test_base_does_not_grow_into_a_wall():
    assert rectangular_plan(6.0, 4.0, [0]).extended(0.15).area == pytest.approx(6.3 * 4.15)
    assert rectangular_plan(6.0, 4.0, [0, 3]).extended(0.15).area == pytest.approx(6.15 * 4.15)


def test_extension_of_a_right_angled_outline_follows_its_corners():
    # convex corners add a square, hollow ones take one away: 5 - 1 = 4
    plan = plan_from_corners(L_SHAPE)
    assert plan.extended(0.1).area == pytest.approx(26.89 + 23.0 * 0.1 + 4 * 0.01)


def test_free_edge_leaves_the_wall_out():
    assert rectangular_plan(6.0, 4.0, [0]).free_edge == pytest.approx(14.0)


@pytest.mark.parametrize("degrees", [0.0, 17.0, 90.0, 211.0])
def test_area_and_extension_do_not_depend_on_how_the_plan_is_turned(degrees):
    plan = plan_from_corners(turned(L_SHAPE, degrees), [0])
    assert plan.area == pytest.approx(26.89)
    assert plan.extended(0.2).area == pytest.approx(plan_from_corners(L_SHAPE, [0]).extended(0.2).area)


@pytest.mark.parametrize("corners", [L_SHAPE, TRAPEZOID, [[0, 0], [7, 0], [7, 3], [0, 3]]])
@pytest.mark.parametrize("degrees", [0.0, 33.0])
@pytest.mark.parametrize("largest", [2.5, 6.0, 100.0])
def test_bays_tile_the_plan_without_gap_or_overlap(corners, degrees, largest):
    plan = plan_from_corners(turned(corners, degrees))
    bays = bays_of(plan, largest)
    shapes = [Polygon([(c.x, c.y) for c in bay.outline]) for bay in bays]
    assert sum(bay.area for bay in bays) == pytest.approx(plan.area)
    assert unary_union(shapes).area == pytest.approx(plan.area)
    assert all(bay.length * bay.width >= bay.area - 1e-9 for bay in bays)
    assert all(bay.length * bay.width <= largest * (1 + 1e-9) for bay in bays)


def test_bays_of_a_square_cornered_plan_are_full_rectangles():
    for bay in bays_of(plan_from_corners(L_SHAPE), 6.0):
        assert bay.length * bay.width == pytest.approx(bay.area)


def test_square_corner_has_the_three_four_five_diagonal():
    check = corner_check(3.0, 4.0, 5.0)
    assert check.angle == pytest.approx(90.0)
    assert check.verdict is Squareness.SQUARE


def test_short_diagonal_means_a_tight_corner():
    assert corner_check(3.0, 4.0, 4.9).verdict is Squareness.TOO_TIGHT


def test_impossible_diagonal_is_refused():
    with pytest.raises(ValueError, match="cannot have"):
        corner_check(3.0, 4.0, 8.0)


@pytest.mark.parametrize("angle", [85.0, 90.0, 94.0])
def test_diagonals_give_the_angle_of_a_parallelogram(angle):
    a, b, cosine = 6.0, 4.0, np.cos(np.radians(angle))
    across, along = np.sqrt(a**2 + b**2 - 2 * a * b * cosine), np.sqrt(a**2 + b**2 + 2 * a * b * cosine)
    assert diagonals_check(a, b, across, along).angle == pytest.approx(angle)
