"""How long a call takes, told in plain work of the same run, so that a slow machine fails nothing by being slow."""

from __future__ import annotations

from time import thread_time

import numpy as np
import pytest


def _plain_work():
    """Processor time of some arithmetic on 4096 draws, two thousand times."""
    draws = np.random.default_rng(0).standard_normal(4096)
    began = thread_time()
    for _ in range(2000):
        total = np.exp(0.3 * draws) + draws * draws
        total[total > 1.0].mean()
    return thread_time() - began


@pytest.fixture
def cost_of():
    """Give how many times as long as plain work a call takes, the work done before it and after.

    The limits are our own: about twice what was measured when they were set. Seconds are the matter of the benchmarks.
    """

    def cost(call):
        before = _plain_work()
        began = thread_time()
        call()
        spent = thread_time() - began
        return 2.0 * spent / (before + _plain_work())

    return cost
