"""Figures as a person reads them."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.constants import convert_temperature

from earthfast.estimate import Meaning, Origin, Trail
from earthfast.stages.showing import digits, figure, in_shown_unit


@pytest.mark.parametrize(
    ("value", "scale", "text"),
    [
        (0.0, None, "0"),
        (1e-15, None, "0"),
        (0.004_27, None, "0.0043"),
        (3.456, None, "3.5"),
        (34.56, None, "35"),
        (1234.5, None, "1,234"),
        (-0.0003, 1.6, "0"),
        (-1.62, 1.6, "-1.6"),
    ],
)
def test_two_figures_are_enough_below_a_hundred(value, scale, text):
    assert digits(value, scale) == text


@pytest.mark.parametrize(
    ("value", "unit", "shown_in", "expected"),
    [
        (0.15, "m", "mm", 150.0),
        (34.0e3, "Pa", "kPa", 34.0),
        (0.0833, "-", "%", 8.33),
        (86400.0 * 40.0, "K s", "°C day", 40.0),
        (1.1574e-11, "m²/(K s)", "mm²/(K day)", 1.0),  # the conversion printed with the sheet's heave section
    ],
)
def test_conversion_happens_once_on_the_way_out(value, unit, shown_in, expected):
    assert in_shown_unit(value, unit, shown_in) == pytest.approx(expected, rel=1e-4)


def test_a_temperature_keeps_its_zero():
    assert in_shown_unit(10.0, "°C", "°C") == convert_temperature(50.0, "Fahrenheit", "Celsius")


def test_an_uncertain_figure_shows_its_band_and_a_sure_one_does_not():
    trail = Trail()
    trail.enter("sure", Meaning("Sure", "m", "mm"), 0.1, Origin.GIVEN)
    trail.enter("unsure", Meaning("Unsure", "m", "mm"), np.linspace(0.0, 1.0, 101), Origin.ASSUMED)
    assert figure(trail.figures["sure"]).text == "100 mm"
    assert figure(trail.figures["unsure"]).text == "500 mm (50 to 950)"


@pytest.mark.parametrize(
    ("value", "text"),
    [(0.64, "£0.64"), (1.6, "£1.60"), (0.0, "£0"), (12.4, "£12"), (215.52, "£216"), (5716.3, "£5,716")],
)
def test_money_is_written_as_a_buyer_writes_it(value, text):
    trail = Trail()
    trail.enter("price", Meaning("price", "GBP", "GBP"), value, Origin.GIVEN, "")
    assert figure(trail.figures["price"]).text == text
