"""What a user may type or be told stands in the documentation."""

from __future__ import annotations

import importlib
import re
from enum import StrEnum
from typing import get_args

import click
import pytest
from pydantic import BaseModel

from docs.generate import ROOT
from docs.generate.cautions import explanations
from docs.generate.checks import relations_of
from earthfast.checks import CHECKS, CheckName
from earthfast.cli.verbs import VERBS, group
from earthfast.estimate import CautionCode, Origin
from earthfast.job import Dimension, Job, PriceList
from earthfast.job.observations import OBSERVATION_MODELS
from earthfast.job.units import units_of
from earthfast.loads import load_library
from earthfast.sources import Status, bibliography

DOCS = ROOT / "docs"
FLOORS = sorted(path.parent.name for path in (ROOT / "src" / "earthfast").glob("*/__init__.py"))


def words(name):
    return (DOCS / name).read_text(encoding="utf-8")


def models_below(model, found=None):
    """The model and every model that its fields may hold."""
    found = {} if found is None else found
    if model not in found:
        found[model] = None
        for field in model.model_fields.values():
            for part in parts_of(field.annotation):
                if isinstance(part, type) and issubclass(part, BaseModel):
                    models_below(part, found)
    return tuple(found)


def parts_of(annotation):
    yield annotation
    for part in get_args(annotation):
        yield from parts_of(part)


TYPED = tuple(dict.fromkeys([*models_below(Job), *OBSERVATION_MODELS.values(), *models_below(PriceList)]))


def choices_typed():
    for model in TYPED:
        for name, field in model.model_fields.items():
            for part in parts_of(field.annotation):
                if isinstance(part, type) and issubclass(part, StrEnum):
                    yield pytest.param(part, id=f"{model.__name__}.{name}")


@pytest.mark.parametrize("verb", VERBS)
def test_every_verb_and_flag_stands_on_the_page_of_the_command_line(verb):
    page = words("reference/cli.md")
    section = re.search(rf"^## `{verb}`\n(.*?)(?=^## )", page, re.MULTILINE | re.DOTALL)[1]
    command = group.get_command(click.Context(group), verb)
    for parameter in command.params:
        for flag in parameter.opts if isinstance(parameter, click.Option) else ():
            assert f"`{flag}`" in section
        if isinstance(parameter.type, click.Choice):
            assert all(f"`{choice}`" in section for choice in parameter.type.choices)


@pytest.mark.parametrize("model", TYPED, ids=lambda model: model.__name__)
def test_every_field_of_the_job_stands_on_its_page(model):
    page = words("reference/job-file.md")
    missing = [
        field.alias or name
        for name, field in model.model_fields.items()
        if f"`{field.alias or name}`" not in page
    ]
    assert not missing


@pytest.mark.parametrize("choice", list(choices_typed()))
def test_every_word_that_may_be_typed_stands_on_the_page_of_the_job(choice):
    page = words("reference/job-file.md")
    assert all(f"'{member.value}'" in page for member in choice)


def test_every_observation_load_and_unit_stands_on_the_page_of_the_job():
    page = words("reference/job-file.md")
    spellings = [
        spelling for dimension in Dimension for unit in units_of(dimension) for spelling in unit.spellings
    ]
    for name in [*OBSERVATION_MODELS, *load_library(), *spellings]:
        assert f"`{name}`" in page


def test_every_caution_is_explained_and_no_other():
    told = explanations()
    assert set(told) == {code.value for code in CautionCode}
    assert all(each.raised and each.act for each in told.values())
    page = words("reference/cautions.md")
    assert all(f"`{code.value}`" in page for code in CautionCode)


def test_every_status_and_origin_stands_on_its_page():
    page = words("reference/statuses.md")
    assert all(f"`{status.value}`" in page and status.words in page for status in Status)
    assert all(origin.value in page for origin in Origin)


@pytest.mark.parametrize("name", CheckName)
def test_every_check_stands_on_its_page_with_relations_that_name_their_source(name):
    assert f"## {name.capitalize()}" in words("reference/checks.md")
    found = relations_of(CHECKS[name].judge)
    assert found
    for described in found.values():
        for note in described.sources:
            assert note.key in bibliography(), f"{described.name}: {note.key}"


@pytest.mark.parametrize("floor", FLOORS)
def test_every_public_name_stands_in_the_glossary_and_no_other(floor):
    names = set(getattr(importlib.import_module(f"earthfast.{floor}"), "__all__", ()))
    listed = set(re.findall(r"^\| `(\w+)` \|", words(f"glossary/{floor}.md"), re.MULTILINE))
    assert names <= listed, names - listed
    assert listed <= names, listed - names


def test_every_folder_of_the_glossary_is_in_its_index():
    index = words("glossary/README.md")
    assert all(f"({floor}.md)" in index for floor in FLOORS)


def test_every_kind_of_observation_stands_in_the_explanation_of_evidence():
    page = words("explanation/evidence.md")
    assert all(f"`{kind}`" in page for kind in OBSERVATION_MODELS)
