"""Links from index and cone to strength: limits and monotone laws; spreads; the equilibrium table."""

from __future__ import annotations

import numpy as np
import pytest

from earthfast.estimate import lognormal
from earthfast.ground import (
    CONE_EQUATIONS,
    ConeEquation,
    ConsistencyScheme,
    Protection,
    Thumb,
    WaterTable,
    combined_log_sd,
    consistency_bands,
    consistency_word,
    equilibrium_cbr,
    layered_cbr,
    low_values,
    suggested_points,
    tabulated_equilibrium_cbr,
    thumb_band,
    undrained_strength_from_liquidity,
    updated,
)
from earthfast.ground.spread import SpreadRow
from earthfast.sources import bibliography, read_table


@pytest.mark.parametrize("equation", ConeEquation)
def test_every_cone_equation_is_registered_and_falls_with_penetration(equation):
    cbr = CONE_EQUATIONS[equation](np.linspace(0.002, 0.08, 40))
    assert np.all(np.diff(cbr) < 0.0)


def test_strength_spans_a_factor_35_from_liquid_to_plastic_limit():
    at_limits = undrained_strength_from_liquidity(np.array([0.0, 1.0]))
    assert at_limits[0] / at_limits[1] == pytest.approx(35.0)
    assert at_limits[1] == pytest.approx(1700.0)


def test_equilibrium_cbr_is_no_better_with_high_water_or_poor_protection():
    index = np.linspace(0.0, 0.7, 71)
    for protection in Protection:
        high = equilibrium_cbr(index, 0.3, protection)
        low = equilibrium_cbr(index, 1.0, protection)
        assert np.all(low >= high)
    poor, average, good = (equilibrium_cbr(index, 0.5, protection) for protection in Protection)
    assert np.all(average >= poor)
    assert np.all(good >= average)
    assert np.all(equilibrium_cbr(index, 0.5, thickness=1.2) >= equilibrium_cbr(index, 0.5))


@pytest.mark.parametrize("protection", Protection)
def test_lower_water_or_thicker_paving_never_weakens_fine_soil(protection):
    index, thickness = np.arange(0.0, 0.71, 0.05)[:, None], np.array([0.2, 0.3, 0.75, 1.2, 1.5])
    low = tabulated_equilibrium_cbr(index, WaterTable.LOW, protection, thickness)
    high = tabulated_equilibrium_cbr(index, WaterTable.HIGH, protection, thickness)
    assert np.all(low >= high)
    assert np.all(np.diff(low, axis=1) >= 0.0)


def test_equilibrium_cbr_is_held_beyond_its_table():
    assert equilibrium_cbr(0.9) == equilibrium_cbr(0.7)
    assert equilibrium_cbr(0.3, 0.0) == equilibrium_cbr(0.3, 0.3)
    assert equilibrium_cbr(0.3, 5.0) == equilibrium_cbr(0.3, 1.0)


def test_layers_alike_have_the_cbr_of_each():
    assert layered_cbr(np.array([0.2, 0.3, 0.5]), np.full(3, 4.0)) == pytest.approx(4.0)


@pytest.mark.parametrize("scheme", ConsistencyScheme)
def test_words_of_every_scheme_rise_with_strength(scheme):
    bands = consistency_bands(scheme)
    assert list(bands.limits) == sorted(bands.limits)
    assert len(bands.words) == len(bands.limits) + 1
    middles = [0.5 * bands.limits[0], *(1.01 * limit for limit in bands.limits)]
    assert tuple(consistency_word(strength, scheme) for strength in middles) == bands.words


def test_thumb_bands_follow_one_another_without_gaps():
    bands = [thumb_band(thumb) for thumb in Thumb]
    assert bands[0].low == 0.0
    assert bands[-1].high == np.inf
    assert [b.high for b in bands[:-1]] == [b.low for b in bands[1:]]


def test_spread_never_falls_below_the_error_of_the_correlation():
    assert combined_log_sd(0.3, 0.15, 0.35, 1e9) == pytest.approx(0.35)


def test_updating_matches_the_worked_case_and_its_trap():
    prior = lognormal(3.0, 0.5)
    honest, trusting = (updated(prior, np.full(3, 5.0), 0.4, model) for model in (0.35, 0.0))
    assert honest.centre == pytest.approx(4.05, rel=0.005)
    assert honest.spread == pytest.approx(0.321, rel=0.005)
    assert trusting.centre == pytest.approx(4.57, rel=0.005)
    assert trusting.spread == pytest.approx(0.21, rel=0.005)


def test_low_mean_approaches_the_median_as_tests_pile_up():
    few, many = (low_values(np.tile([3.0, 4.0, 5.0], n)) for n in (1, 200))
    assert few.low_mean < many.low_mean < many.median


def test_more_ground_never_asks_for_fewer_points():
    areas = np.linspace(5.0, 20000.0, 2000)
    assert np.all(np.diff([suggested_points(float(area)) for area in areas]) >= 0)


def test_every_spread_names_its_source_and_its_three_values_rise():
    for row in read_table("ground_spread", SpreadRow).rows:
        assert row.source in bibliography()
        assert 0.0 < row.low <= row.typical <= row.high < 1.0
