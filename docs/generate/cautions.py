"""The page of the cautions: every code with what raises it and what to do."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from pathlib import Path

from docs.generate.markdown import page, table
from earthfast.estimate import CautionCode

OPENING = """# Cautions

An engineering doubt is neither an error nor a log line: it is part of the answer, with a code, a sentence, and where it
comes from. Cautions stand at the end of a terminal answer, in `cautions` of every JSON document, and on the sheets. None of
them stops the program; some should stop the work. This page is made from the program.
"""
TEXTS = Path(__file__).with_name("cautions.toml")


@dataclass(frozen=True, slots=True)
class Explanation:
    """What raises a caution and what to do about it."""

    raised: str
    act: str


def explanations() -> dict[str, Explanation]:
    """Explanations by code."""
    content = tomllib.loads(TEXTS.read_text(encoding="utf-8"))
    return {code: Explanation(**row) for code, row in content.items()}


def cautions_page() -> str:
    """Every code in the order in which the program lists them."""
    known = explanations()
    rows = []
    for code in CautionCode:
        text = known.get(code.value, Explanation("", ""))
        rows.append((f"`{code.value}`", text.raised, text.act))
    return page(OPENING, table(("code", "raised where", "what to do"), rows))
