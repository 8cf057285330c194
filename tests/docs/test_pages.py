"""Pages hold together: links, commands, examples, figures; and nothing points outside."""

from __future__ import annotations

import re
import tomllib

import pytest
import tomlkit

from docs.generate import ROOT
from earthfast.checks import CheckName, Method
from earthfast.cli.verbs import VERBS
from earthfast.elastic import (
    CircularLoad,
    LayeredGround,
    cone_stress_circle,
    layered_response,
    points_in_layers,
)
from earthfast.job import read_job
from earthfast.works import plate_mass_by_area, published_minimums

PAGES = [
    ROOT / "README.md",
    *sorted((ROOT / "docs").rglob("*.md")),
    *sorted((ROOT / "changelog.d").glob("*.md")),
]
BLOCK = re.compile(r"^( *)```(\w*)\n(.*?)^ *```$", re.MULTILINE | re.DOTALL)
LINK = re.compile(r"\[[^\]]+\]\(([^)\s]+)\)")
ADDRESS = re.compile(r"https?://[^\s\"'`<>)]+")
NAMES_NOT_PLACES = {"http://www.w3.org/2000/svg", "https://json-schema.org/draft/2020-12/schema"}
BASE = """
schema_version = 1
job = { title = "Base" }
plan = { area = [{ name = "area", length = "4 m", width = "3 m" }] }
use = [{ name = "use", load = [{ name = "person" }] }]
observation = [{ kind = "thumb", depth = "300 mm", result = "thumb only dents it" }]
"""


def prose(path):
    return BLOCK.sub("", path.read_text(encoding="utf-8"))


def anchors(path):
    headings = re.findall(r"^#+ (.+)$", prose(path), re.MULTILINE)
    return {re.sub(r"[^\w\- ]", "", heading.lower()).replace(" ", "-") for heading in headings}


def examples():
    for path in PAGES:
        for number, (indent, language, body) in enumerate(BLOCK.findall(path.read_text(encoding="utf-8"))):
            if language == "toml":
                text = re.sub(rf"^{indent}", "", body, flags=re.MULTILINE)
                if text.startswith("title"):  # a list of prices, tried with the prices
                    continue
                yield pytest.param(text, id=f"{path.relative_to(ROOT)}-{number}")


def of_page(path):
    return str(path.relative_to(ROOT))


@pytest.mark.parametrize("path", PAGES, ids=of_page)
def test_links_lead_somewhere_in_the_repository(path):
    for link in LINK.findall(prose(path)):
        place, _, anchor = link.partition("#")
        target = (path.parent / place).resolve() if place else path
        assert target.is_relative_to(ROOT), link
        assert target.exists(), link
        if anchor:
            assert anchor in anchors(target), link


def test_every_page_is_reached_from_the_index():
    index = {
        (ROOT / "docs" / link.partition("#")[0]).resolve()
        for link in LINK.findall(prose(ROOT / "docs" / "README.md"))
    }
    glossary = ROOT / "docs" / "glossary"
    index |= {(glossary / link).resolve() for link in LINK.findall(prose(glossary / "README.md"))}
    left_out = [
        of_page(path)
        for path in (ROOT / "docs").rglob("*.md")
        if path not in index and path.name != "README.md"
    ]
    assert not left_out


def test_nothing_in_the_program_or_its_pages_points_to_another_host():
    shipped = [
        path for path in (ROOT / "src").rglob("*") if path.is_file() and path.suffix not in {".pyc", ".bib"}
    ]
    for path in [*shipped, *PAGES]:
        found = set(ADDRESS.findall(path.read_text(encoding="utf-8"))) - NAMES_NOT_PLACES
        assert not found, of_page(path)


@pytest.mark.parametrize("text", list(examples()))
def test_examples_of_the_job_file_are_accepted(text):
    job = tomllib.loads(BASE)
    for key, value in tomllib.loads(text).items():
        job[key] = [*job[key], *value] if isinstance(job.get(key), list) else value
    assert read_job(tomlkit.dumps(job))


def test_first_page_begins_with_the_job_and_two_commands():
    page = (ROOT / "README.md").read_text(encoding="utf-8")
    opening, commands = page.split("```sh\n", 1)
    assert opening.startswith("# Earthfast\n\nBefore a path")
    assert len(opening.strip().split("\n\n")) == 2
    assert [line.split("#")[0].strip() for line in commands.splitlines()[:2]] == ["make demo", "make test"]


def test_first_page_names_commands_that_exist_and_every_verb():
    page = (ROOT / "README.md").read_text(encoding="utf-8")
    targets = set(re.findall(r"^(\w+):", (ROOT / "Makefile").read_text(encoding="utf-8"), re.MULTILINE))
    named = set(re.findall(r"`make (\w+)`|^make (\w+)", page, re.MULTILINE))
    assert {first or second for first, second in named} <= targets
    assert set(re.findall(r"`earthfast (\w+)`", page)) == set(VERBS)


def test_first_page_names_every_check_and_way():
    page = " ".join((ROOT / "README.md").read_text(encoding="utf-8").split())
    assert f"disappoint: {', '.join(CheckName)}." in page
    assert page.count("Five ways of building") == (len(Method) == 5)


def test_news_fragments_say_what_kind_they_are():
    for path in (ROOT / "changelog.d").iterdir():
        if path.name != "README.md":
            assert re.fullmatch(r"[a-z][a-z0-9-]*\.(added|changed|fixed|removed)\.md", path.name)
            assert path.read_text(encoding="utf-8").strip()


def test_the_page_of_surprises_gives_the_figures_that_the_relations_give():
    page = " ".join((ROOT / "docs" / "explanation" / "surprises.md").read_text(encoding="utf-8").split())
    radius, pressure, thickness = 0.1, 250e3, 0.15
    slopes = [float(cone_stress_circle(pressure, radius, thickness, slope)) / 1e3 for slope in (1.0, 0.5)]
    ground = LayeredGround([thickness], [150e6, 25e6], [0.35, 0.45])
    response = layered_response(
        ground, CircularLoad(radius, pressure), points_in_layers(ground, [1], [0.0]), 1e-6
    )
    peak = float(response.vertical_stress[0]) / 1e3
    assert f"45 degrees gives {slopes[0]:.0f} kPa, spreading at 2:1 gives {slopes[1]:.0f} kPa" in page
    assert f"layered elasticity {peak:.0f} kPa" in page
    assert f"has about {float(plate_mass_by_area(90.0, 0.50, 0.42)):.0f}" in page
    bases = [row.base_mm for row in published_minimums().rows]
    assert f"thicknesses run from {min(bases):.0f} to {max(bases):.0f} mm" in page


def test_the_page_of_surprises_gives_the_carbon_that_its_masses_come_to():
    page = " ".join((ROOT / "docs" / "explanation" / "surprises.md").read_text(encoding="utf-8").split())
    haul, stone, cement, tip, petrol = (
        0.20882,
        7.79306,
        860.0,
        1.00835,
        2.68094,
    )  # kg CO2e for t km, t, t, t, L
    dug = 5.292 * (stone + 25.0 * haul) + 8.208 * (20.0 * haul + tip)
    treated = 0.378 * (cement + 40.0 * haul) + 3.888 * (20.0 * haul + tip) + 4.0 * petrol
    farther = (treated - dug) / (haul * (5.292 + 8.208 - 3.888))
    assert f"carries about {dug:.0f} kg" in page
    assert f"cement about {treated:.0f} kg, of which the cement alone is {0.378 * cement:.0f} kg" in page
    assert f"some {farther:.0f} km farther" in page
