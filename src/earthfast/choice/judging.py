"""All checks on a batch of ways, and what may be said of the chances they come to."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from earthfast.checks import CHECKS, CheckName, Way
from earthfast.choice.setting import Setting
from earthfast.estimate import Floats, Trail

Flags = npt.NDArray[np.bool_]

# cheapest first: what the first group rules out is never asked for stresses, and what those rule out never for heat flow
EARLY = (CheckName.SUITABILITY, CheckName.DRAINAGE, CheckName.SHRINK_SWELL)
LOADED = (CheckName.BEARING, CheckName.CRACKING, CheckName.RUTTING, CheckName.SETTLEMENT)


@dataclass(frozen=True, slots=True)
class Judgement:
    """Chance of failure of every way in every check.

    Attributes
    ----------
    chances : (ways,) for each check; NaN where the check has nothing to judge, or was spared.
    draws : how many draws the chances were counted in.
    """

    chances: Mapping[CheckName, Floats]
    draws: int

    def excess(self, targets: Mapping[CheckName, float]) -> Floats:
        """Largest chance over its target among all checks judged, shape (ways,); at most 1 is a pass."""
        return np.asarray(self._over(targets).max(axis=0))

    def tightest(self, targets: Mapping[CheckName, float]) -> tuple[CheckName, ...]:
        """The check in which each way has the largest chance over its target."""
        names = tuple(self.chances)
        return tuple(names[row] for row in self._over(targets).argmax(axis=0).tolist())

    def _over(self, targets: Mapping[CheckName, float]) -> Floats:
        over = np.stack([self.chances[name] / targets[name] for name in self.chances])
        return np.where(np.isnan(over), 0.0, over)

    def passes(self, targets: Mapping[CheckName, float], slack: float = 0.0) -> Flags:
        """Whether each way meets every target, with some standard errors of slack for a first look."""
        met = []
        for name, chance in self.chances.items():
            target = targets[name]
            error = np.sqrt(target * (1.0 - target) / self.draws)
            met.append(np.isnan(chance) | (chance <= target + slack * error))
        return np.asarray(np.all(met, axis=0))


def prepare(soon: tuple[Way, ...], later: tuple[Way, ...], setting: Setting) -> None:
    """Let checks work out in one go what some ways will ask of them; what others ask waits until one of them does."""
    silent = Trail(recording=False)
    now, put_off = ([batch.case for batch in setting.batches(ways, silent)] for ways in (soon, later))
    for one in CHECKS.values():
        if one.prepare is not None:
            one.prepare(now, put_off)


def judge(ways: Sequence[Way], setting: Setting) -> Judgement:
    """Judge ways by every check."""
    chances = {name: np.full(len(ways), np.nan) for name in CHECKS}
    _judge_by(tuple(CHECKS), ways, np.arange(len(ways)), setting, chances)
    return Judgement(chances, setting.draws.count)


def judge_until(
    ways: Sequence[Way],
    setting: Setting,
    targets: Mapping[CheckName, float],
    slack: float = 0.0,
    first: Collection[CheckName] = (),
) -> Judgement:
    """Judge ways by some checks first, then the cheap ones, and spare those that fall the rest; who passes stays the same."""
    chances = {name: np.full(len(ways), np.nan) for name in CHECKS}
    judged = Judgement(chances, setting.draws.count)
    late = tuple(name for name in CHECKS if name not in EARLY and name not in LOADED)
    for group in (first, EARLY, LOADED, late):
        names = [name for name in group if group is first or name not in first]
        left = np.flatnonzero(judged.passes(targets, slack))
        if names and left.size:
            _judge_by(names, ways, left, setting, chances)
    return judged


def _judge_by(
    names: Sequence[CheckName],
    ways: Sequence[Way],
    left: npt.NDArray[np.intp],
    setting: Setting,
    chances: Mapping[CheckName, Floats],
) -> None:
    """Fill in the chances of some ways in some checks."""
    silent = Trail(recording=False)
    for batch in setting.batches(tuple(ways[place] for place in left), silent):
        places = left[list(batch.places)]
        for name in names:
            result = CHECKS[name].judge(batch.case, silent)
            chances[name][places] = np.where(result.applies > 0.0, result.chance, np.nan)
