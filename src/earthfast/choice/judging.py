"""All checks on a batch of ways, and what may be said of the chances they come to."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from earthfast.checks import CHECKS, CheckName, Way
from earthfast.choice.setting import Setting
from earthfast.estimate import Floats, Trail


@dataclass(frozen=True, slots=True)
class Judgement:
    """Chance of failure of every way in every check.

    Attributes
    ----------
    chances : (ways,) for each check; NaN where the check has nothing to judge.
    draws : how many draws the chances were counted in.
    """

    chances: Mapping[CheckName, Floats]
    draws: int

    def excess(self, targets: Mapping[CheckName, float]) -> Floats:
        """Largest chance over its target among all checks, shape (ways,); at most 1 is a pass."""
        return np.nanmax([self.chances[name] / targets[name] for name in self.chances], axis=0)

    def passes(self, targets: Mapping[CheckName, float], slack: float = 0.0) -> Floats:
        """Whether each way meets every target, with some standard errors of slack for a first look."""
        met = []
        for name, chance in self.chances.items():
            target = targets[name]
            error = np.sqrt(target * (1.0 - target) / self.draws)
            met.append(np.isnan(chance) | (chance <= target + slack * error))
        return np.asarray(np.all(met, axis=0))


def judge(ways: tuple[Way, ...], setting: Setting) -> Judgement:
    """Judge ways by every check."""
    silent = Trail(recording=False)
    chances = {name: np.full(len(ways), np.nan) for name in CHECKS}
    for batch in setting.batches(ways, silent):
        places = list(batch.places)
        for name, one in CHECKS.items():
            result = one.judge(batch.case, silent)
            chances[name][places] = np.where(result.applies > 0.0, result.chance, np.nan)
    return Judgement(chances, setting.draws.count)
