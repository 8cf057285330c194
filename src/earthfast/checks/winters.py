"""Winters that stand for all winters of a place: how cold each is, and a few of them day by day."""

from __future__ import annotations

from dataclasses import dataclass
from hashlib import blake2b

import numpy as np

from earthfast.estimate import FloatLike, Floats
from earthfast.frost import Climate, GroundStart, daily_winters, freezing_index_seasonal

NODES = 8
WINTERS_PER_NODE = 3
BEYOND = 1.35  # the last node: the coldest winters, their frost made so much deeper
MARGIN = 3  # days kept before the first frost and after the last
COLD_HALF = (75, 300)  # days after the warmest: outside it the generator scatters too much to be read


@dataclass(frozen=True, slots=True)
class WinterSample:
    """Simulated winters, sorted, with a few kept day by day at nodes of the freezing index.

    Attributes
    ----------
    freezing_index : air freezing index of every simulated winter, rising, K·s.
    node_index : air freezing index of the nodes, rising, shape (nodes,), K·s.
    node_air : daily means of the winters at the nodes, shape (nodes × winters a node, days), °C.
    start : the ground on the first of those days.
    key : tells one sample from another.
    """

    freezing_index: Floats
    node_index: Floats
    node_air: Floats
    start: GroundStart
    key: str

    @property
    def winters_per_node(self) -> int:
        """How many winters are averaged at each node."""
        return len(self.node_air) // max(self.node_index.size, 1)

    def at_rank(self, rank: FloatLike) -> Floats:
        """Freezing index below which a share of all winters lies, K·s."""
        places = (np.arange(self.freezing_index.size) + 0.5) / self.freezing_index.size
        return np.asarray(np.interp(rank, places, self.freezing_index))

    def winter_near(self, freezing_index: float) -> Floats:
        """The kept winter whose node is nearest to an index, daily means, °C."""
        node = int(np.argmin(np.abs(np.sqrt(self.node_index) - np.sqrt(freezing_index))))
        return np.asarray(self.node_air[node * self.winters_per_node])


def winter_sample(climate: Climate, count: int, generator: np.random.Generator) -> WinterSample:
    """Simulate winters and keep those nearest to evenly spaced roots of the freezing index day by day."""
    air = daily_winters(climate, count, generator)
    index = freezing_index_seasonal(air[:, slice(*COLD_HALF)])
    order = np.argsort(index, kind="stable")
    roots = np.sqrt(index[order])
    if roots[-1] == 0.0:
        return WinterSample(
            index[order], np.empty(0), np.empty((0, 0)), GroundStart(climate.mean), "no frost"
        )
    kept = order[_near_nodes(roots)]
    deepest = air[kept[-1]]
    node_air = np.concatenate([air[kept.ravel()], np.where(deepest < 0.0, BEYOND * deepest, deepest)])
    node_index = np.mean(index[kept], axis=1)
    first, last = _cold_span(node_air)
    node_air = node_air[:, first:last]
    return WinterSample(
        index[order],
        np.append(node_index, BEYOND * node_index[-1]),
        node_air,
        GroundStart(climate.mean, climate.amplitude, float(first)),
        blake2b(node_air.tobytes(), digest_size=16).hexdigest(),
    )


def _near_nodes(roots: Floats) -> np.ndarray[tuple[int, int], np.dtype[np.intp]]:
    """Places of neighbouring winters in the sorted list about each node, none twice."""
    targets = np.linspace(0.0, roots[-1], NODES + 1)[1:]
    first = np.searchsorted(roots, targets) - WINTERS_PER_NODE // 2
    first = np.unique(np.clip(first, 0, roots.size - WINTERS_PER_NODE))
    distinct = first[np.concatenate([[True], np.diff(first) >= WINTERS_PER_NODE])]
    if distinct[-1] != first[-1]:
        distinct[-1] = first[-1]
    places = distinct[:, None] + np.arange(WINTERS_PER_NODE)
    return np.asarray(places[roots[places].min(axis=1) > 0.0])


def _cold_span(air: Floats) -> tuple[int, int]:
    first, last = COLD_HALF
    frost = first + np.flatnonzero((air[:, first:last] < 0.0).any(axis=0))
    return max(int(frost[0]) - MARGIN, 0), min(int(frost[-1]) + 1 + MARGIN, air.shape[1])
