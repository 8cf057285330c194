"""National frost rules beside the simulation, and drying by trees."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from earthfast.estimate import Draws, Trail
from earthfast.frost import GermanFrostZone
from earthfast.ground.observations.place import Tree, WaterDemand
from earthfast.stages.answers import FrostRuleLine
from earthfast.stages.choose import choose_for
from earthfast.stages.clay_season import seasonal_drying, tree_closeness
from earthfast.stages.frost_rules import disagreement, german_zone

DAY = 86400.0


def rule(name, *, is_met, says="asks 450 mm, and this has 200 mm"):
    return FrostRuleLine(rule=name, says=says, is_met=is_met)


@pytest.fixture(scope="module")
def cold_rules():
    from importlib.resources import files

    from earthfast.job import read_job

    text = (files("earthfast.job") / "demonstrations" / "fernhill-allotments.toml").read_text("utf-8")
    job = read_job(text.replace("London-like", "Helsinki-like"))
    return choose_for(job).answer.areas[0].winters


def test_rules_of_three_countries_stand_as_published(cold_rules):
    for line in cold_rules:
        wanted = {one.rule: one.wanted_mm for one in line.rules}
        assert wanted["UK"] == 0.0  # clay above PI 15 counts as not susceptible, S
        assert wanted["German"] == 650.0  # F3, light, zone III: 500 + 150, S
        assert wanted["US"] > 650.0  # frost kept out of the ground altogether
        assert wanted["simulation"] is None


def test_where_rules_part_a_sentence_says_so(cold_rules):
    said = disagreement("this way", cold_rules[0].rules)
    assert all(f"the {name} rule" in said for name in ("UK", "German", "US"))
    assert "650 mm" in said


def test_agreement_is_said_as_such_and_sides_are_named():
    agree = [rule(name, is_met=True) for name in ("UK", "German", "US", "simulation")]
    assert "agree" in disagreement("a base", agree)
    part = [rule("UK", is_met=True), rule("German", is_met=False), rule("US", is_met=False)]
    assert "sides with UK" in disagreement("a base", [*part, rule("simulation", is_met=True)])
    assert "sides with German and US" in disagreement("a base", [*part, rule("simulation", is_met=False)])


def test_cold_places_lie_in_higher_zones():
    zones = [german_zone(index * DAY) for index in (50.0, 400.0, 900.0)]
    assert zones == [GermanFrostZone.ONE, GermanFrostZone.TWO, GermanFrostZone.THREE]


def test_tree_dries_nothing_from_its_reach_on():
    assert float(tree_closeness(0.0, 15.0)) == 1.0
    assert float(tree_closeness(15.0, 15.0)) == 0.0
    assert float(tree_closeness(40.0, 15.0)) == 0.0


def drying(*trees, plasticity=0.30):
    draws = Draws(("summer drying", "other"), 64, np.random.default_rng(1))
    return seasonal_drying(np.full(64, plasticity), trees, draws, Trail())


def tree(distance, demand=WaterDemand.HIGH, height=12.0):
    return Tree(distance=distance, height=height, stem_diameter=0.3, water_demand=demand)


def test_nearer_trees_never_dry_less():
    found = [drying(tree(distance)) for distance in (30.0, 12.0, 6.0, 2.0)]
    for far, near in itertools.pairwise(found):
        assert (far.share.values <= near.share.values).all()
        assert (far.depth.values <= near.depth.values).all()
    assert (found[0].depth.values == drying().depth.values).all()


def test_thirstier_trees_never_dry_less():
    demands = (WaterDemand.LOW, WaterDemand.MODERATE, WaterDemand.HIGH)
    depths = [float(drying(tree(4.0, demand)).depth.values[0]) for demand in demands]
    assert depths == sorted(depths)


@pytest.mark.parametrize(("plasticity", "depth"), [(0.05, 0.45), (0.15, 0.75), (0.30, 0.90), (0.50, 1.0)])
def test_open_ground_dries_as_deep_as_foundations_have_to_go(plasticity, depth):
    assert float(drying(plasticity=plasticity).depth.values[0]) == depth  # M
