"""Chebyshev interpolation in logarithms, so that a costly answer is worked out once for thousands of draws."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np

from earthfast.estimate import Floats


@dataclass(frozen=True)
class Axis:
    """Chebyshev points of one logarithm between two ends; a single point where the ends are one.

    Attributes
    ----------
    low, high : ends; values outside are taken as the nearest end.
    count : how many points.
    """

    low: float
    high: float
    count: int

    @cached_property
    def nodes(self) -> Floats:
        """The points at which the costly answer is worked out."""
        middle, half = 0.5 * (self.low + self.high), 0.5 * (self.high - self.low)
        return np.asarray(middle + half * self._unit_nodes)

    @cached_property
    def _unit_nodes(self) -> Floats:
        return np.asarray(np.cos((2.0 * np.arange(self.count) + 1.0) * np.pi / (2.0 * self.count)))

    @cached_property
    def fit(self) -> Floats:
        """Coefficients of the polynomials per value at a node, (polynomials, nodes)."""
        vandermonde = np.polynomial.chebyshev.chebvander(self._unit_nodes, self.count - 1)
        scale = np.full(self.count, 2.0 / self.count)
        scale[0] = 1.0 / self.count
        return np.asarray(scale[:, None] * vandermonde.T)

    def basis(self, values: Floats) -> Floats:
        """The polynomials at each value, shape (..., polynomials, values): values side by side, as sums over them run fastest."""
        if self.count == 1:
            return np.ones((*values.shape[:-1], 1, values.shape[-1]))
        middle, half = 0.5 * (self.low + self.high), 0.5 * (self.high - self.low)
        unit = np.clip((values - middle) / half, -1.0, 1.0)
        polynomials: Floats = np.asarray(
            np.polynomial.chebyshev.chebvander(unit, self.count - 1), dtype=np.float64
        )
        return np.moveaxis(polynomials, -1, -2)


@lru_cache(maxsize=1024)  # so that the nodes and the fit of an axis are worked out once
def axis_over(low: float, high: float, per_unit: float, fewest: int = 4) -> Axis:
    """Points between two ends, more of them over a longer range; one where the ends are one."""
    if high <= low:
        return Axis(low, low, 1)
    return Axis(low, high, max(fewest, int(np.ceil(per_unit * (high - low))) + 2))


def coefficients(table: Floats, axes: tuple[Axis, ...]) -> Floats:
    """Polynomial coefficients of a table of values at the nodes, its first dimensions along the axes."""
    for place, axis in enumerate(axes):
        table = np.moveaxis(np.tensordot(axis.fit, table, axes=(1, place)), 0, place)
    return table


def interpolated(found: Floats, first: Floats, second: Floats) -> Floats:
    """Values over two axes at points given by their bases.

    Parameters
    ----------
    found : (rows, n1, n2), coefficients.
    first, second : (rows, n1, points) and (rows, n2, points), bases of the points.

    Returns
    -------
    values : (rows, points).
    """
    return np.asarray(np.einsum("rjp,rjp->rp", found.swapaxes(1, 2) @ first, second))
