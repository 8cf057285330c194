"""Cone soundings as strip logs, drawn to the depth scale of the section they stand beside."""

from __future__ import annotations

import math
from collections.abc import Sequence

from earthfast.sheets.dimensions import shifted
from earthfast.sheets.drawing import Anchor, Drawing, Element, Extent, Label, Place, Stroke
from earthfast.sheets.ink import HAIRLINE, MEDIUM, SMALL, THICK, THIN, Ink
from earthfast.stages.answers import BoundaryLine, SetLine, SoundingLine, SoundingsAnswer

ABOVE, BELOW = 5.0, 5.0  # mm on paper: numbers of the soundings, scale of the strips
DEPTHS, WHISKERS = 8.0, 5.0  # mm on paper left of the strips: depths, bands of the common boundaries
NARROWEST, WIDEST, BETWEEN = 6.0, 16.0, 1.4  # mm on paper, of a strip and from one to the next
EVERY = 500.0  # mm of depth from one figure to the next
ROUND = 20.0  # mm a blow to which the scale of the strips is rounded up


def strips_in(width: float) -> int:
    """How many strip logs stand side by side in a width, mm on paper."""
    return int((width - DEPTHS - WHISKERS) / (NARROWEST + BETWEEN))


def most_a_blow(soundings: SoundingsAnswer) -> float:
    """The penetration a blow at the right edge of every strip, mm."""
    most = max(one.mm_per_blow for sounding in soundings.soundings for one in sounding.sets)
    return ROUND * math.ceil(most / ROUND)


def strip_log(
    soundings: SoundingsAnswer, drawn: range, today: float, scale: float, width: float, key: str = "strips"
) -> Drawing:
    """Draw some of the soundings side by side: penetration a blow against depth, layers and boundaries.

    Model units are mm below the finished surface, as in the section; depths of soundings are read from today's
    ground, which lies `today` below it. A strip runs from nought at its left edge to `most_a_blow`.
    """
    chosen = [soundings.soundings[place] for place in drawn]
    deepest = today + max(one.sets[-1].bottom_mm for one in chosen)
    most = most_a_blow(soundings)
    strip = min(WIDEST, (width - DEPTHS - WHISKERS) / len(chosen) - BETWEEN)
    left = DEPTHS + WHISKERS
    right = left + len(chosen) * (strip + BETWEEN) - BETWEEN
    elements: list[Element] = _depths(today, deepest, right)
    for place, (number, sounding) in enumerate(zip(drawn, chosen, strict=True)):
        edge = left + place * (strip + BETWEEN)
        elements += _strip(sounding, today, edge, strip / most, strip)
        elements.append(
            Label(Place(0, today, edge + strip / 2, -2.6), (str(number + 1),), SMALL, 600, Anchor.MIDDLE)
        )
    for boundary in soundings.boundaries:
        elements += _common(boundary, today, left, right)
    elements += _scale(most, deepest, left, strip)
    frame = Extent(0.0, -ABOVE, width, deepest * scale + ABOVE + BELOW)
    title = f"Strip logs of cone soundings {drawn[0] + 1} to {drawn[-1] + 1}, mm a blow against depth"
    return Drawing(key, title, tuple(elements), scale, frame, ratio=1.0 / scale)


def _depths(today: float, deepest: float, right: float) -> list[Element]:
    elements: list[Element] = [Stroke((Place(0, today, DEPTHS), Place(0, today, right)), THICK)]
    for step in range(int((deepest - today) // EVERY) + 1):
        at = Place(0, today + step * EVERY, DEPTHS)
        elements.append(Stroke((shifted(at, -1.2), at), THIN))
        elements.append(Label(shifted(at, -1.8), (f"{step * EVERY / 1000:g}",), SMALL, anchor=Anchor.END))
    return elements


def _strip(sounding: SoundingLine, today: float, edge: float, by_blow: float, strip: float) -> list[Element]:
    elements: list[Element] = [
        Stroke(_corners(one, today, edge, by_blow), HAIRLINE, closed=True, fill=Ink.SAND)
        for one in sounding.sets
    ]
    first, last = sounding.sets[0].top_mm, sounding.sets[-1].bottom_mm
    elements.append(Stroke((Place(0, today + first, edge), Place(0, today + last, edge)), MEDIUM))
    for layer in sounding.layers:
        across = edge + layer.mm_per_blow * by_blow
        ends = Place(0, today + layer.top_mm, across), Place(0, today + layer.bottom_mm, across)
        elements.append(Stroke(ends, THICK))
    for boundary in sounding.boundaries:
        level = today + boundary.depth_mm
        elements.append(Stroke((Place(0, level, edge), Place(0, level, edge + strip)), MEDIUM, Ink.UMBER))
        elements += _whisker(boundary, today, edge + strip - 0.6, Ink.UMBER)
    return elements


def _corners(one: SetLine, today: float, edge: float, by_blow: float) -> tuple[Place, ...]:
    top, bottom, across = today + one.top_mm, today + one.bottom_mm, edge + one.mm_per_blow * by_blow
    return (Place(0, top, edge), Place(0, top, across), Place(0, bottom, across), Place(0, bottom, edge))


def _whisker(boundary: BoundaryLine, today: float, at: float, ink: Ink) -> list[Element]:
    """The band of a boundary: an upright line with a cap at both its ends."""
    low, high = Place(0, today + boundary.low_mm, at), Place(0, today + boundary.high_mm, at)
    caps = [Stroke((shifted(end, -0.6), shifted(end, 0.6)), THIN, ink) for end in (low, high)]
    return [Stroke((low, high), THIN, ink), *caps]


def _common(boundary: BoundaryLine, today: float, left: float, right: float) -> list[Element]:
    level = today + boundary.depth_mm
    line = Stroke(
        (Place(0, level, left - WHISKERS), Place(0, level, right)), 0.5, Ink.SIGNAL, dashes="2.2 1.1"
    )
    return [line, *_whisker(boundary, today, left - WHISKERS / 2, Ink.SIGNAL)]


def _scale(most: float, deepest: float, left: float, strip: float) -> list[Element]:
    """The scale of the strips, under the first of them."""
    start = Place(0, deepest, left, 1.2)
    words = Label(shifted(start, dy=2.0), (f"0 to {most:.0f} mm a blow across a strip",), SMALL)
    return [Stroke((start, shifted(start, strip)), MEDIUM), words]


def boundaries_words(soundings: SoundingsAnswer) -> str:
    """What the soundings say together of layers, in sentences."""
    if not soundings.boundaries:
        return f"{soundings.because[:1].upper()}{soundings.because[1:]}."
    found = "; ".join(
        f"{line.depth_mm:.0f} mm ({line.low_mm:.0f} to {line.high_mm:.0f}): {line.words}"
        for line in soundings.boundaries
    )
    return f"Boundaries that most soundings meet: {found}."


def rows_of_strips(count: int, first: int, further: int) -> Sequence[range]:
    """Share soundings out to rows: so many beside the section, so many in every row under it."""
    rows = [range(min(first, count))]
    while rows[-1].stop < count:
        rows.append(range(rows[-1].stop, min(rows[-1].stop + further, count)))
    return rows
