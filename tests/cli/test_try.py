"""`earthfast try` as installed: results added whole or not at all, answers on the right stream, the how-to as it stands."""

from __future__ import annotations

import json
import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

from earthfast.cli.showing_try import HIGH, WIDE, text_chart
from earthfast.cli.specimen_text import chance_from, specimen_from
from earthfast.stages.answers import CurveMark, CurvePoint, StrengthCurve

PROGRAM = str(Path(sys.executable).parent / "earthfast")
ROOT = Path(__file__).parents[2]
BASE = (ROOT / "tests" / "job" / "base_job.toml").read_text(encoding="utf-8")
RESULT = "name=Q dose=8 % age=7 day load=12.6 kN diameter=100 mm length=200 mm soaked=true"


def run(folder, *arguments):
    return subprocess.run([PROGRAM, *arguments], cwd=folder, capture_output=True, text=True, check=False)


@pytest.fixture(name="folder")
def _folder(tmp_path):
    (tmp_path / "job.toml").write_text(
        BASE.replace("[tools.plate]", "# next door's\n[tools.plate]"), encoding="utf-8"
    )
    return tmp_path


@pytest.mark.slow
def test_a_result_is_written_with_comments_kept_and_json_alone_on_standard_output(folder):
    before = (folder / "job.toml").read_text(encoding="utf-8")
    done = run(folder, "try", "job.toml", "--add", RESULT, "--json")
    assert done.returncode == 1, done.stderr  # the present dose falls short
    answer = json.loads(done.stdout)
    assert [line["name"] for line in answer["specimens"]][-1] == "Q"
    assert answer["specimens"][-1]["strength_mpa"] == pytest.approx(12.6e-3 / (3.14159265 * 0.05**2) / 0.75)
    assert "Wrote specimen 2" in done.stderr
    after = (folder / "job.toml").read_text(encoding="utf-8")
    assert after.startswith(before.rstrip("\n")[:400])
    assert "# next door's" in after
    assert (folder / "job.toml.previous").read_text(encoding="utf-8") == before


def test_a_result_that_cannot_be_read_is_located_echoed_and_not_written(folder):
    before = (folder / "job.toml").read_text(encoding="utf-8")
    done = run(folder, "try", "job.toml", "--add", RESULT, "--add", "dose=6 age=7 days load=9 kN edge=100 mm")
    assert done.returncode == 2
    assert "--add 2, dose: found '6', a number without a unit" in done.stderr
    assert RESULT in done.stderr
    assert done.stdout == ""
    assert (folder / "job.toml").read_text(encoding="utf-8") == before
    assert not (folder / "job.toml.previous").exists()


def test_a_result_without_its_sizes_is_told_as_typed(folder):
    done = run(folder, "try", "job.toml", "--add", "dose=6 % age=7 days load=9 kN shape=cylinder")
    assert done.returncode == 2
    assert "--add 1" in done.stderr
    assert "a crushed cylinder without `diameter` and `height`" in done.stderr
    assert "line " not in done.stderr


@pytest.mark.slow
def test_the_how_to_runs_as_it_stands(tmp_path):
    page = (ROOT / "docs" / "how-to" / "trial.md").read_text(encoding="utf-8")
    commands = re.findall(r"^\$ (earthfast .*)$", page, re.MULTILINE)
    assert len(commands) == 5
    for command in commands:
        done = run(tmp_path, *shlex.split(command)[1:])
        assert done.returncode == 0, done.stderr
    assert (tmp_path / "trial.pdf").read_bytes().startswith(b"%PDF")
    assert "<svg" in (tmp_path / "strength-age.svg").read_text(encoding="utf-8")
    assert "Specimens, 3 of 3" in done.stdout
    assert "Make this one next" in done.stdout


@pytest.mark.parametrize(
    ("text", "shape"),
    [
        ("dose=6 % load=9 kN diameter=100 mm length=200 mm age=7 days", "cylinder"),
        ("dose=6 %, load=9 kN, edge=100 mm, age=7 days", "cube"),
        ("dose=6 %; load=9 kN; length=60 mm; width=50 mm; height=55 mm; age=7 days", "lump"),
        ("dose=6 % load=1 kN width=100 mm height=100 mm span=300 mm age=7 days", "beam"),
        ("shape=lump dose=6 % load=9 kN edge=100 mm wide=90 mm high=80 mm", "lump"),
        ("shape=core dose=6 % load=9 kN diameter=50 mm length=80 mm age=28 days", "core"),
        ("dose=6 % in_water=stayed firm brush=only marked it age=7 days", "lump"),
        ("dose=6 % penetrometer=0.3 MPa age=7 days", "lump"),
        ("dose=6 % hung=60 kg hung_arm=1.6 m specimen_arm=15 cm edge=70 mm age=7 days", "cube"),
    ],
)
def test_the_shape_follows_from_the_sizes(text, shape):
    entry = specimen_from(text)
    assert entry.kind == shape
    assert str(entry.dose) == "6 %"


