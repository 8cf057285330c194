"""The section to scale: courses, formation and strata with their depths."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from earthfast.checks import Material
from earthfast.sheets.dimensions import dimension, shifted, tick, water_mark
from earthfast.sheets.drawing import (
    Anchor,
    Band,
    Drawing,
    Element,
    Extent,
    Label,
    Place,
    Stroke,
    fitting_ratio,
    spread,
    wrapped,
)
from earthfast.sheets.hatching import MATERIAL_HATCHES, Hatch, soil_hatch
from earthfast.sheets.ink import BODY, HAIRLINE, MEDIUM, SMALL, THICK, THIN, TINY, Box, Ink
from earthfast.sheets.lettering import typeface
from earthfast.stages.answers import AreaBuild, CourseLine, StratumLine, WayLine

RATIOS = (5.0, 10.0, 12.5, 15.0, 20.0, 25.0, 50.0)
LEAST_DEPTH, GREATEST_DEPTH = 1200.0, 1500.0  # mm of ground drawn
AIR = 5.0  # mm on paper above the finished surface
STAFF, DIMENSIONS, STRIP, WALL = 10.3, 11.0, 9.0, 18.0  # mm on paper, from the left
LEADER, NUMBERS, GAP = 3.5, 8.0, 1.2  # mm on paper, from the right of the wall
SECTION_WIDTH = 84.0  # mm on paper


@dataclass(frozen=True, slots=True)
class Note:
    """A line of the key beside a section: the depth it points at, a figure and words."""

    depth: float
    figure: str
    words: str
    ink: Ink = Ink.INK


def course_words(course: CourseLine) -> str:
    """A course in words, with its binder where it has one."""
    words = course.material
    if course.lime_percent:
        words += f", {course.lime_percent:g}\u00a0%\u00a0lime"
    if course.dose_percent:
        words += f", {course.dose_percent:g}\u00a0%\u00a0cement"
    return words


def course_bands(courses: Sequence[CourseLine], left: float, right: float) -> list[Band]:
    """The courses as hatched bands from the finished surface down; left and right in mm on paper."""
    bands, depth = [], 0.0
    for course in courses:
        bottom = depth + course.thickness_mm
        hatch = MATERIAL_HATCHES[Material(course.material)]
        bands.append(Band(course.material, Place(0.0, depth, left), Place(0.0, bottom, right), hatch))
        depth = bottom
    return bands


def ground_depth(area: AreaBuild) -> float:
    """Depth of today's ground below the finished surface, mm, mean of the corners."""
    if not area.corners:
        return 0.0
    return 1000.0 * sum(corner.finished_m - corner.ground_m for corner in area.corners) / len(area.corners)


def section(area: AreaBuild, box: Box, key: str = "section") -> Drawing:
    """Draw an area's build-up and ground to scale, finished surface at the top.

    Model units are mm below the finished surface. Strata, topsoil and water are read as depths below
    today's ground, frost as a depth below the finished surface.
    """
    ratio = fitting_ratio(RATIOS, Box(1.0, box.height - AIR), 0.0, LEAST_DEPTH)
    scale = 1.0 / ratio
    depth = min(GREATEST_DEPTH, (box.height - AIR) / scale)
    total = sum(course.thickness_mm for course in area.courses)
    bands = [*_strata(area, total, depth), *course_bands(area.courses, STRIP, STRIP + WALL)]
    elements: list[Element] = [*bands, *_outlines(area, total, depth)]
    elements += _left_dimensions(area, total, scale)
    elements += _staff(depth, scale)
    elements += _water_and_frost(area, depth)
    elements += _key(_notes(area, depth), scale, depth * scale)
    frame = Extent(-STAFF - DIMENSIONS, -AIR, SECTION_WIDTH, depth * scale + AIR)
    title = f"Section of {area.name}: {', '.join(_course_list(area.courses))}"
    return Drawing(key, title, tuple(elements), scale, frame, ratio=ratio)


def _course_list(courses: Sequence[CourseLine]) -> list[str]:
    return [f"{course.thickness_mm:.0f} mm {course_words(course)}" for course in courses]


def _strata(area: AreaBuild, total: float, depth: float) -> list[Band]:
    """Strata beside the dig from today's ground down, and under it from formation down."""
    today, bands = ground_depth(area), []
    for index, stratum in enumerate(area.strata):
        last = index == len(area.strata) - 1
        top = today + stratum.top_mm
        bottom = depth if last else min(depth, today + stratum.bottom_mm)
        hatch = soil_hatch(stratum.symbol, stratum.name)
        for left, right, above in ((0.0, STRIP, top), (STRIP, STRIP + WALL, max(top, total))):
            if bottom > above:
                start, end = Place(0.0, above, left), Place(0.0, bottom, right)
                bands.append(Band(stratum.name, start, end, hatch.main, hatch.second))
    return bands


