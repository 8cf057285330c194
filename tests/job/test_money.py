"""Amounts and prices."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from earthfast.job import Per, QuantityError
from earthfast.job.money import read_money, read_price


@pytest.mark.parametrize("text", ["£7.50", "7.50 GBP", "7.50GBP", "7.50 £", " £ 7.50 "])
def test_money_is_read_with_a_sign_or_a_code(text):
    money = read_money(text)
    assert (money.currency, money.low, money.high, str(money)) == ("GBP", 7.5, 7.5, text)


@pytest.mark.parametrize(
    ("text", "currency", "per", "low", "high"),
    [
        ("60 GBP/t", "GBP", Per.MASS, 0.060, 0.060),
        ("0.06 GBP/kg", "GBP", Per.MASS, 0.06, 0.06),
        ("12..28 USD/short ton", "USD", Per.MASS, 12 / 907.18474, 28 / 907.18474),
        ("85 GBP/day", "GBP", Per.DAY, 85.0, 85.0),
        ("£7.50/bag", "GBP", Per.BAG, 7.5, 7.5),
        ("£7.50 per bag", "GBP", Per.BAG, 7.5, 7.5),
        ("320 GBP each", "GBP", Per.EACH, 320.0, 320.0),
        ("320 GBP", "GBP", Per.EACH, 320.0, 320.0),
        ("250..450 GBP/skip", "GBP", Per.EACH, 250.0, 450.0),
        ("100 EUR/m3", "EUR", Per.VOLUME, 100.0, 100.0),
        ("0.10 EUR/L", "EUR", Per.VOLUME, 100.0, 100.0),
        ("0.8..1.5 GBP/m²", "GBP", Per.AREA, 0.8, 1.5),
        ("2 USD/ft", "USD", Per.LENGTH, 2 / 0.3048, 2 / 0.3048),
        ("40 EUR/h", "EUR", Per.HOUR, 40.0, 40.0),
    ],
)
def test_price_is_brought_to_one_of_what_it_buys(text, currency, per, low, high):
    price = read_price(text.replace(" each", "/each"))
    assert (price.currency, price.per) == (currency, per)
    assert (price.low, price.high) == pytest.approx((low, high), rel=1e-12)


def test_price_range_is_the_5_to_95_percent_band():
    estimate = read_price("50..75 GBP/bag").estimate()
    assert (estimate.low, estimate.high) == pytest.approx((50.0, 75.0))


@given(st.text(max_size=40))
def test_any_text_is_read_or_refused_in_words(text):
    for read in (read_money, read_price):
        refusal = ""
        try:
            read(text)
        except QuantityError as error:
            refusal = str(error)
        assert refusal == "" or "accepted" in refusal
