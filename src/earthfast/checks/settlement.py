"""Settlement: does what stands on it sink, or tilt over soft spots, more than is put up with?"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from earthfast.checks.acts import Act
from earthfast.checks.loading import enter_factor, load_factor
from earthfast.checks.registry import CheckName, check
from earthfast.checks.response import Seen, Spreading
from earthfast.checks.situation import Case, CheckResult, nothing_to_judge
from earthfast.checks.stiffness import BoundState, spreading
from earthfast.checks.worst import Asked, worst_of
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
    spread: Spreading
    spot_score: Quantity


def _judged(case: Case, acts: tuple[Act, ...], steps: Trail) -> CheckResult:
    ground = _ground(case, steps)
    asked = [one for act in acts for one in _asked(case, act, ground)]
    worst = worst_of(asked, case.shape)
    load = enter_factor(case, worst.usual[0].load, steps)
    demand = steps.conclude(
        "sinking",
        Meaning("Sinking, or difference of sinking across it", "m", "mm"),
        worst.demand,
        (ground.modulus, ground.compressibility, case.ground.spot_spread, ground.spot_score, load),
        compression_below_patch,
    )
    allowed = steps.enter(
        "allowed",
        Meaning("Put up with", "m", "mm"),
        worst.capacity,
        Origin.ASSUMED if case.tolerable_settlement is None else Origin.GIVEN,
        "a tilt of 1 in 200 shows" + ("" if case.tolerable_settlement is None else ", or as given"),
        (source_note("earthfast_proposal, 1/200 as visible [P]"),),
    )
    return CheckResult(demand, allowed, worst.words, np.ones(len(case.ways)))


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
    return _Ground(modulus, compressibility, spread, score)


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


def _asked(case: Case, act: Act, ground: _Ground) -> Iterator[Asked]:
    """What an act asks in sinking as a whole, and in sinking more on one side."""
    sinking = _sinking(case, act, ground)
    if case.tolerable_settlement is not None:
        yield Asked(sinking, np.full(1, case.tolerable_settlement), f"{act.words}, sinking", act.load)
    unlike = differential_settlement(sinking, case.ground.spot_spread.values, 0.0)
    tilting = np.abs(ground.spot_score.values) * unlike
    yield Asked(tilting, np.full(1, VISIBLE_TILT * act.span), f"{act.words}, tilting", act.load)


def _sinking(case: Case, act: Act, ground: _Ground) -> Floats:
    """Settlement on loading and, where the load stays on ground that does not drain, over the years."""
    pressure = act.pressure * load_factor(case, act.load)
    at_once = ground.spread.under(act, Seen.DEFLECTION) * pressure / ground.modulus.values
    if act.load.passes_per_year.centre > STAYS:
        return np.asarray(at_once)
    on_ground = ground.spread.under(act, Seen.ON_GROUND)
    radius = act.radius / np.sqrt(np.minimum(on_ground, 1.0))
    depth = counted_depth(act.force * len(act.circles), SOIL_WEIGHT)
    slowly = compression_below_patch(on_ground * pressure, radius, ground.compressibility.values, depth)
    return np.asarray(at_once + np.where(case.ground.drains.values > 0.0, 0.0, slowly))
