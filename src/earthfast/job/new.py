"""A first job file from a few answers: every other key stands ready in a comment."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import get_args, get_origin

import tomlkit
from pydantic.fields import FieldInfo

from earthfast.ground.observation import OBSERVATION_KINDS
from earthfast.job.document import SCHEMA_VERSION, Heading, Job
from earthfast.job.fields import Section
from earthfast.job.load import read_job
from earthfast.job.use import Paving, Use
from earthfast.job.wording import Shape, accepted_words, field_shape, model_of, shape_of
from earthfast.loads.library import load_library

FIRST_OBSERVATION = "thumb"
LATER = {
    "job",
    "plan",
    "use",
    "observation",
    "further_test",
    "trial",
    "schema_version",
}  # given above, or added by `try`
PLAIN_EXAMPLES: dict[type, str] = {str: '"..."', bool: "true", int: "2", float: "1", date: "2026-11-25"}


@dataclass(frozen=True, slots=True)
class NewJobAnswers:
    """What a job file has to start with; quantities as they will stand in the file.

    Attributes
    ----------
    title : what the job is called.
    length, width : size of the area, with units.
    loads : names of listed loads.
    thumb : how far a thumb goes into the ground, in the words of that observation.
    depth : depth at which that was tried, with its unit.
    """

    title: str
    length: str
    width: str
    loads: tuple[str, ...] = ("person",)
    thumb: str = "thumb goes in with moderate effort"
    depth: str = "300 mm"


def new_job_text(answers: NewJobAnswers) -> str:
    """The text of a new job file; raise JobProblems where an answer cannot stand in it."""
    loads = "\n".join(f"[[use.load]]\nname = {_quoted(name)}\n" for name in answers.loads)
    text = f"""\
# A job for Earthfast. Lines that begin with '#' are not read: take the sign away where you know better than
# an assumption. Where one value is assumed when a line is left out, that value stands in it; others are examples.
# A quantity is a number and its unit in quotes; a range such as "4..9 %" is the 5..95 % band.
schema_version = {SCHEMA_VERSION}

[job]
title = {_quoted(answers.title)}
{_block(Heading)}
[[plan.area]]
name = "area"
length = {_quoted(answers.length)}
width = {_quoted(answers.width)}

# What stands and rolls on it. Listed loads:
{_listed(load_library())}
[[use]]
name = "use"
{_block(Use)}
{loads}
# [use.paving]
{_block(Paving, needed=True)}
# What was seen in the ground; each further observation narrows the answer. Kinds:
{_listed(OBSERVATION_KINDS)}
[[observation]]
kind = {_quoted(FIRST_OBSERVATION)}
depth = {_quoted(answers.depth)}
result = {_quoted(answers.thumb)}
{"".join(_sections(Job, ""))}"""
    read_job(text)
    return text


def _sections(model: type[Section], heading: str) -> Iterator[str]:
    for key, field in _keys(model):
        inner = model_of(field_shape(field))
        if inner is None or (not heading and key in LATER):
            continue
        name = f"{heading}.{key}".lstrip(".")
        header = f"[[{name}]]" if field_shape(field).many else f"[{name}]"
        yield f"\n# {field.description}\n# {header}\n{_block(inner, needed=True)}"
        yield from _sections(inner, name)


def _block(model: type[Section], *, needed: bool = False) -> str:
    """The keys of a table in comments; those it cannot do without only where all of it is a comment."""
    lines = ""
    for key, field in _keys(model):
        if model_of(field_shape(field)) is None and key != "note" and (needed or not field.is_required()):
            lines += f"# {key} = {_example(field)}  # {field.description}{_closed(field_shape(field))}\n"
    return lines


def _keys(model: type[Section]) -> Iterator[tuple[str, FieldInfo]]:
    return ((field.alias or name, field) for name, field in model.model_fields.items())


def _example(field: FieldInfo) -> str:
    shown = (field.examples or [None])[0]
    if isinstance(shown, dict):
        return f"{{ {', '.join(f'{key} = {_quoted(value)}' for key, value in shown.items())} }}"
    if isinstance(shown, (bool, int)):
        return str(shown).lower()
    return _quoted(shown) if isinstance(shown, str) else _example_of(field_shape(field))


def _closed(shape: Shape) -> str:
    """All that may stand there, where it is a choice between few words."""
    if isinstance(shape.kind, type) and issubclass(shape.kind, StrEnum):
        return f" O{accepted_words(shape).removeprefix('o')}."
    return ""


def _example_of(shape: Shape) -> str:
    if shape.reader is not None:
        return _quoted(shape.reader.example)
    if shape.many:
        return f"[{', '.join([_example_of(shape_of(shape.of_each))] * shape.fewest)}]"
    if get_origin(shape.kind) is not None:
        return repr(get_args(shape.kind)[0])
    if issubclass(shape.kind, StrEnum):
        return _quoted(next(iter(shape.kind)))
    return _quoted(shape.example) if shape.example else PLAIN_EXAMPLES[shape.kind]


def _quoted(text: str) -> str:
    return tomlkit.string(str(text)).as_string()


def _listed(names: Iterable[str]) -> str:
    text = "; ".join(names)
    return textwrap.fill(text, 108, initial_indent="# ", subsequent_indent="# ", break_on_hyphens=False)
