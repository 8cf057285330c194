"""How far a bound course is used: bending at its edge and crushing at its top, over its life."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial

import numpy as np

from earthfast.checks.acts import Act
from earthfast.checks.bound_wear import BREAKING, CRUSHING, SLAB, Law, Worn, strength_for_life, worn_by_all
from earthfast.checks.build_up import Material
from earthfast.checks.loading import load_factor, passes_of
from earthfast.checks.pressing import Pressing, stress_under_load
from earthfast.checks.response import Seen, Spreading
from earthfast.checks.situation import Case
from earthfast.checks.stiffness import BoundState, CourseModuli, spreading
from earthfast.checks.worst import Asked, Worst, capacity_that_governs, demand_that_governs
from earthfast.estimate import FloatLike, Floats, Meaning, Origin, Quantity, Trail, lognormal
from earthfast.mixes import BoundSystem, bound_flexural_strength
from earthfast.sources import source_note

EDGE_FACTOR = 1.9  # edge over interior stress of a slab
BENDING_ERROR = lognormal(1.0, 0.10)
SLAB_SCATTER = 0.05  # of the thickness of concrete between side boards
CONCRETE_FLEXURAL = lognormal(3.5e6, 0.15)
STRENGTH_SCATTER = lognormal(1.0, 0.25)  # of flexural strength on crushing strength, and of the laws of wear
TREATED_STRESS = Meaning("Stress in the treated soil where it is used most", "Pa", "kPa")
TREATED_STOOD = Meaning("Stress at which it breaks up over its life", "Pa", "kPa")
SLAB_STRESS = Meaning("Tension under the slab, at its edge", "Pa", "MPa")
SLAB_STOOD = Meaning("Tension it stands over its life without a crack", "Pa", "MPa")
BENDING = Meaning("Tension under the treated soil, at its edge", "Pa", "kPa")
BENDING_STOOD = Meaning("Tension at which it has broken into blocks over its life", "Pa", "kPa")
CRUSHED = Meaning("Pressure on top of the treated soil", "Pa", "kPa")
CRUSHED_STOOD = Meaning("Pressure at which its top has crushed over its life", "Pa", "kPa")


def edge_tension(
    interior_tension: FloatLike, edge_factor: FloatLike, built_thickness: FloatLike, model_error: FloatLike
) -> Floats:
    """Tension near a free edge, where the layer is as thick as built, from the tension in an endless layer as drawn.

    Parameters
    ----------
    interior_tension : array-like
        Tension far from edges. [Pa]
    edge_factor : array-like
        Edge over interior. [-]
    built_thickness : array-like
        Thickness of the layer as built over that drawn. [-]
    model_error : array-like
        True over computed tension. [-]

    Returns
    -------
    tension : array-like
        Tension at the edge. [Pa]

    Notes
    -----
    σ_e = k e σ_i/t², with σ_i, k, t, e in the order of the arguments: bending goes with the square of the thickness. A layered
    solution has no edges; slab theory gives 1.9 at the edge of ordinary slabs. Loads reach the edge of everything as small as
    a path or a base.

    References
    ----------
    westergaard_1926, edge against interior loading [C]
    definition, bending of a plate [C]
    """
    inside = np.asarray(interior_tension) / np.asarray(built_thickness) ** 2
    return np.asarray(np.asarray(edge_factor) * np.asarray(model_error) * inside)


def soil_flexural_strength(compressive_strength: FloatLike, scatter: FloatLike) -> Floats:
    """Flexural strength of treated soil, with its scatter.

    Parameters
    ----------
    compressive_strength : array-like
        Unconfined compressive strength, soaked. [Pa]
    scatter : array-like
        Factor for the scatter of flexural on crushing strength. [-]

    Returns
    -------
    strength : array-like
        Flexural strength. [Pa]

    Notes
    -----
    f = 0.20 q x, q and x in the order of the arguments: soil treated with cement.

    References
    ----------
    nchrp_1_37a, flexural strength of soil-cement [M]
    earthfast_proposal, log-standard deviation 0.25 [P]
    """
    flexural = bound_flexural_strength(BoundSystem.SOIL_CEMENT_MEPDG, compressive_strength)
    return np.asarray(flexural * np.asarray(scatter))


def holds_under(stress: FloatLike, stood: FloatLike) -> Floats:
    """Whether a course holds together under a stress, draw by draw.

    Parameters
    ----------
    stress : array-like
        Stress in the course where it is used most. [Pa]
    stood : array-like
        What it stands there over its life. [Pa]

    Returns
    -------
    holds : array-like
        1 where it holds, 0 where it has broken up. [-]

    Notes
    -----
    k = 1 where S ≤ R, else 0; S and R in the order of the arguments: the cracking check in each draw.

    References
    ----------
    definition, capacity against demand [C]
    """
    return np.less_equal(stress, stood).astype(np.float64)


@dataclass(frozen=True, slots=True)
class BoundUse:
    """Stress in a bound course where it is used most, what it stands there over its life, and which act that is."""

    stress: Quantity
    stood: Quantity
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Course:
    """A bound course under loads, on wet ground, and where its figures are told."""

    case: Case
    moduli: CourseModuli
    spread: Spreading
    flexural: Quantity
    scatter: Quantity
    steps: Trail


def bound_use(case: Case, trail: Trail) -> BoundUse:
    """Stress in the bound course against what it stands over its life, on wet ground, all loads together."""
    steps = trail.under("cracking")
    moduli, spread = spreading(case, case.ground.modulus_wet, BoundState.WHOLE, steps)
    scatter = _scatter(case, steps)
    if not case.thickness(Material.TREATED_SOIL).any():
        slab = _Course(case, moduli, spread, _concrete_flexural(case, steps), scatter, steps)
        bending = _bending(slab, SLAB)
        stress, stood = _told_bending(slab, bending, SLAB, SLAB_STRESS, SLAB_STOOD)
        return BoundUse(stress, stood, bending.worst.words)
    flexural = steps.derive(
        "soil_flexural",
        Meaning("Flexural strength of the treated soil", "Pa", "kPa"),
        soil_flexural_strength,
        {"compressive_strength": case.mix.strength, "scatter": scatter},
    )
    soil = _Course(case, moduli, spread, flexural, scatter, steps)
    bending, crushing = _bending(soil, BREAKING), _crushing(soil)
    worst = bending.worst.or_worse(crushing.worst)
    told = partial(_told_together, soil, bending, crushing)
    return BoundUse(
        steps.follow("stress", TREATED_STRESS, worst.demand, demand_that_governs, told),
        steps.follow("stress_stood", TREATED_STOOD, worst.capacity, capacity_that_governs, told),
        worst.words,
    )


def _bending(course: _Course, law: Law) -> Worn:
    """Tension at an edge against flexural strength."""
    strength = course.flexural.values
    built, error = _built(course.case), course.case.draws.of("bending model", BENDING_ERROR)

    def asked(act: Act) -> Asked:
        factor, passes = load_factor(course.case, act.load), passes_of(course.case, act.load)
        inside = stress_under_load(course.spread.under(act, Seen.TENSION), act.pressure, factor)
        stood = strength_for_life(strength, law.share_for_life(passes))
        tension = edge_tension(inside, EDGE_FACTOR, built, error)
        return Asked(tension, stood, f"{act.words}, bending at an edge", act)

    return worn_by_all(course.case, asked, law, strength)


def _crushing(course: _Course) -> Worn:
    """Pressure on top of treated soil against crushing strength."""
    strength = course.case.mix.strength.values * course.scatter.values

    def asked(act: Act) -> Asked:
        factor, passes = load_factor(course.case, act.load), passes_of(course.case, act.load)
        pressure = stress_under_load(course.spread.under(act, Seen.ON_BASE), act.pressure, factor)
        stood = strength_for_life(strength, CRUSHING.share_for_life(passes))
        return Asked(pressure, stood, f"{act.words}, crushing the top", act)

    return worn_by_all(course.case, asked, CRUSHING, strength)


def _told_together(course: _Course, bending: Worn, crushing: Worn) -> dict[str, Quantity]:
    """Both mechanisms of treated soil, told one after the other."""
    bent = replace(course, steps=course.steps.under("bending"))
    first = _told_bending(bent, bending, BREAKING, BENDING, BENDING_STOOD)
    second = _told_crushing(replace(course, steps=course.steps.under("crushing")), crushing)
    names = ("first_demand", "first_capacity", "second_demand", "second_capacity")
    return dict(zip(names, (*first, *second), strict=True))


def _told_bending(
    course: _Course, worn: Worn, law: Law, stress: Meaning, stood: Meaning
) -> tuple[Quantity, Quantity]:
    def under(one: Worst, meaning: Meaning, steps: Trail) -> Quantity:
        return steps.follow("stress", meaning, one.demand, edge_tension, lambda: _at_edge(course, one, steps))

    strength = {"strength": course.flexural}
    return _told(course, worn, law, strength, under, (stress, stood))


def _at_edge(course: _Course, worst: Worst, steps: Trail) -> dict[str, Quantity]:
    """What `edge_tension` takes, by parameter."""
    pressing = Pressing(course.case, worst, course.moduli, course.spread, steps)
    inside = steps.derive(
        "inside",
        Meaning("Tension in the bound course far from edges", "Pa", "kPa"),
        stress_under_load,
        pressing.stress(Seen.TENSION),
    )
    factor = steps.enter(
        "edge_factor",
        Meaning("Tension at an edge over that far from edges", "-", "-"),
        EDGE_FACTOR,
        Origin.ASSUMED,
        "as of ordinary slabs on springs",
        (source_note("westergaard_1926, edge against interior loading [C]"),),
    )
    return {"interior_tension": inside, "edge_factor": factor, **_as_built(course.case, steps)}


def _built(case: Case) -> Floats:
    """Thickness of the bound course as built over that drawn, one a draw."""
    is_soil = case.thickness(Material.TREATED_SOIL).any()
    scatter = case.mix.depth_scatter if is_soil else SLAB_SCATTER
    return case.draws.of("built thickness", lognormal(1.0, scatter))


def _as_built(case: Case, steps: Trail) -> dict[str, Quantity]:
    return {
        "built_thickness": steps.enter(
            "built_thickness",
            Meaning("Thickness of the bound course as built over that drawn", "-", "-"),
            _built(case),
            Origin.ASSUMED,
            "differs from place to place; of treated soil, `crew.depth_scatter` says how much",
            (source_note("earthfast_proposal, 5 % of concrete, 8 % of treated soil [P]"),),
        ),
        "model_error": steps.enter(
            "bending_error",
            Meaning("True over computed tension", "-", "-"),
            case.draws.of("bending model", BENDING_ERROR),
            Origin.ASSUMED,
            "layers are taken for elastic, and as wide as they are long",
            (source_note("earthfast_proposal, log-standard deviation 0.10 [P]"),),
        ),
    }


def _told_crushing(course: _Course, worn: Worn) -> tuple[Quantity, Quantity]:
    def under(one: Worst, meaning: Meaning, steps: Trail) -> Quantity:
        pressing = Pressing(course.case, one, course.moduli, course.spread, steps)
        return steps.derive("stress", meaning, stress_under_load, pressing.stress(Seen.ON_BASE))

    strength = {"strength": course.case.mix.strength, "scatter": course.scatter}
    return _told(course, worn, CRUSHING, strength, under, (CRUSHED, CRUSHED_STOOD))


def _told(
    course: _Course,
    worn: Worn,
    law: Law,
    strength: dict[str, Quantity],
    under: Callable[[Worst, Meaning, Trail], Quantity],
    meanings: tuple[Meaning, Meaning],
) -> tuple[Quantity, Quantity]:
    """Stress under the load that asks most, and what is stood after the passes of all."""
    steps = course.steps
    stress = under(worn.worst, meanings[0], steps)

    def stood_after_all() -> dict[str, Quantity]:
        passes = worn.told_passes(course.case, steps, stress, strength, law, under)
        share = steps.derive(
            "share_for_life",
            Meaning("Stress over strength that is stood so many times", "-", "-"),
            law.share_for_life,
            {"repetitions": passes},
        )
        return {**strength, "share": share}

    return stress, steps.follow(
        "stress_stood", meanings[1], worn.worst.capacity, strength_for_life, stood_after_all
    )


def holds_together(case: Case) -> Floats:
    """1 in each draw in which treated soil is not broken up by the end of its life, (ways, draws)."""

    def work() -> Floats:
        use = bound_use(case, Trail(recording=False))
        return holds_under(use.stress.values, use.stood.values)

    return case.once("holds together", work)


def enter_holds(case: Case, trail: Trail) -> Quantity:
    """Whether treated soil holds together over its life, told into the trail of its way."""
    use = bound_use(case, trail)
    return trail.under("cracking").derive(
        "holds_together",
        Meaning("Treated soil still holds together at the end of its life (1 yes)", "-", "-"),
        holds_under,
        {"stress": use.stress, "stood": use.stood},
    )


def _scatter(case: Case, steps: Trail) -> Quantity:
    return steps.enter(
        "flexural_scatter",
        Meaning("Scatter of flexural strength and of the laws of wear", "-", "-"),
        case.draws.of("flexural", STRENGTH_SCATTER),
        Origin.ASSUMED,
        "treated soils of one crushing strength differ",
        (source_note("earthfast_proposal, log-standard deviation 0.25 [P]"),),
    )


def _concrete_flexural(case: Case, steps: Trail) -> Quantity:
    return steps.enter(
        "concrete_flexural",
        Meaning("Flexural strength of concrete", "Pa", "MPa"),
        case.draws.of("flexural", CONCRETE_FLEXURAL),
        Origin.ASSUMED,
        "ordinary ready-mixed concrete, well cured",
        (source_note("from_memory, 3 to 4.5 MPa [M]"),),
    )