def test_what_was_typed_is_kept_as_typed():
    entry = specimen_from(
        "dose = 6.0 % age=1 week load=2800 lbf edge=4 in soaked=no made=2026-11-25 note='by the hedge'"
    )
    assert (str(entry.failure_load), str(entry.age), entry.soaked, entry.note) == (
        "2800 lbf",
        "1 week",
        False,
        "by the hedge",
    )


@pytest.mark.parametrize(
    "text", ["6 %", "", "dose", "dose=6 % dose=7 %", "dose=6 % colour=red", "dose=6 % soaked=perhaps"]
)
def test_text_that_is_no_result_says_what_is_accepted(text):
    with pytest.raises(ValueError, match="accepted"):
        specimen_from(text)


def test_confidence_is_a_share():
    assert chance_from("90 %") == pytest.approx(0.9)
    for text in ("90", "100 %", "much"):
        with pytest.raises(Exception, match="accepted"):
            chance_from(text)


def test_text_chart_draws_the_target_and_every_specimen():
    points = tuple(
        CurvePoint(
            at=at,
            laboratory_low_mpa=0.5 * at,
            laboratory_mpa=at,
            laboratory_high_mpa=2.0 * at,
            site_low_mpa=0.3 * at,
            site_mpa=0.7 * at,
            site_high_mpa=1.6 * at,
            is_extrapolated=at > 3.0,
        )
        for at in (1.0, 2.0, 3.0, 4.0)
    )
    marks = (
        CurveMark(at=2.0, strength_mpa=0.1, name="1", state="soaked", known_as="at most"),
        CurveMark(at=3.0, strength_mpa=9.0, name="2", state="not soaked", known_as="strength"),
    )
    rows = text_chart(
        StrengthCurve(title="t", across="dose (% of dry soil)", points=points, marks=marks, target_mpa=1.5)
    )
    drawing = rows[:HIGH]
    assert all(len(row) == len(drawing[0]) == WIDE + 11 for row in drawing)
    assert sum("wanted" in row for row in drawing) == 1
    assert "".join(drawing).count("▼") == "".join(drawing).count("○") == 1


CRUSHED = "age=7 days load=12.6 kN diameter=100 mm height=200 mm soaked=yes"


def test_where_lime_goes_in_first_a_specimen_has_to_say_its_lime(run, allotment):
    before = allotment.read_text(encoding="utf-8")
    ran = run("try", allotment, "--add", f"dose=6 % {CRUSHED}", "--add", f"dose=6 % lime=0 % {CRUSHED}")
    assert ran.status == 2
    assert "--add 1, lime: found nothing" in ran.err
    assert "'lime=0 %' if there is none" in ran.err
    assert "--add 2, lime" not in ran.err
    assert allotment.read_text(encoding="utf-8") == before
    assert run("try", allotment, "--add", f"dose=6 % lime=3 % {CRUSHED}").status == 0
    assert 'lime_dose = "3 %"' in allotment.read_text(encoding="utf-8")


def test_lime_is_asked_for_where_choose_has_it_though_the_job_names_cement(run, allotment):
    text = allotment.read_text(encoding="utf-8")
    allotment.write_text(f'{text}\n[binder]\nkind = "cement"\n', encoding="utf-8")
    ran = run("try", allotment, "--add", f"dose=6 % {CRUSHED}")
    assert (ran.status, "--add 1, lime: found nothing" in ran.err) == (2, True)


def test_a_specimen_added_is_answered_as_the_file_with_it_is(run, allotment):
    added = run("try", allotment, "--add", f"dose=6 % lime=3 % {CRUSHED}", "--json")
    assert added.out == run("try", allotment, "--json").out


def test_help_and_steps_show_lime(run, allotment):
    assert "lime=3 %" in " ".join(run("try", "--help").out.split())
    assert "lime=3 %" in " ".join(run("try", allotment).out.split())


def test_an_unknown_key_is_answered_with_the_keys_as_they_are_typed(run, allotment):
    told = run("try", allotment, "--add", f"dose=6 % lime=0 % loda=3 kN {CRUSHED}").err
    assert "found the unknown key 'loda'" in told
    assert "did you mean 'load'?" in told
    assert not {"failure_load", "lime_dose", "brushed", "dropped"} & set(re.findall(r"\w+", told))
    told = run("try", allotment, "--add", "dose=6 % brush=no").err
    assert "brush: found 'no'; accepted: one of 'cut into it', 'only marked it'" in told


def test_steps_name_the_words_that_brush_and_drop_accept(run, allotment):
    steps = " ".join(run("try", allotment).out.split())
    assert all(words in steps for words in ("cut into it", "only marked it", "broke", "survived"))
