"""Layered ground against second methods: many digits, a dense system with quadrature, finite elements."""

from __future__ import annotations

import importlib.util
import sys
from pathlib import Path

import mpmath
import numpy as np
import pytest

from earthfast import elastic
from earthfast.elastic.reflection import Stack, layer_waves

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def referees():
    spec = importlib.util.spec_from_file_location("referees", ROOT / "benchmarks" / "layered_elasticity.py")
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module


def surface_sink_by_matrix_exponential(m, thickness, modulus, poisson_ratio):
    """Vertical surface displacement for unit pressure, in 60 digits, from the first-order equations.

    State (U, W, S, T), tension positive: U' = W + T/G, W' = (S - lU)/(l + 2G), S' = -T,
    T' = (l + 2G)U + l(S - lU)/(l + 2G), with l Lamé's constant and the prime taken per unit of m z.
    """
    with mpmath.workdps(80):
        total = mpmath.eye(4)
        for height, stiffness, ratio in zip(thickness, modulus, poisson_ratio, strict=False):
            nu = mpmath.mpf(ratio)
            g = mpmath.mpf(stiffness) / (2 * (1 + nu))
            lame = 2 * g * nu / (1 - 2 * nu)
            side = lame + 2 * g
            rates = mpmath.matrix(
                [
                    [0, 1, 0, 1 / g],
                    [-lame / side, 0, 1 / side, 0],
                    [0, 0, 0, -1],
                    [side - lame**2 / side, 0, lame / side, 0],
                ]
            )
            total = mpmath.expm(rates * mpmath.mpf(m) * mpmath.mpf(height)) * total
        g = mpmath.mpf(modulus[-1]) / (2 * (1 + mpmath.mpf(poisson_ratio[-1])))
        nu = mpmath.mpf(poisson_ratio[-1])
        first = [1, 1, -2 * g, -2 * g]
        second = [0, 3 - 4 * nu, -2 * g * (2 - 2 * nu), -2 * g * (1 - 2 * nu)]
        system, right = mpmath.matrix(4, 4), mpmath.matrix(4, 1)
        for row in range(4):
            system[row, 0], system[row, 1] = total[row, 0], total[row, 1]
            system[row, 2], system[row, 3] = -first[row], -second[row]
            right[row] = total[row, 2]
        return float(mpmath.lu_solve(system, right)[1])


@pytest.mark.parametrize("ratio", [1e-4, 0.1, 30.0, 1e4])
@pytest.mark.parametrize("m", [1e-4, 1e-2, 0.3, 3.0])
def test_reflection_keeps_nine_digits_where_the_transfer_matrix_needs_sixty(m, ratio):
    thickness, nu = [1.0, 2.5, 0.4], [0.2, 0.35, 0.49, 0.4]
    modulus = [ratio, 1.0, 5.0 * ratio, 2.0]
    shear = [np.array(e / (2.0 * (1.0 + n))) for e, n in zip(modulus, nu, strict=True)]
    stack = Stack(
        tuple(map(np.array, thickness)), tuple(shear), tuple(np.array(1.0 - 2.0 * n) for n in nu), (None,) * 3
    )
    top = layer_waves(np.array([m]), stack, 0)[0]
    passage = np.exp(-m * thickness[0])
    up, slope = passage * (top.up + m * thickness[0] * top.up_slope), passage * top.up_slope
    c = 1.0 - 2.0 * nu[0]
    sink = top.down - up + (1.0 + c) * (1.0 + top.down_slope - slope)
    exact = surface_sink_by_matrix_exponential(m, thickness, modulus, nu)
    assert sink[0] / (2.0 * shear[0]) == pytest.approx(exact, rel=1e-9)


def test_dense_system_with_general_quadrature_agrees(referees):
    layers = ([0.06, 0.2], [1500e6, 300e6, 25e6], [0.3, 0.25, 0.45])
    plain = referees.plain_response(*layers, 0.1, 300e3, 0.12, 1e-7)
    ground = elastic.LayeredGround(*layers)
    points = elastic.points_in_layers(ground, [2], [0.0], x=0.12)
    found = elastic.layered_response(ground, elastic.CircularLoad(0.1, 300e3), points, 1e-9)
    assert found.deflection[0] == pytest.approx(plain.deflection, rel=1e-6)
    assert found.vertical_stress[0] == pytest.approx(plain.vertical_stress, rel=1e-6)
    assert found.vertical_strain[0] == pytest.approx(plain.vertical_strain, rel=1e-6)


@pytest.mark.parametrize(
    "layers",
    [
        ([0.15], [100e6, 20e6], [0.35, 0.45]),
        ([0.2], [1000e6, 20e6], [0.25, 0.45]),
        ([0.05], [20e6, 200e6], [0.35, 0.35]),
        ([0.08, 0.2], [2000e6, 150e6, 25e6], [0.3, 0.35, 0.45]),
    ],
)
def test_finite_elements_agree_within_one_percent(referees, layers):
    elements = referees.element_response(*layers, 0.15, 600e3, 6)
    ground = elastic.LayeredGround(*layers)
    points = elastic.points_in_layers(ground, [ground.layers - 1], [0.0])
    found = elastic.layered_response(ground, elastic.CircularLoad(0.15, 600e3), points)
    assert found.deflection[0] == pytest.approx(elements.deflection, rel=0.01)
    assert found.vertical_strain[0] == pytest.approx(elements.vertical_strain, rel=0.01)


@pytest.mark.slow
def test_finite_elements_close_in_as_they_are_refined(referees):
    layers = ([0.2], [1000e6, 20e6], [0.25, 0.45])
    ground = elastic.LayeredGround(*layers)
    points = elastic.points_in_layers(ground, [1], [0.0])
    exact = elastic.layered_response(
        ground, elastic.CircularLoad(0.15, 600e3), points, 1e-10
    ).vertical_strain[0]
    gaps = [
        abs(referees.element_response(*layers, 0.15, 600e3, cells).vertical_strain / exact - 1.0)
        for cells in (3, 6, 12)
    ]
    assert gaps[2] < gaps[1] < gaps[0]
    assert gaps[2] < 1e-3
