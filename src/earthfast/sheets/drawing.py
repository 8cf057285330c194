"""Drawings as elements in model units, put to scale once when they are written as SVG."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum
from html import escape
from itertools import combinations
from typing import TypeAlias

from earthfast.sheets.hatching import Hatch, hatch_tile
from earthfast.sheets.ink import BODY, MEDIUM, Box, Ink
from earthfast.sheets.lettering import FAMILY, typeface
from earthfast.sheets.packing import Point

LEADING = 1.2  # line pitch over letter size
CAP_HEIGHT = 0.69  # of the typeface, over letter size


class Anchor(StrEnum):
    """Which end of a line of text stands at its place."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


@dataclass(frozen=True, slots=True)
class Place:
    """A point in model units, with a shift in mm on paper for what does not scale."""

    x: float
    y: float
    dx: float = 0.0
    dy: float = 0.0


@dataclass(frozen=True, slots=True)
class Band:
    """A hatched rectangle between two corners, known by a name."""

    name: str
    start: Place
    end: Place
    hatch: Hatch
    overprint: Hatch | None = None


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line through places, closed and filled where asked."""

    places: tuple[Place, ...]
    width: float = MEDIUM
    ink: Ink = Ink.INK
    dashes: str = ""
    closed: bool = False
    fill: Ink | None = None


@dataclass(frozen=True, slots=True)
class Label:
    """Text whose lines stand centred about a place."""

    place: Place
    lines: tuple[str, ...]
    size: float = BODY
    weight: int = 400
    anchor: Anchor = Anchor.START
    ink: Ink = Ink.INK
    upright: bool = False
    backed: bool = False

    @property
    def width(self) -> float:
        """Width of the longest line, mm on paper."""
        return max(typeface(self.weight).width(line) for line in self.lines) * self.size

    @property
    def height(self) -> float:
        """Height of all lines, mm on paper."""
        return (LEADING * (len(self.lines) - 1) + 1.0) * self.size


Element: TypeAlias = Band | Stroke | Label


@dataclass(frozen=True, slots=True)
class Extent:
    """A rectangle on paper, mm, from its top left corner."""

    left: float
    top: float
    width: float
    height: float

    def overlaps(self, other: Extent) -> bool:
        """Whether the two rectangles share more than an edge."""
        beside = self.left + self.width <= other.left + 1e-6 or other.left + other.width <= self.left + 1e-6
        above = self.top + self.height <= other.top + 1e-6 or other.top + other.height <= self.top + 1e-6
        return not (beside or above)

    def holds(self, other: Extent) -> bool:
        """Whether the other rectangle lies inside this one."""
        across = self.left - 1e-6 <= other.left and other.left + other.width <= self.left + self.width + 1e-6
        down = self.top - 1e-6 <= other.top and other.top + other.height <= self.top + self.height + 1e-6
        return across and down


@dataclass(frozen=True, slots=True)
class Drawing:
    """Elements in model units and how they are put on paper.

    Attributes
    ----------
    key : short name, unique on the page.
    title : what is drawn, read aloud where the drawing cannot be seen.
    elements : in the order they are drawn.
    scale : mm on paper for one model unit.
    frame : the part of the paper that is shown.
    upward : whether the model's second axis points up (plans) or down (sections).
    ratio : denominator of the scale as written, 0 where there is none.
    """

    key: str
    title: str
    elements: tuple[Element, ...]
    scale: float
    frame: Extent
    upward: bool = False
    ratio: float = 0.0

    @property
    def scale_words(self) -> str:
        """The scale as written under a drawing."""
        return f"1:{self.ratio:g}" if self.ratio else ""

    @property
    def labels(self) -> tuple[Label, ...]:
        """All text of the drawing."""
        return tuple(element for element in self.elements if isinstance(element, Label))

    @property
    def bands(self) -> tuple[Band, ...]:
        """All hatched bands of the drawing."""
        return tuple(element for element in self.elements if isinstance(element, Band))

    def on_paper(self, place: Place) -> Point:
        """Put a place on paper, mm."""
        y = -place.y if self.upward else place.y
        return place.x * self.scale + place.dx, y * self.scale + place.dy

    def extent(self, label: Label) -> Extent:
        """Rectangle that a label covers on paper."""
        x, y = self.on_paper(label.place)
        before = {Anchor.START: 0.0, Anchor.MIDDLE: 0.5, Anchor.END: 1.0}[label.anchor] * label.width
        if label.upright:
            return Extent(x - label.height / 2, y + before - label.width, label.height, label.width)
        return Extent(x - before, y - label.height / 2, label.width, label.height)

    def clashes(self) -> list[tuple[Label, Label]]:
        """Pairs of labels that overlap."""
        return [
            (one, other)
            for one, other in combinations(self.labels, 2)
            if self.extent(one).overlaps(self.extent(other))
        ]

    def svg(self) -> str:
        """Write the drawing as SVG, one mm on paper a unit."""
        frame = self.frame
        hatches = {hatch for band in self.bands for hatch in (band.hatch, band.overprint) if hatch}
        size = " ".join(_number(value) for value in (frame.left, frame.top, frame.width, frame.height))
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-label="{escape(self.title)}" '
            f'width="{_number(frame.width)}mm" height="{_number(frame.height)}mm" viewBox="{size}" '
            f'font-family="{FAMILY}"><title>{escape(self.title)}</title>'
            f"<defs>{''.join(self._pattern(hatch) for hatch in sorted(hatches))}</defs>"
            f"{''.join(self._element(element) for element in self.elements)}</svg>"
        )

    def _pattern(self, hatch: Hatch) -> str:
        tile = hatch_tile(hatch)
        return (
            f'<pattern id="{self.key}-{hatch}" width="{tile.width}" height="{tile.height}" '
            f'patternUnits="userSpaceOnUse">{tile.marks}</pattern>'
        )

    def _element(self, element: Element) -> str:
        match element:
            case Band():
                return self._band(element)
            case Stroke():
                return self._stroke(element)
            case Label():
                return self._label(element)

    def _band(self, band: Band) -> str:
        (x1, y1), (x2, y2) = self.on_paper(band.start), self.on_paper(band.end)
        shape = (
            f'<rect x="{_number(min(x1, x2))}" y="{_number(min(y1, y2))}" '
            f'width="{_number(abs(x2 - x1))}" height="{_number(abs(y2 - y1))}"'
        )
        fills = [hatch_tile(band.hatch).ground.value, f"url(#{self.key}-{band.hatch})"]
        if band.overprint:
            fills.append(f"url(#{self.key}-{band.overprint})")
        drawn = "".join(f'{shape} fill="{fill}"/>' for fill in fills)
        return f'<g data-band="{escape(band.name)}">{drawn}</g>'

    def _stroke(self, stroke: Stroke) -> str:
        points = " ".join(f"{_number(x)},{_number(y)}" for x, y in map(self.on_paper, stroke.places))
        dashes = f' stroke-dasharray="{stroke.dashes}"' if stroke.dashes else ""
        return (
            f'<{"polygon" if stroke.closed else "polyline"} points="{points}" fill="{stroke.fill or "none"}" '
            f'stroke="{stroke.ink}" stroke-width="{stroke.width}" stroke-linejoin="round"{dashes}/>'
        )

    def _label(self, label: Label) -> str:
        x, y = self.on_paper(label.place)
        first = (CAP_HEIGHT - LEADING * (len(label.lines) - 1)) / 2 * label.size
        turn = f' transform="translate({_number(x)} {_number(y)}) rotate(-90)"' if label.upright else ""
        left, middle = (0.0, 0.0) if label.upright else (x, y)
        pitch = LEADING * label.size
        lines = "".join(
            f'<text x="{_number(left)}" y="{_number(middle + first + step * pitch)}">{escape(line)}</text>'
            for step, line in enumerate(label.lines)
        )
        return (
            f'{self._backing(label)}<g font-size="{_number(label.size)}" font-weight="{label.weight}" '
            f'text-anchor="{label.anchor}" fill="{label.ink}"{turn}>{lines}</g>'
        )

    def _backing(self, label: Label) -> str:
        if not label.backed:
            return ""
        extent, rim = self.extent(label), 0.7
        return (
            f'<rect x="{_number(extent.left - rim)}" y="{_number(extent.top)}" rx="0.8" fill="{Ink.PAPER}" '
            f'width="{_number(extent.width + 2 * rim)}" height="{_number(extent.height)}"/>'
        )


def wrapped(text: str, width: float, size: float, weight: int = 400) -> tuple[str, ...]:
    """Break text into lines no wider than a width, mm on paper; a longer word keeps its line."""
    lines: list[str] = []
    for word in text.split(" "):
        if lines and typeface(weight).width(f"{lines[-1]} {word}") * size <= width:
            lines[-1] = f"{lines[-1]} {word}"
        else:
            lines.append(word)
    return tuple(lines) or ("",)


def spread(targets: Iterable[float], heights: Iterable[float], top: float, bottom: float) -> list[float]:
    """Move labels as little as possible so that none overlaps the next; the order is kept.

    Labels that meet are pooled and stand about the mean of where they wanted to be; the whole
    column is then pushed back inside the bounds.
    """
    pools: list[tuple[list[float], list[float]]] = []
    for target, height in zip(targets, heights, strict=True):
        pools.append(([target], [height]))
        while len(pools) > 1 and _end(pools[-2]) > _start(pools[-1]):
            wanted, sizes = pools.pop()
            pools[-1] = (pools[-1][0] + wanted, pools[-1][1] + sizes)
    centres: list[float] = []
    for pool in pools:
        at = _start(pool)
        for height in pool[1]:
            centres.append(at + height / 2)
            at += height
    return _inside(centres, [height for pool in pools for height in pool[1]], top, bottom)


def _middle(pool: tuple[list[float], list[float]]) -> float:
    """Middle of a pool that minimises the squared moves of its labels."""
    wanted, heights = pool
    total, offset, moves = sum(heights), 0.0, []
    for target, height in zip(wanted, heights, strict=True):
        moves.append(target - (offset + height / 2 - total / 2))
        offset += height
    return sum(moves) / len(moves)


def _start(pool: tuple[list[float], list[float]]) -> float:
    return _middle(pool) - sum(pool[1]) / 2


def _end(pool: tuple[list[float], list[float]]) -> float:
    return _middle(pool) + sum(pool[1]) / 2


def _inside(centres: list[float], heights: list[float], top: float, bottom: float) -> list[float]:
    limit = top
    for index, height in enumerate(heights):
        centres[index] = max(centres[index], limit + height / 2)
        limit = centres[index] + height / 2
    limit = bottom
    for index in reversed(range(len(heights))):
        centres[index] = min(centres[index], limit - heights[index] / 2)
        limit = centres[index] - heights[index] / 2
    return centres


def fitting_ratio(ratios: Iterable[float], box: Box, width: float, height: float) -> float:
    """Choose the largest scale, as its denominator, at which something (in mm) fits a box on paper."""
    steps = tuple(ratios)
    return next(
        (step for step in steps if width / step <= box.width and height / step <= box.height), steps[-1]
    )


def _number(value: float) -> str:
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in {"-0", ""} else text
