"""Evenly scattered points and stones packed between them, on a tile that repeats."""

from __future__ import annotations

import math
from typing import TypeAlias

Point: TypeAlias = tuple[float, float]


def scattered(count: int) -> tuple[Point, ...]:
    """Points of an additive recurrence on the unit square: even, never in rows, the same every time."""
    root = (
        1.3247179572447460  # the plastic number, real root of x³ = x + 1: the least regular step in the plane
    )
    return tuple(((step / root) % 1.0, (step / root**2) % 1.0) for step in range(1, count + 1))


def unordered(step: int) -> float:
    """A share between 0 and 1 that follows no row of the scattered points, the same every time."""
    return (step * step * 0.6180339887498949 + 0.37) % 1.0


def packed_cells(count: int, side: float) -> tuple[tuple[Point, ...], ...]:
    """Cells of the points nearest to each of the scattered points, on a square that repeats."""
    seeds = [(u * side, v * side) for u, v in scattered(count)]
    shifts = [(dx, dy) for dx in (-side, 0.0, side) for dy in (-side, 0.0, side)]
    copies = [(x + dx, y + dy) for x, y in seeds for dx, dy in shifts]
    return tuple(_cell(seed, copies, side) for seed in seeds)


def shrunk(cell: tuple[Point, ...], gap: float) -> list[Point]:
    """Draw each corner of a cell towards its middle by a gap."""
    middle = (sum(x for x, _ in cell) / len(cell), sum(y for _, y in cell) / len(cell))
    corners = []
    for x, y in cell:
        reach = math.dist((x, y), middle)
        keep = max(0.0, 1.0 - gap / reach) if reach else 0.0
        corners.append((middle[0] + keep * (x - middle[0]), middle[1] + keep * (y - middle[1])))
    return corners


def _cell(seed: Point, copies: list[Point], side: float) -> tuple[Point, ...]:
    x, y = seed
    half = side / 2
    cell = [(x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half)]
    for other in sorted(copies, key=lambda copy: math.dist(copy, seed)):
        if other != seed and math.dist(other, seed) < side:
            cell = _nearer_part(cell, seed, other)
    return tuple(cell)


def _nearer_part(cell: list[Point], seed: Point, other: Point) -> list[Point]:
    """Keep the part of a convex cell that lies nearer to the seed than to another point."""
    kept = []
    for start, end in zip(cell, cell[1:] + cell[:1], strict=True):
        before = math.dist(start, other) ** 2 - math.dist(start, seed) ** 2
        after = math.dist(end, other) ** 2 - math.dist(end, seed) ** 2
        if before >= 0.0:
            kept.append(start)
        if before * after < 0.0:
            part = before / (before - after)
            kept.append((start[0] + part * (end[0] - start[0]), start[1] + part * (end[1] - start[1])))
    return kept
