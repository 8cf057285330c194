"""Chances of real ways by subset simulation against plain counting; the index against tables of the normal."""

import numpy as np
import pytest

from earthfast.checks import CheckName, Method
from earthfast.choice import judge, rare_chance, reliability_index, room_of, variables_of


@pytest.fixture(scope="module")
def thin_stone(hall):
    area, candidates = hall
    ways = [one.way for one in candidates if one.way.method is Method.STONE]
    return area.setting, ways


def test_index_of_round_chances():
    # EN 1990 table C.1: 1e-1 to 1e-4 are 1.28, 2.32, 3.09, 3.72
    found = reliability_index(np.array([1e-1, 1e-2, 1e-3, 1e-4]))
    assert found == pytest.approx([1.28, 2.33, 3.09, 3.72], abs=0.006)


def test_samples_of_the_room_fail_as_often_as_draws_do(thin_stone):
    setting, ways = thin_stone
    way = ways[20]  # 260 mm of stone
    chance = judge([way], setting).chances[CheckName.RUTTING][0]
    scores = np.random.default_rng(8).standard_normal((8192, len(variables_of(setting))))
    counted = np.mean(room_of(way, CheckName.RUTTING, setting)(scores) < 0.0)
    error = np.sqrt(chance * (1.0 - chance) * (1.0 / 8192 + 1.0 / setting.draws.count))
    assert 0.05 < chance < 0.95
    assert abs(counted - chance) < 4.0 * error


def test_subset_simulation_of_a_way_agrees_with_counting(thin_stone):
    setting, ways = thin_stone
    judged = judge(ways, setting).chances[CheckName.RUTTING]
    place = int(np.argmin(np.abs(judged - 0.03)))
    runs = [
        rare_chance(ways[place], CheckName.RUTTING, setting, 500, np.random.default_rng(seed))
        for seed in range(4)
    ]
    chance = np.mean([one.chance for one in runs])
    stated = np.mean([one.variation for one in runs]) / np.sqrt(len(runs))
    counting = np.sqrt((1.0 - judged[place]) / (judged[place] * setting.draws.count))
    assert abs(np.log(chance / judged[place])) < 4.0 * np.hypot(stated, counting)


def test_thicker_stone_is_rarer_to_fail_where_counting_sees_nothing(thin_stone):
    setting, ways = thin_stone
    places = (12, 22)
    found = [
        rare_chance(ways[place], CheckName.BEARING, setting, 500, np.random.default_rng(1))
        for place in places
    ]
    counted = judge([ways[place] for place in places], setting).chances[CheckName.BEARING]
    assert np.all(counted < 1e-3)
    assert 0.0 < found[1].chance < found[0].chance < 4e-3
    assert found[0].variation < 1.0


@pytest.mark.parametrize("name", [CheckName.FROST, CheckName.SOFTENING, CheckName.DURABILITY])
def test_checks_that_rest_on_heat_flow_fail_as_often_in_samples_as_in_draws(allotment, name):
    area, candidates = allotment
    setting = area.setting
    ways = [one.way for one in candidates if one.way.method is Method.LIME_CEMENT][::40]
    judged = judge(ways, setting).chances[name]
    place = int(np.argmin(np.abs(judged - 0.2)))
    chance = judged[place]
    scores = np.random.default_rng(8).standard_normal((4096, len(variables_of(setting))))
    counted = np.mean(room_of(ways[place], name, setting)(scores) < 0.0)
    error = np.sqrt(max(chance, 1.0 / 4096) * (1.0 / 4096 + 1.0 / setting.draws.count))
    assert abs(counted - chance) < 4.0 * error


@pytest.mark.parametrize("name", [CheckName.SUITABILITY, CheckName.SHRINK_SWELL])
def test_checks_of_the_ground_alone_are_counted_only(thin_stone, name):
    setting, ways = thin_stone
    with pytest.raises(ValueError, match="counted only"):
        rare_chance(ways[0], name, setting, 100, np.random.default_rng(1))
