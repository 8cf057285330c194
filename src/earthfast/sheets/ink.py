"""Paper, ink and lettering that drawings, charts and sheets share."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from types import MappingProxyType


class Ink(StrEnum):
    """Ink and paper, three earth tones and one signal colour."""

    INK = "#23211c"
    PALE_INK = "#6d675b"
    PAPER = "#fbf8f1"
    UMBER = "#6e5138"
    OCHRE = "#b88a45"
    SAND = "#e9dcc0"
    SIGNAL = "#c8340f"


class Paper(StrEnum):
    """Paper a sheet is printed on."""

    A4 = "a4"
    LETTER = "us-letter"


@dataclass(frozen=True, slots=True)
class Box:
    """Width and height on paper, mm."""

    width: float
    height: float


PAPER_SIZES = MappingProxyType({Paper.A4: Box(210.0, 297.0), Paper.LETTER: Box(215.9, 279.4)})

POINT = 25.4 / 72.0  # mm in one typographic point
TINY, SMALL, BODY, LARGE = 7.5 * POINT, 8.5 * POINT, 9.5 * POINT, 12.0 * POINT
HAIRLINE, THIN, MEDIUM, THICK = 0.12, 0.2, 0.35, 0.6
