"""Scrambled Sobol points without the half second that a statistics package takes to load."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from earthfast.estimate.arrays import Floats
from earthfast.sources import read_table

BITS = 30
Whole = npt.NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class DirectionRow:
    """Primitive polynomial and first direction integers of one dimension."""

    polynomial: int
    initial: list[int]


def sobol_points(dimensions: int, count: int, generator: np.random.Generator | None = None) -> Floats:
    """Sobol points in the unit cube, scrambled where a generator is given, shape (count, dimensions).

    Points are numbered so that the first 2^m of them fill the cube evenly for every m. Scrambling is by random
    lower triangular matrices of bits and a random shift: every point is uniform, and the evenness stays.
    """
    if count < 1 or count & (count - 1):
        raise ValueError(f"the number of points must be a power of two, got {count}")
    directions = _directions(dimensions)
    shift = np.zeros(dimensions, dtype=np.int64)
    if generator is not None:
        directions = _scrambled(directions, generator)
        shift = generator.integers(0, 1 << BITS, size=dimensions)
    points = np.empty((count, dimensions), dtype=np.int64)
    points[0] = shift
    for bit in range(count.bit_length() - 1):
        half = 1 << bit
        points[half : 2 * half] = points[:half] ^ directions[:, bit]
    return np.asarray(points / float(1 << BITS))


def _directions(dimensions: int) -> Whole:
    """Direction integers, shape (dimensions, bits)."""
    rows: tuple[DirectionRow, ...] = read_table("sobol_directions", DirectionRow).rows
    if dimensions > len(rows) + 1:
        raise ValueError(f"there are direction integers for {len(rows) + 1} dimensions, not {dimensions}")
    directions = np.empty((dimensions, BITS), dtype=np.int64)
    directions[0] = [1 << (BITS - 1 - bit) for bit in range(BITS)]
    for dimension, row in enumerate(rows[: dimensions - 1], start=1):
        directions[dimension] = _recurrence(row)
    return directions


def _recurrence(row: DirectionRow) -> list[int]:
    degree = row.polynomial.bit_length() - 1
    found = [first << (BITS - 1 - bit) for bit, first in enumerate(row.initial)]
    for bit in range(degree, BITS):
        value = found[bit - degree] ^ (found[bit - degree] >> degree)
        for back in range(1, degree):
            if row.polynomial >> (degree - back) & 1:
                value ^= found[bit - back]
        found.append(value)
    return found


def _scrambled(directions: Whole, generator: np.random.Generator) -> Whole:
    """Directions times a random matrix of bits for each dimension, ones on its diagonal and chance above."""
    dimensions = directions.shape[0]
    place = np.arange(BITS)
    above = generator.integers(0, 1 << BITS, size=(dimensions, BITS))
    rows = (above >> (place + 1) << (place + 1)) | (1 << place)
    parity = np.bitwise_count(rows[:, :, None] & directions[:, None, :]) & 1
    return np.asarray((parity.astype(np.int64) << place[:, None]).sum(axis=1))
