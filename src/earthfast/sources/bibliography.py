"""The documents behind the figures."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from importlib.resources import files


@dataclass(frozen=True, slots=True)
class Reference:
    """One document: key, and a line a person can look it up by."""

    key: str
    citation: str


@cache
def bibliography() -> dict[str, Reference]:
    """All references by key, read from ``references.bib``."""
    import bibtexparser  # noqa: PLC0415 (50 ms: only `why` and the sheets need it)

    text = (files("earthfast.sources") / "references.bib").read_text(encoding="utf-8")
    parser = bibtexparser.bparser.BibTexParser(common_strings=True, ignore_nonstandard_types=False)
    entries = bibtexparser.loads(text, parser).entries
    references = [Reference(entry["ID"], _citation(entry)) for entry in entries]
    if len({reference.key for reference in references}) != len(references):
        raise ValueError("references.bib holds a key twice")
    return {reference.key: reference for reference in references}


def _citation(entry: dict[str, str]) -> str:
    parts = [entry.get(field, "") for field in ("author", "title", "journal", "institution", "year", "note")]
    return ". ".join(part.replace("{", "").replace("}", "").strip(". ") for part in parts if part) + "."
