"""Suitability: will the binder take in this soil, and can it be mixed in with these tools?"""

from __future__ import annotations

import numpy as np

from earthfast.checks.build_up import Method
from earthfast.checks.registry import CheckName, check
from earthfast.checks.situation import Case, CheckResult
from earthfast.estimate import FloatLike, Floats, Meaning, Origin, Quantity, Trail
from earthfast.sources import source_note

TREATS = (Method.CEMENT, Method.LIME_CEMENT)
MOST_PLASTIC_CEMENT = 0.20
MOST_PLASTIC_LIME_CEMENT = 0.45
MOST_ORGANIC = 0.02
NEAREST = 20  # one draw in so many
HALF = 0.5


def unsuitability(organic_content: FloatLike, plasticity_index: FloatLike, most_plastic: FloatLike) -> Floats:
    """How near a soil is to the limits of treatment; above 1 it is beyond one of them.

    Parameters
    ----------
    organic_content : array-like
        Organic matter as a fraction of dry mass. [-]
    plasticity_index : array-like
        Plasticity index as a fraction. [-]
    most_plastic : array-like
        Most plastic soil that the binder can be mixed into. [-]

    Returns
    -------
    unsuitability : array-like
        Larger of the two shares of the limits. [-]

    Notes
    -----
    u = max(o/0.02, PI/PImax), with o, PI and PImax in the order of the arguments. Cement alone is usual up to a
    plasticity index of about 20; lime first opens up more plastic clay (here up to 45, with light machines). Organic
    matter above about 2 % holds cement back: topsoil is stripped, never treated.

    References
    ----------
    ufc_3_250_11, cement for plasticity below 20, practice split [M]
    from_memory, organic content about 2 percent [M]
    earthfast_proposal, 45 with lime and light machines [P]
    """
    organic = np.asarray(organic_content) / MOST_ORGANIC
    return np.asarray(np.maximum(organic, np.asarray(plasticity_index) / np.asarray(most_plastic)))


@check(CheckName.SUITABILITY, "Will the binder take in this soil?", "the soil may not take the binder")
def suitability(case: Case, trail: Trail) -> CheckResult:
    """Judge the soil's organic matter and plasticity against what the binder can be mixed into."""
    steps = trail.under("suitability")
    limits = np.array(
        [
            MOST_PLASTIC_LIME_CEMENT if way.method is Method.LIME_CEMENT else MOST_PLASTIC_CEMENT
            for way in case.ways
        ]
    )
    most_plastic = steps.enter(
        "most_plastic",
        Meaning("Most plastic soil for this binder", "-", "%"),
        limits[:, None],
        Origin.ASSUMED,
        "cement alone up to a plasticity index of 20, with lime first up to 45",
        (
            source_note("ufc_3_250_11, practice split [M]"),
            source_note("earthfast_proposal, 45 with lime and light machines [P]"),
        ),
    )
    demand = steps.derive(
        "unsuitability",
        Meaning("Share of the limits of treatment", "-", "-"),
        unsuitability,
        {
            "organic_content": case.ground.organic_content,
            "plasticity_index": case.ground.plasticity_index,
            "most_plastic": most_plastic,
        },
    )
    one = steps.enter("limit", Meaning("Limit", "-", "-"), 1.0, Origin.DERIVED, "by definition of the share")
    return CheckResult(
        demand=demand,
        capacity=Quantity(one.key, np.ones_like(demand.values)),
        governed_by=(_governs(case, demand.values[0], float(limits[0])),) * len(case.ways),
        applies=np.array([float(way.method in TREATS) for way in case.ways]),
    )


def _governs(case: Case, unsuitable: Floats, most_plastic: float) -> str:
    """What rules in the twentieth of draws nearest to the limit."""
    organic, plastic = case.ground.organic_content.values, case.ground.plasticity_index.values
    nearest = np.argpartition(-unsuitable, organic.size // NEAREST)[: max(organic.size // NEAREST, 1)]
    rules = organic[nearest] / MOST_ORGANIC > plastic[nearest] / most_plastic
    return "organic matter" if rules.mean() > HALF else "plasticity"
