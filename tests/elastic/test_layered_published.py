"""Layered ground against stored cases: two-layer and three-layer factors, whole structures, load spread."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest

from earthfast import elastic

STORED = json.loads(
    (Path(__file__).parents[1] / "published" / "elastic_layers.json").read_text(encoding="utf-8")
)
SIX_FIGURES = 5.1e-6
COMPONENTS = {
    "deflection": "deflection_m",
    "displacement_x": "displacement_x_m",
    "displacement_y": "displacement_y_m",
    "vertical_stress": "stress_zz_Pa",
    "stress_x": "stress_xx_Pa",
    "stress_y": "stress_yy_Pa",
    "shear_xy": "stress_xy_Pa",
    "shear_xz": "stress_zx_Pa",
    "shear_yz": "stress_zy_Pa",
    "vertical_strain": "strain_zz",
    "strain_x": "strain_xx",
    "strain_y": "strain_yy",
    "strain_xy": "strain_xy",
}


def ground_of(case):
    layers = case["layers"]
    return elastic.LayeredGround(
        [layer["thickness_m"] for layer in layers[:-1]],
        [layer["modulus_Pa"] for layer in layers],
        [layer["poisson_ratio"] for layer in layers],
        np.array([0.0 if kind == "bonded" else np.inf for kind in case["interfaces"]]),
    )


def solved(case, accuracy):
    points = case["points"]
    return elastic.superpose(
        ground_of(case),
        [
            elastic.CircularLoad(at["radius_m"], at["pressure_Pa"], at["x_m"], at["y_m"])
            for at in case["loads"]
        ],
        elastic.Points(
            np.array([point["depth_m"] for point in points], dtype=float),
            tuple(point["layer_index"] for point in points),
            np.array([point["x_m"] for point in points], dtype=float),
            np.array([point["y_m"] for point in points], dtype=float),
        ),
        accuracy,
    )


def scale_of(case, component):
    load, modulus = case["loads"][0], case["layers"][-1]["modulus_Pa"]
    if component.startswith(("deflection", "displacement")):
        return load["pressure_Pa"] * load["radius_m"] / modulus
    return load["pressure_Pa"] / modulus if "strain" in component else load["pressure_Pa"]


@pytest.mark.parametrize("case", STORED["layered"], ids=lambda case: case["id"])
def test_every_printed_figure_of_the_stored_structures_is_met(case):
    found = solved(case, 1e-11)
    for component, name in COMPONENTS.items():
        expected = np.array([result[name] for result in case["results"]])
        floor = 1e-6 * scale_of(case, component)
        np.testing.assert_allclose(
            getattr(found, component), expected, rtol=SIX_FIGURES, atol=SIX_FIGURES * floor, err_msg=component
        )


@pytest.mark.parametrize("case", STORED["layered"], ids=lambda case: case["id"])
@pytest.mark.parametrize("accuracy", [1e-4, 1e-6])
def test_coarser_grids_keep_the_accuracy_asked_for(case, accuracy):
    found = solved(case, accuracy)
    for component, name in COMPONENTS.items():
        expected = np.array([result[name] for result in case["results"]])
        largest = max(np.max(np.abs(expected)), scale_of(case, component))
        np.testing.assert_allclose(
            getattr(found, component), expected, rtol=SIX_FIGURES, atol=accuracy * largest, err_msg=component
        )


@pytest.mark.parametrize("row", STORED["two_layers"], ids=str)
def test_two_layer_factors_are_met(row):
    ratio, height = row["modulus_ratio_E1_over_E2"], row["thickness_over_radius"]
    ground = elastic.LayeredGround([height], [ratio, 1.0], [0.5, 0.5])
    points = elastic.points_in_layers(ground, [0, 0, 1], [0.0, 1.0, 0.0])
    found = elastic.layered_response(ground, elastic.CircularLoad(1.0, 1.0), points, 1e-10)
    ours = [
        found.deflection[0] / 1.5,
        found.vertical_stress[2],
        found.radial_stress[1],
        found.vertical_strain[2],
        found.deflection[2],
    ]
    np.testing.assert_allclose(ours, list(row.values())[3:], rtol=1e-5)


@pytest.mark.parametrize("row", STORED["three_layers"], ids=str)
def test_three_layer_factors_are_met(row):
    upper, lower = row["k1_E1_over_E2"], row["k2_E2_over_E3"]
    ground = elastic.LayeredGround([row["H_h1_over_h2"], 1.0], [upper * lower, lower, 1.0], [0.5] * 3)
    points = elastic.points_in_layers(ground, [0, 0, 1, 2], [0.0, 1.0, 1.0, 0.0])
    radius = row["a1_radius_over_h2"]
    found = elastic.layered_response(ground, elastic.CircularLoad(radius, 1.0), points, 1e-10)
    difference = found.vertical_stress - found.radial_stress
    ours = [found.vertical_stress[1], found.vertical_stress[2], *difference[1:]]
    ours.append(found.deflection[0] / (1.5 * radius))
    np.testing.assert_allclose(ours, list(row.values())[5:], rtol=1e-5)


def test_remembered_textbook_values_are_met():
    # M-15, a three-layer example in a pavement textbook, and M-16, the first entry of Jones's tables, both
    # from memory; Fox's three stresses for thickness equal to radius likewise.
    ground = elastic.LayeredGround([1.0, 1.0], [40.0, 2.0, 1.0], [0.5] * 3)
    points = elastic.points_in_layers(ground, [0, 1], [1.0, 1.0])
    found = elastic.layered_response(ground, elastic.CircularLoad(0.8, 1.0), points, 1e-10)
    ours = [*found.vertical_stress, *(found.vertical_stress - found.radial_stress)]
    np.testing.assert_allclose(ours, [0.12173, 0.05938, 1.97428, 0.09268], rtol=5e-4)

    ground = elastic.LayeredGround([0.125, 1.0], [0.04, 0.2, 1.0], [0.5] * 3)
    points = elastic.points_in_layers(ground, [0, 1, 2], [1.0, 1.0, 0.0])
    found = elastic.layered_response(ground, elastic.CircularLoad(0.1, 1.0), points, 1e-10)
    ours = found.vertical_stress - found.radial_stress
    np.testing.assert_allclose(ours, [0.12438, 0.00332, 0.01659], rtol=2e-3)

    ground = elastic.LayeredGround([1.0], np.array([[10.0, 1.0], [100.0, 1.0], [1000.0, 1.0]]), [0.5, 0.5])
    points = elastic.points_in_layers(ground, [1], [0.0])
    found = elastic.layered_response(ground, elastic.CircularLoad(1.0, 1.0), points)
    np.testing.assert_allclose(found.vertical_stress[:, 0], [0.292, 0.081, 0.0185], rtol=0.025)


def test_exercise_of_a_university_course_is_met():
    # M-14: 10 000 lbf at 80 psi on 8 in of 200 000 psi over 10 000 psi; deflection 0.0247654 in, computed.
    ground = elastic.LayeredGround([8.0], [200e3, 10e3], [0.5, 0.5])
    load = elastic.CircularLoad(np.sqrt(10e3 / (80.0 * np.pi)), 80.0)
    points = elastic.points_in_layers(ground, [0], [0.0])
    found = elastic.layered_response(ground, load, points)
    assert found.deflection[0] == pytest.approx(0.0247654, rel=1e-5)


@pytest.mark.parametrize("ratio", STORED["load_spread"]["stress"])
def test_stress_below_stone_on_soft_ground_spreads_as_tabulated(ratio):
    table = STORED["load_spread"]
    height = np.array(table["thickness_over_radius"], dtype=float)
    ground = elastic.LayeredGround(height[:, None], [float(ratio), 1.0], [0.35, 0.45])
    points = elastic.points_in_layers(ground, [1], [0.0])
    stress = elastic.layered_response(ground, elastic.CircularLoad(1.0, 1.0), points).vertical_stress[:, 0]
    np.testing.assert_allclose(stress, table["stress"][ratio], rtol=5.1e-4)
    # Three of the tabulated tangents are rounded up where they should be rounded down.
    np.testing.assert_allclose(elastic.equivalent_cone(stress, height), table["cone"][ratio], atol=0.0056)


def test_elastic_peak_lies_between_the_two_cones():
    # M-19 and ML-01: 40.0 and 81.6 kPa by the cones, 60.9583 kPa by layered elasticity.
    case = STORED["layered"][0]
    stress = solved(case, 1e-6).vertical_stress[1]
    steep = elastic.cone_stress_circle(250e3, 0.1, 0.15, 0.5)
    flat = elastic.cone_stress_circle(250e3, 0.1, 0.15, 1.0)
    assert flat < stress < steep
    assert stress == pytest.approx(60958.3, rel=1e-5)


SPREADERS = {
    "150 mm 100 on 20 MPa": ([0.15], [100e6, 20e6], [0.35, 0.45], 0.15, 600e3),
    "300 mm 75 on 10 MPa": ([0.3], [75e6, 10e6], [0.35, 0.45], 0.15, 600e3),
    "200 mm 1000 on 20 MPa": ([0.2], [1000e6, 20e6], [0.25, 0.45], 0.15, 600e3),
    "ML-07": ([0.06, 0.03, 0.2], [1500e6, 80e6, 800e6, 25e6], [0.3, 0.35, 0.25, 0.45], 0.15, 600e3),
}


@pytest.mark.parametrize("row", STORED["equivalent_thickness"]["rows"], ids=lambda row: row["layered"])
def test_equivalent_thickness_is_as_wrong_as_tabulated(row):
    thickness, modulus, poisson_ratio, radius, pressure = SPREADERS[row["layered"]]
    ground = elastic.LayeredGround(thickness, modulus, poisson_ratio)
    points = elastic.points_in_layers(ground, [ground.layers - 1], [0.0])
    exact = elastic.layered_response(ground, elastic.CircularLoad(radius, pressure), points).vertical_stress[
        0
    ]
    depth = elastic.equivalent_thickness(
        np.array(thickness),
        np.array(modulus[:-1]),
        np.array(poisson_ratio[:-1]),
        modulus[-1],
        poisson_ratio[-1],
        np.array([1.0, 0.9, 0.8]),
    )
    ours = elastic.axis_vertical_stress(pressure, radius, depth) / exact
    np.testing.assert_allclose(ours, row["ratio"], atol=6e-4)
