"""The act of a load that asks most, in each way and each draw."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from earthfast.checks.acts import Act
from earthfast.estimate import Floats


@dataclass(frozen=True, slots=True)
class Worst:
    """Demand and capacity of the act that asks most, shape (ways, draws), and its name, one a way."""

    demand: Floats
    capacity: Floats
    words: tuple[str, ...]


def worst_of(demands: Sequence[Floats], capacities: Sequence[Floats], acts: Sequence[Act]) -> Worst:
    """Pick, draw by draw, the act with the largest share of its capacity."""
    demand, capacity = np.stack(demands), np.stack(capacities)
    ratios = demand / capacity
    worst = ratios.argmax(axis=0)[None]
    usual = np.median(ratios, axis=2).argmax(axis=0)
    return Worst(
        np.take_along_axis(demand, worst, axis=0)[0],
        np.take_along_axis(capacity, worst, axis=0)[0],
        tuple(acts[index].words for index in usual),
    )
