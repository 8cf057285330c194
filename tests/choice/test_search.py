"""The search against brute force: every way judged on every draw, and nothing that passes and is better missed."""

import numpy as np
import pytest

from earthfast.checks import CHECKS, CheckName, Method
from earthfast.choice import Merit, beaten, find_ways, judge, judge_until, weighted_cost
from earthfast.estimate import Trail

CHEAPEST = Merit(1.0, 0.0, 0.0, 0.0)
MIXED = Merit(1.0, 0.5, 1.0, 0.5)
TARGETS = {
    "strict": dict.fromkeys(CheckName, 0.02),
    "usual": dict.fromkeys(CheckName, 0.10),
    "lenient": dict.fromkeys(CheckName, 0.30),
    "anything": dict.fromkeys(CheckName, 1.0),
}


@pytest.fixture(scope="module")
def small_grid(hall):
    """A grid small enough to judge wholly: every fourth way of each method, on a quarter of the draws."""
    area, candidates = hall
    chosen = [
        one
        for method in Method
        for one in [c for c in candidates if c.way.method is method][:: 7 if method is Method.CEMENT else 4]
    ]
    setting = area.setting.first(1024)
    return setting, chosen, judge([one.way for one in chosen], setting)


def not_beaten(rows, places):
    """By the definition: no other passing way is as good on every count and better on one."""
    return {
        p for p in places if not any((rows[q] <= rows[p]).all() and (rows[q] < rows[p]).any() for q in places)
    }


@pytest.mark.parametrize("targets", TARGETS.values(), ids=TARGETS)
@pytest.mark.parametrize("weights", [CHEAPEST, MIXED], ids=["cheapest", "mixed"])
def test_search_finds_what_brute_force_finds(small_grid, targets, weights):
    setting, candidates, judged = small_grid
    found = find_ways(candidates, setting, targets, weights)
    passing = np.flatnonzero(judged.passes(targets)).tolist()
    cost = weighted_cost(candidates, weights)
    rows = np.array([candidate.merit.row for candidate in candidates])
    by_method = {}
    for place in sorted(passing, key=lambda p: (cost[p], p)):
        by_method.setdefault(candidates[place].way.method, place)
    assert found.best == tuple(sorted(by_method.values(), key=lambda p: (cost[p], p)))
    methods = {candidate.way.method for candidate in candidates}
    assert {candidates[p].way.method for p in found.nearest} == methods - set(by_method)
    for front, costs in ((found.front, rows[:, :2]), (found.unbeaten, rows)):
        expected = not_beaten(costs, passing)
        assert set(front) <= expected
        assert {tuple(costs[p]) for p in front} == {tuple(costs[p]) for p in expected}


def test_fronts_hold_no_way_that_another_beats(small_grid):
    setting, candidates, _ = small_grid
    found = find_ways(candidates, setting, TARGETS["lenient"], CHEAPEST)
    rows = np.array([candidates[place].merit.row for place in found.unbeaten])
    assert not beaten(rows).any()
    assert set(found.best[:1]) <= set(found.unbeaten)
    assert list(rows[:, 0]) == sorted(rows[:, 0])


def test_sparing_ways_that_fall_changes_nobody_who_passes(small_grid):
    setting, candidates, judged = small_grid
    ways = [candidate.way for candidate in candidates]
    for targets in TARGETS.values():
        spared = judge_until(ways, setting, targets)
        assert np.array_equal(spared.passes(targets), judged.passes(targets))
        assert np.all(spared.excess(targets) <= judged.excess(targets))


def test_nearest_is_least_beyond_its_worst_target(small_grid):
    setting, candidates, _ = small_grid
    targets = dict.fromkeys(CheckName, 1e-6)
    found = find_ways(candidates, setting, targets, CHEAPEST)
    few = setting.first(256)
    for place in found.nearest:
        method = candidates[place].way.method
        places = [p for p, one in enumerate(candidates) if one.way.method is method]
        excess = judge([candidates[p].way for p in places], few).excess(targets)
        assert excess[places.index(place)] == excess.min()


def test_the_first_draws_of_a_setting_are_the_start_of_all_its_draws(hall):
    area, candidates = hall
    ways = [one.way for one in candidates[::97]]
    whole, start = area.setting, area.setting.first(512)
    silent = Trail(recording=False)
    pairs = zip(whole.batches(tuple(ways), silent), start.batches(tuple(ways), silent), strict=True)
    for all_draws, few in pairs:
        assert all_draws.places == few.places
        for one in CHECKS.values():
            full, cut = one.judge(all_draws.case, silent), one.judge(few.case, silent)
            assert np.array_equal(full.fails[:, :512], cut.fails), one.name


def test_beaten_rows_are_those_another_is_no_worse_than():
    rows = np.array([[1.0, 5.0], [2.0, 2.0], [2.0, 2.0], [3.0, 2.0], [1.0, 6.0], [5.0, 1.0]])
    assert beaten(rows).tolist() == [False, False, False, True, True, False]


def test_weights_alone_decide_between_costs(small_grid):
    _, candidates, _ = small_grid
    prices = np.array([candidate.merit.price for candidate in candidates])
    assert np.array_equal(np.argsort(weighted_cost(candidates, CHEAPEST)), np.argsort(prices))


@pytest.mark.slow
@pytest.mark.parametrize("job", ["allotment", "hall"])
def test_search_finds_what_brute_force_finds_on_a_whole_job(job, request):
    area, candidates = request.getfixturevalue(job)
    targets = area.usage.targets
    judged = judge([one.way for one in candidates], area.setting)
    passing = np.flatnonzero(judged.passes(targets)).tolist()
    found = find_ways(candidates, area.setting, targets, CHEAPEST)
    rows = np.array([candidate.merit.row for candidate in candidates])
    for front, costs in ((found.front, rows[:, :2]), (found.unbeaten, rows)):
        assert {tuple(costs[p]) for p in front} == {tuple(costs[p]) for p in not_beaten(costs, passing)}
