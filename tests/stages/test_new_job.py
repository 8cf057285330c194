"""A new job's commented values: where something is assumed, taking the sign away changes no answer."""

from __future__ import annotations

import re

import pytest

from earthfast.job import NewJobAnswers, new_job_text, read_job
from earthfast.stages import choose_for

NEW = new_job_text(NewJobAnswers("A path", "14 m", "1.2 m", loads=("person", "wheelbarrow")))

# every key for which the program takes one plain value where it is left out, by its table
ASSUMED = {
    "[job]": ("invented", "seed", "units"),
    "[[use]]": ("design_life", "consequence"),
    "# [use.paving]": ("kind", "thickness", "length", "width"),
    "# [site]": ("season", "formation_care", "made_ground", "contaminated"),
    "# [site.climate]": ("preset", "hemisphere"),
    "# [site.falls]": ("wanted",),
    "# [site.near]": ("services",),
    "# [site.access]": ("lorry",),
    "# [tools.plate]": ("mass", "length", "width", "hired"),
    "# [crew]": ("people", "hours_per_day", "skill"),
    "# [binder]": ("kind", "bag_mass", "loose_density"),
    "# [prices]": ("currency", "tax", "contingency"),
    "# [carbon]": ("cement", "lime", "stone", "stone_haul", "binder_haul", "spoil_haul"),
    "# [weights]": ("price", "carbon", "spoil", "days"),
    "# [choose]": ("chance",),
}


def uncommented(text, wanted):
    """The text with the keys of some tables, and the headings of those, read."""
    rows, table = [], ""
    for row in text.split("\n"):
        if re.fullmatch(r"(# )?\[+[a-z_.]+\]+", row):
            table = row
        key = re.match(r"# ([a-z_]+) = ", row)
        read = row == table in wanted or (key and key[1] in wanted.get(table, ()))
        rows.append(row.removeprefix("# ") if read else row)
    return "\n".join(rows)


def judged(text):
    """What is computed for every way: chances to the digit, and the middle of price, carbon and hours."""
    answer = choose_for(read_job(text)).answer
    ways = [way for area in answer.areas for way in area.ways]
    middles = [one.value for way in ways for one in (way.price, way.carbon, way.hours)]
    return [(way.key, way.checks) for way in ways], middles


def assert_alike(said, given):
    """A carbon factor is written to two digits, so that its rounding is let through."""
    (ways, middles), (other_ways, other_middles) = judged(said), judged(given)
    assert ways == other_ways
    assert middles == pytest.approx(other_middles, rel=1e-4)


@pytest.mark.parametrize(
    ("given", "wanted"),
    [
        (NEW, ASSUMED),
        (
            uncommented(NEW, {"# [tools.tiller]": ()}),
            {"[tools.tiller]": ("depth", "width", "hired")},
        ),
    ],
    ids=["job", "tiller"],
)
def test_a_value_that_is_assumed_stands_in_its_comment(given, wanted):
    said = uncommented(given, wanted)
    changed = sum(one != other for one, other in zip(given.split("\n"), said.split("\n"), strict=True))
    headings = sum(table.startswith("#") for table in wanted)
    assert changed == headings + sum(map(len, wanted.values()))
    assert_alike(said, given)


def test_a_layer_depth_without_a_dose_is_no_statement_to_compare():
    said = uncommented(NEW, {"# [binder]": ("mixing_depth",)})
    assert_alike(said, NEW)
