"""The value of a test against the exact value where there is one, and the laws it must keep."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.stats import multivariate_normal, norm

from earthfast.choice import (
    Candidate,
    Merit,
    Outcome,
    cost_in_money,
    decision_between,
    outcome_of,
    value_of_outcome,
    weighted_cost,
)
from earthfast.estimate import Answers, Numbers
from earthfast.estimate.evidence import LAPSE

DRAWS = 16384
PUTTING_RIGHT = 1.5


def standard_ground(seed):
    """Draws of a standard normal ground with the mean and spread it should have."""
    ground = np.random.default_rng(7000 + seed).standard_normal(DRAWS)
    return (ground - ground.mean()) / ground.std()


def decided(ground, prices, needs, target, *, stands=True):
    """Ways that fail one check where the ground is below what they need; the first is the one chosen now."""
    prices = np.asarray(prices, dtype=float)
    fails = (ground[None, :] < np.asarray(needs)[:, None])[:, None, :]
    return decision_between(prices, prices, fails, np.array([target]), PUTTING_RIGHT, stands=stands)


def reading_of(ground, scatter, seed, shared=0.0, count=1):
    return outcome_of([Numbers(np.zeros(count), ground, scatter, shared)], [], np.random.default_rng(seed))


def exact_value(cheap, dear, need, target, variance, *, cheap_now):
    """A way that fails below `need` of the ground and a dearer one that never does; one reading with a normal error.

    With y the reading, m = 1 / (1 + variance): P(fail | y) = Φ((need - m y) / √(1 - m)), so that the cheap way passes
    from the y on at which this is the target; normal and bivariate normal probabilities do the rest.
    """
    told = 1.0 / (1.0 + variance)
    target *= 1.2 if cheap_now else 0.8  # what turns a verdict is a fifth beyond the target
    passes_from = (need - norm.ppf(target) * np.sqrt(1.0 - told)) / told
    spread = np.sqrt(1.0 + variance)
    both = multivariate_normal(cov=[[1.0, 1.0], [1.0, 1.0 + variance]]).cdf([need, passes_from])
    below = norm.cdf(passes_from / spread)
    failing, turning = (both, below) if cheap_now else (norm.cdf(need) - both, 1.0 - below)
    gain = (cheap - dear) * turning + PUTTING_RIGHT * cheap * failing
    return gain if cheap_now else -gain


@pytest.mark.parametrize("scatter", [0.3, 1.0, 2.0])
@pytest.mark.parametrize(("need", "cheap_now"), [(-1.7, True), (-1.45, False), (-1.25, False)])
def test_two_ways_and_a_normal_reading_come_to_the_exact_value(scatter, need, cheap_now):
    prices, needs = ((100.0, 118.0), (need, -9.0)) if cheap_now else ((118.0, 100.0), (-9.0, need))
    found, errors = [], []
    for seed in range(6):
        ground = standard_ground(seed)
        gains = value_of_outcome(
            decided(ground, prices, needs, 0.05), reading_of(ground, scatter, 100 + seed)
        )
        found.append(gains.saving)
        errors.append(gains.standard_error)
    exact = exact_value(100.0, 118.0, need, 0.05, scatter**2, cheap_now=cheap_now)
    # a fitted chance turns a verdict only when clear of its target, so a little of the value is left lying
    slack = 0.3 * abs(exact) + 0.1
    assert abs(np.mean(found) - exact) < 2.0 * np.sqrt(np.mean(np.square(errors)) / 6) + slack


def test_a_reading_after_others_is_worth_what_exact_normal_updating_says():
    # readings with a shared error 0.3 and scatter 0.8, two made: what is left of ground and error is jointly normal
    shared, scatter, made = 0.3, 0.8, 2
    prior = np.diag([1.0, shared**2])
    aim = np.array([1.0, 1.0])
    gain = prior @ aim / (aim @ prior @ aim + scatter**2 / made)
    middle, spread = gain * 0.2, prior - np.outer(gain, aim @ prior)
    told = spread @ aim
    variance_of_reading = aim @ told + scatter**2
    sd = np.sqrt(spread[0, 0])
    # on the scale of what is left of the ground, the reading is one with this error
    error = variance_of_reading * spread[0, 0] / told[0] ** 2 - 1.0
    exact = exact_value(100.0, 118.0, -1.5, 0.05, error, cheap_now=False)
    found, errors = [], []
    for seed in range(6):
        scores = standard_ground(seed)
        ground = middle[0] + sd * scores
        seen = Numbers(np.full(made, 0.2), ground, scatter, shared)
        outcome = outcome_of(
            [Numbers(np.zeros(1), ground, scatter, shared)], [seen], np.random.default_rng(seed + 50)
        )
        (values,) = outcome.numbers
        assert np.var(values) == pytest.approx(variance_of_reading, rel=0.05)
        gains = value_of_outcome(decided(scores, (118.0, 100.0), (-9.0, -1.5), 0.05), outcome)
        found.append(gains.saving)
        errors.append(gains.standard_error)
    assert abs(np.mean(found) - exact) < 2.0 * np.sqrt(np.mean(np.square(errors)) / 6) + 0.25 * exact


def test_a_yes_or_no_answer_comes_to_the_exact_value():
    # bad ground one time in five, told rightly nine times in ten: the cheap way may be built on a good answer
    generator = np.random.default_rng(1)
    bad = (np.arange(DRAWS) % 5) == 0
    generator.shuffle(bad)
    right = 0.9
    chances = np.where(bad, right, 1.0 - right)
    outcome = outcome_of([Answers(np.vstack([1.0 - chances, chances]), (0,))], [], generator)
    ground = np.where(bad, -1.0, 1.0)
    gains = value_of_outcome(decided(ground, (130.0, 100.0), (-9.0, 0.0), 0.05), outcome)
    told = (1.0 - LAPSE) * right + 0.5 * LAPSE
    good_answer, bad_and_good_answer = 0.8 * told + 0.2 * (1.0 - told), 0.2 * (1.0 - told)
    assert bad_and_good_answer / good_answer < 0.05
    exact = 30.0 * good_answer - PUTTING_RIGHT * 100.0 * bad_and_good_answer
    assert abs(gains.saving - exact) < 2.5 * gains.standard_error
    assert np.mean(gains.chosen == 1) == pytest.approx(good_answer, abs=0.01)


def test_weighing_all_draws_by_the_likelihood_agrees():
    # four ways with thresholds; the second method weighs draws by each simulated outcome and chooses on those weights
    generator = np.random.default_rng(44)
    ground = standard_ground(4)
    prices, needs, target = np.array([125.0, 90.0, 105.0, 112.0]), (-2.0, -0.6, -1.2, -1.6), 0.05
    decision = decided(ground, prices, needs, target)
    piece = Numbers(np.zeros(1), ground, 0.5, 0.3)
    gains = value_of_outcome(decision, outcome_of([piece], [], generator))
    fails = ground[None, :] < np.asarray(needs)[:, None]
    saved = []
    for truth in generator.choice(DRAWS, 2000, replace=False):
        told = piece.simulated(int(truth), generator).log_likelihood()
        weights = np.exp(told - told.max())
        beyond = np.where(decision.passes, 1.2, 0.8)  # what turns a verdict is a fifth beyond the target
        passing = np.flatnonzero(fails @ weights / weights.sum() <= beyond * target)
        chosen = passing[np.argmin(prices[passing])] if passing.size else 0
        saved.append(decision.losses[0, truth] - decision.losses[chosen, truth])
    error = np.hypot(gains.standard_error, np.std(saved) / np.sqrt(len(saved)))
    assert gains.saving > 5.0 * gains.standard_error
    assert abs(gains.saving - np.mean(saved)) < 2.5 * error + 0.1 * np.mean(saved)


PRICES, NEEDS = (104.0, 90.0, 95.0, 100.0, 130.0), (-1.75, -0.9, -1.2, -1.5, -2.6)


def some_decision(seed):
    ground = standard_ground(seed)
    return ground, decided(ground, PRICES, NEEDS, 0.05)


def test_the_cheapest_that_passes_is_what_passes_now():
    _, decision = some_decision(0)
    assert decision.passes.tolist() == [True, False, False, False, True]
    assert decision.ranked_first == decision.now == 0


def test_a_test_of_something_else_is_worth_nothing():
    values, errors = [], []
    for seed in range(20):
        _, decision = some_decision(seed)
        elsewhere = np.random.default_rng(900 + seed)
        other = elsewhere.standard_normal(DRAWS)
        chances = np.vstack([np.full(DRAWS, 0.3), np.full(DRAWS, 0.7)])
        outcome = outcome_of([Numbers(np.zeros(1), other, 0.2, 0.1), Answers(chances, (0,))], [], elsewhere)
        gains = value_of_outcome(decision, outcome)
        values.append(gains.saving)
        errors.append(gains.standard_error)
        assert np.mean(gains.chosen != decision.now) < 0.1
    assert abs(np.mean(values)) < 0.4  # 0.4 % of the cost
    assert np.mean(values > 3.0 * np.array(errors) + 1e-9) <= 0.05


def test_no_test_is_worth_more_than_knowing_everything():
    for seed in range(10):
        ground, decision = some_decision(seed)
        for scatter in (0.05, 0.3, 1.0, 5.0):
            assert (
                value_of_outcome(decision, reading_of(ground, scatter, seed)).saving <= decision.knowing_all
            )


def test_sharper_and_repeated_readings_are_worth_more_until_the_shared_error_is_left():
    ground, decision = some_decision(5)
    rough, sharp = (value_of_outcome(decision, reading_of(ground, t, 2)).saving for t in (1.0, 0.25))
    assert sharp > rough
    once, often = (
        value_of_outcome(decision, reading_of(ground, 1.0, 2, shared=0.5, count=n)).saving for n in (1, 400)
    )
    only_shared = value_of_outcome(decision, reading_of(ground, 0.5, 2)).saving
    assert once < often
    assert often == pytest.approx(only_shared, abs=2.0)  # two numbers bend the fit less than one


def test_nothing_is_gained_where_one_way_is_cheapest_and_never_fails():
    ground = standard_ground(6)
    gains = value_of_outcome(
        decided(ground, (80.0, 90.0, 100.0), (-9.0, -1.0, -2.0), 0.05), reading_of(ground, 0.3, 1)
    )
    assert gains.saving == 0.0
    assert set(gains.chosen.tolist()) == {0}


def test_no_outcome_leaves_the_choice_as_it_is():
    _, decision = some_decision(6)
    gains = value_of_outcome(decision, Outcome((), ()))
    assert set(gains.chosen.tolist()) == {decision.now}


def test_where_no_way_passes_a_test_may_find_one_that_does():
    # the only way fails one time in five; on a good reading it passes, and it was to be built all the same
    ground = standard_ground(3)
    alone = decided(ground, (100.0, 140.0), (-0.84, -1.0), 0.05, stands=False)
    assert not alone.passes.any()
    gains = value_of_outcome(alone, reading_of(ground, 0.3, 1))
    assert set(gains.chosen.tolist()) <= {0, 1}
    assert alone.now == 0


def test_a_passing_way_that_costs_less_in_all_is_no_merit_of_a_test():
    ground = standard_ground(2)
    # the cheapest that passes fails one time in thirty; for 1 more the next never does
    decision = decided(ground, (100.0, 101.0), (-1.83, -9.0), 0.05)
    assert decision.passes.all()
    assert (decision.ranked_first, decision.now) == (0, 1)
    assert decision.saved_at_once == pytest.approx(PUTTING_RIGHT * 100.0 * norm.cdf(-1.83) - 1.0, abs=0.6)


def test_scaling_all_costs_scales_the_saving():
    ground, decision = some_decision(7)
    outcome = reading_of(ground, 0.4, 3)
    once = value_of_outcome(decision, outcome)
    tenfold = value_of_outcome(replace(decision, losses=10.0 * decision.losses), outcome)
    assert tenfold.saving == pytest.approx(10.0 * once.saving)


def test_cost_in_money_is_the_price_and_what_the_weights_set_against_it():
    candidates = [
        Candidate(None, Merit(*row))
        for row in ((100.0, 20.0, 0.0, 2.0), (90.0, 60.0, 900.0, 3.0), (120.0, 30.0, 300.0, 1.0))
    ]
    cheapest, weighed = Merit(1.0, 0.0, 0.0, 0.0), Merit(2.0, 1.0, 0.5, 0.0)
    assert cost_in_money(candidates, cheapest) == pytest.approx([100.0, 90.0, 120.0])
    # median carbon 30 weighs half of the median price 100; median spoil of those that have any, 600, a quarter
    assert cost_in_money(candidates, weighed) == pytest.approx(
        [100.0 + 50.0 * 20 / 30, 90.0 + 100.0 + 25.0 * 1.5, 120.0 + 50.0 + 25.0 * 0.5]
    )
    for weights in (cheapest, weighed, Merit(0.0, 1.0, 0.0, 0.0)):
        order = np.argsort(weighted_cost(candidates, weights))
        assert np.array_equal(np.argsort(cost_in_money(candidates, weights)), order)


def test_a_second_answer_of_one_person_counts_for_a_third():
    # of two answers alike by half, together they count for 4/3 of one: so the second is fresh one time in three
    generator = np.random.default_rng(1)
    chances = np.vstack([np.full(200_000, 0.5), np.full(200_000, 0.5)])
    asked = Answers(chances, (0,))
    outcome = outcome_of([asked], [Answers(chances, (1,))], generator)
    (counts,) = outcome.answers
    steady = 0.5
    assert counts[1].mean() == pytest.approx(2.0 / 3.0 + steady / 3.0, abs=0.005)
