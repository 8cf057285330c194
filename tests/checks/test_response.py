"""What an act does to layered ground: read from tables, against the layered solution itself and exact cases."""

import numpy as np
import pytest

from earthfast.checks import BuildUp, Course, Material, PavingUnit, acts_of, bed_radius
from earthfast.checks.acts import Act
from earthfast.checks.interpolation import axis_over, coefficients, interpolated
from earthfast.checks.response import (
    POISSON,
    POISSON_GROUND,
    Courses,
    Seen,
    Spreading,
    courses_of,
    ratio_axes,
)
from earthfast.elastic import (
    CircularLoad,
    LayeredGround,
    Points,
    axis_deflection,
    axis_vertical_stress,
    cone_stress_circle,
    superpose,
)
from earthfast.loads import load_library

SAND, STONE = Material.BEDDING_SAND, Material.CRUSHED_STONE
TREATED, CONCRETE = Material.TREATED_SOIL, Material.CONCRETE
CAR = ((0.0, 0.0), (1.55, 0.0), (0.0, 2.7), (1.55, 2.7))
LORRY = ((0.0, 0.0), (0.35, 0.0), (1.8, 0.0), (2.15, 0.0))
LEGS = ((0.0, 0.0), (0.4, 0.0), (0.0, 0.4), (0.4, 0.4))
ALONE = ((0.0, 0.0),)
WAYS = 40


def act(radius, places=ALONE, pressure=1.0):
    circles = tuple(CircularLoad(radius=radius, pressure=1.0, x=x, y=y) for x, y in places)
    return Act("act", circles, pressure, radius, 1.0, load_library()["car"])


def spread_over(materials, thickness, moduli, ground):
    axes = ratio_axes(materials)
    bases = [
        axis.basis(np.log(modulus / ground)[:, None]) for axis, modulus in zip(axes, moduli, strict=True)
    ]
    courses = tuple(Courses(materials, (float(a), float(b))) for a, b in zip(*thickness, strict=True))
    return Spreading(courses, *bases)


def direct(materials, thickness, moduli, ground, circles, x=0.0, y=0.0):
    """The same by the layered solution, at a hundredth of the error of the tables."""
    layers = np.stack([moduli[0] / ground, moduli[1] / ground, np.ones_like(ground)], axis=-1)
    poisson = [POISSON_GROUND if m is None else POISSON[m] for m in materials] + [POISSON_GROUND]
    top, formation = thickness[0], thickness[0] + thickness[1]
    bound = (top, 0) if materials[0] is CONCRETE else (formation, 1)
    points = Points(np.stack([top, formation, bound[0]], axis=-1), (1, 2, bound[1]), x, y)
    answer = superpose(
        LayeredGround(np.stack(thickness, axis=-1), layers, np.array(poisson)), circles, points, 1e-6
    )
    return {
        Seen.ON_BASE: answer.vertical_stress[:, 0],
        Seen.ON_GROUND: answer.vertical_stress[:, 1],
        Seen.STRAIN: answer.vertical_strain[:, 1],
        Seen.DEFLECTION: answer.deflection[:, 1],
        Seen.TENSION: np.maximum(-answer.least_horizontal_stress[:, 2], 0.0),
    }


def stone_on_sand(rng, ground):
    stone = np.minimum(ground * np.exp(rng.uniform(0.4, 1.6, WAYS)), 350e6)
    sand = np.minimum(71e6 * np.exp(0.21 * rng.standard_normal(WAYS)), stone)
    return (np.full(WAYS, 0.03), rng.uniform(0.05, 0.8, WAYS)), (sand, stone)


def treated_under_sand(rng, ground):
    treated = np.maximum(np.exp(rng.uniform(np.log(1e8), np.log(8e9), WAYS)), ground)
    sand = np.minimum(71e6 * np.exp(0.21 * rng.standard_normal(WAYS)), treated)
    return (np.full(WAYS, 0.03), rng.uniform(0.1, 0.4, WAYS)), (sand, treated)


def slab_on_stone(rng, ground):
    concrete = 25e9 * np.exp(0.15 * rng.standard_normal(WAYS))
    stone = np.minimum(ground * np.exp(rng.uniform(0.4, 1.6, WAYS)), 350e6)
    return (rng.uniform(0.08, 0.2, WAYS), rng.choice([0.05, 0.1, 0.15], WAYS)), (concrete, stone)


