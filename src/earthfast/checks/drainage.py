"""Drainage: does water leave the surface, and does it leave the top of a bound base?"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from earthfast.checks.build_up import LOOSE, Material
from earthfast.checks.registry import CheckName, check
from earthfast.checks.situation import Case, CheckResult
from earthfast.estimate import FloatLike, Floats, Meaning, Origin, Quantity, Trail, lognormal
from earthfast.sources import source_note

LEAST_FALL = 1.0 / 100.0
SITTING_WATER_FALL = 1.0 / 50.0
DRAINING_FINES = 0.15
HALF = 0.5
FALL_ERROR = lognormal(1.0, 0.15)  # least falls in print for like paving run from 1 to 1.25 %

Flags = npt.NDArray[np.bool_]


def fall_as_built(fall: FloatLike, level_error: FloatLike, run: FloatLike) -> Floats:
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
    return np.asarray(np.asarray(fall) - np.asarray(level_error) / np.asarray(run))


def fall_wanted(bound_base: FloatLike, has_outlet: FloatLike, error: FloatLike) -> Floats:
    """Least fall at which water leaves.

    Parameters
    ----------
    bound_base : array-like
        1 where bedding sand lies on something that water can't pass. [-]
    has_outlet : array-like
        1 where the face of that base falls to a free edge or weep holes. [-]
    error : array-like
        True over published least fall: hollows, joints and grit hold water where a plane would not. [-]

    Returns
    -------
    fall : array-like
        Fall wanted of the finished surface. [-]

    Notes
    -----
    e/100 as built, e the error: 1 in 100 is the least in print (falls are set out at 1:40 to 1:80, usually 1:60). Bedding sand on
    a bound base (or straight on silt or clay) without an outlet sits in a bath: twice the fall is asked for, so that water is
    shed before it soaks in.

    References
    ----------
    australian_paving_specification_2009, least fall 1 percent [S]
    earthfast_proposal, twice the fall over a bath [P]
    """
    bath = np.asarray(bound_base, dtype=np.float64) * (1.0 - np.asarray(has_outlet, dtype=np.float64))
    return np.asarray(np.where(bath > 0.0, SITTING_WATER_FALL, LEAST_FALL) * error)


@check(CheckName.DRAINAGE, "Does water leave the surface?", "water would stand on it")
def drainage(case: Case, trail: Trail) -> CheckResult:
    """Judge the fall as it will be built against the fall that sheds water."""
    steps = trail.under("drainage")
    bath = _bath(case)
    wanted, built = _wanted(case, bath, steps), _built(case, steps)
    # demand and capacity: a fall fails by being too small
    return CheckResult(
        demand=Quantity(wanted.key, np.broadcast_to(wanted.values, case.shape)),
        capacity=Quantity(built.key, np.broadcast_to(built.values, case.shape)),
        governed_by=tuple(
            "water in the bedding sand" if b > HALF else "the surface" for b in bath.mean(axis=1)
        ),
        applies=np.ones(len(case.ways)),
    )


def _built(case: Case, steps: Trail) -> Quantity:
    error = steps.enter(
        "level_error",
        Meaning("Difference of two level errors", "m", "mm"),
        np.sqrt(2.0) * case.drainage.level_tolerance.values * case.draws.normal("levels"),
        Origin.ASSUMED,
        "each level is set out by hand and may be a little out",
        (source_note("earthfast_proposal, scatter of hand-set levels [P]"),),
    )
    return steps.derive(
        "fall",
        Meaning("Fall as built", "-", "%"),
        fall_as_built,
        {"fall": case.drainage.fall, "level_error": error, "run": case.drainage.run},
    )


def _wanted(case: Case, bath: Floats, steps: Trail) -> Quantity:
    bound = steps.enter(
        "bound_base",
        Meaning("Bedding sand lies on something that water can't pass (1 yes)", "-", "-"),
        bath,
        Origin.DERIVED,
        "from the courses of the way and the fines of the ground",
    )
    error = steps.enter(
        "fall_error",
        Meaning("True over published least fall", "-", "-"),
        case.draws.of("fall model", FALL_ERROR),
        Origin.ASSUMED,
        "least falls in print for like paving run from 1 to 1.25 %, and surfaces have hollows",
        (
            source_note("bs_7533, falls quoted at second hand [S]"),
            source_note("earthfast_proposal, log-standard deviation 0.15 [P]"),
        ),
    )
    return steps.derive(
        "fall_wanted",
        Meaning("Least fall", "-", "%"),
        fall_wanted,
        {"bound_base": bound, "has_outlet": _outlet(case, steps), "error": error},
    )


def _outlet(case: Case, steps: Trail) -> Quantity:
    """Whether water leaves the bedding sand sideways: over a bound base by what the build sheet asks for, else not."""
    meaning = Meaning("Water leaves the bedding sand at a free edge or weep holes (1 yes)", "-", "-")
    has = (_is_on_bound(case) & case.drainage.has_outlet).astype(np.float64)[:, None]
    if has.any():
        weep = source_note("common_practice, weep holes or a free edge under bedding sand [CP]")
        because = "the build sheet asks for it on a bound base, as a hold point"
        return steps.enter("outlet", meaning, has, Origin.ASSUMED, because, (weep,))
    because = "no bound base to lead it there: sand straight on the ground lies in a trench without an outlet"
    return steps.enter("outlet", meaning, has, Origin.DERIVED, because)


def _is_on_bound(case: Case) -> Flags:
    return np.asarray(case.thickness(Material.TREATED_SOIL) + case.thickness(Material.CONCRETE) > 0.0)


def _bath(case: Case) -> Floats:
    """1 where bedding sand cannot lose water downwards, on a bound base or straight on fine soil, (ways, draws)."""
    sand = (case.thickness(*LOOSE) > 0.0)[:, None]
    on_bound = _is_on_bound(case)[:, None]
    on_ground = ~on_bound & (case.thickness(Material.CRUSHED_STONE) == 0.0)[:, None]
    holds_water = case.ground.fines.values > DRAINING_FINES
    return np.where(sand & (on_bound | (on_ground & holds_water)), 1.0, 0.0)
