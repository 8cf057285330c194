"""Bearing: does the ground under the base carry the load, as found and once it has gone wet?"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial

import numpy as np

from earthfast.checks.acts import Act
from earthfast.checks.bound_use import enter_holds, holds_together
from earthfast.checks.build_up import Material
from earthfast.checks.infiltration import STANDING
from earthfast.checks.loading import load_factor
from earthfast.checks.pressing import Pressing, stress_under_load
from earthfast.checks.registry import CheckName, check
from earthfast.checks.response import Seen, Spreading
from earthfast.checks.situation import Case, CheckResult
from earthfast.checks.slab_edge import at_edge
from earthfast.checks.stiffness import BoundState, CourseModuli, spreading
from earthfast.checks.thaw import SPRING, SpringState, spring_state
from earthfast.checks.worst import (
    Asked,
    Worst,
    capacity_that_governs,
    demand_that_governs,
    holds_near_failure,
    worst_of,
)
from earthfast.estimate import FloatLike, Floats, Meaning, Origin, Quantity, Trail, lognormal
from earthfast.ground import (
    bearing_resistance_drained,
    bearing_resistance_undrained,
    crust_punching_circle_brown_meyerhof,
)
from earthfast.sources import source_note

SURCHARGE = Meaning("Weight of the courses beside the load", "Pa", "kPa")
WORST_STRESS = Meaning("Stress where the ground or the treated soil gives way first", "Pa", "kPa")
WORST_RESISTANCE = Meaning("Resistance there", "Pa", "kPa")
PRESSURE = Meaning("Stress on the ground under the base", "Pa", "kPa")
RESISTANCE = Meaning("Bearing resistance of the ground", "Pa", "kPa")
COVER_WEIGHT = 18.0e3  # N/m³ of the courses beside the load
MODEL_ERROR = lognormal(1.0, 0.25)
WET = "long-term wet"
SHEAR_OF_CRUSHING = 0.5  # undrained shear strength over crushing strength


def clay_resistance(undrained_strength: FloatLike, surcharge: FloatLike) -> Floats:
    """Bearing resistance of clay or silt under a square patch.

    Parameters
    ----------
    undrained_strength : array-like
        Undrained shear strength. [Pa]
    surcharge : array-like
        Weight of the courses beside the load. [Pa]

    Returns
    -------
    resistance : array-like
        Pressure at which the ground fails. [Pa]

    Notes
    -----
    R/A = (π + 2) c_u s_c + q with s_c 1.2 for a square, c_u and q in the order of the arguments: 6.17 c_u + q. No partial
    factors: scatter is in the draws.

    References
    ----------
    en_1997_1, Annex D [M]
    annex_d_sheet, worked values [S]
    """
    return bearing_resistance_undrained(undrained_strength, surcharge, 1.0, 1.0)


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
    R/A = (π + 2) c_u s_c + q with s_c 1.2 in clay and silt; R/A = q N_q s_q + ½ γ B N_γ s_γ where it drains, without cohesion and
    with γ = 9 kN/m³ (water may stand high); N_q = exp(π tan φ) tan²(45° + φ/2), N_γ = 2 (N_q − 1) tan φ, s_q = 1 + sin φ,
    s_γ 0.7. c_u, φ, q, B strength, friction angle, surcharge and width. No partial factors: scatter is in the draws.

    References
    ----------
    en_1997_1, Annex D [M]
    annex_d_sheet, worked values [S]
    """
    undrained = clay_resistance(undrained_strength, surcharge)
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
    q = min(3 c₁ k H/B + 6.05 c₂, 6.05 c₁) + p, c₁ = max(½ q_u, c₂); q_u, k, c₂, H, B, p in the order of the arguments. k is 1
    while it holds together and 0 once it is broken up, when shear round the plug is lost and the ground stands alone.

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


def patch_side(radius: FloatLike, share: FloatLike) -> Floats:
    """Side of the square patch that carries a load at its peak stress.

    Parameters
    ----------
    radius : array-like
        Radius over which the load reaches its bed. [m]
    share : array-like
        Stress on the patch over the pressure of the load. [-]

    Returns
    -------
    side : array-like
        Side of the square. [m]

    Notes
    -----
    B = a √(π/I), with a and I in the order of the arguments: the force π a² p over the stress I p.

    References
    ----------
    definition, force over stress [C]
    """
    return np.asarray(np.asarray(radius) * np.sqrt(np.pi / np.asarray(share)))


