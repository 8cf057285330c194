"""What any correct solution of layered ground obeys: limits, symmetries, conservation, convergence."""

from __future__ import annotations

import numpy as np
import pytest

from earthfast import elastic

FIELDS = (
    "deflection",
    "radial_displacement",
    "vertical_stress",
    "radial_stress",
    "tangential_stress",
    "shear_stress",
    "vertical_strain",
    "radial_strain",
    "tangential_strain",
)
LOAD = elastic.CircularLoad(0.15, 600e3)
PAVED = elastic.LayeredGround([0.08, 0.2], [2000e6, 150e6, 25e6], [0.3, 0.35, 0.45])


def agree(found, expected, relative):
    for name in FIELDS:
        ours, theirs = getattr(found, name), getattr(expected, name)
        np.testing.assert_allclose(
            ours, theirs, rtol=relative, atol=relative * np.max(np.abs(theirs)), err_msg=name
        )


def spots(ground, offsets=(0.0, 0.1, 0.2, 0.7)):
    """Points at the top, middle and underside of all layers at several offsets."""
    lowest = ground.layers - 1
    places = [(layer, share) for layer in range(lowest) for share in (0.0, 0.5, 1.0)] + [(lowest, 0.0)]
    every = [(layer, share, offset) for layer, share in places for offset in offsets]
    layer, share, offset = zip(*every, strict=True)
    return elastic.points_in_layers(ground, layer, share, x=np.array(offset))


@pytest.mark.parametrize("nu", [0.0, 0.35, 0.5])
def test_equal_layers_are_a_half_space(nu):
    ground = elastic.LayeredGround([0.05, 0.1, 0.4], [30e6] * 4, [nu] * 4)
    points = spots(ground)
    found = elastic.layered_response(ground, LOAD, points, 1e-11)
    expected = elastic.half_space_response(30e6, nu, LOAD, points.x, points.depth)
    agree(found, expected, 1e-8)


def test_a_single_layer_is_the_half_space_itself():
    ground = elastic.LayeredGround(np.empty(0), [30e6], [0.4])
    points = elastic.Points(np.array([0.0, 0.3, 1.0]), (0, 0, 0), np.array([0.0, 0.1, 0.4]))
    found = elastic.layered_response(ground, LOAD, points)
    agree(found, elastic.half_space_response(30e6, 0.4, LOAD, points.x, points.depth), 1e-14)


@pytest.mark.parametrize("nu", [0.2, 0.5])
@pytest.mark.parametrize("ratio", [1e-4, 1e-2, 1.0, 1e2, 1e4])
@pytest.mark.parametrize("height", [0.01, 0.3, 3.0, 100.0])
def test_cutting_a_layer_in_two_changes_nothing(height, ratio, nu):
    whole = elastic.LayeredGround([height, 1.0], [ratio, 1.0, 10.0], [nu, 0.3, 0.45])
    cut = elastic.LayeredGround(
        [0.3 * height, 0.7 * height, 0.6, 0.4], [ratio, ratio, 1.0, 1.0, 10.0], [nu, nu, 0.3, 0.3, 0.45]
    )
    offset = np.array([0.0, 0.9, 0.0, 1.0, 0.5, 3.0])
    share = [0.0, 0.8, 1.0, 0.0, 1.0, 0.0]
    points = elastic.points_in_layers(whole, [0, 0, 0, 1, 1, 2], share, x=offset)
    below = elastic.Points(points.depth, (0, 1, 1, 2, 3, 4), offset)
    load = elastic.CircularLoad(1.0, 1.0)
    found = elastic.layered_response(cut, load, below, 1e-11)
    agree(found, elastic.layered_response(whole, load, points, 1e-11), 1e-7)


def test_bonded_interfaces_pass_on_displacement_and_traction():
    points = [
        elastic.points_in_layers(PAVED, [layer] * 3, [share] * 3, x=np.array([0.0, 0.15, 0.4]))
        for layer, share in ((0, 1.0), (1, 0.0), (1, 1.0), (2, 0.0))
    ]
    found = [elastic.layered_response(PAVED, LOAD, part, 1e-11) for part in points]
    for above, below in ((found[0], found[1]), (found[2], found[3])):
        for name in (
            "deflection",
            "radial_displacement",
            "vertical_stress",
            "shear_stress",
            "tangential_strain",
        ):
            expected = getattr(above, name)
            np.testing.assert_allclose(
                getattr(below, name), expected, rtol=1e-9, atol=1e-9 * np.max(np.abs(expected)), err_msg=name
            )


