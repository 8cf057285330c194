"""Bound courses: shares of strength against published lives, the wear of several loads, the edge factor, monotone facts."""

from dataclasses import replace

import numpy as np
import pytest

from earthfast.checks import (
    CHECKS,
    BuildUp,
    CheckName,
    Course,
    Material,
    Method,
    PavingUnit,
    Way,
    breaking_share_for_life,
    crushing_share_for_life,
    edge_tension,
    passes_beside_others,
    share_of_life,
    stress_share_for_life,
)
from earthfast.checks.bound_use import EDGE_FACTOR
from earthfast.elastic import radius_of_relative_stiffness, slab_edge_stress, slab_interior_stress
from earthfast.estimate import Trail, exact
from earthfast.loads import load_library
from earthfast.mixes import (
    BoundSystem,
    CrushingStage,
    RoadCategory,
    bound_flexural_strength,
    crushing_life_south_african,
    fatigue_life_mepdg,
    fatigue_life_south_african,
)

SILENT = Trail(recording=False)
CRACKING = CHECKS[CheckName.CRACKING]
PASSES = np.geomspace(1.0, 1e6, 13)


def slab_way(slab):
    return Way(Method.SLAB, BuildUp((Course(Material.CONCRETE, slab), Course(Material.CRUSHED_STONE, 0.10))))


def test_shares_turn_the_published_lives_round():
    assert fatigue_life_mepdg(stress_share_for_life(PASSES)) == pytest.approx(PASSES, rel=1e-9)
    broken = fatigue_life_south_african(breaking_share_for_life(PASSES), 1.0, RoadCategory.D)
    assert broken == pytest.approx(PASSES, rel=1e-9)
    crushed = crushing_life_south_african(
        crushing_share_for_life(PASSES), 1.0, RoadCategory.D, CrushingStage.ADVANCED
    )
    assert crushed == pytest.approx(PASSES, rel=1e-9)


@pytest.mark.parametrize("share", [stress_share_for_life, breaking_share_for_life, crushing_share_for_life])
def test_more_passes_never_raise_what_is_stood(share):
    assert np.all(np.diff(share(PASSES)) < 0.0)


def test_three_loads_use_up_a_slab_as_worked_by_hand():
    # nchrp_1_37a, log10 N = (0.972 - s)/0.0825 [M], and miner_1945, D = sum n/N [M]; worked by hand: 2.0, 1.5 and 1.0 MPa over
    # 3.5 MPa are stood 7.17e4, 3.87e6 and 2.09e8 times, so 300, 2e4 and 5e6 passes use 0.418 %, 0.517 % and 2.40 % of its life
    stress, passes = np.array([2.0e6, 1.5e6, 1.0e6]), np.array([300.0, 2e4, 5e6])
    used = share_of_life(passes, stress, 0.972 * 3.5e6, 0.0825 * 3.5e6)
    assert used == pytest.approx([0.00418, 0.00517, 0.0240], rel=5e-3)
    # the others leave 97.1 % to the heaviest: it may come 0.971 of 7.17e4 times
    counted = passes_beside_others(0.9708 * 7.17e4, 0.9708, middling=used[1], light=used[2], heavy=0.9708)
    assert stress_share_for_life(counted) == pytest.approx(2.0 / 3.5, abs=1e-4)


def test_a_slab_cracks_in_the_draws_in_which_shares_of_its_life_pass_one(case_of):
    # nchrp_1_37a and miner_1945, from what each load asks by itself
    loads, way = load_library(), slab_way(0.12)
    pair = (
        replace(loads["van"], passes_per_year=exact(300.0)),
        replace(loads["car"], passes_per_year=exact(3e4)),
    )
    damage, at_one, per_decade = 0.0, 0.972, 0.0825
    for load in pair:
        alone = CRACKING.judge(case_of(way, loads=(load,), unit=PavingUnit(0.0, 0.0)), SILENT)
        passes = load.passes_per_year.centre * case_of(way).years
        strength = alone.capacity.values / (at_one - per_decade * np.log10(passes))
        damage = damage + passes / 10.0 ** ((at_one - alone.demand.values / strength) / per_decade)
    both = CRACKING.judge(case_of(way, loads=pair, unit=PavingUnit(0.0, 0.0)), SILENT)
    assert 0.0 < both.chance[0] < 1.0
    assert np.array_equal(both.fails > 0.0, damage > 1.0)


def test_two_loads_alike_wear_treated_soil_as_one_that_comes_twice_as_often(case_of, treated_way):
    car = load_library()["car"]
    once, twice = (replace(car, passes_per_year=exact(passes)) for passes in (2000.0, 4000.0))
    two = CRACKING.judge(case_of(treated_way(0.10), loads=(once, once), strength=1e6), SILENT)
    one = CRACKING.judge(case_of(treated_way(0.10), loads=(twice,), strength=1e6), SILENT)
    assert 0.0 < one.chance[0] < 1.0
    assert np.array_equal(two.fails, one.fails)
    # past the end of their life all are counted in passes of one of them, before it each has what the other leaves
    broken = one.fails > 0.0
    assert two.capacity.values[broken] == pytest.approx(one.capacity.values[broken], rel=1e-9)
    assert np.all(two.capacity.values[~broken] >= one.capacity.values[~broken])


