from __future__ import annotations

import numpy as np
import pytest

from earthfast.works import (
    LevelPlane,
    Point,
    area_by_offsets_simpson,
    corner_levels,
    cut_and_fill,
    fall_one_in,
    falling_plane,
    grid_cut_and_fill,
    grid_volume,
    plan_from_corners,
    plane_through_pegs,
    prismoid_volume,
    rectangular_plan,
    surface_below_damp_course,
    water_at_walls,
)


def test_levels_from_the_damp_course_down_agree_with_hand_reckoning():
    # P-09, C: damp course 10.000, 150 mm clear, 1 in 60 over 3.6 m, 190 mm build-up, ground at 9.900
    plan = rectangular_plan(6.0, 3.6, [0])
    finished = surface_below_damp_course(plan, 0, 10.0, fall_one_in(60.0))
    corners = corner_levels(plan, finished, LevelPlane(9.9), 0.19)
    assert [c.finished for c in corners] == pytest.approx([9.85, 9.85, 9.79, 9.79])
    assert [c.formation for c in corners] == pytest.approx([9.66, 9.66, 9.60, 9.60])
    assert np.mean([c.dig for c in corners]) == pytest.approx(0.27)
    volumes = cut_and_fill(plan, LevelPlane(9.9).above(finished.raised(-0.19)))
    assert volumes.cut == pytest.approx(5.832, rel=0.001)
    assert volumes.fill == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize("walls", [[0], [1], [2], [3]])
def test_surface_set_from_a_wall_always_runs_away_from_it(walls):
    plan = rectangular_plan(6.0, 3.6, walls)
    finished = surface_below_damp_course(plan, walls[0], 10.0, fall_one_in(60.0))
    (check,) = water_at_walls(plan, finished, 10.0)
    assert check.runs_away
    assert check.clears
    assert check.clearance == pytest.approx(0.15)
    assert check.fall_away.one_in == pytest.approx(60.0)


def test_water_running_at_a_wall_is_seen():
    plan = rectangular_plan(6.0, 3.6, [0])
    towards = falling_plane(Point(0.0, 0.0), 9.85, fall_one_in(60.0), downhill=-90.0)
    (check,) = water_at_walls(plan, towards, 9.95)
    assert not check.runs_away
    assert not check.clears


def test_fall_along_the_wall_does_not_count_as_away():
    plan = rectangular_plan(6.0, 3.6, [0])
    along = falling_plane(Point(0.0, 0.0), 9.8, fall_one_in(60.0), downhill=0.0)
    assert abs(water_at_walls(plan, along, 10.0)[0].fall_away.gradient) < 1e-12


def test_plane_through_exact_pegs_has_no_gap_and_more_pegs_are_fitted():
    x, y = np.array([0.0, 6.0, 0.0, 6.0, 3.0]), np.array([0.0, 0.0, 4.0, 4.0, 2.0])
    pegged = plane_through_pegs(x, y, 10.0 - 0.02 * x + 0.01 * y)
    assert pegged.largest_gap < 1e-12
    assert (pegged.plane.rise_x, pegged.plane.rise_y) == pytest.approx((-0.02, 0.01))


def test_pegs_in_one_line_fix_no_plane():
    with pytest.raises(ValueError, match="one line"):
        plane_through_pegs(np.array([0.0, 1.0, 2.0]), np.array([0.0, 1.0, 2.0]), np.zeros(3))


def test_cut_and_fill_of_a_tilted_square_are_two_equal_wedges():
    # depth from -0.1 to +0.1 across 2 m: each wedge is 1/2 x 0.1 x 1 m over 2 m
    volumes = cut_and_fill(rectangular_plan(2.0, 2.0), LevelPlane(-0.1, rise_x=0.1))
    assert volumes.cut == pytest.approx(0.1)
    assert volumes.fill == pytest.approx(0.1)


def test_cut_and_fill_agree_with_a_fine_grid_on_a_concave_plan():
    corners = [[0, 0], [6, 0], [6, 2], [3, 2], [3, 5], [0, 5]]
    dig = LevelPlane(0.2, rise_x=-0.09, rise_y=0.02)
    x, y = np.meshgrid(np.arange(0.005, 6, 0.01), np.arange(0.005, 5, 0.01))
    depth = np.where((x < 3) | (y < 2), dig.at(x, y), 0.0)
    volumes = cut_and_fill(plan_from_corners(corners), dig)
    assert volumes.cut == pytest.approx(np.maximum(depth, 0).sum() * 1e-4, rel=1e-3)
    assert volumes.fill == pytest.approx(-np.minimum(depth, 0).sum() * 1e-4, rel=1e-3)


def test_grid_split_keeps_the_netted_volume_and_hides_nothing():
    depths = np.array([[0.2, -0.1, 0.3], [-0.2, 0.1, -0.3], [0.0, 0.0, 0.1]])
    volumes = grid_cut_and_fill(2.0, 1.5, depths)
    assert volumes.cut - volumes.fill == pytest.approx(grid_volume(2.0, 1.5, depths))
    assert min(volumes.cut, volumes.fill) > 0.0


def test_grid_split_of_a_plane_agrees_with_the_exact_wedge():
    x = np.linspace(0.0, 2.0, 5)
    depths = np.tile(-0.1 + 0.1 * x, (5, 1))
    volumes = grid_cut_and_fill(0.5, 0.5, depths)
    assert volumes.cut == pytest.approx(0.1)
    assert volumes.fill == pytest.approx(0.1)


def test_all_positive_grid_has_no_fill():
    depths = np.full((3, 4), 0.2)
    assert grid_cut_and_fill(1.0, 1.0, depths).fill == pytest.approx(0.0, abs=1e-15)


def test_odd_number_of_strips_is_refused_by_simpson():
    with pytest.raises(ValueError, match="even number of strips"):
        area_by_offsets_simpson(1.0, np.array([0.0, 1.0, 1.0, 0.0]))


def test_prismoid_is_exact_for_a_pyramid():
    assert prismoid_volume(4.0, 1.0, 0.0, 3.0) == pytest.approx(4.0 * 3.0 / 3.0)