KINDS = {(SAND, STONE): stone_on_sand, (SAND, TREATED): treated_under_sand, (CONCRETE, STONE): slab_on_stone}


@pytest.mark.parametrize("materials", KINDS, ids=lambda m: " on ".join(one.value for one in m))
@pytest.mark.parametrize(
    ("radius", "places"), [(0.03, ALONE), (0.09, CAR), (0.107, LORRY), (1.17, ALONE)], ids=str
)
def test_reading_a_table_is_within_half_a_percent_of_the_layered_solution(materials, radius, places):
    rng = np.random.default_rng(7)
    ground = np.exp(rng.uniform(np.log(3e6), np.log(2e8), WAYS))
    thickness, moduli = KINDS[materials](rng, ground)
    one = act(radius, places)
    expected = direct(materials, thickness, moduli, ground, one.circles)
    if places is LORRY:  # the worse of under a tyre and half way to its twin, at half of 0.35 m
        between = direct(materials, thickness, moduli, ground, one.circles, x=0.175)
        expected = {seen: np.maximum(values, between[seen]) for seen, values in expected.items()}
    spread = spread_over(materials, thickness, moduli, ground)
    for seen, values in expected.items():
        if seen is Seen.TENSION and not {TREATED, CONCRETE} & set(materials):
            continue
        error = np.abs(spread.under(one, seen)[:, 0] - values)
        # tension falls through zero: there half a percent of a twentieth of the largest
        scale = np.maximum(values, 0.05 * values.max()) if seen is Seen.TENSION else values
        limit = 0.01 if radius > 1.0 and seen is Seen.TENSION else 0.005
        assert (error / scale).max() < limit, seen


def test_courses_of_the_ground_itself_leave_the_half_space():
    depth, radius = 0.10, 0.12
    spread = spread_over((None, None), ([0.1], [0.1]), np.full((2, 1), 20e6), np.full(1, 20e6))
    one = act(radius)
    stress = axis_vertical_stress(1.0, radius, depth)
    assert spread.under(one, Seen.ON_GROUND)[0, 0] == pytest.approx(stress, rel=1e-4)
    deflection = axis_deflection(1.0, radius, depth, 1.0, POISSON_GROUND)
    assert spread.under(one, Seen.DEFLECTION)[0, 0] == pytest.approx(deflection, rel=1e-4)


def test_elastic_peak_under_stone_lies_between_the_two_cone_rules():
    # M-19 and ML-01: 81.6 kPa by 2:1, 40.0 by 45 degrees, 60.96 by layers with a Poisson's ratio of 0.45 below
    spread = spread_over(
        (STONE, None), ([0.15], [0.1]), (np.array([100e6]), np.array([20e6])), np.array([20e6])
    )
    stress = 250.0 * spread.under(act(0.10), Seen.ON_GROUND)[0, 0]
    assert cone_stress_circle(250.0, 0.10, 0.15, 0.5) == pytest.approx(81.6327, abs=1e-4)
    assert cone_stress_circle(250.0, 0.10, 0.15, 1.0) == pytest.approx(40.0, abs=1e-9)
    assert stress == pytest.approx(60.9583, rel=0.01)


def test_a_figure_does_not_depend_on_what_stands_beside_it():
    rng = np.random.default_rng(3)
    ground = np.full(WAYS, 30e6)
    thickness, moduli = stone_on_sand(rng, ground)
    together = spread_over((SAND, STONE), thickness, moduli, ground).under(act(0.1, CAR), Seen.ON_GROUND)
    for place in (0, 7, 39):
        pick = slice(place, place + 1)
        alone = spread_over(
            (SAND, STONE), [t[pick] for t in thickness], [m[pick] for m in moduli], ground[pick]
        )
        found = alone.under(act(0.1, CAR), Seen.ON_GROUND)[0, 0]
        assert found == pytest.approx(together[place, 0], rel=1e-14)