def test_a_single_heavy_load_governs_what_light_ones_hardly_wear(case_of, treated_way):
    heavy = replace(load_library()["refuse lorry"], passes_per_year=exact(0.0))
    alone = CRACKING.judge(case_of(treated_way(0.20), loads=(heavy,), strength=1e6), SILENT)
    both = CRACKING.judge(case_of(treated_way(0.20), loads=(heavy, "person"), strength=1e6), SILENT)
    assert both.governed_by == alone.governed_by
    assert "refuse lorry" in both.governed_by[0]
    assert both.capacity.values == pytest.approx(alone.capacity.values, rel=0.02)


def test_stress_ratios_of_two_layered_cases():
    # M-35: 133.514 kPa (ML-07) with 2.0 MPa is a ratio of 0.334; 945.194 kPa (ML-03) wants 9.5 MPa for a ratio of 0.5
    flexural = bound_flexural_strength(BoundSystem.SOIL_CEMENT_MEPDG, np.array([2.0e6, 9.5e6]))
    assert 133.514e3 / flexural[0] == pytest.approx(0.334, abs=5e-4)
    assert 945.194e3 / flexural[1] == pytest.approx(0.5, abs=5e-3)


def test_thin_treated_soil_on_soft_ground_is_no_lorry_pavement(case_of, treated_way):
    # ML-03: 1 GPa is about 0.83 MPa of strength; a handful of passes break it
    case = case_of(
        treated_way(0.20),
        loads=("standard axle",),
        strength=0.83e6,
        modulus_wet=20e6,
        unit=PavingUnit(0.0, 0.0),
    )
    assert CRACKING.judge(case, SILENT).chance[0] > 0.9


@pytest.mark.parametrize(
    ("force", "radius", "thickness", "modulus", "reaction"),
    [(44482.2, 0.1524, 0.254, 27.579e9, 27.1447e6), (40e3, 0.15, 0.15, 30e9, 50e6)],
)
def test_edge_factor_is_that_of_slabs_on_springs(force, radius, thickness, modulus, reaction):
    # M-60: 279.3 over 143.7 psi; M-61: 3.787 over 2.087 MPa
    stiffness = radius_of_relative_stiffness(thickness, modulus, 0.15, reaction)
    edge, interior = (
        stress(force, radius, thickness, 0.15, stiffness)
        for stress in (slab_edge_stress, slab_interior_stress)
    )
    ratio = edge / interior
    assert ratio == pytest.approx(EDGE_FACTOR, rel=0.05)


def test_stronger_treated_soil_is_never_used_more(case_of, treated_way):
    strengths = np.geomspace(0.3e6, 8e6, 8)
    case = case_of(*(treated_way(0.15) for _ in strengths), loads=("car",), strength=strengths[:, None])
    result = CRACKING.judge(case, SILENT)
    shares = result.demand.values / result.capacity.values
    # on ground of 30 MPa the least of these is hardly stiffer than the ground, and bends little
    assert np.all(np.diff(shares[2:], axis=0) < 0.0)


def test_thicker_courses_never_crack_sooner(case_of, treated_way):
    treated = case_of(*(treated_way(t) for t in np.arange(0.10, 0.32, 0.02)), loads=("van",), strength=2e6)
    slab = case_of(*(slab_way(t) for t in np.arange(0.08, 0.22, 0.02)), loads=("van",))
    for case in (treated, slab):
        assert np.all(np.diff(CRACKING.judge(case, SILENT).chance) <= 0.0)


def test_small_feet_on_weak_treated_soil_crush_its_top_before_it_bends(case_of, treated_way):
    bare = PavingUnit(0.0, 0.0)
    case = case_of(treated_way(0.30), loads=("pallet racking",), strength=0.3e6, unit=bare)
    assert "crushing" in CRACKING.judge(case, SILENT).governed_by[0]


def test_nothing_bound_has_nothing_to_crack(case_of, stone_way):
    result = CRACKING.judge(case_of(stone_way(0.10)), SILENT)
    assert not result.applies.any()
    assert not result.fails.any()


def test_a_layer_built_thin_bends_more_by_the_square():
    # 0.5 MPa inside, 1.9 at an edge, nine tenths as thick, computed a tenth too low: 0.5 · 1.9 · 1.1/0.81 = 1.2901, by hand
    assert float(edge_tension(0.5, 1.9, 0.9, 1.1)) == pytest.approx(1.290123, rel=1e-6)


def test_depth_that_scatters_more_never_lowers_the_chance(case_of, treated_way):
    case = case_of(treated_way(0.15), loads=("car",), strength=1e6)
    chances = [
        CRACKING.judge(replace(case, mix=replace(case.mix, depth_scatter=scatter)), SILENT).chance[0]
        for scatter in (0.01, 0.08, 0.20)
    ]
    assert chances[0] < chances[1] < chances[2]
