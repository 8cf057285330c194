"""Cracking: does a bound course hold together, as hard and as often as it is loaded?"""

from __future__ import annotations

import numpy as np

from earthfast.checks.bound_use import BoundUse, bound_use, breaking_share_for_life, stress_share_for_life
from earthfast.checks.build_up import Material
from earthfast.checks.loading import enter_factor, enter_passes
from earthfast.checks.registry import CheckName, check
from earthfast.checks.situation import Case, CheckResult, nothing_to_judge
from earthfast.elastic import superpose
from earthfast.estimate import Meaning, Trail

TREATED_STRESS = Meaning("Stress in the treated soil where it is used most", "Pa", "kPa")
TREATED_STOOD = Meaning("Stress at which it breaks up over its life", "Pa", "kPa")
SLAB_STRESS = Meaning("Tension under the slab, at its edge", "Pa", "MPa")
SLAB_STOOD = Meaning("Tension it stands over its life without a crack", "Pa", "MPa")


@check(CheckName.CRACKING, "Does the bound layer hold together?", "the bound layer would break up")
def cracking(case: Case, trail: Trail) -> CheckResult:
    """Judge stress in the bound course against what it stands over the design life.

    Concrete fails by its first crack. Treated soil cracks as it dries and is laid to go on carrying with cracks: it fails once
    it has broken into small blocks or its top has crushed. Where nothing is bound there is nothing to judge.
    """
    if not _is_bound(case):
        return nothing_to_judge(case)
    return _judged(case, bound_use(case, trail.under("cracking")), trail.under("cracking"))


def _is_bound(case: Case) -> bool:
    return bool(case.thickness(Material.TREATED_SOIL).any() or case.thickness(Material.CONCRETE).any())


def _judged(case: Case, use: BoundUse, steps: Trail) -> CheckResult:
    treats = case.thickness(Material.TREATED_SOIL).any()
    load = use.worst.usual[0].load
    stress = steps.conclude(
        "stress",
        TREATED_STRESS if treats else SLAB_STRESS,
        use.worst.demand,
        (*use.moduli.quantities, enter_factor(case, load, steps)),
        superpose,
    )
    stood = steps.conclude(
        "stress_stood",
        TREATED_STOOD if treats else SLAB_STOOD,
        use.worst.capacity,
        (use.strength, enter_passes(case, load, steps)),
        breaking_share_for_life if treats else stress_share_for_life,
    )
    return CheckResult(stress, stood, use.worst.words, np.ones(len(case.ways)))
