"""Every way of getting a job file wrong that we could think of, and what the message has to say."""

from __future__ import annotations

import tomllib
from collections import Counter
from pathlib import Path

import pytest

from earthfast.job import JobProblems, read_job

HERE = Path(__file__).parent
BASE = (HERE / "base_job.toml").read_text(encoding="utf-8")
ROWS = tomllib.loads((HERE / "bad_jobs.toml").read_text(encoding="utf-8"))["bad"]


def problems_in(text):
    with pytest.raises(JobProblems) as caught:
        read_job(text)
    return caught.value.problems


def test_the_job_without_its_changes_is_good():
    assert read_job(BASE).job.heading.title == "A path"


def test_there_are_many_bad_jobs_and_no_two_are_alike():
    assert len(ROWS) >= 60
    assert max(Counter(row["name"] for row in ROWS).values()) == 1


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["name"])
def test_message_names_field_line_found_and_accepted(row):
    before, after = row["change"]
    assert BASE.count(before) >= 1, "the row changes nothing"
    text = BASE.replace(before, after, 1)
    problems = problems_in(text)
    matching = [p for p in problems if p.where == row["where"] and row["found"] in p.found]
    assert matching, [str(problem) for problem in problems]
    problem = matching[0]
    assert row["accepted"] in problem.accepted
    assert row.get("hint", "") in problem.suggestion
    message = str(problem)
    assert row["where"] in message
    assert row["found"] in message
    assert row["accepted"] in message
    at = row.get("at", row["where"].split(".")[-1].split("[")[0])
    if at:
        assert at in text.split("\n")[problem.line - 1]
    else:
        assert problem.line is None


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["name"])
def test_one_slip_gives_few_messages(row):
    assert len(problems_in(BASE.replace(*row["change"], 1))) <= 3


def test_all_problems_of_a_file_are_told_at_once_and_in_order_of_lines():
    changes = [
        ('title = "A path"', 'titel = "A path"'),
        ('length = "14 m"', "length = 14"),
        ('thickness = "40 mm"', 'thickness = "40 kg"'),
        ('season = "wet"', 'season = "wett"'),
        ('top = "150 mm"', 'top = "200 mm"'),
        ('result = "rolls easily"', 'result = "yes"'),
        ('"260 mm"', '"2,60 mm"'),
        ("people = 2", "people = 0"),
        ('cement_bag = "7.50 GBP/bag"', 'cement_bag = "cheap"'),
        ("carbon = 0.5", "carbon = nan"),
    ]
    text = BASE
    for before, after in changes:
        text = text.replace(before, after, 1)
    problems = problems_in(text)
    assert {p.where for p in problems} >= {
        "job.title",
        "job.titel",
        "plan.area[1].length",
        "use[1].paving.thickness",
        "site.season",
        "stratum[2].top",
        "observation[1].result",
        "observation[2].depths[2]",
        "crew.people",
        "prices.override.cement_bag",
        "weights.carbon",
    }
    lines = [p.line for p in problems]
    assert lines == sorted(lines)
    assert len(problems) == 11


def test_a_clash_in_one_entry_is_told_beside_errors_in_its_neighbours():
    crossing = 'outline = { unit = "m", points = [[0, 0], [4, 3], [4, 0], [0, 3]] }'
    text = BASE.replace('length = "14 m"', "length = 14", 1)
    text = text.replace("[[use]]", f'[[plan.area]]\nname = "yard"\n{crossing}\n[[use]]', 1)
    text = text.replace('result = "rolls easily"', 'result = "no"', 1)
    text = text.replace("blows = [3, 3, 2]", "blows = [3, 3]", 1)
    assert {p.where for p in problems_in(text)} == {
        "plan.area[1].length",
        "plan.area[2].outline.points",
        "observation[1].result",
        "observation[2]",
    }


def test_clashes_between_fields_are_told_beside_errors_elsewhere():
    text = BASE.replace('length = "14 m"', "", 1).replace("people = 2", "people = 0", 1)
    assert {p.where for p in problems_in(text)} == {"plan.area[1]", "crew.people"}