def test_slipping_interfaces_shear_in_proportion_to_the_stress():
    for slip in (1e-10, 3e-9, 1e-7):
        ground = elastic.LayeredGround(PAVED.thickness, PAVED.modulus, PAVED.poisson_ratio, [0.0, slip])
        place = np.array([0.15, 0.3])
        above, below = (
            elastic.layered_response(
                ground, LOAD, elastic.points_in_layers(ground, [layer] * 2, [share] * 2, x=place), 1e-11
            )
            for layer, share in ((1, 1.0), (2, 0.0))
        )
        np.testing.assert_allclose(above.shear_stress, below.shear_stress, rtol=1e-8)
        np.testing.assert_allclose(above.vertical_stress, below.vertical_stress, rtol=1e-8)
        moved = above.radial_displacement - below.radial_displacement
        np.testing.assert_allclose(moved, slip * above.shear_stress, rtol=1e-6)


def test_slip_leads_from_bonded_to_frictionless():
    slips = np.array([0.0, 1e-16, 1e-10, 1e-9, 1e-8, 1e-7, 1.0, np.inf])
    ground = elastic.LayeredGround(
        PAVED.thickness, PAVED.modulus, PAVED.poisson_ratio, np.column_stack([slips, np.zeros(8)])
    )
    points = elastic.points_in_layers(ground, [0, 0, 1], [0.0, 1.0, 0.0], x=np.array([0.0, 0.0, 0.2]))
    found = elastic.layered_response(ground, LOAD, points, 1e-9)
    assert np.all(np.diff(found.deflection[1:, 0]) > -1e-12)
    np.testing.assert_allclose(found.deflection[1], found.deflection[0], rtol=1e-6)
    np.testing.assert_allclose(found.deflection[-2], found.deflection[-1], rtol=1e-6)
    assert found.shear_stress[-1, 2] == pytest.approx(0.0, abs=1e-6 * LOAD.pressure)
    assert found.least_horizontal_stress[-1, 1] < found.least_horizontal_stress[0, 1]


@pytest.mark.parametrize("depth", [0.08, 0.28, 0.5])
def test_vertical_stress_over_any_level_carries_the_whole_load(depth):
    offset, weight = np.polynomial.legendre.leggauss(200)
    # r = b tan(u) maps the plane on a quarter turn; the far field falls with r^-5 and is smooth there.
    angle = 0.25 * np.pi * (offset + 1.0)
    reach = 0.5 * np.tan(angle)
    area = 2.0 * np.pi * reach * 0.5 / np.cos(angle) ** 2 * 0.25 * np.pi * weight
    layer = int(np.searchsorted(PAVED.tops, depth, side="left")) - 1
    near = reach < 60.0
    points = elastic.Points(np.full(int(near.sum()), depth), (layer,) * int(near.sum()), reach[near])
    stress = elastic.layered_response(PAVED, LOAD, points, 1e-10).vertical_stress
    assert np.sum(stress * area[near]) == pytest.approx(LOAD.pressure * np.pi * LOAD.radius**2, rel=1e-4)


def test_work_of_one_load_through_the_other_is_mutual():
    def work(radius, other):
        inner, weight = np.polynomial.legendre.leggauss(80)
        total = 0.0
        for low, high in ((0.0, min(radius, other)), (min(radius, other), other)):
            place = low + 0.5 * (high - low) * (inner + 1.0)
            points = elastic.Points(np.zeros(80), (0,) * 80, place)
            sink = elastic.layered_response(
                PAVED, elastic.CircularLoad(radius, 1.0), points, 1e-10
            ).deflection
            total += np.sum(sink * 2.0 * np.pi * place * weight) * 0.5 * (high - low)
        return total

    assert work(0.1, 0.3) == pytest.approx(work(0.3, 0.1), rel=1e-5)


def test_doubling_pressure_doubles_everything():
    points = spots(PAVED)
    single = elastic.layered_response(PAVED, LOAD, points)
    double = elastic.layered_response(PAVED, elastic.CircularLoad(0.15, 1200e3), points)
    for name in FIELDS:
        np.testing.assert_allclose(getattr(double, name), 2.0 * getattr(single, name), rtol=1e-12)


