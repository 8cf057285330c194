"""The best way of each method and the ways that no other beats, found without missing any.

Ways are judged in the order of merit and only where the answer can depend on them: on few draws first, and
on all draws where they might pass. A way that a passing way beats on every count is never judged.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from earthfast.checks import CheckName, Method, Way, column_of
from earthfast.choice.judging import judge, judge_until, prepare
from earthfast.choice.setting import Setting
from earthfast.estimate import Floats

FIRST_LOOK = 256
SLACK = 4.0  # standard errors
ALIKE = (CheckName.EDGE, CheckName.DRAINAGE)  # edging and fall are the same whatever the paving stands on
BATCH, MOST_AT_ONCE = 4, 64
FORESEEN = 12  # build-ups of a method, as many as its first two batches may hold

Flags = npt.NDArray[np.bool_]


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
    unbeaten : passing ways that none beats on price, carbon, spoil and days, cheapest first.

    Of ways of the very same costs a front holds the first.
    """

    best: tuple[int, ...]
    nearest: tuple[int, ...]
    front: tuple[int, ...]
    unbeaten: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Standing:
    """What is chosen as things are known: of the ways that pass every check, the one of least cost.

    Attributes
    ----------
    place : its place among the candidates; where none passes, that of the one that comes nearest.
    passes : whether it passes.
    """

    place: int
    passes: bool


def cost_in_money(candidates: Sequence[Candidate], weights: Merit) -> Floats:
    """Weighted cost in money: the price, and what carbon, spoil and days weigh against it; ranks as weighted_cost does."""
    prices = np.array([candidate.merit.price for candidate in candidates])
    unit = float(np.median(np.abs(prices))) / (weights.price or max(weights.row))
    return np.asarray(weighted_cost(candidates, weights) * unit)


def weighted_cost(candidates: Sequence[Candidate], weights: Merit) -> Floats:
    """One number a way: each cost over its median among the candidates, times its weight."""
    rows = np.array([candidate.merit.row for candidate in candidates])
    scale = np.array([_usual(column) for column in np.abs(rows).T])
    return np.asarray(rows / scale @ np.array(weights.row))


def _usual(column: Floats) -> float:
    """Median of a cost among the ways that have any of it; most ways may send no soil away at all."""
    return float(np.median(column[column > 0.0])) if column.any() else 1.0


def beaten(rows: Floats) -> Flags:
    """Whether each row is beaten: another is no worse in any column and better in one."""
    lost = np.zeros(len(rows), dtype=np.bool_)
    for place, row in enumerate(rows):
        lost[place] = bool(((rows <= row).all(axis=1) & (rows < row).any(axis=1)).any())
    return lost


def find_ways(
    candidates: Sequence[Candidate], setting: Setting, targets: Mapping[CheckName, float], weights: Merit
) -> Found:
    """Search the candidates for the best of each method and for the fronts."""
    verdicts = _Verdicts(candidates, setting, targets)
    cost = weighted_cost(candidates, weights)
    verdicts.foresee(cost)
    best, nearest = [], []
    for method in dict.fromkeys(candidate.way.method for candidate in candidates):
        places = _in_order(candidates, cost, method)
        found = verdicts.first_of(places)
        if found is None:
            nearest.append(verdicts.nearest_of(places))
        else:
            best.append(found)
    best.sort(key=lambda place: (cost[place], place))
    rows = np.array([candidate.merit.row for candidate in candidates])
    return Found(tuple(best), tuple(nearest), verdicts.unbeaten_on(rows[:, :2]), verdicts.unbeaten_on(rows))


def standing_choice(
    candidates: Sequence[Candidate], setting: Setting, targets: Mapping[CheckName, float], cost: Floats
) -> Standing:
    """What is chosen as things are known, the same as heads the best ways that find_ways finds."""
    verdicts = _Verdicts(candidates, setting, targets)
    verdicts.foresee(cost)
    order = sorted(range(len(candidates)), key=lambda place: (cost[place], place))
    found = verdicts.first_of(order)
    return Standing(verdicts.nearest_of(order), False) if found is None else Standing(found, True)


def best_of(
    candidates: Sequence[Candidate],
    setting: Setting,
    targets: Mapping[CheckName, float],
    cost: Floats,
    method: Method,
) -> int | None:
    """The passing way of a method of least cost, as its place among the candidates; None where none passes."""
    return _Verdicts(candidates, setting, targets).first_of(_in_order(candidates, cost, method))


def _in_order(candidates: Sequence[Candidate], cost: Floats, method: Method) -> list[int]:
    places = [place for place, one in enumerate(candidates) if one.way.method is method]
    return sorted(places, key=lambda place: (cost[place], place))


