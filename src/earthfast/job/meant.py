"""What was probably meant by a word that the job file does not know: by meaning first, by spelling second."""

from __future__ import annotations

import difflib
import re
import tomllib
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

ALIKE = 0.6  # difflib's measure; below it words are alike by chance


@dataclass(frozen=True, slots=True)
class Synonyms:
    """Other words by the word of the job file, and what is told in another place of it."""

    words: dict[str, tuple[str, ...]]
    told: dict[str, str]


@cache
def synonyms() -> Synonyms:
    """The table of other words."""
    rows = tomllib.loads((files("earthfast.job") / "synonyms.toml").read_text(encoding="utf-8"))
    return Synonyms({word: tuple(others) for word, others in rows["words"].items()}, rows["told"])


def meant(found: object, known: Iterable[str]) -> str:
    """A suggestion for the place of an unknown word, or nothing where none is near."""
    word = re.sub(r"[\s_]+", " ", str(found)).strip().lower()
    accepted = list(known)
    likely = _by_meaning(word, accepted) or _by_spelling(word, accepted)
    if likely:
        return f"did you mean '{likely}'?"
    return synonyms().told.get(word, "")


def _by_meaning(word: str, accepted: list[str]) -> str:
    """The accepted word that has this among its other words; the whole of it before a part of it."""
    spelled = {other: one for one in accepted for other in (one.lower(), *synonyms().words.get(one, ()))}
    if word in spelled:
        return spelled[word]
    within = [other for other in spelled if re.search(rf"\b{re.escape(other)}s?\b", word)]
    return spelled[max(within, key=len)] if within else ""


def _by_spelling(word: str, accepted: list[str]) -> str:
    near = difflib.get_close_matches(word, accepted, n=1, cutoff=ALIKE)
    return near[0] if near else ""
