"""Stiffness from CBR: agreement and disagreement of published relations, limits of stone, tables in order."""

import numpy as np
import pytest
from scipy.optimize import brentq

from earthfast.ground import (
    MODULUS_RULES,
    REACTION_RULES,
    STRENGTH_RULES,
    ModulusRule,
    ReactionRule,
    StrengthRule,
    course_moduli,
    modulus_power_law,
    modulus_proportional,
    poisson_ratios,
    reaction_modulus_faa,
    reaction_modulus_irc,
    reaction_modulus_pca,
    resilient_moduli,
    settlement_moduli,
    settlement_moduli_by_consistency,
    stone_modulus,
)

CBRS = np.geomspace(1.0, 100.0, 60)


@pytest.mark.parametrize(
    ("registry", "choice"),
    [(MODULUS_RULES, ModulusRule), (REACTION_RULES, ReactionRule), (STRENGTH_RULES, StrengthRule)],
)
def test_every_rule_is_registered_and_stronger_ground_is_never_softer(registry, choice):
    assert set(registry) == set(choice)
    for rule in registry.values():
        assert np.all(np.diff(rule(CBRS)) >= 0.0)
        assert rule(CBRS[:, None]).shape == (60, 1)


def test_power_law_and_proportional_rule_cross_near_cbr_4_4():
    crossing = brentq(lambda cbr: float(modulus_power_law(cbr) - modulus_proportional(cbr)), 2.0, 10.0)
    assert crossing == pytest.approx(4.4, abs=0.05)


def test_two_reaction_rules_differ_by_two_on_soft_ground():
    assert reaction_modulus_pca(2.0) / reaction_modulus_faa(2.0) == pytest.approx(2.0, abs=0.05)


def test_reaction_table_is_held_beyond_its_ends():
    assert reaction_modulus_irc(0.5) == pytest.approx(21e6)
    assert reaction_modulus_irc(200.0) == pytest.approx(220e6)


def test_stone_is_two_to_four_times_as_stiff_as_what_carries_it():
    thicknesses = np.linspace(0.02, 2.0, 100)
    ratio = stone_modulus(thicknesses, 20e6) / 20e6
    assert ratio.min() == 2.0
    assert ratio.max() == 4.0
    assert np.all(np.diff(ratio) >= 0.0)
    np.testing.assert_allclose(stone_modulus(thicknesses, 40e6), 2.0 * stone_modulus(thicknesses, 20e6))


@pytest.mark.parametrize(
    "table", [settlement_moduli, settlement_moduli_by_consistency, resilient_moduli, course_moduli]
)
def test_modulus_ranges_run_from_low_to_high(table):
    assert all(0.0 < row.low <= row.high < 2e10 for row in table().rows)


def test_psi_range_of_crushed_stone_is_the_one_quoted_in_megapascals():
    stone = next(row for row in resilient_moduli().rows if row.material == "crushed stone")
    assert (stone.low, stone.high) == (pytest.approx(138e6, abs=0.5e6), pytest.approx(552e6, abs=0.5e6))


def test_poisson_ratios_lie_where_a_solid_allows_and_wet_ground_is_nearest_to_incompressible():
    rows = poisson_ratios().rows
    assert all(0.0 < row.low <= row.usual <= row.high <= 0.5 for row in rows)
    assert max(rows, key=lambda row: row.usual).material == "wet ground"
