"""Bound layers: systems are whole, lives fall with stress, published cases follow."""

import numpy as np
import pytest

from earthfast.mixes import (
    BOUND_RULES,
    BoundResponse,
    BoundSystem,
    CrushingStage,
    RoadCategory,
    bound_defaults,
    bound_fatigue_life,
    bound_flexural_strength,
    bound_modulus,
    cracked_modulus,
    crushing_life_south_african,
    direct_tensile_strength,
    fatigue_life_mepdg,
    fatigue_life_pca,
    fatigue_life_south_african,
    flexural_strength_aci,
    indirect_tensile_strength,
    stress_beside_crack,
)

STRENGTHS = np.linspace(0.7e6, 12e6, 30)


def test_every_system_is_registered():
    assert set(BOUND_RULES) == set(BoundSystem)


@pytest.mark.parametrize("system", BoundSystem)
def test_stronger_material_is_stiffer_and_more_stress_means_a_shorter_life(system):
    assert np.all(np.diff(bound_modulus(system, STRENGTHS)) > 0.0)
    strength, modulus = bound_flexural_strength(system, 2e6), bound_modulus(system, 2e6)
    stress = np.linspace(0.1, 0.9, 9) * strength
    life = bound_fatigue_life(system, BoundResponse(stress, stress / modulus, strength, modulus))
    assert np.all(np.diff(life) < 0.0)


def test_stress_ratio_of_the_published_layered_case():
    assert 133.514e3 / bound_flexural_strength(BoundSystem.SOIL_CEMENT_MEPDG, 2.0e6) == pytest.approx(
        0.334, abs=0.0005
    )


def test_lorry_on_thin_treated_soil_needs_9_5_mpa_for_half_its_strength():
    ratio = 945.194e3 / bound_flexural_strength(BoundSystem.SOIL_CEMENT_MEPDG, np.array([9.4e6, 9.5e6]))
    assert ratio[0] > 0.5 > ratio[1]


def test_flexural_power_relation_stays_within_a_fifth_and_a_third():
    ratio = flexural_strength_aci(STRENGTHS) / STRENGTHS
    assert np.all((ratio > 0.2) & (ratio < 1.0 / 3.0))


def test_tension_strengths_are_in_order():
    assert direct_tensile_strength(1e6) < indirect_tensile_strength(1e6) < flexural_strength_aci(1e6)


def test_concrete_life_has_no_gap_where_its_branches_meet_and_no_end_below():
    below, above = fatigue_life_pca(np.array([0.55, 0.5500001]))
    assert above == pytest.approx(below, rel=0.01)
    np.testing.assert_array_equal(fatigue_life_pca(np.array([0.436, 0.1])), np.inf)


def test_a_stress_of_all_its_strength_breaks_the_layer_at_about_the_first_pass():
    assert fatigue_life_mepdg(0.972) == pytest.approx(1.0)
    assert fatigue_life_mepdg(1.0) < 1.0


def test_less_reliability_allows_more_passes():
    orders = list(RoadCategory)
    cracking = [fatigue_life_south_african(80e-6, 145e-6, one) for one in orders]
    assert cracking == sorted(cracking)
    for stage in CrushingStage:
        crushing = [crushing_life_south_african(300e3, 1.0e6, one, stage) for one in orders]
        assert crushing == sorted(crushing)


def test_crushing_starts_before_it_is_advanced():
    stress = np.linspace(50e3, 900e3, 12)
    for category in RoadCategory:
        begun = crushing_life_south_african(stress, 1.2e6, category, CrushingStage.INITIATION)
        done = crushing_life_south_african(stress, 1.2e6, category, CrushingStage.ADVANCED)
        assert np.all(begun < done)


def test_cracked_layer_is_softer_than_a_sound_one_and_stiffer_than_soft_ground():
    band = cracked_modulus()
    assert (band.low, band.high) == (pytest.approx(0.2e9), pytest.approx(0.5e9))
    assert band.high < bound_modulus(BoundSystem.SOIL_CEMENT_MEPDG, 1.0e6)


def test_defaults_soften_over_life_and_stress_rises_beside_a_crack():
    assert all(row.final_modulus < row.modulus for row in bound_defaults().rows)
    assert stress_beside_crack(100e3, 1.25) == pytest.approx(125e3)


def test_default_soil_cement_is_the_quoted_one():
    row = next(row for row in bound_defaults().rows if row.material == "soil-cement")
    assert row.modulus == pytest.approx(3.447e9, rel=1e-3)  # 500 000 psi
    assert row.flexural_strength == pytest.approx(689.5e3, rel=1e-3)  # 100 psi
