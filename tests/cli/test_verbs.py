"""The verbs as a person meets them: what they print, where, and how they end."""

from __future__ import annotations

import json
import os
import shlex
import subprocess
import sys

import pytest
from pypdf import PdfReader

from earthfast.cli.verbs import VERBS
from earthfast.stages.answers import (
    BuildAnswer,
    ChooseAnswer,
    FailureAnswer,
    FiguresAnswer,
    LookAnswer,
    WhyAnswer,
)

ANSWERS = {"look": LookAnswer, "choose": ChooseAnswer}


def test_help_lists_every_verb(run):
    ran = run("--help")
    assert ran.status == 0
    assert all(verb in ran.out for verb in VERBS)


def test_every_verb_has_help(run):
    for verb in VERBS:
        assert run(verb, "--help").status == 0


@pytest.mark.parametrize("verb", ANSWERS)
def test_json_is_one_document_of_the_published_shape(run, job_path, verb):
    ran = run(verb, job_path, "--json")
    answer = ANSWERS[verb].model_validate_json(ran.out)
    assert answer.verb == verb
    assert ran.status == answer.exit_status
    assert ran.err == ""


def test_a_readable_answer_starts_with_a_sentence_and_says_that_figures_are_invented(run, allotment):
    ran = run("choose", allotment)
    assert ran.out.startswith("Base: ")
    assert "invented" in ran.out
    assert "Assumed" in ran.out
    assert "\x1b[" not in ran.out


@pytest.mark.slow
def test_build_writes_three_sheets_and_names_them(run, allotment, tmp_path):
    folder = tmp_path / "sheets"
    ran = run("build", allotment, "--into", folder, "--json")
    answer = BuildAnswer.model_validate_json(ran.out)
    assert ran.status == answer.exit_status
    assert {path.name.rpartition("-")[2] for path in folder.iterdir()} == {
        "comparison.pdf",
        "build.pdf",
        "calculation.pdf",
    }
    leaf = PdfReader(folder / "fernhill-allotments-build.pdf").pages
    assert len(leaf) == 2  # two treated areas: one A4, front and back
    front, back = (" ".join(page.extract_text().split()) for page in leaf)
    assert "Fernhill allotments" in front
    for area in answer.areas:
        for bay in area.bays:
            assert bay.bags in front
            assert f"{bay.spread_kg_per_m2:.1f} kg/m²" in front
        for step in area.steps:
            assert step.step in back
    for line in answer.safety:
        assert line.text in back
    for path in folder.iterdir():
        for page in PdfReader(path).pages:
            assert "figures on this sheet are invented" in page.extract_text()


@pytest.mark.slow
def test_why_traces_a_chance_to_its_sources(run, allotment):
    chosen = ChooseAnswer.model_validate_json(run("choose", allotment, "--json").out).areas[0]
    key = next(way for way in chosen.ways if way.key == chosen.chosen).checks[0].key
    ran = run("why", allotment, key, "--json")
    answer = WhyAnswer.model_validate_json(ran.out)
    assert ran.status == 0
    assert answer.steps[0].figure.key == key
    assert any(step.origin == "from the observations" for step in answer.steps)
    assert all(source.citation for step in answer.steps for source in step.sources)


@pytest.mark.slow
def test_why_without_a_figure_lists_keys_and_an_unknown_one_is_refused(run, allotment):
    listed = run("why", allotment)
    assert listed.status == 0
    assert "bearing.chance" in listed.out
    refused = run("why", allotment, "no-such-figure")
    assert refused.status == 2
    assert "no-such-figure" in refused.err
    assert "Traceback" not in refused.err


SIZED = ("--length", "5 m", "--width", "3 m", "--load", "person", "--thumb", "3")


@pytest.mark.slow
def test_new_writes_a_job_that_runs_and_never_overwrites(run, tmp_path):
    path = tmp_path / "patio.toml"
    assert run("new", path, *SIZED).status == 0
    before = path.read_text(encoding="utf-8")
    assert "thumb goes in with moderate effort" in before
    assert run("look", path).status in {0, 1}
    assert run("choose", path).status in {0, 1}
    again = run("new", path, *SIZED)
    assert again.status == 2
    assert path.read_text(encoding="utf-8") == before


