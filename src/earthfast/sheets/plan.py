"""The plan to scale: outline, bays, bags, corners and fall."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from earthfast.sheets.dimensions import arrow, dimension, shifted
from earthfast.sheets.drawing import Anchor, Drawing, Element, Extent, Label, Place, Stroke, fitting_ratio
from earthfast.sheets.ink import BODY, HAIRLINE, LARGE, MEDIUM, SMALL, THICK, THIN, Box, Ink
from earthfast.sheets.lettering import typeface
from earthfast.stages.answers import AreaBuild, BayLine, CornerLine

RATIOS = (
    10.0,
    20.0,
    25.0,
    50.0,
    75.0,
    100.0,
    125.0,
    150.0,
    200.0,
    250.0,
    300.0,
    400.0,
    500.0,
    750.0,
    1000.0,
    2000.0,
)
LEFT, RIGHT, TOP, BOTTOM = 14.0, 6.0, 13.5, 13.0  # mm on paper round the outline
UNCHAINED_BOTTOM = 8.5  # mm, where no chain of bays stands between the outline and its length
LEAST_DIAGONAL = 20.0  # mm on paper: across a narrower outline the line would hide the bays
LEAST_CELL = 3.0  # mm on paper: a finer bag grid is not drawn
BAG = Box(3.4, 2.2)  # mm on paper
WHOLE, SLIVER = 0.98, 0.08  # share of a rectangle from which it is a whole bag, below which it is not drawn


@dataclass(frozen=True, slots=True)
class BagGrid:
    """Rectangles of a bay that take one bag each.

    Attributes
    ----------
    rows : across the bay's width.
    columns : along its length; the part after the point is a last column that takes part bags.
    length, width : sides of a rectangle, m; together one bag's area.
    """

    rows: int
    columns: float
    length: float
    width: float


def bag_grid(bay: BayLine, side_mm: float) -> BagGrid | None:
    """Divide a bay so that each rectangle takes one bag, as near to squares as whole rows allow.

    The side is that of the square which one bag of the binder covers; 0 where there is none of it.
    """
    if side_mm <= 0.0:
        return None
    side = side_mm / 1000.0
    rows = max(1, min(round(bay.width_m / side), int(bay.length_m * bay.width_m / side**2)))
    width = bay.width_m / rows
    length = side**2 / width
    columns = bay.length_m / length
    if columns % 1.0 < SLIVER and columns > 1.0:
        columns = math.floor(columns)
    return BagGrid(rows, columns, length, width)


def plan(area: AreaBuild, box: Box, key: str = "plan") -> Drawing:
    """Draw an area's outline with its bays, bag grid, corners, dimensions and fall.

    Model units are m, the second axis up, as in the job's outline.
    """
    west, south, east, north = _reach(area)
    width, height = east - west, north - south
    chained = len({edge for bay in area.bays for edge in (bay.x_m, bay.x_m + bay.length_m)}) > 2
    below = BOTTOM if chained else UNCHAINED_BOTTOM
    room = Box(box.width - LEFT - RIGHT, box.height - TOP - below)
    ratio = fitting_ratio(RATIOS, room, 1000.0 * width, 1000.0 * height)
    scale = 1000.0 / ratio
    frame = Extent(west * scale - LEFT, -north * scale - TOP, box.width, height * scale + TOP + below)
    elements: list[Element] = []
    for bay in area.bays:
        elements += _bay(bay, scale)
    outline = tuple(Place(x, y) for x, y in area.outline_m)
    elements.append(Stroke(outline, THICK, closed=True))
    drawn_wide = min(width, height) * scale > LEAST_DIAGONAL
    elements += _diagonal(area.corners) if area.diagonal_m and drawn_wide else []
    elements += _corner_letters(area, scale * area.beyond_mm / 1000.0 if area.bays else 0.0)
    elements += _dimensions(area, Place(west, south), scale)
    elements += _fall(area, Place(west, north, -LEFT + 1.0, -TOP + 4.0))
    elements += [_bay_name(bay) for bay in area.bays]
    xs, ys = zip(*area.outline_m, strict=True)
    width, height = max(xs) - min(xs), max(ys) - min(ys)
    title = f"Plan of {area.name}, {width:.2f} m by {height:.2f} m, {len(area.bays)} bays"
    return Drawing(key, title, tuple(elements), scale, frame, upward=True, ratio=ratio)


def _reach(area: AreaBuild) -> tuple[float, float, float, float]:
    """West, south, east and north ends of all that is drawn: the outline, and bays where they reach past it."""
    places = [*area.outline_m]
    for bay in area.bays:
        places += [(bay.x_m, bay.y_m), (bay.x_m + bay.length_m, bay.y_m + bay.width_m)]
    xs, ys = zip(*places, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def _bay(bay: BayLine, scale: float) -> list[Element]:
    right, top = bay.x_m + bay.length_m, bay.y_m + bay.width_m
    corners = (Place(bay.x_m, bay.y_m), Place(right, bay.y_m), Place(right, top), Place(bay.x_m, top))
    elements: list[Element] = [Stroke(corners, MEDIUM, closed=True, fill=Ink.PAPER)]
    grid = bag_grid(bay, bay.grid_mm)
    if grid is None or min(grid.length, grid.width) * scale < LEAST_CELL:
        return elements
    columns = [bay.x_m + grid.length * step for step in range(1, math.ceil(grid.columns))]
    rows = [bay.y_m + grid.width * step for step in range(1, grid.rows)]
    lines = [(Place(x, bay.y_m), Place(x, top)) for x in columns]
    lines += [(Place(bay.x_m, y), Place(right, y)) for y in rows]
    elements += [Stroke(line, HAIRLINE, Ink.PALE_INK, "0.8 0.5") for line in lines]
    for left_x, right_x in pairwise([bay.x_m, *columns, right]):
        if (right_x - left_x) * scale < BAG.width + 0.8:
            continue
        for y in [bay.y_m, *rows]:
            middle = Place((left_x + right_x) / 2, y + grid.width / 2)
            if _clear_of_name(bay, middle, scale):
                elements += _bag(middle, whole=right_x - left_x > WHOLE * grid.length)
    return elements


def _clear_of_name(bay: BayLine, place: Place, scale: float) -> bool:
    name = _bay_name(bay)
    across = abs(place.x - name.place.x) * scale > (BAG.width + name.width) / 2
    return across or abs(place.y - name.place.y) * scale > (BAG.height + name.height) / 2


def _bag(place: Place, *, whole: bool) -> list[Element]:
    """A bag seen from above: filled where the whole bag goes here, open where a part of one does."""
    half_width, half_height = BAG.width / 2, BAG.height / 2
    corners = ((-1, -1), (0, -0.75), (1, -1), (0.85, 0), (1, 1), (0, 0.75), (-1, 1), (-0.85, 0))
    sides = tuple(shifted(place, x * half_width, y * half_height) for x, y in corners)
    return [Stroke(sides, THIN, closed=True, fill=Ink.OCHRE if whole else Ink.PAPER)]


def _bay_name(bay: BayLine) -> Label:
    middle = Place(bay.x_m + bay.length_m / 2, bay.y_m + bay.width_m / 2)
    return Label(middle, (bay.bay,), LARGE, 600, Anchor.MIDDLE, backed=True)


def _diagonal(corners: Sequence[CornerLine]) -> list[Element]:
    if not corners:
        return []
    first = corners[0]
    far = max(corners, key=lambda corner: math.hypot(corner.x_m - first.x_m, corner.y_m - first.y_m))
    ends = (Place(first.x_m, first.y_m), Place(far.x_m, far.y_m))
    return [Stroke(ends, THIN, dashes="3 0.8 0.5 0.8")]


def _corner_letters(area: AreaBuild, reach: float) -> list[Element]:
    if not area.corners:
        return []
    middle_x = sum(corner.x_m for corner in area.corners) / len(area.corners)
    middle_y = sum(corner.y_m for corner in area.corners) / len(area.corners)
    labels: list[Element] = []
    for corner in area.corners:
        out_x = math.copysign(3.0 + reach, corner.x_m - middle_x)
        out_y = math.copysign(3.0 + reach, middle_y - corner.y_m)
        at = Place(corner.x_m, corner.y_m, out_x, out_y)
        labels.append(Label(at, (corner.corner,), LARGE, 600, Anchor.MIDDLE, Ink.SIGNAL))
    return labels


def _dimensions(area: AreaBuild, beside: Place, scale: float) -> list[Element]:
    """Bay edges in a chain next to what is drawn, the whole length of the outline beyond it."""
    xs, ys = zip(*area.outline_m, strict=True)
    columns = sorted({edge for bay in area.bays for edge in (bay.x_m, bay.x_m + bay.length_m)})
    rows = sorted({edge for bay in area.bays for edge in (bay.y_m, bay.y_m + bay.width_m)})
    elements: list[Element] = []
    near, far = 2.6, 7.8
    if len(columns) > 2:
        for start, end in pairwise(columns):
            elements += _across(start, end, beside.y, near, scale)
    if len(rows) > 2:
        for start, end in pairwise(rows):
            elements += _upright(start, end, beside.x, near, scale, chained=True)
    elements += _across(min(xs), max(xs), beside.y, far if len(columns) > 2 else near, scale)
    return elements + _upright(min(ys), max(ys), beside.x, far if len(rows) > 2 else near, scale)


def _across(start: float, end: float, level: float, offset: float, scale: float) -> list[Element]:
    text = metres(end - start)
    shown = text if typeface(600).width(text) * SMALL < (end - start) * scale - 1.0 else ""
    return dimension(Place(start, level, 0, offset), Place(end, level, 0, offset), shown)


def _upright(
    start: float, end: float, side: float, offset: float, scale: float, *, chained: bool = False
) -> list[Element]:
    """A dimension up the side; a figure too long for its line stands beside it, or is left out of a chain."""
    text = metres(end - start)
    low, high = Place(side, start, -offset, 0), Place(side, end, -offset, 0)
    if typeface(600).width(text) * SMALL < (end - start) * scale:
        return dimension(low, high, text, upright=True, beyond=2.0)
    if chained:
        return dimension(low, high, "")
    beside = Place(side, (start + end) / 2, -offset - 1.4, 0)
    return [*dimension(low, high, ""), Label(beside, (text,), SMALL, 600, Anchor.END)]


def metres(length: float) -> str:
    """A length as set out: metres to the centimetre."""
    return f"{length:.2f} m"


def _fall(area: AreaBuild, at: Place) -> list[Element]:
    """A strip above the plan: the arrow that water runs along, its fall, and the diagonal."""
    words = f"falls 1 in {area.fall_1_in:g} {area.fall_direction}"
    start = shifted(at, dx=5.0)
    heading = _downhill(area.corners)
    elements: list[Element] = []
    if heading is not None:
        back = shifted(start, -3.5 * math.cos(heading), 3.5 * math.sin(heading))
        elements += arrow(back, heading, 7.0, Ink.SIGNAL)
    elements.append(Label(shifted(start, dx=6.0), (words,), BODY, 600))
    return elements


def _downhill(corners: Sequence[CornerLine]) -> float | None:
    """Steepest fall of the plane through the finished levels, radians from the first axis."""
    if len(corners) < 3:
        return None
    places = np.array([(corner.x_m, corner.y_m, 1.0) for corner in corners])
    levels = np.array([corner.finished_m for corner in corners])
    slope_x, slope_y, _ = np.linalg.lstsq(places, levels, rcond=None)[0]
    if math.hypot(slope_x, slope_y) < 1e-6:
        return None
    return math.atan2(-slope_y, -slope_x)
