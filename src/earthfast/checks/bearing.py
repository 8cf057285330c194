"""Bearing: does the ground under the base carry the load, as found and once it has gone wet?"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from earthfast.checks.acts import Act
from earthfast.checks.bound_use import enter_holds, holds_together
from earthfast.checks.build_up import Material
from earthfast.checks.loading import enter_factor, load_factor
from earthfast.checks.registry import CheckName, check
from earthfast.checks.response import Seen, Spreading
from earthfast.checks.situation import Case, CheckResult
from earthfast.checks.stiffness import BoundState, spreading
from earthfast.checks.thaw import SpringState, spring_state
from earthfast.checks.worst import Asked, worst_of
from earthfast.elastic import superpose
from earthfast.estimate import FloatLike, Floats, Meaning, Origin, Quantity, Trail, lognormal
from earthfast.ground import (
    bearing_resistance_drained,
    bearing_resistance_undrained,
    crust_punching_circle_brown_meyerhof,
)
from earthfast.sources import source_note

PRESSURE = Meaning("Stress on the ground under the base", "Pa", "kPa")
RESISTANCE = Meaning("Bearing resistance of the ground", "Pa", "kPa")
COVER_WEIGHT = 18.0e3  # N/m³ of the courses beside the load
MODEL_ERROR = lognormal(1.0, 0.25)
WET, SPRING = "long-term wet", "in a spring thaw"
HALF = 0.5
SHEAR_OF_CRUSHING = 0.5  # undrained shear strength over crushing strength


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
    if not np.any(drains):
        return undrained
    drained = bearing_resistance_drained(
        friction_angle=friction_angle,
        cohesion=0.0,
        surcharge=surcharge,
        unit_weight=9.0e3,
        width=width,
        length=width,
    )
    return np.where(np.asarray(drains) > 0.0, drained, undrained)


def crust_resistance(
    compressive_strength: FloatLike,
    holds: FloatLike,
    ground_strength: FloatLike,
    thickness: FloatLike,
    diameter: FloatLike,
    surcharge: FloatLike,
) -> Floats:
    """Pressure on top of treated soil at which a load punches through it into the ground below.

    Parameters
    ----------
    compressive_strength : array-like
        Crushing strength of the treated soil, soaked. [Pa]
    holds : array-like
        1 where it holds together, 0 where it has broken up. [-]
    ground_strength : array-like
        Undrained strength of the ground below. [Pa]
    thickness : array-like
        Thickness of the treated soil. [m]
    diameter : array-like
        Diameter over which the load stands on it. [m]
    surcharge : array-like
        Weight of the courses beside the load on top of it. [Pa]

    Returns
    -------
    resistance : array-like
        Pressure on top of the treated soil. [Pa]

    Notes
    -----
    q = c₁ min(3 k H/B + 6.05 c₂/c₁, 6.05) + p, c₁ the greater of half the crushing strength and c₂; k 1 while it holds together
    and 0 once it is broken up, when shear round the plug is lost and the ground stands alone; c₂, H, B, p ground strength,
    thickness, diameter and surcharge.

    References
    ----------
    brown_meyerhof_1969, circle on a crust [M]
    earthfast_proposal, shear lost where the layer breaks up [P]
    """
    below = np.asarray(ground_strength, dtype=np.float64)
    crust = np.maximum(SHEAR_OF_CRUSHING * np.asarray(compressive_strength), below)
    sheared = np.asarray(holds) * np.asarray(thickness)
    return np.asarray(
        crust_punching_circle_brown_meyerhof(crust, below, sheared, diameter) + np.asarray(surcharge)
    )


@check(CheckName.BEARING, "Does the ground carry it, as found?", "the ground would give way under it")
def bearing(case: Case, trail: Trail) -> CheckResult:
    """Judge stress on the ground against its bearing resistance in the state it was found in."""
    return _judged(case, case.ground.strength, case.ground.modulus, trail.under("bearing"))


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
    words = zip(wet.governed_by, _states(wet, state), strict=True)
    return replace(wet, governed_by=tuple(map(", ".join, words)))


def _states(result: CheckResult, state: SpringState) -> tuple[str, ...]:
    """Which state governs in the twentieth of draws nearest to failure, one a way."""
    room = result.capacity.values / result.demand.values
    count = max(room.shape[-1] // 20, 1)
    nearest = np.argpartition(room, count - 1, axis=-1)[:, :count]
    thawing = np.take_along_axis(state.is_thaw, nearest, axis=-1).mean(axis=-1)
    return tuple(SPRING if share > HALF else WET for share in thawing)


def _judged(case: Case, strength: Quantity, modulus: Quantity, steps: Trail) -> CheckResult:
    moduli, spread = spreading(case, modulus, BoundState.CRACKED, steps)
    error = steps.enter(
        "model_error",
        Meaning("Error of the bearing model", "-", "-"),
        case.draws.of("bearing model", MODEL_ERROR),
        Origin.ASSUMED,
        "elastic stress against plastic resistance is a simplification",
        (source_note("earthfast_proposal, log-standard deviation 0.25 [P]"),),
    )
    treats = bool(case.thickness(Material.TREATED_SOIL).any())
    asked = []
    for act in case.acts:
        factor = act.pressure * load_factor(case, act.load) * error.values
        asked.append(_on_ground(case, spread, act, strength, factor))
        if treats:
            asked.append(_through_crust(case, spread, act, strength, factor))
    worst = worst_of(asked, case.shape)
    demand = steps.conclude(
        "ground_stress",
        PRESSURE,
        worst.demand,
        (*moduli.quantities, enter_factor(case, worst.usual[0].load, steps), error),
        superpose,
    )
    held = (case.mix.strength, enter_holds(case, steps)) if treats else ()
    capacity = steps.conclude(
        "resistance",
        RESISTANCE,
        worst.capacity,
        (strength, *_drained_inputs(case), *held),
        ground_resistance,
    )
    return CheckResult(demand, capacity, worst.words, np.ones(len(case.ways)))


def _drained_inputs(case: Case) -> Iterator[Quantity]:
    """What the drained resistance rests on, where any draw of the ground drains."""
    if np.any(case.ground.drains.values):
        yield case.ground.friction_angle
        yield case.ground.drains


def _on_ground(case: Case, spread: Spreading, act: Act, strength: Quantity, factor: Floats) -> Asked:
    """Peak stress on the ground, against the resistance of the patch that carries the load at that stress."""
    stress = spread.under(act, Seen.ON_GROUND)
    cover = case.cover[:, None] * COVER_WEIGHT
    width = np.sqrt(act.force / (stress * act.pressure))
    ground = case.ground
    stood = ground_resistance(
        strength.values, ground.friction_angle.values, ground.drains.values, cover, width
    )
    return Asked(stress * factor, stood, act.words, act.load)


def _through_crust(case: Case, spread: Spreading, act: Act, strength: Quantity, factor: Floats) -> Asked:
    """Pressure on top of the treated soil, against what it takes to punch through."""
    stress = spread.under(act, Seen.ON_BASE)
    thickness = case.thickness(Material.TREATED_SOIL)[:, None]
    stood = crust_resistance(
        case.mix.strength.values,
        holds_together(case),
        strength.values,
        thickness,
        2.0 * np.sqrt(act.force / (np.pi * stress * act.pressure)),
        (case.cover[:, None] - thickness) * COVER_WEIGHT,
    )
    return Asked(stress * factor, stood, f"{act.words}, punching through", act.load)