def patch_diameter(radius: FloatLike, share: FloatLike) -> Floats:
    """Diameter of the round patch that carries a load at its peak stress.

    Parameters
    ----------
    radius : array-like
        Radius over which the load reaches its bed. [m]
    share : array-like
        Stress on the patch over the pressure of the load. [-]

    Returns
    -------
    diameter : array-like
        Diameter of the circle. [m]

    Notes
    -----
    D = 2 a/√I, with a and I in the order of the arguments: the force π a² p over the stress I p.

    References
    ----------
    definition, force over stress [C]
    """
    return np.asarray(2.0 * np.asarray(radius) / np.sqrt(np.asarray(share)))


@check(CheckName.BEARING, "Does the ground carry it, as found?", "the ground would give way under it")
def bearing(case: Case, trail: Trail) -> CheckResult:
    """Judge stress on the ground against its bearing resistance in the state it was found in."""
    return _judged(case, case.ground.strength, case.ground.modulus, trail, "bearing")


@check(
    CheckName.SOFTENING,
    "Does it still carry once the ground has gone wet for good?",
    "the ground would give way once it has gone wet",
)
def softening(case: Case, trail: Trail) -> CheckResult:
    """Judge stress on the ground against its resistance in the worst of its wet states, treated soil soaked.

    Its own water in the long run, rain that stands on formation, and a spring thaw.
    """
    state = spring_state(case, trail)
    wet = _judged(case, state.strength, state.modulus, trail, "softening")
    words = zip(wet.governed_by, _states(case, wet, state), strict=True)
    return replace(wet, governed_by=tuple(map(", ".join, words)))


def _states(case: Case, result: CheckResult, state: SpringState) -> tuple[str, ...]:
    """Which state governs in the twentieth of draws nearest to failure, one a way."""
    used = result.demand.values / result.capacity.values
    rain = case.ground.rain_stands
    stands = np.zeros_like(used) if rain is None else np.broadcast_to(rain.values, used.shape)
    thawing, standing = (holds_near_failure(one > 0.0, used) for one in (state.is_thaw, stands))
    return tuple(
        SPRING if thaw else STANDING if rained else WET
        for thaw, rained in zip(thawing, standing, strict=True)
    )


def _judged(case: Case, strength: Quantity, modulus: Quantity, trail: Trail, name: str) -> CheckResult:
    steps = trail.under(name)
    moduli, spread = spreading(case, modulus, BoundState.CRACKED, steps)
    error = steps.enter(
        "model_error",
        Meaning("Error of the bearing model", "-", "-"),
        case.draws.of("bearing model", MODEL_ERROR),
        Origin.ASSUMED,
        "elastic stress against plastic resistance is a simplification",
        (source_note("earthfast_proposal, log-standard deviation 0.25 [P]"),),
    )
    bed = _Bed(case, strength, moduli, spread, error, trail)
    ground = worst_of([_on_ground(bed, act) for act in case.acts], case.shape)
    if not case.thickness(Material.TREATED_SOIL).any():
        demand, capacity = _told_on_ground(bed, ground, steps, "ground_stress", "resistance")
        return CheckResult(demand, capacity, ground.words, np.ones(len(case.ways)))
    crust = worst_of([_through_crust(bed, act) for act in case.acts], case.shape)
    worst = ground.or_worse(crust)
    told = partial(_told_together, bed, ground, crust, steps)
    return CheckResult(
        steps.follow("ground_stress", WORST_STRESS, worst.demand, demand_that_governs, told),
        steps.follow("resistance", WORST_RESISTANCE, worst.capacity, capacity_that_governs, told),
        worst.words,
        np.ones(len(case.ways)),
    )


@dataclass(frozen=True, slots=True)
class _Bed:
    """What the loads stand on: the ways with their moduli, the ground's strength, the error of the model, the ways' trail."""

    case: Case
    strength: Quantity
    moduli: CourseModuli
    spread: Spreading
    error: Quantity
    trail: Trail

    @property
    def weight(self) -> Floats:
        """Weight of the courses beside the load, Pa."""
        return self.case.cover[:, None] * COVER_WEIGHT

    @property
    def treated(self) -> Floats:
        """Thickness of treated soil, m."""
        return self.case.thickness(Material.TREATED_SOIL)[:, None]

    @property
    def weight_on_treated(self) -> Floats:
        """Weight of the courses on top of the treated soil, Pa."""
        return (self.case.cover[:, None] - self.treated) * COVER_WEIGHT

    def stress(self, act: Act, share: Floats, edge: FloatLike = 1.0) -> Floats:
        """Stress under an act from its share of the pressure."""
        factor = load_factor(self.case, act.load)
        return stress_under_load(share, act.pressure, factor, self.error.values, edge)


