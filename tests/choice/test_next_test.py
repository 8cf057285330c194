"""The value of a test against the exact value where there is one, and the laws it must keep."""

import numpy as np
import pytest
from scipy.stats import norm

from earthfast.choice import Outcome, outcome_of, value_of_outcome
from earthfast.estimate import Answers, Numbers
from earthfast.estimate.evidence import LAPSE

DRAWS = 4096


def exact_value(mean, sd, scatter):
    """Two ways, one costing 0 and one costing N(mean, sd²), and one reading of the latter with a normal scatter.

    Exact (raiffa_schlaifer_1961, unit normal loss): V = s (φ(u) - u Φ(-u)), s = sd²/√(sd² + scatter²), u = |mean|/s.
    """
    told = sd**2 / np.hypot(sd, scatter)
    u = abs(mean) / told
    return told * (norm.pdf(u) - u * norm.sf(u))


def two_ways(seed, mean, sd):
    cost = np.random.default_rng(seed).standard_normal(DRAWS)
    cost = (
        mean + sd * (cost - cost.mean()) / cost.std()
    )  # else choosing now would profit from the draws' own mean
    return cost, np.vstack([np.zeros(DRAWS), cost])


def reading_of(cost, scatter, seed, shared=0.0, count=1):
    return outcome_of([Numbers(np.zeros(count), cost, scatter, shared)], [], np.random.default_rng(seed))


@pytest.mark.parametrize("mean", [-1.0, 0.0, 0.5, 1.5])
@pytest.mark.parametrize("scatter", [0.3, 1.0, 3.0])
def test_two_ways_and_a_normal_reading_come_to_the_exact_value(mean, scatter):
    misses, errors = [], []
    for seed in range(8):
        cost, losses = two_ways(seed, mean, 1.0)
        gains = value_of_outcome(losses, reading_of(cost, scatter, 100 + seed))
        misses.append(gains.saving - exact_value(mean, 1.0, scatter))
        errors.append(gains.standard_error)
    # a thousandth of the spread: what wrong turns of the fit at rare outcomes may cost
    assert abs(np.mean(misses)) < 2.0 * np.sqrt(np.mean(np.square(errors)) / 8) + 1e-3


def test_a_reading_after_others_is_worth_what_exact_normal_updating_says():
    # the ground N(0, 1), readings with a shared error 0.8 and scatter 0.6, four made with mean 0.2
    shared, scatter, made, mean = 0.8, 0.6, 4, 0.2
    prior = np.diag([1.0, shared**2])
    aim = np.array([1.0, 1.0])
    gain = prior @ aim / (aim @ prior @ aim + scatter**2 / made)
    middle, spread = gain * mean, prior - np.outer(gain, aim @ prior)
    of_reading = aim @ spread @ aim + scatter**2
    told = (spread @ aim)[0] / np.sqrt(of_reading)
    u = abs(middle[0]) / told
    exact = told * (norm.pdf(u) - u * norm.sf(u))
    misses, errors = [], []
    for seed in range(8):
        cost, losses = two_ways(seed, middle[0], np.sqrt(spread[0, 0]))
        seen = Numbers(np.full(made, mean), cost, scatter, shared)
        outcome = outcome_of(
            [Numbers(np.zeros(1), cost, scatter, shared)], [seen], np.random.default_rng(seed + 50)
        )
        (values,) = outcome.numbers
        assert np.var(values) == pytest.approx(of_reading, rel=0.1)
        gains = value_of_outcome(losses, outcome)
        misses.append(gains.saving - exact)
        errors.append(gains.standard_error)
    assert abs(np.mean(misses)) < 2.0 * np.sqrt(np.mean(np.square(errors)) / 8)


@pytest.mark.parametrize("right", [0.6, 0.9])
def test_a_yes_or_no_answer_comes_to_the_exact_value(right):
    generator = np.random.default_rng(1)
    yes = generator.random(DRAWS) < 0.5
    losses = np.vstack([np.zeros(DRAWS), np.where(yes, 1.0, -1.0)])
    chances = np.where(yes, right, 1.0 - right)
    outcome = outcome_of([Answers(np.vstack([1.0 - chances, chances]), (0,))], [], generator)
    gains = value_of_outcome(losses, outcome)
    steady = (1.0 - LAPSE) * right + 0.5 * LAPSE
    exact = (2.0 * steady - 1.0) / 2.0  # of a fair coin that costs +1 or -1, answered rightly so often
    # the draws are not exactly half and half, which moves the cost of choosing now
    uneven = abs(losses[1].mean())
    assert abs(gains.saving - exact) < 2.0 * gains.standard_error + uneven


