"""A way that would hold its water comes with the fall at which it would not."""

from __future__ import annotations

from importlib.resources import files

import pytest

from earthfast.checks import Method, time_to_soak_away
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


def said_of_rain(*replacements):
    text = (files("earthfast.job") / "demonstrations" / "fernhill-allotments.toml").read_text("utf-8")
    return [
        one
        for one in choose_for(read_job(text + "\n[choose]\n" + "\n".join(replacements))).answer.areas[0].says
        if "wet day" in one
    ]


def test_an_unbound_base_on_clay_is_told_to_have_an_outlet_and_a_bound_one_is_not():
    (sentence,) = said_of_rain('way = "stone-140"')
    assert "outlet" in sentence
    assert not said_of_rain('way = "lime-cement-80-100-6.5pc"')


def drained(*lines):
    text = (files("earthfast.job") / "demonstrations" / "fernhill-allotments.toml").read_text("utf-8")
    site = "\n".join(('winter_water_depth = "2 m"', *lines, "", "[site.climate]"))
    return read_job(text.replace("[site.climate]", site, 1) + '\n[choose]\nway = "stone-140"\n')


def test_rain_that_stands_is_designed_for_and_an_outlet_of_formation_spares_it():
    deep, care = choose_for(drained()), choose_for(drained('formation_care = "good"'))
    (sentence,) = (one for one in deep.answer.areas[0].says if "wet day" in one)
    assert "rain standing on formation" in sentence
    assert not any("wet day" in one for one in care.answer.areas[0].says)
    settled, kept = (
        next(
            check for check in choice.decisions[0].chosen.line.checks if check.name == "settlement"
        ).demand.value
        for choice in (deep, care)
    )
    assert settled > kept


@pytest.mark.slow
def test_build_asks_for_the_fall_of_formation_that_its_care_promises():
    from earthfast.stages.build import build_for

    steps = [step.step for step in build_for(drained('formation_care = "good"')).answer.areas[0].steps]
    assert any("Trim the formation to fall" in step for step in steps)
    without = [step.step for step in build_for(drained()).answer.areas[0].steps]
    assert not any("Trim the formation to fall" in step for step in without)


def test_sand_swallows_a_wet_day_within_the_hour_and_clay_does_not_within_a_month():
    # 25 mm of rain, a fifth through the joints: 5 mm at 1e-4 and at 1e-10 m/s (from memory, permeability bands, M)
    fast, slow = time_to_soak_away(0.025, 0.2, [1e-4, 1e-10])
    assert fast == pytest.approx(50.0)
    assert slow == pytest.approx(5e7)
