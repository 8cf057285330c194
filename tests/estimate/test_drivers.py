"""Which input drives a figure: against exact Sobol' indices and a general-purpose estimator."""

import numpy as np
import pytest
from scipy.special import ndtr
from scipy.stats import sobol_indices, uniform

from earthfast.estimate import Draws, Meaning, Origin, Trail, first_order_share


def uniforms(count=4096, columns=3):
    draws = Draws([str(n) for n in range(columns)], count, np.random.default_rng(4))
    return np.stack([ndtr(draws.normal(str(n))) for n in range(columns)])


def bent(x):
    """The test function sin x1 + 7 sin² x2 + 0.1 x3⁴ sin x1 on ±π: exact first-order indices 0.3139, 0.4424, 0."""
    return np.sin(x[0]) + 7.0 * np.sin(x[1]) ** 2 + 0.1 * x[2] ** 4 * np.sin(x[0])


EXACT = (0.3139, 0.4424, 0.0)


def test_shares_of_a_bent_function_are_its_exact_indices():
    x = np.pi * (2.0 * uniforms() - 1.0)
    found = [first_order_share(bent(x), one) for one in x]
    # bins of a thirty-second take a little off where the function turns within them
    assert found == pytest.approx(EXACT, abs=0.015)


def test_a_general_purpose_estimator_agrees():
    rng = np.random.default_rng(1)
    theirs = sobol_indices(func=bent, n=4096, dists=[uniform(-np.pi, 2 * np.pi)] * 3, rng=rng).first_order
    x = np.pi * (2.0 * uniforms() - 1.0)
    assert [first_order_share(bent(x), one) for one in x] == pytest.approx(theirs, abs=0.03)


@pytest.mark.parametrize("weights", [(1.0, 1.0, 1.0), (3.0, 1.0, 0.5), (1.0, 0.0, -2.0)])
def test_shares_of_a_sum_go_with_the_squares_of_its_weights(weights):
    x = np.random.default_rng(2).standard_normal((3, 4096))
    square = np.square(weights)
    found = [first_order_share(np.array(weights) @ x, one) for one in x]
    assert found == pytest.approx(square / square.sum(), abs=0.03)


def test_what_has_no_part_has_no_share():
    x = np.random.default_rng(3).standard_normal((2, 4096))
    assert first_order_share(x[0], x[1]) < 0.01
    assert first_order_share(np.ones(100), x[0, :100]) == 0.0


def test_a_cause_that_pushes_both_ways_is_seen():
    x = np.random.default_rng(3).standard_normal((2, 4096))
    assert first_order_share(np.abs(x[0]) + 0.01 * x[1], x[0]) > 0.9
    trail = Trail()
    meaning = Meaning("x", "-", "-")
    first, second = (trail.enter(f"x{n}", meaning, x[n], Origin.ASSUMED, "drawn") for n in (0, 1))
    trail.conclude("y", meaning, np.abs(x[0]) + 0.3 * x[1], (first, second), first_order_share)
    assert [one.key for one in trail.influences("y")] == ["x0", "x1"]
    assert trail.influences("y")[1].rising