class _Verdicts:
    """Which ways pass, judged only when asked."""

    def __init__(
        self, candidates: Sequence[Candidate], setting: Setting, targets: Mapping[CheckName, float]
    ) -> None:
        self.ways = tuple(candidate.way for candidate in candidates)
        self.setting = setting
        self.few = setting.first(min(FIRST_LOOK, setting.draws.count))
        self.targets = targets
        self.of_ways = {**targets, **dict.fromkeys(ALIKE, np.inf)}
        self.may_pass: dict[int, bool] = {}
        self.passes: dict[int, bool] = {}
        self.least_excess: dict[int, float] = {}
        self.tightest: dict[int, CheckName] = {}

    def foresee(self, cost: Floats) -> None:
        """Work out in one go what the first build-ups of each method will ask, and put off the others."""
        first: dict[Method, set[tuple[float, ...]]] = {method: set() for method in Method}
        soon, later = list[Way](), list[Way]()
        for place in np.argsort(cost, kind="stable").tolist():
            way = self.ways[place]
            column, known = column_of(way.build_up), first[way.method]
            if len(known) < FORESEEN:
                known.add(column)
            (soon if column in known else later).append(way)
        prepare(tuple(soon), tuple(later), self.few)

    def look(self, places: Iterable[int]) -> None:
        """Judge the ways not looked at yet on few draws."""
        new = [place for place in places if place not in self.may_pass]
        if not new:
            return
        judged = judge_until([self.ways[place] for place in new], self.few, self.targets, SLACK)
        self.may_pass.update(zip(new, judged.passes(self.targets, SLACK).tolist(), strict=True))
        self.tightest.update(zip(new, judged.tightest(self.targets), strict=True))
        self.least_excess.update(zip(new, judged.excess(self.of_ways).tolist(), strict=True))
        self.passes.update({place: False for place in new if not self.may_pass[place]})

    def confirm(self, places: Iterable[int]) -> None:
        """Judge on all draws the ways not judged yet, of those that might pass: first by what they came nearest to failing in."""
        places = list(places)
        self.look(places)
        new = [place for place in places if place not in self.passes]
        if new:
            doubtful = dict.fromkeys(self.tightest[place] for place in new)
            ways = [self.ways[place] for place in new]
            judged = judge_until(ways, self.setting, self.targets, first=doubtful)
            self.passes.update(zip(new, judged.passes(self.targets).tolist(), strict=True))

    def first_of(self, places: Sequence[int]) -> int | None:
        """The first way, in the order given, that passes."""
        start, count = 0, BATCH
        while start < len(places):
            batch = places[start : start + count]
            self.look(batch)
            hopeful = [place for place in batch if self.may_pass[place]]
            for place in hopeful:
                self.confirm([place])
                if self.passes[place]:
                    return place
            start, count = start + count, min(2 * count, MOST_AT_ONCE)
        return None

    def nearest_of(self, places: Sequence[int]) -> int:
        """The way, of those given in order of cost, whose worst check is least beyond its target on few draws.

        What all ways fail alike in tells none from another: of those that fail in nothing else the first is nearest.
        """
        self.look(places)
        order = sorted(places, key=lambda place: max(self.least_excess[place], 1.0))
        best, least = order[0], np.inf
        for start in range(0, len(order), BATCH):
            batch = order[start : start + BATCH]
            if max(self.least_excess[batch[0]], 1.0) >= least:
                break
            judged = judge([self.ways[place] for place in batch], self.few)
            excess = np.maximum(judged.excess(self.of_ways), 1.0)
            nearest = int(np.argmin(excess))
            if excess[nearest] < least:
                best, least = batch[nearest], float(excess[nearest])
        return best

    def unbeaten_on(self, rows: Floats) -> tuple[int, ...]:
        """Passing ways that no other passing way beats on the costs given, cheapest first, one of each cost."""
        while True:
            hopeful = [place for place in range(len(rows)) if self.passes.get(place, True)]
            hopeful = self._not_beaten_by_known(hopeful, rows)
            lost = beaten(rows[hopeful].reshape(-1, rows.shape[1]))
            front = [place for place, gone in zip(hopeful, lost, strict=True) if not gone]
            unknown = [place for place in front if place not in self.passes]
            if not unknown:
                return _one_of_each(front, rows)
            self.confirm(unknown)

    def _not_beaten_by_known(self, places: Sequence[int], rows: Floats) -> list[int]:
        known = rows[[place for place, passes in self.passes.items() if passes]]
        if not len(known):
            return list(places)
        mine = rows[list(places)]
        no_worse = (known[:, None] <= mine[None]).all(axis=2)
        lost = (no_worse & (known[:, None] < mine[None]).any(axis=2)).any(axis=0)
        return [place for place, gone in zip(places, np.atleast_1d(lost), strict=True) if not gone]


def _one_of_each(front: Sequence[int], rows: Floats) -> tuple[int, ...]:
    """Places with the same costs thinned to the first, in order of the first cost."""
    kept = {tuple(rows[place].tolist()): place for place in reversed(front)}
    return tuple(kept[row] for row in sorted(kept))
