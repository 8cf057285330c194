"""Cracking: does a bound layer stand the bending, at its edge, as often as it is loaded?"""

from __future__ import annotations

import numpy as np

from earthfast.checks.acts import acts_of
from earthfast.checks.build_up import Material
from earthfast.checks.registry import CheckName, check
from earthfast.checks.response import courses_of, stresses
from earthfast.checks.situation import Case, CheckResult
from earthfast.checks.stiffness import course_moduli
from earthfast.checks.worst import worst_of
from earthfast.elastic import superpose
from earthfast.estimate import FloatLike, Floats, Meaning, Origin, Quantity, Trail, lognormal
from earthfast.mixes import BoundSystem, bound_flexural_strength
from earthfast.sources import source_note

EDGE_FACTOR = 1.9  # edge over interior stress of a slab
CONCRETE_FLEXURAL = lognormal(3.5e6, 0.15)
FLEXURAL_SCATTER = lognormal(1.0, 0.25)
FATIGUE_AT_ONE, FATIGUE_PER_DECADE = 0.972, 0.0825


def stress_share_for_life(repetitions: FloatLike) -> Floats:
    """Share of the flexural strength that a bound layer stands so many times.

    Parameters
    ----------
    repetitions : array-like
        Times it is loaded over its life. [-]

    Returns
    -------
    share : array-like
        Tension over flexural strength at which it cracks after that many loads. [-]

    Notes
    -----
    s = 0.972 − 0.0825 log10 N, N the repetitions (at least 1); the fatigue rule of treated bases, turned round.

    References
    ----------
    nchrp_1_37a, fatigue of treated bases [M]
    """
    return FATIGUE_AT_ONE - FATIGUE_PER_DECADE * np.log10(np.maximum(repetitions, 1.0))


def edge_tension(interior_tension: FloatLike, edge_factor: FloatLike) -> FloatLike:
    """Tension near a free edge from the tension in an endless layer.

    Parameters
    ----------
    interior_tension : array-like
        Tension far from edges. [Pa]
    edge_factor : array-like
        Edge over interior. [-]

    Returns
    -------
    tension : array-like
        Tension at the edge. [Pa]

    Notes
    -----
    σ_e = k σ_i, with k and σ_i factor and interior tension. A layered solution has no edges; slab theory gives 1.9 at the edge
    of ordinary slabs. Loads reach the edge of everything as small as a path or a base.

    References
    ----------
    westergaard_1926, edge against interior loading [C]
    """
    return np.asarray(edge_factor) * np.asarray(interior_tension)


@check(CheckName.CRACKING, "Does the bound layer stand the bending?", "the bound layer would crack up")
def cracking(case: Case, trail: Trail) -> CheckResult:
    """Judge tension at the underside of the bound layer against what it stands over the design life."""
    steps = trail.under("cracking")
    moduli = course_moduli(case, case.ground.modulus_wet, cracked=False, trail=steps)
    strength = _flexural_strength(case, steps)
    load_factor = np.exp(case.draws.normal("load") * max(load.force.spread for load in case.loads))
    courses = tuple(courses_of(way.build_up) for way in case.ways)
    demands, capacities, acts = [], [], []
    for load in case.loads:
        for act in acts_of(load, case.unit_length):
            tension = stresses(courses, moduli.log_ratios, act).tension * act.pressure * load_factor
            demands.append(edge_tension(tension, EDGE_FACTOR))
            share = stress_share_for_life(act.passes_per_year * case.years)
            capacities.append(np.broadcast_to(share * strength.values, tension.shape))
            acts.append(act)
    worst = worst_of(demands, capacities, acts)
    tension = steps.conclude(
        "tension",
        Meaning("Tension under the bound layer, at its edge", "Pa", "kPa"),
        worst.demand,
        (moduli.upper, moduli.lower, moduli.ground),
        superpose,
    )
    stood = steps.conclude(
        "tension_stood",
        Meaning("Tension it stands over its life", "Pa", "kPa"),
        worst.capacity,
        (strength,),
        stress_share_for_life,
    )
    bound = case.thickness(Material.TREATED_SOIL) + case.thickness(Material.CONCRETE)
    return CheckResult(tension, stood, worst.words, (bound > 0.0).astype(np.float64))


def _flexural_strength(case: Case, steps: Trail) -> Quantity:
    concrete = steps.enter(
        "concrete_flexural",
        Meaning("Flexural strength of concrete", "Pa", "MPa"),
        case.draws.of("flexural", CONCRETE_FLEXURAL),
        Origin.ASSUMED,
        "ordinary ready-mixed concrete, well cured",
        (source_note("from_memory, 3 to 4.5 MPa [M]"),),
    )
    scatter = case.draws.of("flexural", FLEXURAL_SCATTER)
    slab = (case.thickness(Material.CONCRETE) > 0.0)[:, None]
    soil = bound_flexural_strength(BoundSystem.SOIL_CEMENT_MEPDG, case.mix.strength.values) * scatter
    if slab.all():
        return Quantity(concrete.key, np.broadcast_to(concrete.values, soil.shape))
    flexural = steps.conclude(
        "soil_flexural",
        Meaning("Flexural strength of the treated soil", "Pa", "kPa"),
        soil,
        (case.mix.strength,),
        bound_flexural_strength,
    )
    return Quantity(flexural.key, np.where(slab, concrete.values, flexural.values))
