"""Drainage: does water leave the surface, and does it leave the top of a bound base?"""

from __future__ import annotations

import numpy as np

from earthfast.checks.build_up import Material
from earthfast.checks.registry import CheckName, check
from earthfast.checks.situation import Case, CheckResult
from earthfast.estimate import FloatLike, Floats, Meaning, Origin, Trail
from earthfast.sources import source_note

LEAST_FALL = 1.0 / 100.0
SITTING_WATER_FALL = 1.0 / 50.0
DRAINING_FINES = 0.15


def fall_as_built(fall: FloatLike, level_error: FloatLike, run: FloatLike) -> FloatLike:
    """Fall that is left when two levels are each a little out.

    Parameters
    ----------
    fall : array-like
        Fall as set out. [-]
    level_error : array-like
        Difference of the two levels' errors, high at the low end positive. [m]
    run : array-like
        Distance between the two levels. [m]

    Returns
    -------
    fall_as_built : array-like
        Fall of the finished surface. [-]

    Notes
    -----
    f' = f − e/ℓ, with f, e and ℓ in the order of the arguments. The error of a difference of two independent levels
    is √2 times that of one.

    References
    ----------
    definition, slope between two levels [C]
    """
    return np.asarray(fall) - np.asarray(level_error) / np.asarray(run)


def fall_wanted(bound_base: FloatLike, has_outlet: FloatLike) -> Floats:
    """Least fall at which water leaves.

    Parameters
    ----------
    bound_base : array-like
        1 where bedding sand lies on something that water can't pass. [-]
    has_outlet : array-like
        1 where the face of that base falls to a free edge or weep holes. [-]

    Returns
    -------
    fall : array-like
        Fall wanted of the finished surface. [-]

    Notes
    -----
    1 in 100 as built: the least in print (falls are set out at 1:40 to 1:80, usually 1:60). Bedding sand on a bound base (or straight on silt or clay) without an outlet sits in a bath: twice the fall is asked for, so that water is shed before it soaks in.

    References
    ----------
    as_nzs_3727_2009, least fall 1 percent [S]
    earthfast_proposal, twice the fall over a bath [P]
    """
    bath = np.asarray(bound_base, dtype=np.float64) * (1.0 - np.asarray(has_outlet, dtype=np.float64))
    return np.where(bath > 0.0, SITTING_WATER_FALL, LEAST_FALL)


@check(CheckName.DRAINAGE, "Does water leave the surface?", "water would stand on it")
def drainage(case: Case, trail: Trail) -> CheckResult:
    """Judge the fall as it will be built against the fall that sheds water."""
    steps = trail.under("drainage")
    error = steps.enter(
        "level_error",
        Meaning("Difference of two level errors", "m", "mm"),
        np.sqrt(2.0) * case.drainage.level_tolerance.values * case.draws.normal("levels"),
        Origin.ASSUMED,
        "each level is set out by hand and may be a little out",
        (source_note("earthfast_proposal, scatter of hand-set levels [P]"),),
    )
    built = steps.derive(
        "fall",
        Meaning("Fall as built", "-", "%"),
        fall_as_built,
        {"fall": case.drainage.fall, "level_error": error, "run": case.drainage.run},
    )
    bath = _bath(case)
    bound = steps.enter(
        "bound_base",
        Meaning("Bedding sand lies on something that water can't pass", "-", "-"),
        bath[:, None],
        Origin.DERIVED,
        "from the courses of the way",
    )
    outlet = steps.enter(
        "outlet",
        Meaning("The bath falls to a free edge or weep holes", "-", "-"),
        (_on_bound(case) * float(case.drainage.has_outlet))[:, None],
        Origin.ASSUMED,
        "the build sheet asks for it as a hold point",
        (source_note("common_practice, weep holes or a free edge under bedding sand [CP]"),),
    )
    wanted = steps.derive(
        "fall_wanted",
        Meaning("Least fall", "-", "%"),
        fall_wanted,
        {"bound_base": bound, "has_outlet": outlet},
    )
    shape = (len(case.ways), case.draws.count)
    # demand and capacity: a fall fails by being too small
    return CheckResult(
        demand=type(wanted)(wanted.key, np.broadcast_to(wanted.values, shape)),
        capacity=type(built)(built.key, np.broadcast_to(built.values, shape)),
        governed_by=tuple("water in the bedding sand" if b else "the surface" for b in bath),
        applies=np.ones(len(case.ways)),
    )


def _on_bound(case: Case) -> Floats:
    return (case.thickness(Material.TREATED_SOIL) > 0.0).astype(np.float64)


def _bath(case: Case) -> Floats:
    """Bedding sand that water cannot leave downwards: on a bound base, or straight on soil with many fines."""
    sand = case.thickness(Material.BEDDING_SAND) > 0.0
    base = case.thickness(Material.CRUSHED_STONE) + case.thickness(Material.TREATED_SOIL) > 0.0
    holds_water = float(np.median(case.ground.fines.values)) > DRAINING_FINES
    return (sand & ((_on_bound(case) > 0.0) | (~base & holds_water))).astype(np.float64)