def _outlines(area: AreaBuild, total: float, depth: float) -> list[Element]:
    today, right = ground_depth(area), STRIP + WALL
    elements: list[Element] = []
    below = 0.0
    for course in area.courses:
        below += course.thickness_mm
        elements.append(Stroke((Place(0, below, STRIP), Place(0, below, right)), MEDIUM))
    for stratum in area.strata[1:]:
        level = today + stratum.top_mm
        if level < depth:
            start = 0.0 if level > total else STRIP
            ends = (Place(0, level, 0.0), Place(0, level, right if level > total else start))
            elements.append(Stroke(ends, MEDIUM, dashes="1.6 0.8"))
    dug = (Place(0, min(0.0, today), STRIP), Place(0, total, STRIP), Place(0, total, right))
    elements += [
        Stroke(dug, THICK),
        Stroke((Place(0, 0, STRIP), Place(0, 0, right)), THICK),
        Stroke((Place(0, 0, right), Place(0, depth, right)), HAIRLINE),
        Stroke((Place(0, today, 0), Place(0, depth, 0)), HAIRLINE),
        Stroke((Place(0, today, 0), Place(0, today, STRIP)), MEDIUM),
    ]
    for step in range(5):
        root = Place(0, today, 0.9 + 1.8 * step)
        elements += [Stroke((root, shifted(root, lean, -1.5 + abs(lean))), THIN) for lean in (-0.5, 0.1, 0.6)]
    return elements


def _left_dimensions(area: AreaBuild, total: float, scale: float) -> list[Element]:
    today = ground_depth(area)
    near, far = -2.2, -7.0
    dig_top, dig_bottom = Place(0, today, near), Place(0, today + area.mean_dig_mm, near)
    top, bottom = Place(0, 0, far), Place(0, total, far)
    elements: list[Element] = [
        Stroke((Place(0, 0, far - 1), Place(0, 0, STRIP)), HAIRLINE),
        Stroke((Place(0, total, far - 1), Place(0, total, STRIP)), HAIRLINE),
        *dimension(top, bottom, _fitting("build-up", total, scale), upright=True, beyond=1.9),
        *dimension(dig_top, dig_bottom, _fitting("dig", area.mean_dig_mm, scale), upright=True, beyond=1.9),
    ]
    return elements


def _fitting(word: str, length: float, scale: float) -> str:
    """A dimension's word and figure, or the figure alone where the line is too short for both."""
    text = f"{word} {length:.0f}"
    return text if typeface(600).width(text) * SMALL < 0.95 * length * scale else f"{length:.0f}"


