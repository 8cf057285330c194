"""A way that would hold its water comes with the fall at which it would not."""

from __future__ import annotations

from importlib.resources import files

import pytest

from earthfast.checks import Method
from earthfast.job import read_job
from earthfast.stages.choose import choose_for

FALLS = '[site.falls]\navailable = "1 in 40"\nwanted = "1 in 60"'


def said_of_sand(falls):
    text = (files("earthfast.job") / "demonstrations" / "fernhill-allotments.toml").read_text("utf-8")
    area = choose_for(read_job(text.replace(FALLS, falls))).answer.areas[0]
    sand = next(way for way in area.ways if way.method == Method.SAND_BED)
    passes = next(check for check in sand.checks if check.name == "drainage").passes
    return passes, [sentence for sentence in area.says if "shed its water" in sentence]


def test_the_fall_named_is_one_at_which_it_passes():
    passes, (sentence,) = said_of_sand(FALLS)
    assert not passes
    assert "1 in 40" in sentence
    passes, sentences = said_of_sand(FALLS.replace("1 in 60", "1 in 40"))
    assert passes
    assert not sentences


@pytest.mark.parametrize(
    ("available", "words"), [("1 in 30", "the levels allow"), ("1 in 50", "outlet instead")]
)
def test_what_the_levels_allow_is_held_against_it(available, words):
    _, (sentence,) = said_of_sand(FALLS.replace("1 in 40", available))
    assert words in sentence