def test_interpolation_repeats_a_polynomial_exactly():
    axes = (axis_over(-1.0, 2.0, 1.0), axis_over(0.0, 3.0, 1.0))

    def surface(x, y):
        return 1.0 + 2.0 * x - 0.5 * x**2 * y + y**3

    table = coefficients(surface(axes[0].nodes[:, None], axes[1].nodes[None]), axes)
    x, y = np.random.default_rng(1).uniform([[-1.0], [0.0]], [[2.0], [3.0]], (2, 50))
    found = interpolated(table[None], axes[0].basis(x)[None], axes[1].basis(y)[None])
    assert found[0] == pytest.approx(surface(x, y), rel=1e-12)


def test_interpolation_error_falls_as_a_power_of_the_number_of_nodes():
    x = np.linspace(-3.0, 3.0, 201)
    errors = []
    for count in (4, 8, 16):
        axis = axis_over(-3.0, 3.0, 0.0, fewest=count)
        table = coefficients(1.0 / (1.0 + np.exp(-axis.nodes)), (axis,))
        errors.append(np.abs(table @ axis.basis(x) - 1.0 / (1.0 + np.exp(-x))).max())
    # pole at pi i over half-range 3: each node gains a factor of 2.5
    assert errors[0] / errors[1] > 10.0
    assert errors[1] / errors[2] > 100.0


def test_made_up_stone_over_treated_soil_counts_as_bedding():
    build_up = BuildUp((Course(SAND, 0.03), Course(STONE, 0.05), Course(TREATED, 0.15, 0.05)))
    assert courses_of(build_up) == Courses((SAND, TREATED), (0.08, 0.15))


def test_a_contact_at_an_edge_never_spreads_past_45_degrees():
    for area, thickness in ((0.005, 0.04), (0.03, 0.06), (0.0005, 0.1)):
        side = np.sqrt(area)
        reached = np.pi * bed_radius(area, thickness) ** 2
        assert area < reached < (side + 2.0 * thickness) ** 2
    assert np.pi * bed_radius(0.02, 0.0) ** 2 == pytest.approx(0.02)


def test_acts_of_a_load_carry_its_force():
    for load in load_library().values():
        for unit in (PavingUnit(0.6, 0.04), PavingUnit(0.14, 0.06), PavingUnit(0.0, 0.0)):
            for repeated in (False, True):
                first = acts_of(load, unit, repeated=repeated)[0]
                if len(load.contacts) > 1:
                    assert first.force == pytest.approx(load.force.centre, rel=0.02)
                assert len(first.circles) == len(load.contacts)


def test_feet_that_come_time_after_time_spread_at_least_as_far():
    person, barrow = load_library()["person"], load_library()["wheelbarrow"]
    unit = PavingUnit(0.6, 0.04)
    assert acts_of(person, unit, repeated=True)[0].radius > acts_of(person, unit)[0].radius
    assert acts_of(barrow, unit, repeated=True)[0].radius == acts_of(barrow, unit)[0].radius


def test_twin_tyres_press_deep_ground_hardest_between_them():
    # the layered solution itself, seen along the line through both tyres, whatever the tables look at
    materials, one = (SAND, STONE), act(0.107, LORRY)
    given = (
        ([np.array([0.03]), np.array([0.45])]),
        (np.array([71e6]), np.array([100e6])),
        np.array([30e6]),
    )
    along = [direct(materials, *given, one.circles, x)[Seen.STRAIN][0] for x in np.linspace(-0.2, 0.55, 31)]
    found = spread_over(materials, *given).under(one, Seen.STRAIN)[0, 0]
    assert found == pytest.approx(max(along), rel=0.01)
    assert found > 1.05 * direct(materials, *given, one.circles)[Seen.STRAIN][0]


def test_amid_four_legs_on_deep_stone_the_ground_feels_most():
    # the layered solution itself over the square between the legs, whatever the tables look at
    materials, one = (SAND, STONE), act(0.05, LEGS)
    given = ([np.array([0.03]), np.array([0.53])], (np.array([71e6]), np.array([100e6])), np.array([30e6]))
    steps = np.linspace(0.0, 0.4, 9)
    most = max(direct(materials, *given, one.circles, x, y)[Seen.STRAIN][0] for x in steps for y in steps)
    assert spread_over(materials, *given).under(one, Seen.STRAIN)[0, 0] == pytest.approx(most, rel=0.01)
