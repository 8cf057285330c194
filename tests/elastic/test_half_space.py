"""A circle on a half-space: two closed forms against each other, against quadrature, against tables."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest
from scipy.integrate import quad

from earthfast import elastic

STORED = json.loads(
    (Path(__file__).parents[1] / "published" / "elastic_layers.json").read_text(encoding="utf-8")
)
UNIT = elastic.CircularLoad(radius=1.0, pressure=1.0)


@pytest.mark.parametrize("row", STORED["off_axis"]["rows"], ids=lambda row: f"r{row[0]}-z{row[1]}")
def test_off_axis_response_agrees_with_high_precision_quadrature(row):
    found = elastic.half_space_response(1.0, 0.35, UNIT, row[0], row[1])
    ours = [
        found.vertical_stress,
        found.radial_stress,
        found.tangential_stress,
        found.shear_stress,
        found.deflection,
        found.radial_displacement,
        found.vertical_strain,
    ]
    np.testing.assert_allclose(ours, row[2:], rtol=1e-5)


def test_surface_bowl_agrees_with_high_precision_quadrature():
    offset, factor = np.transpose(STORED["surface_deflection"]["rows"])
    found = elastic.half_space_response(1.0, 0.35, UNIT, offset, 0.0)
    np.testing.assert_allclose(found.deflection, factor, rtol=1e-5)


@pytest.mark.parametrize("case", STORED["half_space"], ids=lambda case: f"nu{case['poisson_ratio']}")
def test_stored_half_space_points_are_met(case):
    load = elastic.CircularLoad(case["radius_m"], case["pressure_Pa"])
    for point in case["points"]:
        found = elastic.half_space_response(
            case["modulus_Pa"], case["poisson_ratio"], load, point["radial_offset_m"], point["depth_m"]
        )
        assert found.deflection == pytest.approx(point["deflection_m"], rel=1e-5)
        assert found.vertical_stress == pytest.approx(point["stress_vertical_Pa"], rel=1e-5)
        assert found.radial_stress == pytest.approx(point["stress_radial_Pa"], rel=1e-5, abs=1.0)
        assert found.vertical_strain == pytest.approx(point["strain_vertical"], rel=1e-5, abs=1e-9)
        assert found.tangential_strain == pytest.approx(point["strain_hoop"], rel=1e-5, abs=1e-9)


def test_printed_table_of_the_stress_function_is_met_to_its_own_accuracy():
    offset, depth, printed, exact = np.transpose(STORED["function_a"]["rows"])
    # In incompressible ground the vertical strain is 1.5 B / E, which leaves A of the stress A + B.
    found = elastic.half_space_response(1.0, 0.5, UNIT, offset, depth)
    function_a = found.vertical_stress - found.vertical_strain / 1.5
    np.testing.assert_allclose(function_a, exact, atol=6e-6)
    np.testing.assert_allclose(function_a, printed, atol=7e-4)


def angular(function):
    return quad(function, 0.0, np.pi, epsabs=1e-13, epsrel=1e-12, limit=400)[0] / np.pi


@pytest.mark.parametrize("offset", [0.3, 0.999, 1.0, 1.7, 6.0])
@pytest.mark.parametrize("depth", [0.05, 0.8, 5.0])
def test_elliptic_form_equals_the_angular_integrals(offset, depth):
    nu = 0.3

    def distance(angle):
        return np.sqrt(1.0 + offset**2 - 2.0 * offset * np.cos(angle) + depth**2)

    def lever(angle):
        return 1.0 - offset * np.cos(angle)

    i00 = angular(lambda t: lever(t) / (distance(t) * (distance(t) + depth)))
    i01 = angular(lambda t: lever(t) / distance(t) ** 3)
    i10 = angular(lambda t: np.cos(t) / distance(t))
    i11 = angular(lambda t: depth * np.cos(t) / distance(t) ** 3)
    i0m = angular(lambda t: lever(t) / (distance(t) + depth))
    i1m = -angular(lambda t: np.cos(t) * np.log(distance(t) + depth))
    found = elastic.half_space_response(1.0, nu, UNIT, offset, depth)
    np.testing.assert_allclose(found.vertical_stress, i00 + depth * i01, atol=1e-9)
    np.testing.assert_allclose(found.shear_stress, depth * i11, atol=1e-9)
    twice_shear = 1.0 / (1.0 + nu)
    np.testing.assert_allclose(
        found.deflection, (2.0 * (1.0 - nu) * i0m + depth * i00) / twice_shear, atol=1e-9
    )
    np.testing.assert_allclose(
        found.radial_displacement, (depth * i10 - (1.0 - 2.0 * nu) * i1m) / twice_shear, atol=1e-9
    )


@pytest.mark.parametrize("nu", [0.0, 0.3, 0.5])
def test_general_form_meets_the_axis_form(nu):
    depth = np.array([0.01, 0.4, 1.0, 7.0, 50.0])
    found = elastic.half_space_response(2.0, nu, UNIT, np.append(np.full(4, 3e-5), 1e-6), depth)
    np.testing.assert_allclose(
        found.vertical_stress, elastic.axis_vertical_stress(1.0, 1.0, depth), atol=1e-8
    )
    np.testing.assert_allclose(found.deflection, elastic.axis_deflection(1.0, 1.0, depth, 2.0, nu), rtol=1e-8)
    np.testing.assert_allclose(
        found.radial_stress, elastic.axis_radial_stress(1.0, 1.0, depth, nu), atol=1e-8
    )
    np.testing.assert_allclose(
        found.vertical_strain, elastic.axis_vertical_strain(1.0, 1.0, depth, 2.0, nu), atol=1e-8
    )
    np.testing.assert_allclose(
        found.tangential_strain, elastic.axis_radial_strain(1.0, 1.0, depth, 2.0, nu), atol=1e-8
    )


def test_edge_and_mean_settlement_follow_from_the_bowl():
    edge = elastic.half_space_response(3.0, 0.2, UNIT, 1.0, 0.0).deflection
    assert edge == pytest.approx(elastic.edge_deflection(1.0, 1.0, 3.0, 0.2), rel=1e-9)

    def ring(r):
        return 2.0 * r * float(elastic.half_space_response(3.0, 0.2, UNIT, r, 0.0).deflection)

    mean = quad(ring, 0.0, 1.0, epsrel=1e-10)[0]
    assert mean == pytest.approx(elastic.mean_deflection(1.0, 1.0, 3.0, 0.2), rel=1e-8)


def test_rigid_disc_settles_a_quarter_of_pi_of_the_flexible_centre():
    flexible = elastic.axis_deflection(1.0 / np.pi, 1.0, 0.0, 3.0, 0.2)
    assert elastic.rigid_disc_deflection(1.0, 1.0, 3.0, 0.2) == pytest.approx(np.pi / 4.0 * flexible)


def test_response_is_finite_at_the_loads_edge_on_the_surface():
    found = elastic.half_space_response(1.0, 0.3, UNIT, 1.0, 0.0)
    assert found.vertical_stress == pytest.approx(0.5)
    assert found.shear_stress == 0.0
    assert np.isfinite(found.radial_stress)


def test_far_away_the_circle_is_a_point_load():
    depth = 400.0
    assert elastic.axis_vertical_stress(1.0, 1.0, depth) == pytest.approx(1.5 / depth**2, rel=1e-5)
    found = elastic.half_space_response(1.0, 0.3, UNIT, depth, depth)
    point = 3.0 / 2.0 * depth**3 / (depth * np.sqrt(2.0)) ** 5
    assert found.vertical_stress == pytest.approx(point, rel=1e-4)


def test_four_quarters_of_a_rectangle_make_its_centre():
    whole = elastic.rectangle_vertical_stress(1.0, 2.0, 3.0, 0.0, 0.0, 1.3)
    assert whole == pytest.approx(4.0 * elastic.rectangle_corner_influence(1.0 / 1.3, 1.5 / 1.3))


def test_finite_layer_factor_tends_to_that_of_the_half_space():
    deep = elastic.finite_layer_corner_factor(2.0, 1e5, 0.3)
    assert deep == pytest.approx(elastic.rectangle_corner_factor(2.0), rel=1e-4)


def test_small_rectangle_far_down_is_a_point_load():
    assert elastic.rectangle_vertical_stress(1.0, 0.01, 0.01, 0.0, 0.0, 1.0) == pytest.approx(
        1e-4 * 3.0 / (2.0 * np.pi), rel=1e-3
    )


def test_equivalent_cone_inverts_the_cone_rule():
    stress = elastic.cone_stress_circle(1.0, 0.2, 0.3, 0.7)
    assert elastic.equivalent_cone(stress, 1.5) == pytest.approx(0.7)