def _staff(depth: float, scale: float) -> list[Element]:
    """A levelling staff as the scale: a block every 100 mm, a figure every 500 mm."""
    left, right = -STAFF - DIMENSIONS + 7.6, -STAFF - DIMENSIONS + 9.4
    elements: list[Element] = []
    marks = [100.0 * step for step in range(int(depth // 100.0) + 1)]
    for step, (top, bottom) in enumerate(pairwise(marks)):
        corners = tuple(
            Place(0, level, side)
            for level, side in ((top, left), (top, right), (bottom, right), (bottom, left))
        )
        elements.append(Stroke(corners, THIN, closed=True, fill=Ink.INK if step % 2 == 0 else Ink.PAPER))
    for level in marks:
        if level % 500.0 == 0.0 and (depth - level) * scale > SMALL / 2:
            at = Place(0, level, left - 0.8)
            elements.append(Label(at, (f"{level / 1000:g}",), SMALL, anchor=Anchor.END))
    return elements


def _water_and_frost(area: AreaBuild, depth: float) -> list[Element]:
    right = STRIP + WALL
    elements: list[Element] = []
    if area.frost_mm is not None and area.frost_mm < depth:
        ends = (Place(0, area.frost_mm, 0), Place(0, area.frost_mm, right + LEADER - 1))
        elements += [Stroke(ends, 1.3, Ink.PAPER), Stroke(ends, 0.5, Ink.SIGNAL, dashes="2.2 1.1")]
    if area.water_mm is not None and ground_depth(area) + area.water_mm < depth:
        level = ground_depth(area) + area.water_mm
        ends = (Place(0, level, 0), Place(0, level, right + LEADER - 1))
        elements += [Stroke(ends, 1.1, Ink.PAPER), Stroke(ends, MEDIUM)]
        elements += water_mark(Place(0, level, right - 3.0))
    return elements


def _notes(area: AreaBuild, depth: float) -> list[Note]:
    notes, below = [], 0.0
    for course in area.courses:
        middle = below + course.thickness_mm / 2
        notes.append(Note(middle, f"{course.thickness_mm:.0f}", course_words(course)))
        below += course.thickness_mm
    notes.append(Note(below, "", "formation"))
    today = ground_depth(area)
    for index, stratum in enumerate(area.strata):
        top = max(below, today + stratum.top_mm)
        bottom = depth if index == len(area.strata) - 1 else min(depth, today + stratum.bottom_mm)
        if bottom - top > 20.0:
            notes.append(Note((top + bottom) / 2, "", stratum.name))
    if area.frost_mm is not None:
        notes.append(
            Note(min(area.frost_mm, depth), f"{area.frost_mm:.0f}", _frost_words(area, depth), Ink.SIGNAL)
        )
    if area.water_mm is not None:
        level = today + area.water_mm
        notes.append(Note(min(level, depth), f"{area.water_mm:.0f}", _water_words(level, depth)))
    return sorted(notes, key=lambda note: note.depth)


def _frost_words(area: AreaBuild, depth: float) -> str:
    reach = "" if area.frost_mm is not None and area.frost_mm < depth else " (below this drawing)"
    return f"deepest frost in its design life{reach}"


def _water_words(level: float, depth: float) -> str:
    return "water level, from today's ground" + ("" if level < depth else " (deeper than drawn)")


def _key(notes: Sequence[Note], scale: float, height: float) -> list[Element]:
    """The notes in a column, spread so that none overlaps, each led to the depth it speaks of."""
    wall = STRIP + WALL
    left = wall + LEADER + NUMBERS + GAP
    room = SECTION_WIDTH - STAFF - DIMENSIONS - left
    for size in (BODY, SMALL, TINY):
        lines = [wrapped(note.words, room, size) for note in notes]
        heights = [Label(Place(0, 0), line, size).height + 0.27 * size for line in lines]
        if sum(heights) <= height + AIR:
            break
    middles = spread([note.depth * scale for note in notes], heights, -AIR, height)
    elements: list[Element] = []
    for note, line, middle in zip(notes, lines, middles, strict=True):
        at = Place(0.0, 0.0, left, middle)
        bend, end = Place(0, 0, wall + LEADER, middle), Place(0, note.depth, wall + 0.4)
        elements.append(Stroke((end, bend, shifted(bend, 1.0 if note.figure else NUMBERS)), THIN, note.ink))
        elements.append(Label(at, line, size, ink=note.ink))
        if note.figure:
            number = shifted(at, dx=-GAP)
            elements.append(Label(number, (note.figure,), size, 600, Anchor.END, note.ink))
    return elements


def small_sections(
    ways: Sequence[WayLine], box: Box, key: str = "way", strata: Sequence[StratumLine] = ()
) -> tuple[Drawing, ...]:
    """Draw the build-ups of several ways at one scale, so that they can be compared by eye.

    The box holds one of them; all stand with their finished surface level, taken to be today's ground.
    """
    deepest = max(way.thickness_mm for way in ways)
    below = 4.5  # mm on paper of natural ground under the deepest
    ratio = fitting_ratio(RATIOS, Box(1.0, box.height - below - 1.0), 0.0, deepest)
    scale = 1.0 / ratio
    frame = Extent(0.0, -1.0, box.width, deepest * scale + below + 1.0)
    drawings = []
    for index, way in enumerate(ways, start=1):
        elements = _small_section(way, deepest + below / scale, scale, box.width, strata)
        title = f"{way.title}: {', '.join(_course_list(way.courses))}"
        drawings.append(Drawing(f"{key}{index}", title, tuple(elements), scale, frame, ratio=ratio))
    return tuple(drawings)


def _ground_under(strata: Sequence[StratumLine], top: float, bottom: float, right: float) -> list[Band]:
    """The strata between two depths below the surface; unnamed ground where none is known."""
    if not strata:
        return [Band("natural ground", Place(0, top, 0.3), Place(0, bottom, right), Hatch.UNNAMED_GROUND)]
    bands = []
    for stratum, after in zip(strata, (*strata[1:], None), strict=True):
        start, end = max(top, stratum.top_mm), bottom if after is None else min(bottom, after.top_mm)
        if end > start:
            hatch = soil_hatch(stratum.symbol, stratum.name)
            corners = Place(0, start, 0.3), Place(0, end, right)
            bands.append(Band(stratum.name, *corners, hatch.main, hatch.second))
    return bands


def _small_section(
    way: WayLine, bottom: float, scale: float, width: float, strata: Sequence[StratumLine]
) -> list[Element]:
    right = width - 10.0
    total = sum(course.thickness_mm for course in way.courses)
    ground = _ground_under(strata, total, bottom, right)
    elements: list[Element] = [*ground, *course_bands(way.courses, 0.3, right)]
    levels, below = [], 0.0
    for course in way.courses:
        levels.append(below + course.thickness_mm / 2)
        below += course.thickness_mm
        elements.append(Stroke((Place(0, below, 0.3), Place(0, below, right)), MEDIUM))
        elements.append(tick(Place(0, below, right + 1.2)))
    elements += [
        tick(Place(0, 0, right + 1.2)),
        Stroke((Place(0, 0, right + 1.2), Place(0, total, right + 1.2)), THIN),
        Stroke((Place(0, 0, 0.3), Place(0, 0, right)), THICK),
        Stroke((Place(0, total, 0.3), Place(0, total, right)), THICK),
    ]
    heights = [SMALL * 1.05] * len(levels)
    middles = spread([level * scale for level in levels], heights, -1.0, bottom * scale)
    for course, level, middle in zip(way.courses, levels, middles, strict=True):
        bend = Place(0, 0, right + 3.4, middle)
        elements.append(Stroke((Place(0, level, right + 1.4), bend), HAIRLINE))
        figure = (f"{course.thickness_mm:.0f}",)
        elements.append(Label(shifted(bend, 0.4), figure, SMALL, 600))
    return elements
