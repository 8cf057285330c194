"""The act of a load that asks most, in each way and each draw."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from earthfast.estimate import Floats
from earthfast.loads import Load


@dataclass(frozen=True, slots=True)
class Asked:
    """What one act asks in one mechanism, (ways, draws) or less, how it is named, and whose act it is."""

    demand: Floats
    capacity: Floats
    words: str
    load: Load


@dataclass(frozen=True, slots=True)
class Worst:
    """Demand and capacity of the act that asks most, shape (ways, draws); by way, what asks most in most draws."""

    demand: Floats
    capacity: Floats
    usual: tuple[Asked, ...]

    @property
    def words(self) -> tuple[str, ...]:
        """What governs each way."""
        return tuple(asked.words for asked in self.usual)


def worst_of(asked: Sequence[Asked], shape: tuple[int, int]) -> Worst:
    """Pick, draw by draw, the act with the largest share of its capacity."""
    demand, capacity, share = (np.zeros(shape), np.ones(shape), np.full(shape, -np.inf))
    place = np.zeros(shape, dtype=np.int64)
    for number, one in enumerate(asked):
        other = one.demand / one.capacity
        more = other > share
        demand = np.where(more, one.demand, demand)
        capacity = np.where(more, one.capacity, capacity)
        share = np.where(more, other, share)
        place = np.where(more, number, place)
    counts = np.stack([(place == number).sum(axis=1) for number in range(len(asked))])
    return Worst(demand, capacity, tuple(asked[number] for number in counts.argmax(axis=0)))
