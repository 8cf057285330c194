"""Settlement by layer sums against closed forms of the half-space, with the order of convergence."""

from itertools import pairwise

import numpy as np
import pytest

from earthfast.elastic import (
    cone_stress_rectangle,
    rectangle_corner_factor,
    rectangle_settlement,
    rectangle_vertical_stress,
)
from earthfast.ground import (
    VISIBLE_TILT,
    compressibilities,
    compressibilities_hydrogeology,
    consolidation_settlement,
    counts_for_settlement,
    differential_settlement,
    immediate_settlement,
    tilt,
)


def sublayers(edges):
    return (edges[1:] + edges[:-1]) / 2.0, np.diff(edges)


def circle_axis_stresses(pressure, radius, poisson_ratio, depth):
    c = depth / np.hypot(radius, depth)
    vertical = pressure * (1.0 - c**3)
    return vertical, pressure * (1.0 + 2.0 * poisson_ratio - 2.0 * (1.0 + poisson_ratio) * c + c**3)


def rectangle_corner_stresses(pressure, width, length, poisson_ratio, depth):
    """Newmark; the sum of all three normal stresses is (1 + ν) q/π times the solid angle seen."""
    m, n = width / depth, length / depth
    s = np.sqrt(m**2 + n**2 + 1.0)
    solid_angle = np.arctan(m * n / s)
    vertical = pressure / (2 * np.pi) * (solid_angle + m * n / s * (1.0 / (1.0 + m**2) + 1.0 / (1.0 + n**2)))
    return vertical, (1.0 + poisson_ratio) * pressure / np.pi * solid_angle - vertical


def circle_settlement(count):
    depth, thickness = sublayers(np.linspace(0.0, 0.6, count + 1))
    vertical, lateral = circle_axis_stresses(600e3, 0.15, 0.35, depth)
    return immediate_settlement(vertical, lateral, thickness, 30e6, 0.35)


def test_layer_sum_meets_the_published_deflections_of_a_circle_with_second_order():
    exact = (5.26500 - 1.13184) * 1e-3  # deflection at the surface less that at 0.6 m
    errors = [abs(circle_settlement(count) - exact) for count in (12, 24, 48)]
    assert circle_settlement(400) == pytest.approx(exact, rel=2e-5)
    orders = np.log2(np.array(errors[:-1]) / errors[1:])
    np.testing.assert_allclose(orders, 2.0, atol=0.15)


@pytest.mark.parametrize(
    ("width", "length", "quarters", "printed"),
    [pytest.param(0.9, 1.2, 4, 2.10935, id="centre"), pytest.param(1.8, 2.4, 1, 1.05468, id="corner")],
)
def test_shed_slab_settles_as_computed_when_summed_over_great_depth(width, length, quarters, printed):
    depth, thickness = sublayers(np.concatenate([[0.0], np.geomspace(1e-4, 3e4, 3000)]))
    vertical, lateral = rectangle_corner_stresses(10e3, width, length, 0.3, depth)
    settlement = immediate_settlement(quarters * vertical, quarters * lateral, thickness, 10e6, 0.3)
    assert settlement == pytest.approx(printed * 1e-3, rel=1e-4)
    closed = quarters * rectangle_settlement(10e3, width, 10e6, 0.3, rectangle_corner_factor(length / width))
    assert closed == pytest.approx(printed * 1e-3, abs=6e-9)


def test_hot_tub_settles_clay_as_computed_below_its_centre_and_on_average():
    depth = np.array([0.55, 1.05, 1.55, 2.05])
    centre = rectangle_vertical_stress(6e3, 2.1, 2.1, 0.0, 0.0, depth)
    elastic = consolidation_settlement(centre, 0.5, 0.3e-6)
    mean = consolidation_settlement(cone_stress_rectangle(6e3, 2.1, 2.1, depth, 0.5), 0.5, 0.3e-6)
    assert elastic == pytest.approx(2.21647e-3, abs=5e-9)
    assert mean == pytest.approx(1.49355e-3, abs=5e-9)


def test_settlement_is_proportional_to_load_and_correction_and_keeps_the_draws():
    stress = np.array([5e3, 3e3, 1e3])
    compressibility = np.linspace(1e-7, 5e-7, 6)[:, None]
    once = consolidation_settlement(stress, 0.4, compressibility)
    assert once.shape == (6,)
    np.testing.assert_allclose(consolidation_settlement(2 * stress, 0.4, compressibility, 0.7), 1.4 * once)


def test_small_increase_over_old_stress_is_left_out():
    np.testing.assert_array_equal(counts_for_settlement(np.array([0.9e3, 1.1e3, 5e3]), 10e3), [0.0, 1.0, 1.0])


def test_tilt_is_symmetric_and_visible_at_5_mm_a_metre():
    assert tilt(0.010, 0.002, 1.6) == tilt(0.002, 0.010, 1.6) == pytest.approx(VISIBLE_TILT)


def test_difference_between_two_points_scatters_as_sampled_correlated_ground_does():
    generator = np.random.default_rng(5)
    covariance = (0.010 * 0.3) ** 2 * np.array([[1.0, 0.6], [0.6, 1.0]])
    here, there = generator.multivariate_normal([0.01, 0.01], covariance, 200_000).T
    assert differential_settlement(0.010, 0.3, 0.6) == pytest.approx(np.std(here - there), rel=0.01)
    assert differential_settlement(0.010, 0.3, 1.0) == 0.0


def test_compressibilities_run_from_hard_to_soft():
    rows = compressibilities().rows
    assert all(row.low < row.high for row in (*rows, *compressibilities_hydrogeology().rows))
    assert all(stiff.high == soft.low for stiff, soft in pairwise(rows))