def test_new_adds_the_ending_and_its_hint_can_be_typed(run, tmp_path):
    ran = run("new", tmp_path / "my patio", *SIZED)
    path = tmp_path / "my patio.toml"
    assert path.exists()
    typed = shlex.split(ran.out.partition("then: earthfast ")[2])
    assert typed == ["look", str(path)]


def test_new_without_a_terminal_makes_nothing_up(run, tmp_path):
    ran = run("new", tmp_path / "patio.toml", "--length", "5 m")
    assert ran.status == 2
    assert all(f"{flag}: found nothing; accepted: " in ran.err for flag in ("--width", "--load", "--thumb"))
    assert "--length: found" not in ran.err
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize(
    ("flag", "typed", "told"),
    [
        ("--length", "3", "--length: found '3', a number without a unit; accepted: a length in mm"),
        ("--width", "3 kg", "--width: found '3 kg', a mass; accepted: a length in mm"),
        ("--load", "garden shed", "did you mean 'tool store'?"),
        ("--load", "wheelie bin", "did you mean 'wheeled bin'?"),
        ("--thumb", "7", "--thumb: found '7'; accepted: one of 'fist goes in'"),
    ],
)
def test_new_complains_in_the_words_of_its_flags(run, tmp_path, flag, typed, told):
    ran = run("new", tmp_path / "patio.toml", *SIZED, flag, typed)
    assert ran.status == 2
    assert told in " ".join(ran.err.split())
    assert flag in ran.err
    assert "line" not in ran.err
    assert not list(tmp_path.iterdir())


def test_a_name_with_spaces_is_told_to_want_quotes(run):
    ran = run("look", "my", "patio.toml")
    assert ran.status == 2
    assert "in quotes" in ran.err


def test_a_bad_job_ends_with_status_two_and_says_where(run, tmp_path):
    path = tmp_path / "bad.toml"
    path.write_text('schema_version = 1\n[job]\ntitle = "x"\n[[plan.area]]\nname = "a"\nlength = "4 kg"\n')
    for verb in ("look", "choose", "build", "why"):
        ran = run(verb, path)
        assert ran.status == 2
        assert "plan.area" in ran.err
        assert "4 kg" in ran.err
        assert "Traceback" not in ran.err
        assert ran.out == ""


def test_with_json_a_bad_job_gives_one_document_with_every_problem(run, tmp_path):
    path = tmp_path / "bad.toml"
    path.write_text('schema_version = 1\n[job]\ntitel = "x"\n[[plan.area]]\nname = "a"\nlength = "4 kg"\n')
    for verb in ("look", "choose", "build", "try", "why"):
        ran = run(verb, path, "--json")
        answer = FailureAnswer.model_validate_json(ran.out)
        assert (ran.status, ran.err) == (2, "")
        assert (answer.verb, answer.file, answer.exit_status) == (verb, str(path), 2)
        (length,) = [one for one in answer.problems if one.field == "plan.area[1].length"]
        assert (length.line, length.found) == (6, "'4 kg', a mass")
        assert length.accepted.startswith("a length")
        assert any(one.field == "job.titel" for one in answer.problems)


@pytest.mark.parametrize(
    ("words", "field", "found"),
    [
        (("look", "no-such.toml"), "JOB.toml", "does not exist"),
        (("look", "JOB", "--bogus"), "--bogus", "No such option"),
        (("choose", "JOB", "--sheet", "ways.docx"), "--sheet", "ways.docx"),
        (("choose", "JOB", "--sheet", "no-such-folder/ways.pdf"), "", "no-such-folder"),
        (("try", "JOB", "--confidence", "3"), "--confidence", "'3', a number without a unit"),
        (("try", "JOB", "--add", "dose=6"), "--add 1, dose", "'6'"),
        (("why", "JOB", "no-such-figure"), "FIGURE", "no-such-figure"),
    ],
)
def test_with_json_every_failure_is_one_document(run, allotment, tmp_path, monkeypatch, words, field, found):
    monkeypatch.chdir(tmp_path)
    ran = run(*(allotment if word == "JOB" else word for word in words), "--json")
    answer = FailureAnswer.model_validate_json(ran.out)
    assert (ran.status, ran.err) == (2, "")
    assert any(one.field == field and found in one.found for one in answer.problems), answer.problems


