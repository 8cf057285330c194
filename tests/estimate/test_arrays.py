"""Quantiles of draws against a general library."""

import numpy as np
import pytest

from earthfast.estimate.arrays import quantiles

SHARES = (0.0, 0.05, 0.3, 0.5, 0.95, 1.0)


@pytest.mark.parametrize("count", [1, 2, 3, 21, 256, 4096])
def test_quantiles_are_those_of_numpy(count):
    values = np.random.default_rng(count).lognormal(size=count)
    kept = values.copy()
    assert quantiles(values, SHARES) == pytest.approx(np.quantile(values, SHARES).tolist(), rel=1e-12)
    assert np.array_equal(values, kept)