def _on_ground(bed: _Bed, act: Act) -> Asked:
    """Peak stress on the ground, against the resistance of the patch that carries the load at that stress."""
    share = bed.spread.under(act, Seen.ON_GROUND)
    ground = bed.case.ground
    stood = ground_resistance(
        bed.strength.values,
        ground.friction_angle.values,
        ground.drains.values,
        bed.weight,
        patch_side(act.radius, share),
    )
    return Asked(bed.stress(act, share, at_edge(bed.case, act)), stood, act.words, act)


def _through_crust(bed: _Bed, act: Act) -> Asked:
    """Pressure on top of the treated soil, against what it takes to punch through."""
    share = bed.spread.under(act, Seen.ON_BASE)
    stood = crust_resistance(
        bed.case.mix.strength.values,
        holds_together(bed.case),
        bed.strength.values,
        bed.treated,
        patch_diameter(act.radius, share),
        bed.weight_on_treated,
    )
    return Asked(bed.stress(act, share), stood, f"{act.words}, punching through", act)


def _told_together(bed: _Bed, ground: Worst, crust: Worst, steps: Trail) -> dict[str, Quantity]:
    """Both mechanisms of a treated layer, told one after the other."""
    first = _told_on_ground(bed, ground, steps.under("ground"), "stress", "resistance")
    second = _told_through_crust(bed, crust, steps.under("crust"))
    names = ("first_demand", "first_capacity", "second_demand", "second_capacity")
    return dict(zip(names, (*first, *second), strict=True))


def _told_on_ground(
    bed: _Bed, worst: Worst, steps: Trail, stress: str, resistance: str
) -> tuple[Quantity, Quantity]:
    pressing = Pressing(bed.case, worst, bed.moduli, bed.spread, steps)

    def stands() -> dict[str, Quantity]:
        weight = steps.enter(
            "surcharge", SURCHARGE, bed.weight, Origin.DERIVED, "all courses of this way, at 18 kN/m³"
        )
        found = {"undrained_strength": bed.strength, "surcharge": weight}
        if not np.any(bed.case.ground.drains.values):
            return found
        side = steps.derive(
            "width",
            Meaning("Side of the patch of ground that carries the load", "m", "mm"),
            patch_side,
            {"radius": pressing.radius(), "share": pressing.share(Seen.ON_GROUND)},
        )
        ground = bed.case.ground
        return found | {"friction_angle": ground.friction_angle, "drains": ground.drains, "width": side}

    drains = np.any(bed.case.ground.drains.values)
    return (
        steps.follow(
            stress,
            PRESSURE,
            worst.demand,
            stress_under_load,
            lambda: pressing.stress(Seen.ON_GROUND) | {"model_error": bed.error} | pressing.edge(),
        ),
        steps.follow(
            resistance, RESISTANCE, worst.capacity, ground_resistance if drains else clay_resistance, stands
        ),
    )


def _told_through_crust(bed: _Bed, worst: Worst, steps: Trail) -> tuple[Quantity, Quantity]:
    pressing = Pressing(bed.case, worst, bed.moduli, bed.spread, steps)
    stress = steps.follow(
        "stress",
        Meaning("Pressure on top of the treated soil", "Pa", "kPa"),
        worst.demand,
        stress_under_load,
        lambda: pressing.stress(Seen.ON_BASE) | {"model_error": bed.error},
    )
    diameter = steps.derive(
        "diameter",
        Meaning("Diameter over which the load stands on the treated soil", "m", "mm"),
        patch_diameter,
        {"radius": pressing.radius(), "share": pressing.share(Seen.ON_BASE)},
    )
    stood = steps.derive(
        "resistance",
        Meaning("Pressure at which the load punches through the treated soil", "Pa", "kPa"),
        crust_resistance,
        {
            "compressive_strength": bed.case.mix.strength,
            "holds": enter_holds(bed.case, bed.trail),
            "ground_strength": bed.strength,
            "thickness": steps.enter(
                "thickness",
                Meaning("Thickness of treated soil", "m", "mm"),
                bed.treated,
                Origin.GIVEN,
                "of this way",
            ),
            "diameter": diameter,
            "surcharge": steps.enter(
                "surcharge",
                SURCHARGE,
                bed.weight_on_treated,
                Origin.DERIVED,
                "the courses on top of the treated soil, at 18 kN/m³",
            ),
        },
    )
    return stress, stood