def test_lengths_and_moduli_scale():
    points = spots(PAVED)
    small = elastic.layered_response(PAVED, LOAD, points)
    ground = elastic.LayeredGround(3.0 * PAVED.thickness, 5.0 * PAVED.modulus, PAVED.poisson_ratio)
    big = elastic.layered_response(
        ground,
        elastic.CircularLoad(0.45, 600e3),
        elastic.Points(3.0 * points.depth, points.layer, 3.0 * points.x),
    )
    np.testing.assert_allclose(big.vertical_stress, small.vertical_stress, rtol=1e-9, atol=1e-3)
    np.testing.assert_allclose(big.deflection, 0.6 * small.deflection, rtol=1e-9)
    np.testing.assert_allclose(big.radial_strain, small.radial_strain / 5.0, rtol=1e-9, atol=1e-15)


def test_hookes_law_holds_at_every_point():
    points = spots(PAVED)
    found = elastic.layered_response(PAVED, LOAD, points)
    modulus, nu = PAVED.modulus[list(points.layer)], PAVED.poisson_ratio[list(points.layer)]
    lateral = found.radial_stress + found.tangential_stress
    np.testing.assert_allclose(
        found.vertical_strain * modulus, found.vertical_stress - nu * lateral, rtol=1e-9, atol=1e-6 * 600e3
    )
    others = found.vertical_stress + found.tangential_stress
    np.testing.assert_allclose(
        found.radial_strain * modulus, found.radial_stress - nu * others, rtol=1e-9, atol=1e-6 * 600e3
    )


def test_the_surface_is_free_of_stress_outside_the_load():
    points = elastic.points_in_layers(PAVED, [0] * 3, [0.0] * 3, x=np.array([0.1, 0.2, 1.0]))
    found = elastic.layered_response(PAVED, LOAD, points, 1e-10)
    np.testing.assert_allclose(found.vertical_stress, [600e3, 0.0, 0.0], atol=1e-3)
    np.testing.assert_allclose(found.shear_stress, 0.0, atol=1e-3)


def test_error_falls_as_fast_as_the_accuracy_asked_for():
    points = spots(PAVED)
    exact = elastic.layered_response(PAVED, LOAD, points, 1e-12)
    for accuracy in (1e-3, 1e-4, 1e-6, 1e-8, 1e-10):
        agree(elastic.layered_response(PAVED, LOAD, points, accuracy), exact, accuracy)


@pytest.mark.parametrize("ratio", [1e-4, 1e4])
@pytest.mark.parametrize("height", [0.01, 1.0, 100.0])
def test_extreme_contrasts_stay_finite_and_converge(height, ratio):
    ground = elastic.LayeredGround([height, height], [ratio, 1.0, 1.0 / ratio], [0.5, 0.0, 0.5])
    points = elastic.points_in_layers(
        ground, [0, 0, 0, 1, 2], [0.0, 0.0, 1.0, 0.5, 0.0], x=np.array([0, 1.0, 1, 1, 0])
    )
    load = elastic.CircularLoad(1.0, 1.0)
    coarse, fine = (elastic.layered_response(ground, load, points, accuracy) for accuracy in (1e-6, 1e-11))
    assert all(np.all(np.isfinite(getattr(fine, name))) for name in FIELDS)
    largest = np.max(np.abs(fine.deflection))
    np.testing.assert_allclose(coarse.deflection, fine.deflection, rtol=1e-4, atol=1e-5 * largest)


def test_a_batch_gives_what_its_members_give():
    rng = np.random.default_rng(5)
    thickness, modulus = rng.uniform(0.05, 0.4, (1, 7, 2)), rng.uniform(2e7, 2e9, (50, 7, 3))
    radius = rng.uniform(0.1, 0.2, (50, 1))
    nu = np.array([0.3, 0.35, 0.45])
    ground = elastic.LayeredGround(thickness, modulus, nu)
    points = elastic.points_in_layers(ground, [0, 1, 2], [0.0, 1.0, 0.0], x=np.array([0.0, 0.1, 0.3]))
    found = elastic.layered_response(ground, elastic.CircularLoad(radius, 5e5), points, 1e-8)
    assert found.deflection.shape == (50, 7, 3)
    for draw, way in ((0, 0), (49, 6), (20, 3)):
        alone = elastic.LayeredGround(thickness[0, way], modulus[draw, way], nu)
        place = elastic.points_in_layers(alone, [0, 1, 2], [0.0, 1.0, 0.0], x=np.array([0.0, 0.1, 0.3]))
        single = elastic.layered_response(alone, elastic.CircularLoad(radius[draw, 0], 5e5), place, 1e-8)
        np.testing.assert_allclose(found.deflection[draw, way], single.deflection, rtol=1e-6)
        np.testing.assert_allclose(found.radial_stress[draw, way], single.radial_stress, rtol=1e-6, atol=5.0)


