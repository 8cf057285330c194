"""Bound courses: shares of strength against the published lives they turn round, the edge factor, monotone facts."""

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
    stress_share_for_life,
)
from earthfast.checks.bound_use import EDGE_FACTOR
from earthfast.elastic import radius_of_relative_stiffness, slab_edge_stress, slab_interior_stress
from earthfast.estimate import Trail
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
