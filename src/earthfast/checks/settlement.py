"""Settlement: does what stands on it sink, or tilt over soft spots, more than is put up with?"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from earthfast.checks.acts import Act
from earthfast.checks.loading import load_factor
from earthfast.checks.pressing import Pressing, deflection_under_load, stress_under_load
from earthfast.checks.registry import CheckName, check
from earthfast.checks.response import Seen, Spreading
from earthfast.checks.situation import Case, CheckResult, nothing_to_judge
from earthfast.checks.stiffness import BoundState, CourseModuli, spreading
from earthfast.checks.worst import Asked, Worst, capacity_that_governs, demand_that_governs, worst_of
from earthfast.estimate import (
    FloatLike,
    Floats,
    Meaning,
    Origin,
    Quantity,
    Trail,
    lognormal,
    lognormal_from_band,
)
from earthfast.ground import VISIBLE_TILT, differential_settlement
from earthfast.loads import Motion
from earthfast.sources import source_note

DEMAND = Meaning("Sinking, or difference of sinking across it", "m", "mm")
TILT = Meaning("Difference of sinking across it", "m", "mm")
ALLOWED = Meaning("Put up with", "m", "mm")
SETTLEMENT_FACTOR = lognormal_from_band(2.0, 5.0)  # resilient over settlement modulus
COMPRESSION_SCATTER = lognormal(1.0, 0.35)
STRENGTH_TIMES_COMPRESSIBILITY = 0.015  # -
SOIL_WEIGHT = 18.0e3  # N/m³
COUNTED = 0.1  # share of the stress already there below which clay does not settle
STAYS = 3.0  # times a year; what is moved more often leaves clay no time to settle


def compressibility_from_strength(undrained_strength: FloatLike, scatter: FloatLike) -> Floats:
    """One-dimensional compressibility of clay from its undrained strength.

    Parameters
    ----------
    undrained_strength : array-like
        Undrained shear strength. [Pa]
    scatter : array-like
        Factor for the scatter of the rule. [-]

    Returns
    -------
    compressibility : array-like
        Strain per stress in one-dimensional loading. [1/Pa]

    Notes
    -----
    m_v = 0.015 f/c_u, f the scatter (log-standard deviation 0.35) and c_u the strength: runs through the quoted ranges of m_v,
    0.3 to 1.5 m²/MN in soft clay (20 to 40 kPa), 0.1 to 0.3 in firm to stiff (40 to 150 kPa), 0.05 to 0.1 in very stiff clay.

    References
    ----------
    bell_2000, ranges of compressibility, quoted in a secondary source [S]
    earthfast_proposal, one rule through them [P]
    """
    strength = np.asarray(undrained_strength, dtype=np.float64)
    return np.asarray(STRENGTH_TIMES_COMPRESSIBILITY * np.asarray(scatter) / strength)


def compression_below_patch(
    pressure: FloatLike, radius: FloatLike, compressibility: FloatLike, depth: FloatLike
) -> Floats:
    """Long-term settlement of clay under the middle of a round patch, down to a depth.

    Parameters
    ----------
    pressure : array-like
        Pressure on the patch. [Pa]
    radius : array-like
        Radius of the patch. [m]
    compressibility : array-like
        One-dimensional compressibility. [1/Pa]
    depth : array-like
        Depth of clay counted below the patch. [m]

    Returns
    -------
    settlement : array-like
        Settlement once water has been squeezed out. [m]

    Notes
    -----
    s = m σ (2 a + H − R − a²/R), R = √(a² + H²): m times the stress σ [1 − (z/√(a² + z²))³] under a uniform circle, summed
    from the patch to H; σ, a, m, H in the order of the arguments. 2 a m σ for endless clay.

    References
    ----------
    definition, integral of the stress under a circle [C]
    """
    a, h = np.asarray(radius, dtype=np.float64), np.asarray(depth, dtype=np.float64)
    reach = np.hypot(a, h)
    # H − R without the loss of digits in deep clay
    length = 2.0 * a - a**2 / (h + reach) - a**2 / reach
    return np.asarray(np.asarray(compressibility) * np.asarray(pressure) * length)


def counted_depth(force: FloatLike, unit_weight: FloatLike) -> Floats:
    """Depth below a load within which clay settles under it.

    Parameters
    ----------
    force : array-like
        The load. [N]
    unit_weight : array-like
        Unit weight of the ground. [N/m³]

    Returns
    -------
    depth : array-like
        Depth below the load. [m]

    Notes
    -----
    H = (3 P/(2 π 0.1 γ))^(1/3): there the stress under a point load, 3 P/(2 π z²), is a tenth of the weight γ z of the ground
    above; P and γ in the order of the arguments. A patch spreads its load more, so this counts a little too much.

    References
    ----------
    from_memory, depth of influence by stress ratio [M]
    definition, point load on a half-space [C]
    """
    return np.asarray(np.cbrt(1.5 * np.asarray(force) / (np.pi * COUNTED * np.asarray(unit_weight))))


def patch_radius(radius: FloatLike, share: FloatLike) -> Floats:
    """Radius over which a load reaches the ground at its peak stress there, no less than on its bed.

    Parameters
    ----------
    radius : array-like
        Radius over which the load reaches its bed. [m]
    share : array-like
        Stress on the ground over the pressure of the load. [-]

    Returns
    -------
    radius : array-like
        Radius on the ground. [m]

    Notes
    -----
    a' = a/√min(I, 1), with a and I in the order of the arguments.

    References
    ----------
    definition, force over stress [C]
    """
    return np.asarray(radius) / np.sqrt(np.minimum(share, 1.0))


def settlement_in_all(at_once: FloatLike, slowly: FloatLike, stays: FloatLike, drains: FloatLike) -> Floats:
    """Settlement on loading and, where the load stays on ground that holds its water, over the years.

    Parameters
    ----------
    at_once : array-like
        Settlement on loading. [m]
    slowly : array-like
        Settlement once water has been squeezed out. [m]
    stays : array-like
        1 where the load stays long enough for that, else 0. [-]
    drains : array-like
        1 for ground that drains as it is loaded, else 0. [-]

    Returns
    -------
    settlement : array-like
        Both together. [m]

    Notes
    -----
    s = s₀ + s₁ where the load stays and the ground does not drain, else s₀; s₀ and s₁ in the order of the arguments.

    References
    ----------
    definition, sum [C]
    """
    waits = np.logical_and(np.greater(stays, 0.0), np.less_equal(drains, 0.0))
    return np.asarray(np.asarray(at_once) + np.where(waits, slowly, 0.0))


def tilt_across(settlement: FloatLike, variation: FloatLike, score: FloatLike) -> Floats:
    """Difference of settlement between the two sides of what stands there.

    Parameters
    ----------
    settlement : array-like
        Mean settlement of either side. [m]
    variation : array-like
        Log-standard deviation of the ground from place to place. [-]
    score : array-like
        Standard normal score of the difference. [-]

    Returns
    -------
    difference : array-like
        Difference of settlement. [m]

    Notes
    -----
    d = |z| s V √2, with s, V, z in the order of the arguments: the two sides are unlike.

    References
    ----------
    definition, variance of a difference [C]
    earthfast_proposal, the two sides of a load are unlike [P]
    """
    return np.asarray(np.abs(score) * differential_settlement(settlement, variation, 0.0))


@check(
    CheckName.SETTLEMENT,
    "Does what stands on it stay level?",
    "what stands on it would sink or tilt too far",
)
def settlement(case: Case, trail: Trail) -> CheckResult:
    """Judge sinking and tilting under what stands on it; nothing to judge where nothing stands."""
    acts = tuple(act for act in case.acts if act.load.motion is Motion.RESTING)
    if not acts:
        return nothing_to_judge(case)
    return _judged(case, acts, trail.under("settlement"))


@dataclass(frozen=True, slots=True)
class _Ground:
    """The ground as it settles."""

    modulus: Quantity
    compressibility: Quantity
    moduli: CourseModuli
    spread: Spreading
    spot_score: Quantity


def _judged(case: Case, acts: tuple[Act, ...], steps: Trail) -> CheckResult:
    ground = _ground(case, steps)
    tilting = worst_of([_tilting(case, act, ground) for act in acts], case.shape)
    if case.tolerable_settlement is None:
        demand = _told_tilting(case, tilting, ground, steps)
        return CheckResult(demand, _told_visible(tilting, steps), tilting.words, np.ones(len(case.ways)))
    sinking = worst_of([_sunk(case, act, ground) for act in acts], case.shape)
    worst = tilting.or_worse(sinking)

    def told() -> dict[str, Quantity]:
        tilts, sinks = steps.under("tilting"), steps.under("sinking")
        meaning = Meaning("Sinking put up with", "m", "mm")
        return {
            "first_demand": _told_tilting(case, tilting, ground, tilts),
            "first_capacity": _told_visible(tilting, tilts),
            "second_demand": _told_sinking(case, sinking, ground, sinks),
            "second_capacity": sinks.enter("allowed", meaning, sinking.capacity, Origin.GIVEN, "as given"),
        }

    return CheckResult(
        steps.follow("sinking", DEMAND, worst.demand, demand_that_governs, told),
        steps.follow("allowed", ALLOWED, worst.capacity, capacity_that_governs, told),
        worst.words,
        np.ones(len(case.ways)),
    )


def _told_visible(tilting: Worst, steps: Trail) -> Quantity:
    return steps.enter(
        "allowed",
        Meaning("Difference put up with", "m", "mm"),
        tilting.capacity,
        Origin.ASSUMED,
        "a tilt of 1 in 200 shows",
        (source_note("earthfast_proposal, 1/200 as visible [P]"),),
    )


def _ground(case: Case, steps: Trail) -> _Ground:
    moduli, spread = spreading(case, case.ground.modulus_wet, BoundState.CRACKED, steps)
    factor = steps.enter(
        "modulus_factor",
        Meaning("Modulus under passing loads over that for settlement", "-", "-"),
        case.draws.of("settlement modulus", SETTLEMENT_FACTOR),
        Origin.ASSUMED,
        "soil is two to five times softer under a load that stays",
        (source_note("earthfast_proposal, 2 to 5 [P]"),),
    )
    modulus = steps.derive(
        "modulus",
        Meaning("Modulus of the ground for settlement", "Pa", "MPa"),
        settlement_modulus,
        {"resilient_modulus": moduli.ground, "factor": factor},
    )
    scatter = steps.enter(
        "compression_scatter",
        Meaning("Scatter of the rule for compressibility", "-", "-"),
        case.draws.of("compressibility", COMPRESSION_SCATTER),
        Origin.ASSUMED,
        "clays of one strength differ",
        (source_note("earthfast_proposal, log-standard deviation 0.35 [P]"),),
    )
    compressibility = steps.derive(
        "compressibility",
        Meaning("Compressibility of the ground", "m²/N", "m²/MN"),
        compressibility_from_strength,
        {"undrained_strength": case.ground.strength_wet, "scatter": scatter},
    )
    score = steps.enter(
        "spot_score",
        Meaning("Difference of the ground from one side to the other (standard score)", "-", "-"),
        case.draws.normal("soft spots"),
        Origin.ASSUMED,
        "soft spots lie anywhere",
        (source_note("earthfast_proposal, the two sides of a load are unlike [P]"),),
    )
    return _Ground(modulus, compressibility, moduli, spread, score)


def settlement_modulus(resilient_modulus: FloatLike, factor: FloatLike) -> Floats:
    """Modulus of the ground under a load that stays.

    Parameters
    ----------
    resilient_modulus : array-like
        Modulus under loads that come and go. [Pa]
    factor : array-like
        How many times softer the ground is under a load that stays. [-]

    Returns
    -------
    modulus : array-like
        Modulus for settlement. [Pa]

    Notes
    -----
    E_s = E_r/f, f from 2 to 5: published settlement moduli lie so far below resilient ones.

    References
    ----------
    earthfast_proposal, ratio of two published sets of moduli [P]
    """
    return np.asarray(np.asarray(resilient_modulus) / np.asarray(factor))


def _tilting(case: Case, act: Act, ground: _Ground) -> Asked:
    """What an act asks in sinking more on one side."""
    tilt = tilt_across(_sinking(case, act, ground), case.ground.spot_spread.values, ground.spot_score.values)
    return Asked(tilt, np.full(1, VISIBLE_TILT * act.span), f"{act.words}, tilting", act)


def _sunk(case: Case, act: Act, ground: _Ground) -> Asked:
    """What an act asks in sinking as a whole."""
    put_up_with = np.full(1, case.tolerable_settlement or 0.0)
    return Asked(_sinking(case, act, ground), put_up_with, f"{act.words}, sinking", act)


def _sinking(case: Case, act: Act, ground: _Ground) -> Floats:
    """Settlement on loading and, where the load stays on ground that does not drain, over the years."""
    load = load_factor(case, act.load)
    reach = ground.spread.under(act, Seen.DEFLECTION)
    at_once = deflection_under_load(reach, act.pressure, load, ground.modulus.values)
    if not _stays(act):
        return at_once
    share = ground.spread.under(act, Seen.ON_GROUND)
    slowly = compression_below_patch(
        stress_under_load(share, act.pressure, load),
        patch_radius(act.radius, share),
        ground.compressibility.values,
        counted_depth(_force(act), SOIL_WEIGHT),
    )
    return settlement_in_all(at_once, slowly, 1.0, case.ground.drains.values)


def _stays(act: Act) -> bool:
    return act.load.passes_per_year.centre <= STAYS


def _force(act: Act) -> float:
    return act.force * len(act.circles)


def _told_tilting(case: Case, worst: Worst, ground: _Ground, steps: Trail) -> Quantity:
    return steps.follow(
        "sinking",
        TILT,
        worst.demand,
        tilt_across,
        lambda: {
            "settlement": _told_sinking(case, worst, ground, steps.under("whole")),
            "variation": case.ground.spot_spread,
            "score": ground.spot_score,
        },
    )


def _told_sinking(case: Case, worst: Worst, ground: _Ground, steps: Trail) -> Quantity:
    pressing = Pressing(case, worst, ground.moduli, ground.spread, steps)
    at_once = steps.derive(
        "at_once",
        Meaning("Settlement on loading", "m", "mm"),
        deflection_under_load,
        {"reach": pressing.share(Seen.DEFLECTION), **pressing.push(), "modulus": ground.modulus},
    )
    stays = steps.enter(
        "stays",
        Meaning("The load stays long enough for water to be squeezed out (1 yes)", "-", "-"),
        worst.of(lambda act: float(_stays(act))),
        Origin.DERIVED,
        f"moved {STAYS:g} times a year or less often",
    )
    return steps.derive(
        "in_all",
        Meaning("Settlement in all", "m", "mm"),
        settlement_in_all,
        {
            "at_once": at_once,
            "slowly": _told_slowly(pressing, ground),
            "stays": stays,
            "drains": case.ground.drains,
        },
    )


def _told_slowly(pressing: Pressing, ground: _Ground) -> Quantity:
    steps = pressing.steps
    stress = steps.derive(
        "stress",
        Meaning("Stress on the ground", "Pa", "kPa"),
        stress_under_load,
        pressing.stress(Seen.ON_GROUND),
    )
    radius = steps.derive(
        "spread_radius",
        Meaning("Radius over which the load reaches the ground", "m", "mm"),
        patch_radius,
        {"radius": pressing.radius(), "share": pressing.share(Seen.ON_GROUND)},
    )
    return steps.derive(
        "slowly",
        Meaning("Settlement over the years where water is squeezed out", "m", "mm"),
        compression_below_patch,
        {
            "pressure": stress,
            "radius": radius,
            "compressibility": ground.compressibility,
            "depth": _told_depth(pressing.worst, steps),
        },
    )


def _told_depth(worst: Worst, steps: Trail) -> Quantity:
    force = steps.enter(
        "force",
        Meaning("The load, all contacts together", "N", "kN"),
        worst.of(_force),
        Origin.GIVEN,
        "usual value",
    )
    weight = steps.enter(
        "unit_weight",
        Meaning("Unit weight of the ground", "N/m³", "kN/m³"),
        SOIL_WEIGHT,
        Origin.ASSUMED,
        "as of most soils",
        (source_note("from_memory, 17 to 20 kN/m³ [M]"),),
    )
    return steps.derive(
        "depth",
        Meaning("Depth within which clay settles", "m", "m"),
        counted_depth,
        {"force": force, "unit_weight": weight},
    )
