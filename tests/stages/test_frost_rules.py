"""National frost rules beside the simulation, and drying by trees."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from earthfast.estimate import CautionCode, Draws, Origin, Trail
from earthfast.frost import GermanCondition, GermanFrostZone, frost_proof_addition_german
from earthfast.ground.observations.place import Tree, WaterDemand
from earthfast.stages.answers import CheckLine, FrostRuleLine, WayLine, WinterLine
from earthfast.stages.choose import choose_for
from earthfast.stages.clay_season import seasonal_drying, tree_closeness
from earthfast.stages.frost_rules import disagreement, german_zone, rules_caution

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
        # F3, light, zone III: 500 + 150, S; 50 more where water stands within 1.5 m of formation, M
        assert wanted["German"] in {650.0, 700.0}
        assert wanted["US"] > 650.0  # frost kept out of the ground altogether
        assert wanted["simulation"] is None


def test_where_rules_part_a_sentence_says_so(cold_rules):
    said = disagreement("this way", cold_rules[0].rules)
    assert all(f"the {name} rule" in said for name in ("UK", "German", "US"))
    assert "choose.frost_rule" in said


def test_agreement_is_said_as_such_and_sides_are_named():
    agree = [rule(name, is_met=True) for name in ("UK", "German", "US", "simulation")]
    assert "agree" in disagreement("a base", agree)
    part = [rule("UK", is_met=True), rule("German", is_met=False), rule("US", is_met=False)]
    assert "sides with UK" in disagreement("a base", [*part, rule("simulation", is_met=True)])
    assert "sides with German and US" in disagreement("a base", [*part, rule("simulation", is_met=False)])


def named(rule_name):
    from importlib.resources import files

    from earthfast.job import read_job

    text = (files("earthfast.job") / "demonstrations" / "fernhill-allotments.toml").read_text("utf-8")
    return choose_for(read_job(f'{text}\n[choose]\nfrost_rule = "{rule_name}"\n')).answer.areas[0]


def test_a_rule_named_in_the_job_governs():
    area = named("German")
    assert "The German frost rule is named in the job" in " ".join(area.says)
    chosen = next(line for line in area.winters if line.way == area.chosen)
    german = next(rule for rule in chosen.rules if rule.rule == "German")
    assert german.has_mm >= german.wanted_mm >= 500.0  # F3, light, zone I, S


def line_with(*rules):
    return WinterLine.model_construct(way="stone", rules=rules)


def test_all_rules_against_a_way_that_the_simulation_passes_is_a_caution():
    shown = WayLine.model_construct(key="stone", title="100 mm of crushed stone")
    against = [
        rule(name, is_met=False).model_copy(update={"wanted_mm": 450.0}) for name in ("UK", "German", "US")
    ]
    caution = rules_caution("base", shown, [line_with(*against, rule("simulation", is_met=True))])
    assert caution.code is CautionCode.FROST_RULES_NOT_MET
    assert "choose.frost_rule" in caution.text
    assert rules_caution("base", shown, [line_with(*against, rule("simulation", is_met=False))]) is None
    one_met = [rule("UK", is_met=True), *against[1:], rule("simulation", is_met=True)]
    assert rules_caution("base", shown, [line_with(*one_met)]) is None


HELSINKI = {"class": 500.0, "zone III": 150.0, "water": 50.0}  # F3, light, mm; S, RStO 01 and BASt 2012
ROWS = {  # mm, S: RStO 12, additions as copies of lectures print them in cm
    'climate = "north slope or ridge"': 50.0,
    'climate = "closed rows of buildings"': -50.0,
    'climate = "usual"': 0.0,
    'ground = "cutting"': 50.0,
    'ground = "bank above 2 m"': -50.0,
    'ground = "natural level"': 0.0,
    'drained_by = "gutters, gullies and pipes"': -50.0,
    'drained_by = "open sides"': 0.0,
}


def cold_job(lie="", *, wet=True):
    from importlib.resources import files

    from earthfast.job import read_job

    text = (files("earthfast.job") / "demonstrations" / "fernhill-allotments.toml").read_text("utf-8")
    water = "0.6 m" if wet else "4 m"
    site = f'winter_water_depth = "{water}"\n\n[site.lie]\n{lie}\n\n[site.climate]'
    return read_job(text.replace("London-like", "Helsinki-like").replace("[site.climate]", site))


def german(lie="", *, wet=True, area="base"):
    """The German rule on one way, as the answer says it, and the trail."""
    from earthfast.checks import BuildUp, Course, Material, Method, Way
    from earthfast.stages.frost_rules import frost_rules
    from earthfast.stages.understanding import understand

    job = understand(cold_job(lie, wet=wet))
    place = next(one for one in job.areas if one.entry.name == area)
    courses = (Course(Material.FLAGS, 0.04), Course(Material.CRUSHED_STONE, 0.15))
    (batch,) = place.setting.first(64).batches((Way(Method.STONE, BuildUp(courses)),), Trail(recording=False))
    frost = CheckLine.model_construct(chance_text="about 1 in 9", target=0.1, passes=True)
    return next(
        line for line in frost_rules(batch.case, place.lie, frost) if line.rule == "German"
    ), job.trail


@pytest.mark.parametrize(("row", "addition"), ROWS.items())
def test_each_row_of_the_german_additions_counts(row, addition):
    line, _ = german(row)
    assert line.wanted_mm == sum(HELSINKI.values()) + addition
    (word,) = row.split('"')[1:2]
    assert (f"{word} ({addition:+.0f} mm)" in line.says) == (addition != 0.0)
    assert "recalled, not read" in line.says


def test_german_additions_of_a_place_add_up():
    line, trail = german(
        'climate = "closed rows of buildings"\nground = "cutting"\ndrained_by = "open sides"'
    )
    assert line.wanted_mm == sum(HELSINKI.values())
    assert "taken" not in line.says
    assert trail.figures["base.site.german_addition"].origin is Origin.GIVEN


def test_what_the_job_leaves_out_is_taken_as_usual_and_said():
    line, trail = german()
    assert line.wanted_mm == sum(HELSINKI.values())
    assert "says nothing of it: usual climate, natural level and open sides" in line.says
    assert "base.site.german_addition" not in trail.figures  # nobody asked about the German rule
    _, trail = german('ground = "cutting"')
    added = trail.figures["base.site.german_addition"]
    assert added.origin is Origin.ASSUMED
    assert added.centre == pytest.approx(0.05)


def test_deep_water_adds_nothing_to_the_german_rule():
    assert german(wet=False)[0].wanted_mm == HELSINKI["class"] + HELSINKI["zone III"]


def test_footway_asks_300_mm_in_all_whatever_the_place():
    # footways and cycle ways by the guideline of 2012, recalled
    line, _ = german('ground = "cutting"', area="path")
    assert line.wanted_mm == 300.0
    assert "no vehicles" in line.says


def test_german_additions_add_up_and_cancel():
    # RStO 12, additions as copies of lectures print them: 50 mm each way
    assert frost_proof_addition_german(()) == 0.0
    assert frost_proof_addition_german(
        (GermanCondition.WATER_NEAR, GermanCondition.CUTTING)
    ) == pytest.approx(0.10)
    assert frost_proof_addition_german((GermanCondition.CUTTING, GermanCondition.GUTTERS)) == pytest.approx(
        0.0
    )
    assert all(abs(frost_proof_addition_german((one,))) == 0.05 for one in GermanCondition)


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
