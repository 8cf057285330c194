"""Stops in their order, their chances, and the binder that suits."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from earthfast.estimate import prior_latents
from earthfast.ground import (
    OBSERVATION_KINDS,
    BinderRoute,
    NearbyTree,
    StopRule,
    TreatmentSite,
    Verdict,
    binder_suitability,
    cement_plasticity_limit,
    estimate_stratum,
    stratum_prior,
    suits_cement,
    suits_lime,
    treatment_stops,
    tree_protection_radius,
    water_after_quicklime,
)
from earthfast.ground.stratum_draws import LATENTS, stratum_from_latents
from earthfast.sources import bibliography

GROUND = stratum_from_latents(prior_latents(1024, len(LATENTS), np.random.default_rng(0)), stratum_prior())
OPEN_SITE = TreatmentSite(
    mixing_depth=0.25,
    open_water_distance=np.inf,
    service_depth=np.inf,
    planting_distance=np.inf,
    soil_temperature=12.0,
    largest_stone=0.02,
)


def outcome(rule, ground=GROUND, site=OPEN_SITE):
    return next(stop for stop in treatment_stops(ground, site) if stop.rule is rule)


def full(value):
    return np.full(GROUND.count, value)


def test_every_rule_is_asked_in_order_with_words_and_a_source():
    stops = treatment_stops(GROUND, OPEN_SITE)
    assert [stop.rule for stop in stops] == list(StopRule)
    for stop in stops:
        assert stop.reason.endswith(".")
        assert stop.remedy.endswith(".")
        assert stop.source.split(",")[0] in bibliography()


@pytest.mark.parametrize(
    ("rule", "change"),
    [
        (StopRule.ORGANIC, {"organic_content": 0.03}),
        (StopRule.PLASTICITY, {"liquid_limit": 0.95}),
        (StopRule.PLASTICITY, {"plasticity_index": 0.66}),
        (StopRule.SULFATE, {"sulfate": 9e-3}),
        (StopRule.SULFATE_SPECIAL, {"sulfate": 5e-3}),
        (StopRule.WATER, {"winter_water_depth": 0.2}),
    ],
)
def test_ground_beyond_a_limit_stops(rule, change):
    beyond = replace(GROUND, **{name: full(value) for name, value in change.items()})
    assert outcome(rule, ground=beyond).verdict is Verdict.STOP
    assert outcome(rule, ground=beyond).chance == 1.0


@pytest.mark.parametrize(
    ("rule", "change"),
    [
        (StopRule.TREE, {"trees": (NearbyTree(5.0, 0.5),)}),
        (StopRule.OPEN_WATER, {"open_water_distance": 6.0}),
        (StopRule.SERVICE, {"service_depth": 0.5}),
        (StopRule.PLANTING, {"planting_distance": 0.3}),
        (StopRule.RUBBISH, {"has_rubbish": True}),
        (StopRule.COLD, {"soil_temperature": 3.0}),
        (StopRule.STONES, {"largest_stone": 0.1}),
    ],
)
def test_a_site_beyond_a_limit_stops_and_an_open_site_does_not(rule, change):
    assert outcome(rule, site=replace(OPEN_SITE, **change)).verdict is Verdict.STOP
    assert outcome(rule).verdict is Verdict.NO_OBJECTION


def test_what_is_not_known_is_asked_for():
    unknown = TreatmentSite(mixing_depth=0.25)
    asked = {stop.rule for stop in treatment_stops(GROUND, unknown) if stop.verdict is Verdict.ASK}
    assert asked == {
        StopRule.OPEN_WATER,
        StopRule.SERVICE,
        StopRule.PLANTING,
        StopRule.COLD,
        StopRule.STONES,
    }


def test_deeper_mixing_never_lowers_the_chance_of_water():
    chances = [
        outcome(StopRule.WATER, site=replace(OPEN_SITE, mixing_depth=depth)).chance
        for depth in (0.1, 0.2, 0.4, 0.8)
    ]
    assert chances == sorted(chances)


def test_a_doubt_asks_for_a_test_before_it_stops():
    share = np.where(np.arange(GROUND.count) < GROUND.count // 5, 0.05, 0.005)
    assert outcome(StopRule.ORGANIC, ground=replace(GROUND, organic_content=share)).verdict is Verdict.TEST


def test_peat_is_never_treated():
    kind = OBSERVATION_KINDS["colour and smell"].row_type
    rows = [kind(result="fibres or wood, spongy, light when dry")] * 2
    found = estimate_stratum(rows, stratum_prior(), np.random.default_rng(1), 1024)
    assert outcome(StopRule.ORGANIC, ground=found.draws).verdict is Verdict.STOP


def test_tree_radius_is_capped():
    assert tree_protection_radius(np.array([0.5, 3.0])) == pytest.approx([6.0, 15.0])


def test_binder_follows_plasticity():
    silty_sand = replace(
        GROUND, fines=full(0.3), plasticity_index=full(0.0), liquid_limit=full(0.2), stones=full(0.05)
    )
    fat_clay = replace(
        GROUND, fines=full(0.9), plasticity_index=full(0.35), liquid_limit=full(0.6), stones=full(0.0)
    )
    fat_silt = replace(
        GROUND, fines=full(0.9), plasticity_index=full(0.08), liquid_limit=full(0.52), stones=full(0.0)
    )
    assert binder_suitability(silty_sand).route is BinderRoute.CEMENT
    assert binder_suitability(silty_sand).lime == 0.0
    assert binder_suitability(fat_clay).route is BinderRoute.LIME_THEN_CEMENT
    assert binder_suitability(fat_silt).route is BinderRoute.NONE


def test_more_plastic_soil_never_suits_cement_better_nor_lime_worse():
    index = np.linspace(0.0, 0.5, 51)
    for fines in (0.03, 0.08, 0.3, 0.7):
        assert np.all(np.diff(suits_cement(fines, 0.2 + index, index).astype(int)) <= 0)
        assert np.all(np.diff(suits_lime(fines, index).astype(int)) >= 0)


def test_cement_limit_meets_the_fine_soil_limit_at_half_fines():
    assert cement_plasticity_limit(0.5) == pytest.approx(0.20)


def test_quicklime_dries_and_nothing_changes_without_it():
    assert water_after_quicklime(0.25, 0.0) == pytest.approx(0.25)
    assert np.all(np.diff(water_after_quicklime(0.25, np.linspace(0.0, 0.05, 10))) < 0.0)
