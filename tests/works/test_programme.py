from __future__ import annotations

import numpy as np
import pytest

from earthfast.checks import Method
from earthfast.works import (
    Bags,
    bag_split,
    bay_amounts,
    bays_of,
    checks_wanted,
    tolerance_table,
    work_cautions,
    work_steps,
    working_clock,
)

CEMENT, LIME = Bags(25.0, 1300.0), Bags(25.0, 550.0)


@pytest.mark.parametrize("method", list(Method))
def test_every_method_starts_with_services_and_ends_with_the_record(method):
    steps = work_steps(method)
    assert steps[0].key == "services"
    assert steps[0].hold
    assert steps[-1].key == "record"


@pytest.mark.parametrize("method", list(Method))
def test_every_hold_point_asks_for_something_written_down(method):
    assert all(step.record for step in work_steps(method) if step.hold)


def test_treated_ways_have_the_hold_points_of_treated_work():
    # CP, hold_points of the trade: steps 5 to 10 and 13 to 15 belong to treated work only
    treated = {step.key for step in work_steps(Method.CEMENT) if step.hold}
    assert {"till", "moisture", "binder", "dry_mix", "water", "wet_mix", "trim", "strength"} <= treated
    assert not {"till", "binder", "wet_mix"} & {step.key for step in work_steps(Method.STONE)}


def test_lime_mellows_before_cement():
    keys = [step.key for step in work_steps(Method.LIME_CEMENT)]
    assert keys.index("lime") < keys.index("mellow") < keys.index("binder")


def test_stone_over_a_treated_layer_waits_for_its_strength_and_a_paved_slab_is_paved():
    keys = [step.key for step in work_steps(Method.LIME_CEMENT, stone=True, paved=True)]
    assert keys.index("strength") + 1 == keys.index("stone") < keys.index("bed")
    slab = [step.key for step in work_steps(Method.SLAB, stone=True, paved=True)]
    assert (
        slab.index("stone")
        < slab.index("pour")
        < slab.index("edging")
        < slab.index("pave")
        < slab.index("record")
    )


def test_cautions_follow_the_method_and_services_always_stand():
    for method in Method:
        assert "services" in {caution.key for caution in work_cautions(method)}
    assert "lime_eyes" in {caution.key for caution in work_cautions(Method.LIME_CEMENT)}
    assert "dust" not in {caution.key for caution in work_cautions(Method.STONE)}


def test_bays_share_out_the_binder_and_nothing_is_lost(treated_way, patio, ground):
    bays = bays_of(patio, 5.0)
    amounts = bay_amounts(bays, treated_way.build_up.treated, ground, CEMENT, LIME)
    assert sum(a.cement.mass for a in amounts) == pytest.approx(378.0)  # P-26, C
    for amount in amounts:
        split = amount.cement.bags
        assert split.whole * 25.0 + split.part == pytest.approx(amount.cement.mass)
        assert amount.lime is None
    spread = amounts[0].cement
    assert spread.areal_mass == pytest.approx(15.75)
    assert spread.area_per_bag == pytest.approx(1.587, rel=0.002)
    assert spread.grid_side == pytest.approx(1.26, rel=0.002)
    assert spread.thickness == pytest.approx(15.75 / 1300.0)


def test_bag_split_is_said_in_words():
    assert bag_split(187.0, 25.0).words == "7 bags and 12 kg of the eighth"
    assert bag_split(25.0, 25.0).words == "1 bag"
    assert bag_split(12.0, 25.0).words == "12 kg of one bag"
    for whole, nth in ((10, "11th"), (20, "21st"), (31, "32nd"), (111, "112th")):
        assert bag_split(25.0 * whole + 12.0, 25.0).words.endswith(f"12 kg of the {nth}")


def test_clock_shows_the_shorter_reading():
    # P-50, S limit of 35 °C·h: at 15 °C 2.33 h rather than 2.92 h
    air = np.array([5.0, 8.0, 12.0, 15.0, 20.0, 25.0])
    hours = [row.window / 3600.0 for row in working_clock(air)]
    assert hours == pytest.approx([7.0, 4.38, 2.92, 2.33, 1.75, 1.4], rel=0.01)


def test_small_areas_still_get_three_checks():
    assert all(count >= 3 for _, count in checks_wanted(24.0))
    assert {row.what: count for row, count in checks_wanted(10000.0)}["density"] == 20


def test_tolerances_name_whose_they_are():
    assert all(row.source for row in tolerance_table().rows)


@pytest.mark.parametrize("method", list(Method))
def test_fabric_is_laid_only_where_it_is_bought(method):
    assert "fabric" not in {step.key for step in work_steps(method)}
    fabric = [step.key for step in work_steps(Method.STONE, fabric=True)]
    assert fabric.index("formation") < fabric.index("fabric") < fabric.index("stone")
