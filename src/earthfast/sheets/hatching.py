"""Hatching in the drawing-office tradition: what a band is made of, told without colour."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from types import MappingProxyType

from earthfast.checks import Material
from earthfast.sheets.ink import HAIRLINE, THIN, Ink
from earthfast.sheets.packing import Point, packed_cells, scattered, shrunk, unordered


class Hatch(StrEnum):
    """Every pattern a band can carry."""

    BLOCKS = "blocks"
    FLAGS = "flags"
    BEDDING_SAND = "bedding-sand"
    CRUSHED_STONE = "crushed-stone"
    INSULATION_BOARD = "insulation-board"
    TREATED_SOIL = "treated-soil"
    CONCRETE = "concrete"
    TOPSOIL = "topsoil"
    CLAY = "clay"
    SILT = "silt"
    SAND = "sand"
    GRAVEL = "gravel"
    ORGANIC = "organic"
    UNNAMED_GROUND = "unnamed-ground"


@dataclass(frozen=True, slots=True)
class Tile:
    """A repeating piece of hatching, in mm on paper whatever the scale of the drawing."""

    width: float
    height: float
    ground: Ink
    marks: str


MATERIAL_HATCHES = MappingProxyType(
    {
        Material.BLOCKS: Hatch.BLOCKS,
        Material.FLAGS: Hatch.FLAGS,
        Material.GRAVEL: Hatch.GRAVEL,
        Material.BEDDING_SAND: Hatch.BEDDING_SAND,
        Material.CRUSHED_STONE: Hatch.CRUSHED_STONE,
        Material.INSULATION_BOARD: Hatch.INSULATION_BOARD,
        Material.TREATED_SOIL: Hatch.TREATED_SOIL,
        Material.CONCRETE: Hatch.CONCRETE,
    }
)

# First letters of the group symbols of ASTM D2487; the second letters W, P, L and H grade, they do not name.
SYMBOL_HATCHES = MappingProxyType(
    {
        "G": Hatch.GRAVEL,
        "S": Hatch.SAND,
        "M": Hatch.SILT,
        "C": Hatch.CLAY,
        "O": Hatch.ORGANIC,
        "P": Hatch.ORGANIC,
    }
)
GRADING_LETTERS = "WPLHIVET"


@dataclass(frozen=True, slots=True)
class SoilHatch:
    """The hatching of a natural soil: its main part, and a second part overprinted where it has one."""

    main: Hatch
    second: Hatch | None = None


def soil_hatch(symbol: str, name: str) -> SoilHatch:
    """Choose the hatching of a stratum by its group symbol, or by the words of its name."""
    if "topsoil" in name.lower():
        return SoilHatch(Hatch.TOPSOIL)
    found = _hatches_of_symbol(symbol) or _hatches_of_name(name)
    if not found:
        return SoilHatch(Hatch.UNNAMED_GROUND)
    return SoilHatch(found[0], found[1] if len(found) > 1 else None)


def _hatches_of_symbol(symbol: str) -> list[Hatch]:
    letters = "".join(
        letter
        for part in symbol.upper().split("-")
        for place, letter in enumerate(part)
        if place == 0 or letter not in GRADING_LETTERS
    )
    return list(dict.fromkeys(SYMBOL_HATCHES[letter] for letter in letters if letter in SYMBOL_HATCHES))


def _hatches_of_name(name: str) -> list[Hatch]:
    """Read "sandy silty clay" from its end: the noun is the main part, what stands before it the second."""
    stems = {"clay": Hatch.CLAY, "silt": Hatch.SILT, "sand": Hatch.SAND, "gravel": Hatch.GRAVEL}
    stems |= {"peat": Hatch.ORGANIC, "organic": Hatch.ORGANIC}
    words = name.lower().replace(",", " ").split()
    read = [hatch for word in reversed(words) for stem, hatch in stems.items() if word.startswith(stem)]
    return list(dict.fromkeys(read))


def _number(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")


def _line(x1: float, y1: float, x2: float, y2: float, width: float = THIN, ink: Ink = Ink.INK) -> str:
    ends = " ".join(
        f'{name}="{_number(value)}"'
        for name, value in zip(("x1", "y1", "x2", "y2"), (x1, y1, x2, y2), strict=True)
    )
    return f'<line {ends} stroke="{ink}" stroke-width="{width}" stroke-linecap="round"/>'


def _dot(x: float, y: float, radius: float, ink: Ink = Ink.INK) -> str:
    return f'<circle cx="{_number(x)}" cy="{_number(y)}" r="{_number(radius)}" fill="{ink}"/>'


def _polygon(points: list[Point], fill: str, width: float = HAIRLINE) -> str:
    corners = " ".join(f"{_number(x)},{_number(y)}" for x, y in points)
    return (
        f'<polygon points="{corners}" fill="{fill}" stroke="{Ink.INK}" stroke-width="{width}" '
        'stroke-linejoin="round"/>'
    )


def _wrapped(x: float, y: float, width: float, height: float, reach: float) -> Iterator[Point]:
    """Give a mark's place and its copies across the edges, so that the repeats join unseen."""
    for dx in (-width, 0.0, width):
        for dy in (-height, 0.0, height):
            if -reach < x + dx < width + reach and -reach < y + dy < height + reach:
                yield x + dx, y + dy


