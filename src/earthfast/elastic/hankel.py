"""Integrals of a smooth kernel against products of Bessel functions, from few values of the kernel.

A kernel of a layered half-space varies slowly on a logarithmic axis of wave number, however fast the Bessel
functions turn. So it is sampled at equal steps of the logarithm, continued between the samples by the
cardinal series, and the Bessel functions are integrated against that series once, with many points. The
steps depend on the accuracy alone; the offset of a point costs no further kernel values.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from scipy.special import j0, j1

from earthfast.estimate import Floats

_GAUSS_POINTS, _GAUSS_WEIGHTS = np.polynomial.legendre.leggauss(12)
_PANELS_AT_ONCE = 200


@dataclass(frozen=True, slots=True)
class Grid:
    """Wave numbers times radius at equal logarithmic steps.

    Attributes
    ----------
    step : of the natural logarithm.
    first, last : numbers of the first and the last node; node k lies at exp(k step).
    tail : how many nodes the kernel is continued below the first, along a straight line.
    """

    step: float
    first: int
    last: int
    tail: int

    @property
    def nodes(self) -> Floats:
        """Wave numbers times radius, rising."""
        return np.asarray(np.exp(self.step * np.arange(self.first, self.last + 1)))


@dataclass(frozen=True, slots=True)
class Weights:
    """Weights of the kernel's values, (nodes, offsets), for the four products of Bessel functions.

    Attributes
    ----------
    even : J1(t) J0(rt).
    sink : J1(t) J0(rt) / t.
    hoop : J1(t) J1(rt) / (rt).
    odd : J1(t) J1(rt).
    """

    even: Floats
    sink: Floats
    hoop: Floats
    odd: Floats

    @property
    def rows(self) -> tuple[Floats, ...]:
        """All four, in order."""
        return self.even, self.sink, self.hoop, self.odd


def grid_for(accuracy: float, shallowest: float, deepest: float) -> Grid:
    """The fewest nodes for an accuracy relative to the response below the load.

    `shallowest` is the least length over which the kernels die away, `deepest` the greatest that shows in
    them, both over the load's radius. The kernels' nearest poles, those of a plate on soft ground, lie at
    about 50 degrees from the real axis, which makes the error of the series exp(-2.7 / step).
    """
    digits = np.log(1.0 / accuracy)
    step = 2.7 / digits
    first = int(np.floor(np.log(3.0 * np.sqrt(accuracy) / deepest) / step))
    last = int(np.ceil(np.log((digits + 4.0) / shallowest) / step))
    return Grid(step, first, last, int(np.ceil(digits / step)))


def weights(grid: Grid, offset: Floats) -> Weights:
    """Weights for offsets over radius, a vector.

    The series is that of kernel times t, which dies away at both ends. Below the first node the kernel is the
    straight line through the first two.
    """
    numbers = np.arange(grid.first - grid.tail, grid.last + 1)
    nodes = np.exp(grid.step * numbers)
    first, second = nodes[grid.tail : grid.tail + 2]
    sums = np.zeros((4, numbers.size, offset.size))
    for edges in _panels(grid, float(np.max(offset, initial=0.0))):
        t, products = _products(edges, offset)
        place = np.log(t) / grid.step
        nearest = np.round(place)
        wave = np.sin(np.pi * (place - nearest)) * np.where(nearest % 2, -1.0, 1.0) / (np.pi * t)
        sums += (1.0 / (place - numbers[:, None])) @ (wave[:, None] * products)
    sums *= (nodes * np.where(numbers % 2, -1.0, 1.0))[:, None]
    found = sums[:, grid.tail :]
    slope = (nodes[: grid.tail] - first) / (second - first)
    t, products = _products(np.array([0.0, first]), offset)
    line = (t - first) / (second - first)
    found[:, 0] += (1.0 - slope) @ sums[:, : grid.tail] + (1.0 - line) @ products
    found[:, 1] += slope @ sums[:, : grid.tail] + line @ products
    return Weights(*found)


def _products(edges: Floats, offset: Floats) -> tuple[Floats, Floats]:
    """Quadrature points of panels, and the four weighted Bessel products there, (4, points, offsets)."""
    middle, half = 0.5 * (edges[1:] + edges[:-1]), 0.5 * (edges[1:] - edges[:-1])
    t = (middle[:, None] + half[:, None] * _GAUSS_POINTS).ravel()
    load = ((half[:, None] * _GAUSS_WEIGHTS).ravel() * j1(t))[:, None]
    turned = np.multiply.outer(t, offset)
    even, odd = load * j0(turned), load * j1(turned)
    hoop = np.where(turned > 0.0, odd / np.where(turned > 0.0, turned, 1.0), 0.5 * load)
    return t, np.stack([even, even / t[:, None], hoop, odd])


def _panels(grid: Grid, farthest: float) -> Iterator[Floats]:
    """Edges of panels over one turn of the Bessel products and the series together, a few at a time."""
    places = np.linspace(grid.first, grid.last, 64 * (grid.last - grid.first) + 1)
    t = np.exp(grid.step * places)
    turns = (1.0 + farthest) * t / (2.0 * np.pi) + 0.5 * places
    count = int(np.ceil(turns[-1] - turns[0]))
    for low in range(0, count, _PANELS_AT_ONCE):
        some = np.arange(low, min(low + _PANELS_AT_ONCE, count) + 1)
        yield np.interp(turns[0] + (turns[-1] - turns[0]) * some / count, turns, t)
