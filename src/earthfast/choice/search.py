"""The best way of each method and the ways that no other beats, found without missing any.

All ways are looked at on few draws first; whatever might pass is then judged on all draws in the order of
merit, until the best of each method and every way on the front has been confirmed.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from earthfast.checks import CheckName, Method, Way
from earthfast.choice.judging import judge
from earthfast.choice.setting import Setting
from earthfast.estimate import Floats

FIRST_LOOK = 512
SLACK = 2.0  # standard errors
BATCH = 16


@dataclass(frozen=True, slots=True)
class Merit:
    """What a way costs: money, kg CO2e, kg of spoil taken away, days. All are wanted low."""

    price: float
    carbon: float
    spoil: float
    days: float

    @property
    def row(self) -> tuple[float, ...]:
        """All four, in order."""
        return (self.price, self.carbon, self.spoil, self.days)


@dataclass(frozen=True, slots=True)
class Candidate:
    """A way with what it costs."""

    way: Way
    merit: Merit


@dataclass(frozen=True, slots=True)
class Found:
    """Outcome of a search, as places in the list of candidates.

    Attributes
    ----------
    best : best passing way of each method, best first.
    nearest : for a method none of whose ways passes, the one that comes nearest.
    front : passing ways that no other passing way beats on price and carbon, cheapest first.
    """

    best: tuple[int, ...]
    nearest: tuple[int, ...]
    front: tuple[int, ...]


def weighted_cost(candidates: Sequence[Candidate], weights: Merit) -> Floats:
    """One number a way: each cost over its median among the candidates, times its weight."""
    rows = np.array([candidate.merit.row for candidate in candidates])
    scale = np.maximum(np.median(np.abs(rows), axis=0), 1e-9)
    return np.asarray(rows / scale @ np.array(weights.row))


def beaten(rows: Floats) -> Floats:
    """Whether each row is beaten: another is no worse in any column and better in one."""
    no_worse = (rows[None, :, :] <= rows[:, None, :]).all(axis=2)
    better = (rows[None, :, :] < rows[:, None, :]).any(axis=2)
    return np.asarray((no_worse & better).any(axis=1))


def find_ways(
    candidates: Sequence[Candidate], setting: Setting, targets: Mapping[CheckName, float], weights: Merit
) -> Found:
    """Search the candidates for the best of each method and for the front of price against carbon."""
    ways = tuple(candidate.way for candidate in candidates)
    looked = judge(ways, setting.first(min(FIRST_LOOK, setting.draws.count)))
    excess = looked.excess(targets)
    confirmed = _Confirmed(candidates, setting, targets, looked.passes(targets, SLACK))
    cost = weighted_cost(candidates, weights)
    best, nearest = [], []
    for method in dict.fromkeys(way.method for way in ways):
        places = [place for place, way in enumerate(ways) if way.method is method]
        found = confirmed.first_of(sorted(places, key=lambda place: cost[place]))
        if found is None:
            nearest.append(min(places, key=lambda place: (excess[place], cost[place])))
        else:
            best.append(found)
    best.sort(key=lambda place: cost[place])
    return Found(tuple(best), tuple(nearest), confirmed.front())


class _Confirmed:
    """Which ways pass on all draws, judged only when asked."""

    def __init__(
        self,
        candidates: Sequence[Candidate],
        setting: Setting,
        targets: Mapping[CheckName, float],
        may_pass: Floats,
    ) -> None:
        self.candidates = candidates
        self.setting = setting
        self.targets = targets
        self.may_pass = may_pass.astype(bool)
        self.known: dict[int, bool] = {}

    def confirm(self, places: Sequence[int]) -> None:
        """Judge the ways not judged yet on all draws."""
        new = [place for place in places if place not in self.known]
        if new:
            ways = tuple(self.candidates[place].way for place in new)
            passes = judge(ways, self.setting).passes(self.targets)
            self.known.update(zip(new, passes.tolist(), strict=True))

    def first_of(self, places: Sequence[int]) -> int | None:
        """The first way, in the order given, that passes."""
        hopeful = [place for place in places if self.may_pass[place]]
        for start in range(0, len(hopeful), BATCH):
            batch = hopeful[start : start + BATCH]
            self.confirm(batch)
            found = next((place for place in batch if self.known[place]), None)
            if found is not None:
                return found
        return None

    def front(self) -> tuple[int, ...]:
        """Passing ways that no other passing way beats on price and carbon."""
        while True:
            hopeful = [p for p in np.flatnonzero(self.may_pass).tolist() if self.known.get(p, True)]
            rows = np.array([self.candidates[place].merit.row[:2] for place in hopeful]).reshape(-1, 2)
            front = [place for place, lost in zip(hopeful, beaten(rows), strict=True) if not lost]
            if all(place in self.known for place in front):
                return tuple(sorted(front, key=lambda place: self.candidates[place].merit.price))
            self.confirm(front)
