"""Yearly and daily waves through layers against the independent transfer solution."""

from __future__ import annotations

import numpy as np
import pytest

from earthfast.frost import damping_depth, layered_wave, wave_amplitude

DAY = 86400.0
# period (d), thickness, conductivity, capacity, depths, amplitude ratios and lags (d), computed independently (C)
CASES = {
    "F-11-1": (
        365.0,
        [0.08, 0.25, 1.0],
        [1.3, 1.9, 1.4],
        [2.0e6, 1.8e6, 2.4e6],
        [0.08, 0.33, 1.0, 2.0],
        [0.96502043, 0.89428037, 0.67799614, 0.44849218],
        [2.05698, 6.48491, 22.56917, 46.57552],
    ),
    "F-11-2": (
        365.0,
        [0.10, 0.05, 1.0],
        [1.6, 0.036, 1.6],
        [2.1e6, 0.045e6, 2.4e6],
        [0.10, 0.15, 0.5, 1.0],
        [0.97550844, 0.47632593, 0.41605033, 0.34292991],
        [0.59790, 25.75458, 33.61415, 44.84209],
    ),
    "F-11-3": (
        1.0,
        [0.08, 0.20, 1.0],
        [1.5, 1.9, 1.4],
        [2.1e6, 1.8e6, 2.6e6],
        [0.04, 0.08, 0.15],
        [0.74669759, 0.55531544, 0.36778671],
        [0.04531, 0.09160, 0.15661],
    ),
}


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_wave_in_layers_has_the_independent_ratio_and_lag(case):
    period, thickness, conductivity, capacity, depths, ratios, lags = case
    columns = (np.array(values) for values in (depths, thickness, conductivity, capacity))
    wave = layered_wave(*columns, period * DAY)
    assert np.abs(wave) == pytest.approx(ratios, abs=1e-8)
    assert -np.angle(wave) * period / (2.0 * np.pi) == pytest.approx(lags, abs=6e-6)


def test_layers_alike_are_uniform_ground():
    depths = np.array([0.0, 0.2, 0.7, 2.0])
    wave = layered_wave(depths, np.array([0.3, 0.3, 1.0]), np.full(3, 1.5), np.full(3, 2.2e6), 365 * DAY)
    uniform = wave_amplitude(1.0, depths, damping_depth(1.5, 2.2e6, 365 * DAY))
    assert np.abs(wave) == pytest.approx(uniform, rel=1e-12)


def test_columns_side_by_side_are_each_on_their_own():
    generator = np.random.default_rng(2)
    thickness, conductivity = generator.uniform(0.05, 0.4, (5, 3)), generator.uniform(0.05, 2.0, (5, 3))
    capacity, depths = generator.uniform(1e6, 3e6, (5, 3)), generator.uniform(0.0, 2.0, (5, 4))
    together = layered_wave(depths, thickness, conductivity, capacity, 365 * DAY)
    for i in range(5):
        alone = layered_wave(depths[i], thickness[i], conductivity[i], capacity[i], 365 * DAY)
        assert together[i] == pytest.approx(alone, rel=1e-12)
