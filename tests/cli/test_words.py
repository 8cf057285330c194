"""What the verbs print, read as a person reads it: figures, hints that can be typed, nothing said twice."""

from __future__ import annotations

import re
import shlex

import pytest

from earthfast.checks import restraints
from earthfast.stages.answers import BuildAnswer, ChooseAnswer

VERBS = ("look", "choose", "try", "build")
UGLY = {
    "a figure with an exponent": r"\de[+-]\d",
    "one of several": r"(?<![\d.])\b1 (?:days|trips|pieces|readings|hours|bags)\b",
    "a plural in brackets": r"\(s\)",
    "tenths of a per cent that say nothing": r"\b\d+\.0%",
    "one decimal of money": r"[£$€][\d,]+\.\d(?!\d)",
    "a square written m2": r"\bm[23]\b",
    "nothing with a unit of money": r"[£$€]0(?![.\d])(?! )",
}


def printed(run, verb, path, tmp_path):
    more = ("--into", tmp_path / "sheets") if verb == "build" else ()
    return run(verb, path, *more).out


@pytest.mark.slow
@pytest.mark.parametrize("verb", VERBS)
def test_no_figure_is_ugly(run, job_path, tmp_path, verb):
    text = printed(run, verb, job_path, tmp_path)
    found = {name: match[0] for name, pattern in UGLY.items() if (match := re.search(pattern, text))}
    assert found == {}


@pytest.mark.slow
@pytest.mark.parametrize("verb", VERBS)
def test_no_caution_is_said_twice(run, job_path, tmp_path, verb):
    text = " ".join(printed(run, verb, job_path, tmp_path).split())
    cautions = re.findall(r"! (.+?)(?= ! | Assumed | Wrote |$)", text)
    assert len(cautions) == len(set(cautions))


@pytest.mark.slow
def test_the_hint_to_trace_a_figure_can_be_typed(run, allotment):
    hint = re.search(r"Trace a figure with:\n +earthfast (why .+)", run("choose", allotment).out)
    traced = run(*shlex.split(hint[1]))
    assert traced.status == 0
    assert "Chance of failure" in traced.out


def test_the_keys_of_other_ways_are_shown_and_can_be_named(run, allotment):
    text = " ".join(run("choose", allotment).out.split())
    named = re.search(r'write under \[choose\] in the job file: way = "([^"]+)"', text)
    job = allotment.read_text(encoding="utf-8")
    allotment.write_text(
        job.replace("[weights]", f'[choose]\nway = "{named[1]}"\n\n[weights]'), encoding="utf-8"
    )
    answer = ChooseAnswer.model_validate_json(run("choose", allotment, "--json").out)
    assert answer.areas[0].chosen == named[1]


@pytest.mark.slow
def test_why_shows_the_keys_of_what_a_figure_rests_on(run, allotment):
    chosen = ChooseAnswer.model_validate_json(run("choose", allotment, "--json").out).areas[0]
    key = next(way for way in chosen.ways if way.key == chosen.chosen).checks[0].key
    text = run("why", allotment, key).out
    rests_on = re.search(r"from [^\[]+\[([^\]]+)\]", " ".join(text.split()))
    assert run("why", allotment, rests_on[1]).status == 0


def test_build_names_the_keys_where_no_way_passes(run, allotment, tmp_path):
    job = allotment.read_text(encoding="utf-8")
    strict = '[choose]\ndeepest_dig = "220 mm"\n\n[choose.chance]\nfrost = "1 in 100000"\n\n[weights]'
    allotment.write_text(job.replace("[weights]", strict), encoding="utf-8")
    ran = run("build", allotment, "--into", tmp_path / "sheets")
    assert ran.status == 1
    assert re.search(r"`way` under \[choose\] with its key, one of stone-", ran.err)


@pytest.mark.slow
def test_a_gravel_top_is_bought_edged_and_raked_and_gets_no_paving_steps(run, allotment, tmp_path):
    job = allotment.read_text(encoding="utf-8")
    flags = job[job.index("[use.paving]") : job.index('[[use]]\nname = "path"')]
    gravel = job.replace(flags, '[use.paving]\nkind = "gravel"\nthickness = "50 mm"\n\n', 1)
    allotment.write_text(gravel, encoding="utf-8")
    text = run("build", allotment, "--into", tmp_path / "sheets", "--json").out
    area = BuildAnswer.model_validate_json(text).areas[0]
    steps = [step.step for step in area.steps]
    assert "Spread the loose layer on top and rake it level." in steps
    assert not any(step.startswith(("Screed", "Lay, cut", "Fill the joints")) for step in steps)
    assert area.courses[0].thickness_mm == 50.0
    assert any(step.startswith(f"Set the edging {restraints()[0].words}.") for step in steps)
    assert area.courses[0].material == "gravel"
    assert "decorative gravel" in text
