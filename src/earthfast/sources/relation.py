"""A formula function read as a published relation: its sentence, equation, units and sources."""

from __future__ import annotations

import inspect
import re
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache

from earthfast.sources.status import Status

_SECTION = re.compile(r"^(?P<title>[A-Z][A-Za-z ]+)\n-{3,}\n", re.MULTILINE)
_REFERENCE = re.compile(r"^(?P<key>[a-z][a-z0-9_]+)(?:, (?P<place>.*?))? \[(?P<status>S|M|C|P|CP)\]$")
_UNIT = re.compile(r"\[(?P<unit>[^\]]+)\]\s*$", re.MULTILINE)
_PARAMETER = re.compile(r"^(?P<name>\w+) : [^\n]*(?:\n(?: .*)?)*", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class SourceNote:
    """Where a figure comes from: bibliography key, place in it, and how it reached us."""

    key: str
    place: str
    status: Status


@dataclass(frozen=True, slots=True)
class Relation:
    """A formula function and what its docstring says about it."""

    function: Callable[..., object]
    name: str
    sentence: str
    notes: str
    parameter_units: dict[str, str]
    sources: tuple[SourceNote, ...]


def docstring_sections(function: Callable[..., object]) -> dict[str, str]:
    """Split a numpy-style docstring into its sections; the summary stands under an empty title."""
    parts = _SECTION.split(inspect.getdoc(function) or "")
    sections = {"": parts[0].strip()}
    sections.update({title: body.strip() for title, body in zip(parts[1::2], parts[2::2], strict=True)})
    return sections


@cache
def source_note(line: str) -> SourceNote:
    """Read a reference line of the form ``key, place [S]``."""
    match = _REFERENCE.match(line.strip())
    if match is None:
        raise ValueError(f"a reference line reads 'key, place [S]', with S, M, C, P or CP; found '{line}'")
    return SourceNote(match["key"], match["place"] or "", Status(match["status"]))


@cache
def relation(function: Callable[..., object]) -> Relation:
    """Read the relation that a formula function's docstring describes."""
    sections = docstring_sections(function)
    units = {}
    for block in _PARAMETER.finditer(sections.get("Parameters", "")):
        unit = _UNIT.search(block[0])
        units[block["name"]] = unit["unit"] if unit else ""
    lines = [line for line in sections.get("References", "").splitlines() if line.strip()]
    return Relation(
        function=function,
        name=function.__name__,
        sentence=sections[""].split("\n\n")[0].replace("\n", " "),
        notes=" ".join(sections.get("Notes", "").split()),
        parameter_units=units,
        sources=tuple(source_note(line) for line in lines),
    )
