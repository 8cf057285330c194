"""Chebyshev interpolation in two logarithms, so that a costly answer is worked out once for thousands of draws."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from earthfast.estimate import Floats

NODES_PER_UNIT = 1.1  # per unit of the logarithm; 1e-3 on every stress of the layered answer
FEWEST_NODES, MOST_NODES = 4, 12
NARROW = 1e-9


@dataclass(frozen=True, slots=True)
class Axis:
    """Chebyshev points of one logarithm, and the weights of barycentric interpolation between them."""

    nodes: Floats
    weights: Floats

    def basis(self, values: Floats) -> Floats:
        """Share of each node in the value at each point, shape (..., nodes)."""
        gaps = values[..., None] - self.nodes
        # a point on a node is moved off it by less than matters: the formula is exact in the limit
        shares = self.weights / np.where(np.abs(gaps) < NARROW, NARROW, gaps)
        return np.asarray(shares / shares.sum(axis=-1, keepdims=True))


def axis_over(low: float, high: float) -> Axis:
    """Chebyshev points from low to high, more of them over a longer range."""
    if high - low < NARROW:
        return Axis(np.array([0.5 * (low + high)]), np.ones(1))
    count = int(np.clip(np.ceil(NODES_PER_UNIT * (high - low)) + 2, FEWEST_NODES, MOST_NODES))
    angles = (2.0 * np.arange(count) + 1.0) * np.pi / (2.0 * count)
    nodes = 0.5 * (low + high) + 0.5 * (high - low) * np.cos(angles)
    return Axis(nodes, np.sin(angles) * (-1.0) ** np.arange(count))


def interpolated(tables: Floats, first: Floats, second: Floats) -> Floats:
    """Values of tables over two axes at points given by their bases.

    Parameters
    ----------
    tables : (rows, n1, n2), values at the nodes.
    first, second : (rows, points, n1) and (rows, points, n2), bases of the points.

    Returns
    -------
    values : (rows, points).
    """
    return np.asarray(((first @ tables) * second).sum(axis=-1))
