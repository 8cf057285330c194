"""Quantities as text: what is read, how a range becomes an estimate."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from earthfast.estimate import Family
from earthfast.job import Dimension, QuantityError, read_quantity


@pytest.mark.parametrize(
    ("text", "dimension", "low", "high"),
    [
        ("100 mm", Dimension.LENGTH, 0.1, 0.1),
        ("100mm", Dimension.LENGTH, 0.1, 0.1),
        (" 100  mm ", Dimension.LENGTH, 0.1, 0.1),
        ("1e2 mm", Dimension.LENGTH, 0.1, 0.1),
        ("+.1 m", Dimension.LENGTH, 0.1, 0.1),
        ("4 in", Dimension.LENGTH, 0.1016, 0.1016),
        ("1 1/2 in", Dimension.LENGTH, 0.0381, 0.0381),
        ("3/4 in", Dimension.LENGTH, 0.01905, 0.01905),
        ("1/2..3/4 in", Dimension.LENGTH, 0.0127, 0.01905),
        ("4..9 %", Dimension.FRACTION, 0.04, 0.09),
        ("4 .. 9%", Dimension.FRACTION, 0.04, 0.09),
        ("4..4 %", Dimension.FRACTION, 0.04, 0.04),
        ("600 ppm", Dimension.FRACTION, 0.0006, 0.0006),
        ("36 kN", Dimension.FORCE, 36000.0, 36000.0),
        ("1 t", Dimension.MASS, 1000.0, 1000.0),
        ("90 kg/m2", Dimension.AREAL_MASS, 90.0, 90.0),
        ("90 kg/m²", Dimension.AREAL_MASS, 90.0, 90.0),
        ("12 °C", Dimension.TEMPERATURE, 12.0, 12.0),
        ("12 degC", Dimension.TEMPERATURE, 12.0, 12.0),
        ("-5..3 °C", Dimension.TEMPERATURE, -5.0, 3.0),
        ("−5 °C", Dimension.TEMPERATURE, -5.0, -5.0),
        ("50 °F", Dimension.TEMPERATURE, 10.0, 10.0),
        ("7 °C", Dimension.TEMPERATURE_DIFFERENCE, 7.0, 7.0),
        ("6..8 K", Dimension.TEMPERATURE_DIFFERENCE, 6.0, 8.0),
        ("30 min", Dimension.DURATION, 1800.0, 1800.0),
        ("1 in 60", Dimension.FALL, 1 / 60, 1 / 60),
        ("1:60", Dimension.FALL, 1 / 60, 1 / 60),
        ("1 in 40..80", Dimension.FALL, 1 / 80, 1 / 40),
        ("1 in 80..1 in 40", Dimension.FALL, 1 / 80, 1 / 40),
        ("2.5 %", Dimension.FALL, 0.025, 0.025),
        ("1 in 100", Dimension.CHANCE, 0.01, 0.01),
        ("60 °C·day", Dimension.FROST_INDEX, 60 * 86400.0, 60 * 86400.0),
        ("2 per week", Dimension.FREQUENCY, 2 / 604800.0, 2 / 604800.0),
        ("860 kgCO2e/t", Dimension.CARBON_BY_MASS, 0.86, 0.86),
        ("0.17 kgCO2e/(t km)", Dimension.CARBON_BY_HAUL, 1.7e-7, 1.7e-7),
        ("0 mm", Dimension.LENGTH, 0.0, 0.0),
    ],
)
def test_text_is_read_by_the_definition_of_its_unit_and_kept_as_typed(text, dimension, low, high):
    quantity = read_quantity(text, dimension)
    assert quantity.low == pytest.approx(low, rel=1e-12)
    assert quantity.high == pytest.approx(high, rel=1e-12)
    assert quantity.text == text
    assert str(quantity) == text


def test_one_inch_is_a_length_and_one_in_sixty_is_none():
    assert read_quantity("1 in", Dimension.LENGTH).low == pytest.approx(0.0254)
    with pytest.raises(QuantityError, match="fall"):
        read_quantity("1 in 60", Dimension.LENGTH)


def test_signed_lengths_may_be_below_zero_where_asked_for():
    assert read_quantity("-2 m", Dimension.LENGTH, signed=True).low == -2.0


def test_range_is_the_5_to_95_percent_band():
    estimate = read_quantity("4..9 %", Dimension.FRACTION).estimate()
    assert estimate.family is Family.LOGNORMAL
    assert estimate.centre == pytest.approx(math.sqrt(0.04 * 0.09))  # median of a lognormal, geometric mean
    assert (estimate.low, estimate.high) == pytest.approx((0.04, 0.09))


def test_range_of_a_signed_quantity_is_a_normal_band():
    estimate = read_quantity("-5..3 °C", Dimension.TEMPERATURE).estimate()
    assert estimate.family is Family.NORMAL
    assert estimate.centre == pytest.approx(-1.0)
    assert estimate.spread == pytest.approx(8.0 / (2 * 1.6448536269514722))  # 95 % point of the normal


def test_single_value_has_no_spread():
    quantity = read_quantity("100 mm", Dimension.LENGTH)
    assert quantity.estimate().family is Family.EXACT
    assert not quantity.is_range


@given(st.floats(min_value=1e-6, max_value=1e6), st.floats(min_value=1.0, max_value=50.0))
def test_centre_lies_within_the_band_and_scales_with_the_unit(low, ratio):
    in_metres = read_quantity(f"{low!r}..{low * ratio!r} m", Dimension.LENGTH)
    in_millimetres = read_quantity(f"{low!r}..{low * ratio!r} mm", Dimension.LENGTH)
    assert in_metres.low <= in_metres.centre * (1 + 1e-12)
    assert in_metres.centre <= in_metres.high * (1 + 1e-12)
    assert in_metres.centre == pytest.approx(1000.0 * in_millimetres.centre)


NEAR_MISSES = st.text(alphabet="0123456789.,-+/:eE %inmkgft°C±~", max_size=24)


@settings(max_examples=600)
@given(st.text(max_size=80) | NEAR_MISSES, st.sampled_from(list(Dimension)))
def test_any_text_is_read_or_refused_in_words(text, dimension):
    refusal = quantity = None
    try:
        quantity = read_quantity(text, dimension)
    except QuantityError as error:
        refusal = error
    if quantity is None:
        assert refusal.found
        assert refusal.accepted
    else:
        assert math.isfinite(quantity.low)
        assert quantity.low <= quantity.high


@pytest.mark.parametrize("text", ["1½ in", "１２ mm", "١٢ mm", "0x10 mm", "1_000 mm", "5 ft 6 in", "5."])
def test_digits_that_only_a_computer_would_accept_are_refused(text):
    with pytest.raises(QuantityError):
        read_quantity(text, Dimension.LENGTH)
