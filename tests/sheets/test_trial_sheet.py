"""The trial sheet and its charts: units on the axes, the shipped typeface, the same bytes, nothing fetched."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path

import pytest

from earthfast.job import read_job
from earthfast.sheets.charts import chart_svg
from earthfast.sheets.ink import Box
from earthfast.sheets.strength_chart import name_labels, strength_chart, write_strength_charts
from earthfast.sheets.trial_sheet import write_trial_sheet
from earthfast.stages.try_ import try_for

BASE = (Path(__file__).parents[1] / "job" / "base_job.toml").read_text(encoding="utf-8")


@cache
def answer(*, with_specimens):
    text = (
        BASE if with_specimens else BASE[: BASE.index("[[trial.specimen]]")] + BASE[BASE.index("[weights]") :]
    )
    return try_for(read_job(text)).answer


def test_axis_titles_carry_units_and_every_specimen_is_a_mark():
    curve = answer(with_specimens=True).strength_by_dose
    spec = strength_chart(curve, Box(88, 66)).to_dict()
    titles = set(re.findall(r"'title': '([^']+)'", str(spec)))
    assert {"dose (% of dry soil)", "strength (MPa)"} <= titles
    assert len(curve.marks) == answer(with_specimens=True).used


def test_chart_names_the_shipped_typeface_alone(tmp_path):
    svg = chart_svg(strength_chart(answer(with_specimens=True).strength_by_age, Box(88, 66)))
    assert set(re.findall(r'font-family="([^"]+)"', svg)) == {"Fira Sans"}
    write_strength_charts(answer(with_specimens=True), tmp_path / "q.svg")
    assert sorted(file.name for file in tmp_path.iterdir()) == ["q-age.svg", "q.svg"]


@pytest.mark.parametrize("with_specimens", [True, False])
def test_sheet_is_the_same_bytes_twice(tmp_path, with_specimens):
    for name in ("a.pdf", "b.pdf"):
        write_trial_sheet(answer(with_specimens=with_specimens), tmp_path / name)
    assert (tmp_path / "a.pdf").read_bytes() == (tmp_path / "b.pdf").read_bytes()


@pytest.mark.parametrize("with_specimens", [True, False])
def test_page_says_what_the_answer_says_and_fetches_nothing(tmp_path, with_specimens):
    found = answer(with_specimens=with_specimens)
    write_trial_sheet(found, tmp_path / "t.html")
    page = (tmp_path / "t.html").read_text(encoding="utf-8")
    assert found.headline in page
    assert not re.findall(r"(?:href|src)=\"https?:", page)
    assert ("Make this one next" in page) == with_specimens
    assert ("What the plan will leave uncertain" in page) != with_specimens
    for line in found.doses:
        assert line.laboratory_28.text in page


def test_names_of_specimens_that_stand_together_share_one_label():
    height = 140.0
    curve = answer(with_specimens=True).strength_by_dose
    (mark, *_), at = curve.marks, 4.0
    strengths = (1.0, 1.01, 1.02, 1.03, 5.0)
    crowd = tuple(
        mark.model_copy(update={"at": at, "strength_mpa": strength, "name": str(number)})
        for number, strength in enumerate(strengths, start=1)
    )
    labels = name_labels(curve.model_copy(update={"marks": crowd}), height)
    assert [label.text for label in labels] == ["1–4", "5"]
    assert [label.at for label in labels] == [at, at]
    assert [label.strength_mpa for label in labels] == pytest.approx([1.015, 5.0], rel=1e-3)
