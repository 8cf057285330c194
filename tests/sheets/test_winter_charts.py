"""The pictures of winters: one axis for all ways, every row drawn, units on the axes."""

from __future__ import annotations

import re
from importlib.resources import files

import pytest

from earthfast.job import read_job
from earthfast.sheets import Box, chart_svg
from earthfast.sheets.winter_charts import front_marks, frost_front_chart, lift_chart, lift_marks
from earthfast.stages.choose import choose_for


@pytest.fixture(name="choice", scope="module")
def _choice():
    job = files("earthfast.job") / "demonstrations" / "marl-lane-hall.toml"
    return choose_for(read_job(job.read_text(encoding="utf-8"))).answer.areas[0]


def titles(chart):
    return set(re.findall(r"'title': '([^']+)'", str(chart.to_dict())))


def test_front_is_drawn_under_every_way_on_one_axis(choice):
    marks = front_marks(choice)
    assert sorted({mark.way for mark in marks}) == list(
        "ABCDEFGH"[: len(choice.ways)]
    )  # as in the table above
    assert len({mark.winter for mark in marks}) == 1
    chart = frost_front_chart(choice, Box(170, 110))
    assert "frost depth (mm)" in titles(chart)
    encodings = [layer["encoding"] for layer in chart.to_dict()["layer"]]
    assert all(encoding["y"]["scale"]["reverse"] for encoding in encodings)  # deeper is lower


def test_front_starts_and_ends_with_thawed_ground(choice):
    for line in choice.winters:
        coldest = [row for row in line.front if row.winter == line.front[-1].winter]
        assert coldest[0].depth_mm == 0.0
        assert [row.day for row in coldest] == sorted(row.day for row in coldest)
        assert max(row.depth_mm for row in coldest) > 0.0


def test_lift_has_a_bar_for_every_winter_of_the_design_life(choice):
    line = choice.winters[0]
    marks = lift_marks(line)
    assert [mark.winter for mark in marks] == list(range(1, line.winters + 1))
    assert all(mark.low_mm <= mark.lift_mm <= mark.high_mm for mark in marks)
    assert "lift (mm)" in titles(lift_chart(line, Box(120, 70)))


def test_charts_name_the_shipped_typeface_and_are_the_same_each_time(choice):
    svg = chart_svg(frost_front_chart(choice, Box(170, 110)))
    assert set(re.findall(r'font-family="([^"]+)"', svg)) == {"Fira Sans"}
    assert svg == chart_svg(frost_front_chart(choice, Box(170, 110)))
    assert ">Jan</text>" in svg
