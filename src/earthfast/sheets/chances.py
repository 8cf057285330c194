"""The strip of checks: chance of failure on a log scale, each with its target."""

from __future__ import annotations

import math
from collections.abc import Sequence

from earthfast.sheets.dimensions import shifted
from earthfast.sheets.drawing import Anchor, Drawing, Element, Extent, Label, Place, Stroke
from earthfast.sheets.ink import BODY, HAIRLINE, MEDIUM, SMALL, THIN, Ink
from earthfast.stages.answers import CheckLine

RAREST = -4.0  # the axis runs from 1 in 10 000 to certain
ROW, HEAD = 4.6, 6.5  # mm on paper
NAMES, WORDS = 26.0, 36.0  # mm on paper, left and right of the axis
TICKS = ((-4.0, "1 in 10 000"), (-3.0, "1 in 1000"), (-2.0, "1 in 100"), (-1.0, "1 in 10"), (0.0, "certain"))


def chance_strip(checks: Sequence[CheckLine], width: float, key: str = "chances") -> Drawing:
    """Draw one row a check: a dot at its chance of failure, a gate at its target.

    Model units are decades. A dot right of its gate misses the target, and is then a square in the
    signal colour so that it is seen without colour too. An arrow head at the left end is a chance
    rarer than the axis shows.
    """
    scale = (width - NAMES - WORDS) / -RAREST
    bottom = HEAD + ROW * len(checks)
    elements: list[Element] = []
    for decade, words in TICKS:
        top = Place(decade, 0.0, 0.0, HEAD - 2.0)
        elements.append(Stroke((top, Place(decade, 0.0, 0.0, bottom)), HAIRLINE, Ink.PALE_INK))
        elements.append(Label(shifted(top, dy=-2.2), (words,), SMALL, anchor=Anchor.MIDDLE, ink=Ink.PALE_INK))
    for row, check in enumerate(checks):
        elements += _row(check, HEAD + ROW * (row + 0.5))
    frame = Extent(RAREST * scale - NAMES, 0.0, width, bottom + 0.5)
    title = "Chance of failure by check: " + "; ".join(
        f"{check.name} {check.chance_text}" for check in checks
    )
    return Drawing(key, title, tuple(elements), scale, frame)


def _row(check: CheckLine, level: float) -> list[Element]:
    start, mark = Place(RAREST, 0.0, 0.0, level), Place(_decade(check.chance), 0.0, 0.0, level)
    gate = Place(_decade(check.target), 0.0, 0.0, level)
    ink = Ink.INK if check.passes else Ink.SIGNAL
    gate_ends = (shifted(gate, dy=-2.2), shifted(gate, dy=2.2))
    flag = (shifted(gate, dy=-2.2), shifted(gate, 1.7, -1.5), shifted(gate, dy=-0.8))
    return [
        Stroke((start, mark), THIN if check.passes else MEDIUM, ink),
        Stroke(gate_ends, 0.5, Ink.UMBER),
        Stroke(flag, THIN, Ink.UMBER, closed=True, fill=Ink.OCHRE),
        _mark(mark, check, ink),
        Label(Place(RAREST, 0.0, -NAMES, level), (check.name,), BODY, 600, ink=ink),
        Label(Place(0.0, 0.0, WORDS, level), (check.chance_text,), BODY, anchor=Anchor.END, ink=ink),
    ]


def _mark(place: Place, check: CheckLine, ink: Ink) -> Stroke:
    """A dot; a square where the target is missed; an arrow head where the chance lies beyond the axis."""
    sides, size, turn = (12, 1.25, 0.5) if check.passes else (4, 1.7, 0.5)
    if check.passes and check.chance <= 10.0**RAREST:
        sides, size, turn = 3, 1.6, 1.5
    angles = [math.tau * (side + turn) / sides for side in range(sides)]
    corners = tuple(shifted(place, size * math.cos(angle), size * math.sin(angle)) for angle in angles)
    return Stroke(corners, THIN, ink, closed=True, fill=ink)


def _decade(chance: float) -> float:
    return max(RAREST, math.log10(chance)) if chance > 0.0 else RAREST