def _blocks() -> Tile:
    joints = _line(0.35, 0, 0.35, 12) + _line(11.65, 0, 11.65, 12)
    grain = "".join(_line(x, 12, x + 12, 0, HAIRLINE, Ink.UMBER) for x in (-10, -6, -2, 2, 6, 10))
    return Tile(
        12.0,
        12.0,
        Ink.OCHRE,
        grain + f'<rect x="-0.35" width="0.7" height="12" fill="{Ink.PAPER}"/>' + joints,
    )


def _flags() -> Tile:
    joints = _line(0.3, 0, 0.3, 6) + _line(23.7, 0, 23.7, 6)
    return Tile(24.0, 6.0, Ink.PAPER, joints + "".join(_line(x, 6, x + 6, 0, HAIRLINE) for x in (2, 8, 14)))


def _stipple(count: int, side: float, radius: float, ground: Ink) -> Tile:
    marks = ""
    for step, (u, v) in enumerate(scattered(count)):
        size = radius * (0.75 + 0.5 * ((step * 0.618) % 1.0))
        marks += "".join(_dot(x, y, size) for x, y in _wrapped(u * side, v * side, side, side, size))
    return Tile(side, side, ground, marks)


def _crushed_stone() -> Tile:
    side = 11.0
    marks = ""
    for step, cell in enumerate(packed_cells(34, side)):
        stone = shrunk(cell, 0.16)
        middle_x, middle_y = (sum(axis) / len(stone) for axis in zip(*stone, strict=True))
        fill = Ink.SAND if unordered(step) < 0.35 else Ink.PAPER
        for x, y in _wrapped(middle_x, middle_y, side, side, 2.5):
            marks += _polygon([(px - middle_x + x, py - middle_y + y) for px, py in stone], fill, 0.16)
    return Tile(side, side, Ink.UMBER, marks)


def _insulation_board() -> Tile:
    zigzag = _line(0, 3, 1.5, 0) + _line(1.5, 0, 3, 3)
    return Tile(3.0, 3.0, Ink.PAPER, zigzag)


def _treated_soil() -> Tile:
    side = 4.0
    lines = "".join(_line(x, side, x + side, 0) + _line(x, 0, x + side, side) for x in (-side, 0, side))
    return Tile(side, side, Ink.SAND, lines + _dot(side / 2, 0, 0.28) + _dot(side / 2, side, 0.28))


def _concrete() -> Tile:
    side, radius = 9.0, 0.75
    marks = ""
    for step, (u, v) in enumerate(scattered(30)):
        marks += "".join(
            _dot(x, y, 0.11 + 0.07 * (step % 3)) for x, y in _wrapped(u * side, v * side, side, side, 1.0)
        )
    for step, (u, v) in enumerate(scattered(9)):
        angles = [2.4 * step + spoke * math.tau / 3 for spoke in range(3)]
        for x, y in _wrapped(((u + 0.31) % 1.0) * side, ((v + 0.17) % 1.0) * side, side, side, 1.0):
            corners = [(x + radius * math.cos(angle), y + radius * math.sin(angle)) for angle in angles]
            marks += _polygon(corners, Ink.PAPER)
    return Tile(side, side, Ink.PAPER, marks)


