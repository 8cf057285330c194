"""The price-carbon chart: a mark a way, units on the axes, the front."""

from __future__ import annotations

import re

import pytest

from earthfast.sheets import Box, chart_svg, price_carbon_chart, way_marks
from earthfast.stages.answers import AreaChoice


@pytest.fixture(name="choice", scope="module")
def _choice(choose_answer) -> AreaChoice:
    return choose_answer.areas[0]


def test_each_way_is_a_mark_and_a_row(choice):
    marks = way_marks(choice)
    assert [mark.title for mark in marks] == [way.title for way in choice.ways]
    assert [mark.letter for mark in marks] == list("ABCDE")
    assert [mark.on_front for mark in marks] == [True, True, False, False, False]
    assert [mark.meets for mark in marks] == ["meets every target"] * 4 + ["falls short"]


def test_axis_titles_carry_units(choice):
    spec = price_carbon_chart(choice, "GBP", Box(88, 60)).to_dict()
    titles = set(re.findall(r"'title': '([^']+)'", str(spec)))
    assert {"price (GBP)", "carbon (kg CO₂e)"} <= titles


def test_chart_names_the_shipped_typeface_and_no_generic_family(choice):
    svg = chart_svg(price_carbon_chart(choice, "GBP", Box(88, 60)))
    families = set(re.findall(r'font-family="([^"]+)"', svg))
    assert families == {"Fira Sans"}
    assert svg == chart_svg(price_carbon_chart(choice, "GBP", Box(88, 60)))
    for letter in "ABCDE":
        assert f">{letter}</text>" in svg
