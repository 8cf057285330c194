"""Bearing: does the ground under the base carry the load, as found and once it has gone wet?"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from earthfast.checks.acts import acts_of
from earthfast.checks.registry import CheckName, check
from earthfast.checks.response import courses_of, stresses
from earthfast.checks.situation import Case, CheckResult
from earthfast.checks.stiffness import course_moduli
from earthfast.checks.thaw import SpringState, spring_state
from earthfast.checks.worst import Worst, worst_of
from earthfast.elastic import superpose
from earthfast.estimate import FloatLike, Floats, Meaning, Origin, Quantity, Trail, lognormal
from earthfast.ground import bearing_resistance_drained, bearing_resistance_undrained
from earthfast.sources import source_note

PRESSURE = Meaning("Stress on the ground under the base", "Pa", "kPa")
RESISTANCE = Meaning("Bearing resistance of the ground", "Pa", "kPa")
COVER_WEIGHT = 18.0e3  # N/m³ of the courses beside the load
MODEL_ERROR = lognormal(1.0, 0.25)
WET, SPRING = "long-term wet", "in a spring thaw"


def ground_resistance(
    undrained_strength: FloatLike,
    friction_angle: FloatLike,
    drains: FloatLike,
    surcharge: FloatLike,
    width: FloatLike,
) -> Floats:
    """Bearing resistance of the ground under a square patch, drained or undrained as the ground is.

    Parameters
    ----------
    undrained_strength : array-like
        Undrained shear strength. [Pa]
    friction_angle : array-like
        Effective friction angle. [deg]
    drains : array-like
        1 for ground that drains as it is loaded, else 0. [-]
    surcharge : array-like
        Weight of the courses beside the load. [Pa]
    width : array-like
        Side of the patch of ground that carries the load. [m]

    Returns
    -------
    resistance : array-like
        Pressure at which the ground fails. [Pa]

    Notes
    -----
    R/A = (π + 2) c_u s_c + q in clay and silt; R/A = q N_q s_q + ½ γ B N_γ s_γ in sand and gravel, without cohesion and
    with γ = 9 kN/m³ (water may stand high). No partial factors: scatter is in the draws.

    References
    ----------
    en_1997_1, Annex D [M]
    annex_d_sheet, worked values [S]
    """
    undrained = bearing_resistance_undrained(undrained_strength, surcharge, width, width)
    drained = bearing_resistance_drained(
        friction_angle=friction_angle,
        cohesion=0.0,
        surcharge=surcharge,
        unit_weight=9.0e3,
        width=width,
        length=width,
    )
    return np.where(np.asarray(drains) > 0.0, drained, undrained)


@check(CheckName.BEARING, "Does the ground carry it, as found?", "the ground would give way under it")
def bearing(case: Case, trail: Trail) -> CheckResult:
    """Judge stress on the ground against its bearing resistance in the state it was found in."""
    steps = trail.under("bearing")
    return _judged(case, case.ground.strength, case.ground.modulus, steps)


@check(
    CheckName.SOFTENING,
    "Does it still carry once the ground has gone wet for good?",
    "the ground would give way once it has gone wet",
)
def softening(case: Case, trail: Trail) -> CheckResult:
    """Judge stress on the ground against its resistance, long-term wet or in a spring thaw, treated soil soaked."""
    steps = trail.under("softening")
    state = spring_state(case, steps)
    wet = _judged(case, state.strength, state.modulus, steps)
    return replace(
        wet, governed_by=tuple(map(", ".join, zip(wet.governed_by, _states(wet, state), strict=True)))
    )


def _states(result: CheckResult, state: SpringState) -> tuple[str, ...]:
    """Which state governs in the twentieth of draws nearest to failure, one a way."""
    room = result.capacity.values / result.demand.values
    count = max(room.shape[-1] // 20, 1)
    nearest = np.argpartition(room, count - 1, axis=-1)[:, :count]
    thawing = np.take_along_axis(state.is_thaw, nearest, axis=-1).mean(axis=-1)
    return tuple(SPRING if share > 0.5 else WET for share in thawing)


def _judged(case: Case, strength: Quantity, modulus: Quantity, steps: Trail) -> CheckResult:
    moduli = course_moduli(case, modulus, cracked=True, trail=steps)
    error = steps.enter(
        "model_error",
        Meaning("Error of the bearing model", "-", "-"),
        case.draws.of("bearing model", MODEL_ERROR),
        Origin.ASSUMED,
        "elastic stress against plastic resistance is a simplification",
        (source_note("earthfast_proposal, log-standard deviation 0.25 [P]"),),
    )
    load_factor = steps.enter(
        "load",
        Meaning("Load over its usual value", "-", "-"),
        np.exp(case.draws.normal("load") * _load_spread(case)),
        Origin.ASSUMED,
        "loads differ from day to day; spread as in the list of loads",
        (source_note("earthfast_proposal, spread of loads [P]"),),
    )
    worst = _worst_act(case, strength.values, moduli.log_ratios, load_factor.values * error.values)
    demand = steps.conclude(
        "ground_stress",
        PRESSURE,
        worst.demand,
        (moduli.upper, moduli.lower, moduli.ground, load_factor, error),
        superpose,
    )
    capacity = steps.conclude(
        "resistance",
        RESISTANCE,
        worst.capacity,
        (strength, case.ground.friction_angle, case.ground.drains),
        ground_resistance,
    )
    return CheckResult(demand, capacity, worst.words, np.ones(len(case.ways)))


def _load_spread(case: Case) -> float:
    return max(load.force.spread for load in case.loads)


def _worst_act(case: Case, strength: Floats, log_ratios: Floats, factor: Floats) -> Worst:
    courses = tuple(courses_of(way.build_up) for way in case.ways)
    cover = np.array([way.build_up.thickness for way in case.ways])[:, None] * COVER_WEIGHT
    demands, capacities, acts = [], [], []
    for load in case.loads:
        for act in acts_of(load, case.unit_length):
            pressure = stresses(courses, log_ratios, act).on_ground * act.pressure
            demands.append(pressure * factor)
            width = np.sqrt(act.force / np.maximum(pressure, 1.0))
            capacities.append(
                ground_resistance(
                    strength, case.ground.friction_angle.values, case.ground.drains.values, cover, width
                )
            )
            acts.append(act)
    return worst_of(demands, capacities, acts)
