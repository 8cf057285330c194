"""Frost depths: limits, balances and agreement between methods."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from earthfast.frost import (
    berggren_correction,
    frost_depth_berggren,
    frost_depth_berggren_layered,
    frost_depth_stefan,
    frost_depth_stefan_layered,
    neumann_freezing,
    neumann_temperature,
)

DAY = 86400.0
SILT = (2.0, 1.4, 1.9e6, 2.7e6, 1.2e8, -8.0, 6.0, 0.0)


def test_heat_balances_at_the_exact_front():
    front = neumann_freezing(*SILT, 120 * DAY)
    balance = 2.0 * front.frozen_gradient - 1.4 * front.unfrozen_gradient - 1.2e8 * front.front_speed
    assert abs(float(balance)) < 1e-12


def test_exact_temperature_is_the_freezing_point_at_the_front():
    front = neumann_freezing(*SILT, 120 * DAY)
    for side in (1.0 - 1e-12, 1.0 + 1e-12):
        assert float(neumann_temperature(front.depth * side, *SILT, 120 * DAY)) == pytest.approx(
            0.0, abs=1e-10
        )


def test_exact_depth_tends_to_stefan_as_sensible_heat_vanishes():
    errors = []
    for capacity in (1e5, 5e4, 2.5e4):
        exact = neumann_freezing(2.0, 1.4, capacity, capacity, 1.2e8, -8.0, 0.0, 0.0, 120 * DAY).depth
        errors.append(float(1.0 - exact / frost_depth_stefan(8.0 * 120 * DAY, 2.0, 1.2e8)))
    assert errors[0] / errors[1] == pytest.approx(2.0, rel=0.01)
    assert errors[1] / errors[2] == pytest.approx(2.0, rel=0.01)


def test_exact_depth_grows_with_the_root_of_time():
    early, late = (neumann_freezing(*SILT, days * DAY).depth for days in (10.0, 40.0))
    assert float(late / early) == pytest.approx(2.0, rel=1e-13)


@settings(max_examples=60, deadline=None)
@given(st.floats(0.0, 5.0), st.floats(1e-4, 3.0))
def test_correction_is_the_ratio_of_exact_to_stefan_with_equal_properties(alpha, mu):
    latent = 2e6 * 10.0 / mu
    exact = neumann_freezing(1.5, 1.5, 2e6, 2e6, latent, -10.0, 10.0 * alpha, 0.0, 50 * DAY).depth
    stefan = frost_depth_stefan(10.0 * 50 * DAY, 1.5, latent)
    assert float(berggren_correction(alpha, mu)) == pytest.approx(float(exact / stefan), rel=1e-9)


@settings(max_examples=40, deadline=None)
@given(st.floats(0.0, 4.0), st.floats(1e-3, 2.0), st.floats(1.01, 2.0))
def test_warmer_ground_or_more_sensible_heat_never_deepens_frost(alpha, mu, factor):
    here = berggren_correction(alpha, mu)
    assert berggren_correction(alpha * factor, mu) <= here * (1 + 1e-12)
    assert berggren_correction(alpha, mu * factor) <= here * (1 + 1e-12)
    assert 0.0 < here <= 1.0


def test_correction_tends_to_one_without_sensible_heat():
    assert float(berggren_correction(0.0, 0.0)) == 1.0
    assert float(berggren_correction(0.5, 1e-12)) == pytest.approx(1.0, abs=1e-5)


def test_layers_alike_are_one_layer():
    single = frost_depth_berggren(500 * DAY, 95 * DAY, 7.0, 1.5, 2.2e6, 9e7)
    layered = frost_depth_berggren_layered(
        500 * DAY,
        95 * DAY,
        7.0,
        np.array([0.1, 0.2, 0.1, 5.0]),
        np.full(4, 1.5),
        np.full(4, 2.2e6),
        np.full(4, 9e7),
    )
    assert float(layered.depth) == pytest.approx(float(single.depth), rel=1e-8)
    assert layered.frozen_thickness.sum() == pytest.approx(float(layered.depth), rel=1e-12)
    stefan = frost_depth_stefan_layered(
        500 * DAY, np.array([0.1, 0.2, 0.1, 5.0]), np.full(4, 1.5), np.full(4, 9e7)
    )
    assert float(stefan) == pytest.approx(float(frost_depth_stefan(500 * DAY, 1.5, 9e7)), rel=1e-12)


def test_layered_methods_agree_when_there_is_no_sensible_heat():
    thickness, conductivity = np.array([0.08, 0.2, 1.0]), np.array([1.5, 1.9, 1.7])
    latent = np.array([6e6, 2.5e7, 1.15e8])
    stefan = frost_depth_stefan_layered(300 * DAY, thickness, conductivity, latent)
    berggren = frost_depth_berggren_layered(
        300 * DAY, 90 * DAY, 0.0, thickness, conductivity, np.zeros(3), latent
    )
    assert float(berggren.depth) == pytest.approx(float(stefan), rel=1e-8)


def test_index_spent_on_the_layers_is_the_index_there_was():
    frost = frost_depth_berggren_layered(
        700 * DAY,
        100 * DAY,
        6.0,
        np.array([0.1, 0.05, 0.3, 9.0]),
        np.array([1.6, 0.036, 2.0, 1.7]),
        np.array([2.1e6, 4.5e4, 1.8e6, 2.4e6]),
        np.array([0.0, 0.0, 2.5e7, 1.15e8]),
    )
    assert frost.index_used.sum() / DAY == pytest.approx(700.0, rel=1e-6)


def test_batches_give_what_single_columns_give():
    generator = np.random.default_rng(8)
    shape = (5, 7, 4)
    thickness = generator.uniform(0.02, 0.4, shape)
    conductivity, capacity = generator.uniform(1.0, 2.2, shape), generator.uniform(1.7e6, 2.6e6, shape)
    latent = generator.uniform(0.0, 1.2e8, shape)
    latent[..., 0] = 0.0
    index = generator.uniform(0.0, 900.0, (5, 1)) * DAY
    index[0] = 0.0
    together = frost_depth_berggren_layered(index, 90 * DAY, 7.0, thickness, conductivity, capacity, latent)
    for i, j in ((0, 0), (2, 3), (4, 6)):
        alone = frost_depth_berggren_layered(
            index[i, 0], 90 * DAY, 7.0, thickness[i, j], conductivity[i, j], capacity[i, j], latent[i, j]
        )
        assert float(together.depth[i, j]) == pytest.approx(float(alone.depth), abs=1e-8)


def test_a_winter_without_frost_freezes_nothing():
    column = (np.array([0.1, 1.0]), np.array([1.5, 1.5]), np.array([2e6, 2e6]), np.array([0.0, 1e8]))
    assert float(frost_depth_berggren_layered(0.0, 0.0, 9.0, *column).depth) == 0.0
    assert float(frost_depth_berggren(0.0, 0.0, 9.0, 1.5, 2e6, 1e8).depth) == 0.0
    assert float(frost_depth_stefan_layered(0.0, column[0], column[1], column[3])) == 0.0


def test_insulation_never_deepens_frost():
    depths = []
    for board in (0.0, 0.02, 0.04, 0.08):
        frost = frost_depth_berggren_layered(
            800 * DAY,
            120 * DAY,
            5.0,
            np.array([0.08, board, 5.0]),
            np.array([1.5, 0.036, 1.7]),
            np.array([2.1e6, 4.5e4, 2.4e6]),
            np.array([6e6, 0.0, 1.15e8]),
        )
        depths.append(float(frost.depth) - board)
    assert all(thin > thick for thin, thick in itertools.pairwise(depths))
