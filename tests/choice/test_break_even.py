"""Where ways come level: straight lines and curves with known roots, and ground on which the ranking truly turns."""

import numpy as np
import pytest

from earthfast.checks import CheckName, Method
from earthfast.choice import (
    GO_WITH_STRENGTH,
    Merit,
    best_of,
    ground_to_level,
    judge,
    level_value,
    level_within,
    on_other_ground,
    weakest_ground,
    weighted_cost,
)

CHEAPEST = Merit(1.0, 0.0, 0.0, 0.0)


def test_straight_line_closes_where_it_crosses():
    # 40 t at 30 against 5 t at 30 and 700 of cement: level at 20 a tonne
    assert level_value(30.0, 40 * 30 - (5 * 30 + 700), 40 - 5).needed == pytest.approx(20.0)
    assert level_value(30.0, 350.0, 35.0).factor == pytest.approx(2.0 / 3.0)


def test_what_a_value_does_not_touch_it_cannot_level():
    assert level_value(30.0, 350.0, 0.0).needed is None


def test_no_price_below_nothing_is_offered():
    assert level_value(30.0, 2000.0, 10.0).needed is None


def test_curve_is_levelled_at_the_root_nearest_to_now():
    assert level_within(3.0, lambda x: (x - 1.0) * (x - 4.5), 0.0, 10.0).needed == pytest.approx(
        4.5, rel=1e-8
    )
    assert level_within(1.5, lambda x: (x - 1.0) * (x - 4.5), 0.0, 10.0).needed == pytest.approx(
        1.0, rel=1e-8
    )
    assert level_within(1.5, lambda x: x + 1.0, 0.0, 10.0).needed is None


def test_jump_is_found_where_it_jumps():
    # whole bags: one more from 7.3 on
    found = level_within(2.0, lambda x: 1.0 if x > 7.3 else -1.0, 0.0, 10.0)
    assert found.needed == pytest.approx(7.3, rel=1e-6)


def test_ground_twice_as_strong_is_stiffer_by_the_power_law(hall):
    area, _ = hall
    twice = on_other_ground(area.setting, 2.0).grounds[0].draws
    once = area.setting.grounds[0].draws
    assert twice.strength_wet.values == pytest.approx(2.0 * once.strength_wet.values)
    assert twice.modulus_wet.values == pytest.approx(2.0**0.64 * once.modulus_wet.values)


def test_ranking_turns_at_the_ground_named(hall):
    area, candidates = hall
    setting = area.setting.first(512)
    methods = (Method.STONE, Method.SLAB)
    chosen = [one for one in candidates if one.way.method in methods][::2]
    targets = dict.fromkeys(CheckName, 0.9) | {CheckName.RUTTING: 0.15, CheckName.BEARING: 0.15}
    cost = weighted_cost(chosen, CHEAPEST)

    def slab_wins(factor):
        places = [
            best_of(chosen, on_other_ground(setting, factor), targets, cost, method) for method in methods
        ]
        stone, slab = (np.inf if place is None else cost[place] for place in places)
        return slab < stone

    found = ground_to_level(chosen, setting, targets, CHEAPEST, methods)
    assert found.needed is not None
    assert slab_wins(found.needed) != slab_wins(1.0)
    # nearer to the ground as it is, by one step of the last halving, it has not turned yet
    nearer = found.needed ** (1.0 - 0.09 / abs(np.log(found.needed)))
    assert slab_wins(nearer) == slab_wins(1.0)


def test_stronger_ground_never_wants_thicker_stone(hall):
    area, candidates = hall
    setting = area.setting.first(512)
    stone = [one for one in candidates if one.way.method is Method.STONE]
    targets = dict.fromkeys(CheckName, 0.9) | {CheckName.RUTTING: 0.05}
    cost = weighted_cost(stone, CHEAPEST)
    places = [
        best_of(stone, on_other_ground(setting, factor), targets, cost, Method.STONE)
        for factor in (0.5, 1.0, 2.0, 4.0)
    ]
    thickness = [stone[place].way.build_up.thickness for place in places]
    assert thickness == sorted(thickness, reverse=True)


def test_a_way_passes_on_the_weakest_ground_named_and_falls_on_weaker(hall):
    area, candidates = hall
    setting = area.setting.first(512)
    targets = dict.fromkeys(CheckName, 0.05)
    stone = max(
        (c.way for c in candidates if c.way.method is Method.STONE), key=lambda w: w.build_up.thickness
    )
    found = weakest_ground(stone, setting, targets)
    assert found.factor is not None
    assert 0.25 < found.factor < 1.0

    def failed(factor):
        chances = judge([stone], on_other_ground(setting, factor)).chances
        return {name for name in GO_WITH_STRENGTH if chances[name][0] > targets[name]}

    assert not failed(found.factor)
    assert found.falls_in in failed(found.factor * 0.5 ** (1.0 / 8.0) * 0.999)  # one step of the last halving
