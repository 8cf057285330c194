"""How far a bound course is used: bending at its edge and crushing at its top, over its life."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from earthfast.checks.build_up import Material
from earthfast.checks.loading import load_factor, passes_of
from earthfast.checks.response import Seen
from earthfast.checks.situation import Case
from earthfast.checks.stiffness import BoundState, CourseModuli, spreading
from earthfast.checks.worst import Asked, Worst, worst_of
from earthfast.estimate import FloatLike, Floats, Meaning, Origin, Quantity, Trail, lognormal
from earthfast.mixes import BoundSystem, CrushingStage, RoadCategory, bound_flexural_strength
from earthfast.mixes.fatigue import CRUSHING_CONSTANTS, FATIGUE_CONSTANTS
from earthfast.sources import source_note

EDGE_FACTOR = 1.9  # edge over interior stress of a slab
CONCRETE_FLEXURAL = lognormal(3.5e6, 0.15)
STRENGTH_SCATTER = lognormal(1.0, 0.25)  # of flexural strength on crushing strength, and of the laws of wear
SLAB_AT_ONE, SLAB_PER_DECADE = 0.972, 0.0825
MEDIAN = RoadCategory.D  # the published law of 50 %: scatter is in the draws


def stress_share_for_life(repetitions: FloatLike) -> Floats:
    """Share of the flexural strength that a slab stands so many times without a crack.

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
    s = 0.972 − 0.0825 log10 N, N the repetitions (at least 1); a fatigue rule turned round. Concrete's own rule is within one
    percent of it above a share of 0.55, and unlimited below 0.45: there this one asks more.

    References
    ----------
    nchrp_1_37a, fatigue of treated bases [M]
    """
    return SLAB_AT_ONE - SLAB_PER_DECADE * np.log10(np.maximum(repetitions, 1.0))


def breaking_share_for_life(repetitions: FloatLike) -> Floats:
    """Tension over flexural strength at which treated soil has broken into small blocks after so many loads.

    Parameters
    ----------
    repetitions : array-like
        Times it is loaded over its life. [-]

    Returns
    -------
    share : array-like
        Elastic tension over flexural strength. [-]

    Notes
    -----
    s = d (1 − log10 N/c), c 7.06, d 7.86, N the repetitions (at least 1): the strain law of lightly cemented layers for a 50 %
    chance, turned round, strain and its value at break both times the modulus. Above 1 the layer has its first cracks and
    goes on carrying as a pavement of blocks that lock together; the tension is that of a whole layer, an index. For passes of
    road wheels and strengths from 0.75 MPa; below it is extrapolated.

    References
    ----------
    theyse_1996, effective fatigue life, category D [M]
    earthfast_proposal, tension in place of strain [P]
    """
    scale, divisor = FATIGUE_CONSTANTS[MEDIAN]
    return np.asarray(divisor * (1.0 - np.log10(np.maximum(repetitions, 1.0)) / scale))


def crushing_share_for_life(repetitions: FloatLike) -> Floats:
    """Pressure on top of treated soil over its strength at which the top has crushed after so many loads.

    Parameters
    ----------
    repetitions : array-like
        Times it is loaded over its life. [-]

    Returns
    -------
    share : array-like
        Pressure over compressive strength. [-]

    Notes
    -----
    s = b (1 − log10 N/a), a 8.894, b 1.31, N the repetitions (at least 1): the law of advanced crushing (about 10 mm of loose
    top) for a 50 % chance, turned round. Above 1 for few loads: the soil beside a contact holds it in.

    References
    ----------
    theyse_1996, advanced crushing, category D [M]
    """
    scale, divisor = CRUSHING_CONSTANTS[CrushingStage.ADVANCED][MEDIAN]
    return np.asarray(divisor * (1.0 - np.log10(np.maximum(repetitions, 1.0)) / scale))


def edge_tension(interior_tension: FloatLike, edge_factor: FloatLike) -> Floats:
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
    return np.asarray(np.asarray(edge_factor) * np.asarray(interior_tension))


@dataclass(frozen=True, slots=True)
class BoundUse:
    """What asks most of a bound course, and what it rests on."""

    worst: Worst
    strength: Quantity
    moduli: CourseModuli


def bound_use(case: Case, trail: Trail) -> BoundUse:
    """Stress in the bound course against what it stands over its life, on wet ground, all acts together."""
    moduli, spread = spreading(case, case.ground.modulus_wet, BoundState.WHOLE, trail)
    treats = case.thickness(Material.TREATED_SOIL).any()
    strength = _soil_flexural(case, trail) if treats else _concrete_flexural(case, trail)
    scatter = case.draws.of("flexural", STRENGTH_SCATTER)
    asked = []
    for act in case.acts:
        factor, passes = act.pressure * load_factor(case, act.load), passes_of(case, act.load)
        tension = edge_tension(spread.under(act, Seen.TENSION) * factor, EDGE_FACTOR)
        if not treats:
            stood = stress_share_for_life(passes) * strength.values
            asked.append(Asked(tension, stood, f"{act.words}, bending at an edge", act.load))
            continue
        broken = breaking_share_for_life(passes) * strength.values
        asked.append(Asked(tension, broken, f"{act.words}, bending at an edge", act.load))
        pressure = spread.under(act, Seen.ON_BASE) * factor
        crushed = crushing_share_for_life(passes) * scatter * case.mix.strength.values
        asked.append(Asked(pressure, crushed, f"{act.words}, crushing the top", act.load))
    return BoundUse(worst_of(asked, case.shape), strength, moduli)


def holds_together(case: Case) -> Floats:
    """1 in each draw in which treated soil is not broken up by the end of its life, (ways, draws)."""

    def work() -> Floats:
        worst = bound_use(case, Trail(recording=False)).worst
        return (worst.demand <= worst.capacity).astype(np.float64)

    return case.once("holds together", work)


def enter_holds(case: Case, trail: Trail) -> Quantity:
    """Enter whether treated soil holds together over its life."""
    return trail.conclude(
        "holds_together",
        Meaning("Treated soil still holds together at the end of its life (1 yes)", "-", "-"),
        holds_together(case),
        (case.mix.strength,),
        breaking_share_for_life,
    )


def _concrete_flexural(case: Case, trail: Trail) -> Quantity:
    return trail.enter(
        "concrete_flexural",
        Meaning("Flexural strength of concrete", "Pa", "MPa"),
        case.draws.of("flexural", CONCRETE_FLEXURAL),
        Origin.ASSUMED,
        "ordinary ready-mixed concrete, well cured",
        (source_note("from_memory, 3 to 4.5 MPa [M]"),),
    )


def _soil_flexural(case: Case, trail: Trail) -> Quantity:
    soil = bound_flexural_strength(BoundSystem.SOIL_CEMENT_MEPDG, case.mix.strength.values)
    return trail.conclude(
        "soil_flexural",
        Meaning("Flexural strength of the treated soil", "Pa", "kPa"),
        soil * case.draws.of("flexural", STRENGTH_SCATTER),
        (case.mix.strength,),
        bound_flexural_strength,
    )
