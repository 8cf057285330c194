"""Cracking: does a bound course hold together, as hard and as often as it is loaded?"""

from __future__ import annotations

import numpy as np

from earthfast.checks.bound_use import bound_use
from earthfast.checks.build_up import Material
from earthfast.checks.registry import CheckName, check
from earthfast.checks.situation import Case, CheckResult, nothing_to_judge
from earthfast.estimate import Trail


@check(CheckName.CRACKING, "Does the bound layer hold together?", "the bound layer would break up")
def cracking(case: Case, trail: Trail) -> CheckResult:
    """Judge stress in the bound course against what it stands over the design life.

    Concrete fails by its first crack. Treated soil cracks as it dries and is laid to go on carrying with cracks: it fails once
    it has broken into small blocks or its top has crushed. Where nothing is bound there is nothing to judge.
    """
    if not _is_bound(case):
        return nothing_to_judge(case)
    use = bound_use(case, trail)
    return CheckResult(use.stress, use.stood, use.words, np.ones(len(case.ways)))


def _is_bound(case: Case) -> bool:
    return bool(case.thickness(Material.TREATED_SOIL).any() or case.thickness(Material.CONCRETE).any())
