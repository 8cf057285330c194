"""Dimension lines, arrows and the marks of water and frost."""

from __future__ import annotations

import math

from earthfast.sheets.drawing import Anchor, Element, Label, Place, Stroke
from earthfast.sheets.ink import MEDIUM, SMALL, THIN, Ink

TICK = 0.9  # mm on paper


def shifted(place: Place, dx: float = 0.0, dy: float = 0.0) -> Place:
    """Give a place moved by mm on paper."""
    return Place(place.x, place.y, place.dx + dx, place.dy + dy)


def dimension(
    start: Place, end: Place, text: str, *, upright: bool = False, beyond: float = 2.3
) -> list[Element]:
    """A dimension line with drawing-office ticks, its figure, where there is one, beside its middle."""
    middle = Place(
        (start.x + end.x) / 2, (start.y + end.y) / 2, (start.dx + end.dx) / 2, (start.dy + end.dy) / 2
    )
    at = shifted(middle, dx=-beyond) if upright else shifted(middle, dy=beyond)
    line: list[Element] = [Stroke((start, end), THIN), tick(start), tick(end)]
    return [*line, Label(at, (text,), SMALL, 600, Anchor.MIDDLE, upright=upright)] if text else line


def tick(place: Place) -> Stroke:
    """The oblique stroke that ends a dimension."""
    return Stroke((shifted(place, -TICK, TICK), shifted(place, TICK, -TICK)), MEDIUM)


def arrow(tail: Place, heading: float, length: float, ink: Ink = Ink.INK) -> list[Element]:
    """An arrow of a length in mm on paper, heading anticlockwise from the right in radians."""
    dx, dy = math.cos(heading), -math.sin(heading)
    tip = shifted(tail, length * dx, length * dy)
    back, side = 2.6, 1.1
    barbs = tuple(
        shifted(tip, -back * dx + turn * side * dy, -back * dy - turn * side * dx) for turn in (-1.0, 1.0)
    )
    return [
        Stroke((tail, tip), 0.5, ink),
        Stroke((tip, *barbs), THIN, ink, closed=True, fill=ink),
    ]


def water_mark(place: Place) -> list[Element]:
    """The standing triangle of a water level, point on the level."""
    corners = (place, shifted(place, -1.3, -2.2), shifted(place, 1.3, -2.2))
    return [
        Stroke(corners, MEDIUM, closed=True, fill=Ink.PAPER),
        Stroke((shifted(place, -1.0, 0.8), shifted(place, 1.0, 0.8)), THIN),
        Stroke((shifted(place, -0.5, 1.5), shifted(place, 0.5, 1.5)), THIN),
    ]