def test_weighing_all_draws_by_the_likelihood_agrees():
    # costs with a threshold in them, three ways; the second method weighs draws by each simulated outcome
    generator = np.random.default_rng(4)
    strength = np.exp(0.6 * generator.standard_normal(DRAWS))
    losses = np.vstack(
        [price * (1.0 + 1.5 * (strength < need)) for price, need in ((90.0, 1.0), (105.0, 0.7), (125.0, 0.4))]
    )
    piece = Numbers(np.zeros(1), np.log(strength), 0.25, 0.2)
    gains = value_of_outcome(losses, outcome_of([piece], [], generator))
    after = []
    for truth in generator.choice(DRAWS, 1500, replace=False):
        told = piece.simulated(int(truth), generator).log_likelihood()
        weights = np.exp(told - told.max())
        after.append((losses @ weights / weights.sum()).min())
    weighed = losses.mean(axis=1).min() - np.mean(after)
    error = np.hypot(gains.standard_error, np.std(after) / np.sqrt(len(after)))
    assert gains.saving > 10.0 * gains.standard_error
    assert abs(gains.saving - weighed) < 2.5 * error


def some_losses(seed):
    generator = np.random.default_rng(seed)
    strength = generator.standard_normal(DRAWS)
    prices = np.array([90.0, 95.0, 100.0, 130.0])
    needs = np.array([0.5, 0.0, -0.6, -1.5])
    return strength, prices[:, None] * (1.0 + 1.5 * (strength[None, :] < needs[:, None]))


def test_a_test_of_something_else_is_worth_nothing():
    values, errors = [], []
    for seed in range(20):
        _, losses = some_losses(seed)
        elsewhere = np.random.default_rng(900 + seed)
        other = elsewhere.standard_normal(DRAWS)
        chances = np.vstack([np.full(DRAWS, 0.3), np.full(DRAWS, 0.7)])
        outcome = outcome_of([Numbers(np.zeros(1), other, 0.2, 0.1), Answers(chances, (0,))], [], elsewhere)
        gains = value_of_outcome(losses, outcome)
        values.append(gains.saving)
        errors.append(gains.standard_error)
        assert gains.saving < 3.0 * gains.standard_error + 1e-9
    assert np.mean(values) < 2.0 * np.mean(errors) / np.sqrt(20)
    assert np.mean(values) > -1.0  # 1 % of the cost


def test_no_test_is_worth_more_than_knowing_all_and_none_less_than_nothing():
    for seed in range(10):
        strength, losses = some_losses(seed)
        all_known = losses.mean(axis=1).min() - losses.min(axis=0).mean()
        for scatter in (0.05, 0.3, 1.0, 5.0):
            gains = value_of_outcome(losses, reading_of(strength, scatter, seed))
            assert gains.saving <= all_known
            assert gains.saving > -2.0 * gains.standard_error - 0.1


def test_a_reading_without_error_comes_close_to_knowing_all():
    strength, losses = some_losses(3)
    all_known = losses.mean(axis=1).min() - losses.min(axis=0).mean()
    gains = value_of_outcome(losses, reading_of(strength, 1e-3, 1))
    assert gains.saving > 0.75 * all_known  # a smooth fit cannot follow the steps to the end


def test_sharper_and_repeated_readings_are_worth_more_until_the_shared_error_is_left():
    strength, losses = some_losses(5)
    rough, sharp = (value_of_outcome(losses, reading_of(strength, t, 2)).saving for t in (1.0, 0.25))
    assert sharp > rough
    once, often = (
        value_of_outcome(losses, reading_of(strength, 1.0, 2, shared=0.5, count=n)).saving for n in (1, 400)
    )
    only_shared = value_of_outcome(losses, reading_of(strength, 0.5, 2)).saving
    assert once < often
    assert often == pytest.approx(only_shared, abs=0.9)


def test_nothing_is_gained_where_one_way_is_best_whatever_comes():
    strength, losses = some_losses(6)
    gains = value_of_outcome(np.vstack([losses, np.full(DRAWS, 10.0)]), reading_of(strength, 0.3, 1))
    assert gains.saving == 0.0
    assert set(gains.chosen.tolist()) == {len(losses)}  # the last, which costs little and never fails


def test_no_outcome_leaves_the_choice_as_it_is():
    _, losses = some_losses(6)
    gains = value_of_outcome(losses, Outcome((), ()))
    assert abs(gains.saving) < 1e-9


def test_scaling_all_costs_scales_the_saving():
    strength, losses = some_losses(7)
    outcome = reading_of(strength, 0.4, 3)
    once, tenfold = value_of_outcome(losses, outcome), value_of_outcome(10.0 * losses, outcome)
    assert tenfold.saving == pytest.approx(10.0 * once.saving)


def test_a_second_answer_of_one_person_counts_for_a_third():
    # of two answers alike by half, together they count for 4/3 of one: so the second is fresh one time in three
    generator = np.random.default_rng(1)
    chances = np.vstack([np.full(200_000, 0.5), np.full(200_000, 0.5)])
    asked = Answers(chances, (0,))
    outcome = outcome_of([asked], [Answers(chances, (1,))], generator)
    (counts,) = outcome.answers
    steady = 0.5
    assert counts[1].mean() == pytest.approx(2.0 / 3.0 + steady / 3.0, abs=0.005)
