"""The documents behind the figures."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pybtex.database import Entry

SHOWN_FIELDS = ("title", "journal", "institution", "year", "note")


@dataclass(frozen=True, slots=True)
class Reference:
    """One document: key, and a line a person can look it up by."""

    key: str
    citation: str


@cache
def bibliography() -> dict[str, Reference]:
    """All references by key, read from ``references.bib``."""
    from pybtex.database import parse_string  # noqa: PLC0415 (50 ms: only `why` and the sheets need it)

    text = (files("earthfast.sources") / "references.bib").read_text(encoding="utf-8")
    entries = parse_string(text, "bibtex").entries
    return {key: Reference(key, _citation(entry)) for key, entry in entries.items()}


def _citation(entry: Entry) -> str:
    people = ", ".join(" ".join(person.last_names) for person in entry.persons.get("author", ()))
    fields = [people, *(entry.fields.get(name, "") for name in SHOWN_FIELDS)]
    return ". ".join(part.replace("{", "").replace("}", "").strip(". ") for part in fields if part) + "."
