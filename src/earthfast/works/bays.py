"""Bays: the rectangles of the plan that are built in one go."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from shapely.affinity import rotate
from shapely.geometry import Polygon, box

from earthfast.estimate import Floats
from earthfast.works.plan import Plan, Point, shape_of

SLIVER = 1e-6  # m², what rounding leaves behind
RIGHT_ANGLE = 1e-6  # rad


@dataclass(frozen=True, slots=True)
class Bay:
    """One rectangle of the plan built in one go.

    Attributes
    ----------
    number : order of building, from 1.
    outline : its corners; fewer or more than four where a slanting edge cuts the rectangle.
    length, width : sides of the rectangle, m; length runs along the longest edge of the plan.
    area : area inside the plan, m².
    """

    number: int
    outline: tuple[Point, ...]
    length: float
    width: float
    area: float


def bays_of(plan: Plan, largest_area: float) -> tuple[Bay, ...]:
    """Divide a plan into bays no larger than an area, rows along the longest edge, built in rows.

    A plan with square corners is cut at its corners first, so that every bay is a full rectangle; a slanting
    edge leaves bays that are rectangles cut by it.
    """
    if largest_area <= 0.0:
        raise ValueError(f"a bay needs an area above 0, got {largest_area} m²")
    angle = _longest_edge_angle(plan)
    level = rotate(shape_of(plan), -angle, origin=(0.0, 0.0), use_radians=True)
    pieces = [
        piece
        for rectangle in _rectangles(level)
        for cell in _cells(rectangle, largest_area)
        for piece in _parts(level.intersection(cell))
    ]
    return tuple(_bay(number, piece, angle) for number, piece in enumerate(pieces, start=1))


def _longest_edge_angle(plan: Plan) -> float:
    edges = _edges(plan)
    along = edges[np.argmax(np.hypot(edges[:, 0], edges[:, 1]))]
    return float(np.arctan2(along[1], along[0]))


def _edges(plan: Plan) -> Floats:
    corners = np.array([[c.x, c.y] for c in plan.corners])
    return np.asarray(np.roll(corners, -1, axis=0) - corners)


def _rectangles(level: Polygon) -> list[Polygon]:
    """Rectangles that make up a square-cornered outline; the bounding box of one with slanting edges."""
    corners = np.asarray(level.exterior.coords)
    steps = np.abs(np.diff(corners, axis=0))
    left, bottom, right, top = level.bounds
    if np.any(np.minimum(steps[:, 0], steps[:, 1]) > RIGHT_ANGLE * max(right - left, top - bottom)):
        return [box(left, bottom, right, top)]
    cuts = np.unique(np.round(corners[:, 1], 9))
    strips = [box(left, low, right, high) for low, high in pairwise(cuts)]
    parts = [part for strip in strips for part in _parts(level.intersection(strip))]
    return [box(*part.bounds) for part in parts]


def _cells(rectangle: Polygon, largest_area: float) -> list[Polygon]:
    """Equal cells of a rectangle: as few as the area allows, and of those the squarest."""
    left, bottom, right, top = rectangle.bounds
    length, width = right - left, top - bottom
    least = int(np.ceil(length * width / largest_area - 1e-9))
    columns = np.arange(1, least + 1)
    rows = np.ceil(least / columns)
    slimness = np.abs(np.log((length / columns) / (width / rows)))
    best = np.lexsort((slimness, columns * rows))[0]
    x = np.linspace(left, right, int(columns[best]) + 1)
    y = np.linspace(bottom, top, int(rows[best]) + 1)
    return [box(x[i], y[j], x[i + 1], y[j + 1]) for j in range(len(y) - 1) for i in range(len(x) - 1)]


def _parts(shape: object) -> list[Polygon]:
    parts = getattr(shape, "geoms", [shape])
    return [part for part in parts if isinstance(part, Polygon) and part.area > SLIVER]


def _bay(number: int, piece: Polygon, angle: float) -> Bay:
    left, bottom, right, top = piece.bounds
    turned: Polygon = rotate(piece, angle, origin=(0.0, 0.0), use_radians=True)
    outline = tuple(Point(float(x), float(y)) for x, y in turned.exterior.coords[:-1])
    return Bay(number, outline, right - left, top - bottom, piece.area)