def _topsoil() -> Tile:
    side = 8.0
    marks = ""
    for step, (u, v) in enumerate(scattered(13)):
        for x, y in _wrapped(u * side, v * side, side, side, 1.5):
            if unordered(step) < 0.5:
                marks += _dot(x, y, 0.18, Ink.PAPER)
            else:
                marks += "".join(_line(x, y, x + lean, y + 1.3, THIN, Ink.PAPER) for lean in (-0.7, 0.0, 0.7))
    return Tile(side, side, Ink.UMBER, marks)


def _clay() -> Tile:
    marks = (
        _line(0.5, 1, 5.5, 1) + _line(3.5, 2.6, 7, 2.6) + _line(0, 2.6, 1.5, 2.6) + _line(1.8, 4.2, 6.6, 4.2)
    )
    return Tile(7.0, 4.8, Ink.SAND, marks)


def _silt() -> Tile:
    arms = ((1.4, 1.4), (4.2, 3.6))
    marks = "".join(
        _line(x - 0.5, y - 0.5, x + 0.5, y + 0.5) + _line(x - 0.5, y + 0.5, x + 0.5, y - 0.5) for x, y in arms
    )
    return Tile(5.6, 4.4, Ink.SAND, marks)


def _gravel() -> Tile:
    side = 9.0
    marks = ""
    for step, (u, v) in enumerate(scattered(15)):
        wide, high = 0.75 + 0.4 * ((step * 0.618) % 1.0), 0.5 + 0.25 * ((step * 0.382) % 1.0)
        for x, y in _wrapped(u * side, v * side, side, side, 1.3):
            marks += (
                f'<ellipse cx="{_number(x)}" cy="{_number(y)}" rx="{_number(wide)}" ry="{_number(high)}" '
                f'fill="{Ink.PAPER}" stroke="{Ink.INK}" stroke-width="{THIN}"/>'
            )
    return Tile(side, side, Ink.SAND, marks)


def _organic() -> Tile:
    waves = "".join(
        f'<path d="M{x} {y}q1 -1.4 2 0t2 0" fill="none" stroke="{Ink.PAPER}" stroke-width="{THIN}"/>'
        for x, y in ((0, 1.5), (3.5, 4.2), (-3.5, 4.2))
    )
    return Tile(7.0, 5.6, Ink.UMBER, waves)


def _unnamed_ground() -> Tile:
    strokes = "".join(_line(x, 5, x + 1.6, 3.4) for x in (1.0, 2.2, 3.4)) + _line(5.6, 1.6, 7.2, 0.6)
    return Tile(8.0, 6.0, Ink.SAND, strokes)


TILES: MappingProxyType[Hatch, Callable[[], Tile]] = MappingProxyType(
    {
        Hatch.BLOCKS: _blocks,
        Hatch.FLAGS: _flags,
        Hatch.BEDDING_SAND: lambda: _stipple(60, 6.0, 0.15, Ink.PAPER),
        Hatch.CRUSHED_STONE: _crushed_stone,
        Hatch.INSULATION_BOARD: _insulation_board,
        Hatch.TREATED_SOIL: _treated_soil,
        Hatch.CONCRETE: _concrete,
        Hatch.TOPSOIL: _topsoil,
        Hatch.CLAY: _clay,
        Hatch.SILT: _silt,
        Hatch.SAND: lambda: _stipple(26, 7.0, 0.2, Ink.SAND),
        Hatch.GRAVEL: _gravel,
        Hatch.ORGANIC: _organic,
        Hatch.UNNAMED_GROUND: _unnamed_ground,
    }
)


@cache
def hatch_tile(hatch: Hatch) -> Tile:
    """Give the repeating piece of a hatching."""
    return TILES[hatch]()