def test_block_size_does_not_change_the_answer(monkeypatch):
    ground = elastic.LayeredGround([0.1], np.geomspace(1e7, 1e9, 40)[:, None] * [1.0, 0.3], [0.3, 0.4])
    points = elastic.points_in_layers(ground, [0, 1], [1.0, 0.0])
    whole = elastic.layered_response(ground, LOAD, points)
    monkeypatch.setattr("earthfast.elastic.layered._VALUES_AT_ONCE", 300)
    parts = elastic.layered_response(ground, LOAD, points)
    np.testing.assert_allclose(parts.deflection, whole.deflection, rtol=1e-13)


def test_turning_a_wheel_pair_turns_its_response():
    points = elastic.points_in_layers(
        PAVED, [1, 2], [1.0, 0.0], x=np.array([0.05, 0.2]), y=np.array([0.1, 0.0])
    )
    turned = elastic.points_in_layers(
        PAVED, [1, 2], [1.0, 0.0], x=np.array([-0.1, 0.0]), y=np.array([0.05, 0.2])
    )
    pair = [elastic.CircularLoad(0.1, 7e5, place, 0.0) for place in (-0.17, 0.17)]
    across = [elastic.CircularLoad(0.1, 7e5, 0.0, place) for place in (-0.17, 0.17)]
    first = elastic.superpose(PAVED, pair, points)
    second = elastic.superpose(PAVED, across, turned)
    np.testing.assert_allclose(second.stress_y, first.stress_x, rtol=1e-9)
    np.testing.assert_allclose(second.stress_x, first.stress_y, rtol=1e-9)
    np.testing.assert_allclose(second.shear_xy, -first.shear_xy, rtol=1e-9, atol=1e-3)
    np.testing.assert_allclose(second.least_horizontal_stress, first.least_horizontal_stress, rtol=1e-9)
    np.testing.assert_allclose(second.displacement_y, first.displacement_x, rtol=1e-9, atol=1e-12)


def test_loads_of_different_radius_add_like_single_ones():
    points = elastic.points_in_layers(PAVED, [0, 2], [1.0, 0.0])
    loads = [elastic.CircularLoad(0.1, 7e5), elastic.CircularLoad(0.2, 1e5)]
    together = elastic.superpose(PAVED, loads, points)
    singles = [elastic.layered_response(PAVED, load, points) for load in loads]
    np.testing.assert_allclose(together.deflection, sum(one.deflection for one in singles), rtol=1e-12)
    np.testing.assert_allclose(together.stress_x, sum(one.radial_stress for one in singles), rtol=1e-9)


def test_superposition_keeps_the_shape_of_the_batch():
    modulus = np.geomspace(1e7, 1e9, 6).reshape(2, 3, 1) * [10.0, 1.0]
    ground = elastic.LayeredGround([0.1], modulus, [0.3, 0.4])
    points = elastic.points_in_layers(ground, [0, 1], [1.0, 0.0])
    pressure = np.array([[5e5], [6e5]])
    loads = [elastic.CircularLoad(0.1, pressure, place) for place in (-0.2, 0.0, 0.2)]
    found = elastic.superpose(ground, loads, points)
    assert found.deflection.shape == (2, 3, 2)
    single = elastic.superpose(ground, loads[1:2], points)
    assert np.all(found.deflection > single.deflection)


def test_nonsense_is_refused():
    with pytest.raises(ValueError, match="n moduli need"):
        elastic.LayeredGround([0.1, 0.1], [1e6, 1e6], [0.3, 0.3])
    with pytest.raises(ValueError, match="above 0"):
        elastic.LayeredGround([-0.1], [1e6, 1e6], [0.3, 0.3])
    with pytest.raises(ValueError, match="Poisson"):
        elastic.LayeredGround([0.1], [1e6, 1e6], [0.3, 0.6])
    with pytest.raises(ValueError, match="no underside"):
        elastic.points_in_layers(PAVED, [2], [1.0])