def test_a_sheet_that_cannot_be_written_is_no_fault_of_the_program(run, allotment, tmp_path):
    ran = run("choose", allotment, "--sheet", tmp_path / "no-such-folder" / "ways.pdf")
    assert ran.status == 2
    assert "no-such-folder" in ran.err
    assert "fault of the program" not in ran.err


@pytest.mark.slow
def test_with_json_why_lists_its_figures_as_one_document(run, allotment):
    listed = FiguresAnswer.model_validate_json(run("why", allotment, "--json").out)
    assert any(one.key.endswith("bearing.chance") for one in listed.figures)


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ('preset = "London-like"', 'preset = "Atlantis-like"', "site.climate.preset"),
        ('cement_bag = "7.50 GBP/bag"', 'unobtainium = "7.50 GBP/bag"', "prices.override.unobtainium"),
        ("[weights]", '[choose]\nway = "marble-100"\n\n[weights]', "choose.way"),
        ('name = "wheelbarrow"', 'name = "wheelbarow"', "use"),
    ],
)
def test_names_only_later_floors_know_are_refused_where_they_stand(run, allotment, old, new, field):
    text = allotment.read_text(encoding="utf-8")
    assert old in text
    allotment.write_text(text.replace(old, new), encoding="utf-8")
    ran = run("choose", allotment)
    assert ran.status == 2
    assert field in ran.err
    assert "line" in ran.err


def test_a_named_way_is_chosen_even_where_it_falls_short(run, allotment):
    keys = {
        way.key: way.passes
        for way in ChooseAnswer.model_validate_json(run("choose", allotment, "--json").out).areas[0].ways
    }
    failing = next(key for key, passes in keys.items() if not passes)
    text = allotment.read_text(encoding="utf-8")
    allotment.write_text(
        text.replace("[weights]", f'[choose]\nway = "{failing}"\n\n[weights]'), encoding="utf-8"
    )
    ran = run("choose", allotment, "--json")
    answer = ChooseAnswer.model_validate_json(ran.out)
    assert answer.areas[0].chosen == failing
    assert ran.status == 1


@pytest.mark.slow
def test_the_same_job_gives_the_same_bytes_in_fresh_processes(allotment):
    outputs = set()
    for seed in ("1", "2"):
        done = subprocess.run(
            [
                sys.executable,
                "-c",
                "from earthfast.cli import main; main()",
                "choose",
                str(allotment),
                "--json",
            ],
            capture_output=True,
            check=False,
            env={**os.environ, "PYTHONHASHSEED": seed},
        )
        assert done.stderr == b""
        outputs.add(done.stdout)
    assert len(outputs) == 1
    assert json.loads(outputs.pop())["verb"] == "choose"


def test_a_sheet_of_another_ending_is_refused_before_any_work(run, allotment, tmp_path):
    ran = run("choose", allotment, "--sheet", tmp_path / "ways.docx")
    assert ran.status == 2
    assert "ways.docx" in ran.err
    assert ran.out == ""


@pytest.mark.slow
def test_building_where_nothing_passes_says_and_ends_as_choosing_does(run, allotment):
    text = allotment.read_text(encoding="utf-8")
    allotment.write_text(text.replace('"20 mm"', '"0.01 mm"', 1), encoding="utf-8")
    chosen = json.loads(run("choose", allotment, "--json").out)
    built = FailureAnswer.model_validate_json(run("build", allotment, "--json").out)
    assert "no way passes every check" in built.headline
    assert (built.headline, built.exit_status) == (chosen["headline"], chosen["exit_status"])
    assert built.problems[0].field == "choose.way"
    assert not list(allotment.parent.glob("*.pdf"))
    told = run("build", allotment)
    assert (told.status, told.err.split("\n")[0]) == (1, built.headline)
