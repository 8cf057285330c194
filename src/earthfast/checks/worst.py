"""The act of a load that asks most, in each way and each draw."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from earthfast.checks.acts import Act
from earthfast.estimate import FloatLike, Floats

HALF = 0.5


@dataclass(frozen=True, slots=True)
class Asked:
    """What one act asks in one mechanism, (ways, draws) or less, and how it is named."""

    demand: Floats
    capacity: Floats
    words: str
    act: Act


@dataclass(frozen=True, slots=True)
class Worst:
    """Demand and capacity of the act that asks most, shape (ways, draws).

    Attributes
    ----------
    asked : all that was asked.
    place : which of them asks most in each way and draw.
    """

    demand: Floats
    capacity: Floats
    asked: tuple[Asked, ...]
    place: npt.NDArray[np.intp]

    @property
    def usual(self) -> tuple[Asked, ...]:
        """By way, what asks most in most draws."""
        if len(self.asked) == 1:
            return self.asked * len(self.place)
        counts = np.stack([(self.place == number).sum(axis=1) for number in range(len(self.asked))])
        return tuple(self.asked[number] for number in counts.argmax(axis=0))

    @property
    def words(self) -> tuple[str, ...]:
        """What governs each way."""
        return tuple(asked.words for asked in self.usual)

    def of(self, value: Callable[[Act], FloatLike]) -> Floats:
        """A value of every act, in each way and draw that of the act that asks most."""
        always = int(self.place.flat[0])
        if np.all(self.place == always):
            return np.broadcast_to(value(self.asked[always].act), self.demand.shape)
        every = [np.broadcast_to(value(asked.act), self.demand.shape) for asked in self.asked]
        return np.asarray(np.take_along_axis(np.stack(every), self.place[None], axis=0)[0])

    def or_worse(self, other: Worst) -> Worst:
        """Of two mechanisms, draw by draw the one with the larger share of its capacity."""
        four = (self.demand, self.capacity, other.demand, other.capacity)
        more = _second_governs(*four)
        return Worst(
            demand_that_governs(*four),
            capacity_that_governs(*four),
            self.asked + other.asked,
            np.where(more, other.place + len(self.asked), self.place),
        )


def demand_that_governs(
    first_demand: FloatLike, first_capacity: FloatLike, second_demand: FloatLike, second_capacity: FloatLike
) -> Floats:
    """Demand of the mechanism, of two, that uses more of its capacity.

    Parameters
    ----------
    first_demand : array-like
        What the first asks. [-]
    first_capacity : array-like
        What there is against it, in the same unit. [-]
    second_demand : array-like
        What the second asks. [-]
    second_capacity : array-like
        What there is against it, in the same unit. [-]

    Returns
    -------
    demand : array-like
        Demand of the one that governs. [-]

    Notes
    -----
    S₁ where S₁/R₁ ≥ S₂/R₂, else S₂; S₁, R₁, S₂, R₂ in the order of the arguments, in each draw.

    References
    ----------
    definition, the worse of two [C]
    """
    second = _second_governs(first_demand, first_capacity, second_demand, second_capacity)
    return np.where(second, second_demand, first_demand)


def capacity_that_governs(
    first_demand: FloatLike, first_capacity: FloatLike, second_demand: FloatLike, second_capacity: FloatLike
) -> Floats:
    """Capacity of the mechanism, of two, that uses more of its capacity.

    Parameters
    ----------
    first_demand : array-like
        What the first asks. [-]
    first_capacity : array-like
        What there is against it, in the same unit. [-]
    second_demand : array-like
        What the second asks. [-]
    second_capacity : array-like
        What there is against it, in the same unit. [-]

    Returns
    -------
    capacity : array-like
        Capacity of the one that governs. [-]

    Notes
    -----
    R₁ where S₁/R₁ ≥ S₂/R₂, else R₂; S₁, R₁, S₂, R₂ in the order of the arguments, in each draw.

    References
    ----------
    definition, the worse of two [C]
    """
    second = _second_governs(first_demand, first_capacity, second_demand, second_capacity)
    return np.where(second, second_capacity, first_capacity)


def _second_governs(
    first_demand: FloatLike, first_capacity: FloatLike, second_demand: FloatLike, second_capacity: FloatLike
) -> npt.NDArray[np.bool_]:
    first = np.asarray(first_demand) / np.asarray(first_capacity)
    return np.asarray(np.asarray(second_demand) / np.asarray(second_capacity) > first)


def holds_near_failure(flags: npt.NDArray[np.bool_], used: Floats) -> npt.NDArray[np.bool_]:
    """Whether something holds in most of the twentieth of draws that use most of their capacity, one a way."""
    count = max(used.shape[-1] // 20, 1)
    nearest = np.argpartition(-used, count - 1, axis=-1)[:, :count]
    return np.asarray(np.take_along_axis(flags, nearest, axis=-1).mean(axis=-1) > HALF)


def worst_of(asked: Sequence[Asked], shape: tuple[int, int]) -> Worst:
    """Pick, draw by draw, the act with the largest share of its capacity."""
    demand, capacity, share = (np.zeros(shape), np.ones(shape), np.full(shape, -np.inf))
    place = np.zeros(shape, dtype=np.intp)
    for number, one in enumerate(asked):
        other = one.demand / one.capacity
        more = other > share
        demand = np.where(more, one.demand, demand)
        capacity = np.where(more, one.capacity, capacity)
        share = np.where(more, other, share)
        place = np.where(more, number, place)
    return Worst(demand, capacity, tuple(asked), place)
