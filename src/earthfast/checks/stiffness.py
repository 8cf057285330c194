"""Moduli of the courses of every way, as their support and their strength allow."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum
from functools import partial

import numpy as np

from earthfast.checks.build_up import Material
from earthfast.checks.response import Spreading, courses_of, ratio_axes
from earthfast.checks.situation import Case
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
from earthfast.ground import stone_modulus
from earthfast.mixes import BoundSystem, bound_modulus, cracked_modulus
from earthfast.sources import source_note

MODULUS = "Pa"
CONCRETE_MODULUS = lognormal(25.0e9, 0.15)
BEDDING_MODULUS = lognormal_from_band(50.0e6, 100.0e6)
STIFFEST_STONE = 350.0e6


class BoundState(StrEnum):
    """Treated soil before its first crack, or cracked as it dries."""

    WHOLE = "whole"
    CRACKED = "cracked"


@dataclass(frozen=True, slots=True)
class CourseModuli:
    """Moduli of the upper and the lower load-spreading course and the ground, (ways, draws) or less."""

    upper: Quantity
    lower: Quantity
    ground: Quantity

    @property
    def quantities(self) -> tuple[Quantity, ...]:
        """All three, without those that stand for another."""
        return tuple({q.key: q for q in (self.upper, self.lower, self.ground)}.values())


def unbound_modulus(thickness: FloatLike, support_modulus: FloatLike, scatter: FloatLike) -> Floats:
    """Modulus of unbound stone on its support, with scatter and a ceiling.

    Parameters
    ----------
    thickness : array-like
        Compacted thickness of the stone. [m]
    support_modulus : array-like
        Modulus of what it lies on. [Pa]
    scatter : array-like
        Factor for the scatter of the rule. [-]

    Returns
    -------
    modulus : array-like
        Modulus of the stone. [Pa]

    Notes
    -----
    E = min(f E_b r, 350 MPa) with r = 0.2 h^0.45 (h in mm) between 2 and 4; h, E_b, f in the order of the arguments: stone cannot
    be stiff on soft ground, since layers that bend down would have to carry tension.

    References
    ----------
    irc_37, sub-layer rule shared by several guides [M]
    from_memory, crushed stone 150 to 350 MPa [M]
    """
    stiff = np.asarray(stone_modulus(thickness, support_modulus)) * np.asarray(scatter)
    return np.asarray(np.minimum(stiff, STIFFEST_STONE))


def cracked_soil_modulus(
    compressive_strength: FloatLike, cracked: FloatLike, ground_modulus: FloatLike
) -> Floats:
    """Modulus of treated soil once it has cracked.

    Parameters
    ----------
    compressive_strength : array-like
        Unconfined compressive strength, soaked. [Pa]
    cracked : array-like
        Modulus of well treated, cracked soil. [Pa]
    ground_modulus : array-like
        Modulus of the ground it was made from. [Pa]

    Returns
    -------
    modulus : array-like
        Modulus as the load feels it. [Pa]

    Notes
    -----
    E = max(E_g, min(E_c, ½ · 1200 q)), q, E_c and E_g in the order of the arguments and 1200 q the uncracked modulus: weakly
    treated soil is never stiffer than half its uncracked self nor softer than the soil it was.

    References
    ----------
    earthfast_proposal, cracked state of weak treated soil [P]
    nchrp_1_37a, uncracked modulus of soil-cement [M]
    """
    uncracked = bound_modulus(BoundSystem.SOIL_CEMENT_MEPDG, compressive_strength)
    return np.asarray(np.maximum(ground_modulus, np.minimum(cracked, 0.5 * uncracked)))


def whole_soil_modulus(compressive_strength: FloatLike, ground_modulus: FloatLike) -> Floats:
    """Modulus of treated soil before it cracks.

    Parameters
    ----------
    compressive_strength : array-like
        Unconfined compressive strength, soaked. [Pa]
    ground_modulus : array-like
        Modulus of the ground it was made from. [Pa]

    Returns
    -------
    modulus : array-like
        Modulus as the load feels it. [Pa]

    Notes
    -----
    E = max(E_g, 1200 q), with q and E_g in the order of the arguments: soil is never softer for being treated.

    References
    ----------
    nchrp_1_37a, uncracked modulus of soil-cement [M]
    """
    return np.maximum(ground_modulus, bound_modulus(BoundSystem.SOIL_CEMENT_MEPDG, compressive_strength))


def bedding_modulus_on(own: FloatLike, base_modulus: FloatLike) -> Floats:
    """Modulus of bedding sand, which is no stiffer than what it is compacted on.

    Parameters
    ----------
    own : array-like
        Modulus of bedding sand on a firm base. [Pa]
    base_modulus : array-like
        Modulus of what it lies on. [Pa]

    Returns
    -------
    modulus : array-like
        Modulus of the sand as it lies. [Pa]

    Notes
    -----
    E = min(E_s, E_b), E_s and E_b in the order of the arguments.

    References
    ----------
    earthfast_proposal, sand holds no tension [P]
    """
    return np.minimum(own, base_modulus)


def course_moduli(case: Case, support: Quantity, bound: BoundState, trail: Trail) -> CourseModuli:
    """Moduli of all ways of a case on ground of a modulus, in one state of bound courses."""
    upper, lower = courses_of(case.ways[0].build_up).materials
    base = _MODULI[lower](case, support, bound, trail)
    if upper is Material.CONCRETE:
        return CourseModuli(_concrete(case, trail), base, support)
    bedding = trail.derive(
        "bedding_on_base",
        Meaning("Modulus of bedding sand on its base", MODULUS, "MPa"),
        bedding_modulus_on,
        {"own": _bedding(case, trail), "base_modulus": base},
    )
    return CourseModuli(bedding, base, support)


def spreading(
    case: Case, support: Quantity, bound: BoundState, trail: Trail
) -> tuple[CourseModuli, Spreading]:
    """Moduli on ground of a modulus, and the ways on them ready to be asked what an act does."""
    moduli = course_moduli(case, support, bound, trail)
    courses = tuple(courses_of(way.build_up) for way in case.ways)
    axes = ratio_axes(courses[0].materials)

    def basis(place: int) -> Floats:
        course = (moduli.upper, moduli.lower)[place]
        found = axes[place].basis(np.log(course.values / moduli.ground.values))
        return np.broadcast_to(found, (case.shape[0], *found.shape[-2:]))

    state = f"{support.key}, {bound.value}" if courses[0].is_bound_soil else support.key
    first, second = (case.once(f"{state}, course {place}", partial(basis, place)) for place in (0, 1))
    return moduli, Spreading(courses, first, second)


def _bedding(case: Case, trail: Trail) -> Quantity:
    return trail.enter(
        "bedding_modulus",
        Meaning("Modulus of bedding sand", MODULUS, "MPa"),
        case.draws.of("bedding modulus", BEDDING_MODULUS),
        Origin.ASSUMED,
        "compacted bedding sand",
        (source_note("from_memory, 50 to 100 MPa [M]"),),
    )


def _concrete(case: Case, trail: Trail) -> Quantity:
    return trail.enter(
        "concrete_modulus",
        Meaning("Modulus of concrete", MODULUS, "GPa"),
        case.draws.of("concrete modulus", CONCRETE_MODULUS),
        Origin.ASSUMED,
        "ordinary concrete, under a load that stays",
        (source_note("from_memory, 20 to 30 GPa [M]"),),
    )


def _ground(_case: Case, support: Quantity, _bound: BoundState, _trail: Trail) -> Quantity:
    return support


def _stone(case: Case, support: Quantity, _bound: BoundState, trail: Trail) -> Quantity:
    thickness = trail.enter(
        "stone_thickness",
        Meaning("Thickness of crushed stone", "m", "mm"),
        np.maximum(case.thickness(Material.CRUSHED_STONE), 0.01)[:, None],
        Origin.GIVEN,
        "of this way",
    )
    scatter = trail.enter(
        "stone_scatter",
        Meaning("Scatter of the stone's modulus", "-", "-"),
        case.draws.of("stone modulus", lognormal(1.0, 0.2)),
        Origin.ASSUMED,
        "stones and their compaction differ",
        (source_note("earthfast_proposal, log-standard deviation 0.2 [P]"),),
    )
    return trail.derive(
        "stone_modulus",
        Meaning("Modulus of the stone on this ground", MODULUS, "MPa"),
        unbound_modulus,
        {"thickness": thickness, "support_modulus": support, "scatter": scatter},
    )


def _treated(case: Case, support: Quantity, bound: BoundState, trail: Trail) -> Quantity:
    if bound is BoundState.WHOLE:
        return trail.derive(
            "treated_modulus",
            Meaning("Modulus of the treated soil before it cracks", MODULUS, "MPa"),
            whole_soil_modulus,
            {"compressive_strength": case.mix.strength, "ground_modulus": support},
        )
    cracked = trail.enter(
        "cracked_modulus",
        Meaning("Modulus of well treated, cracked soil", MODULUS, "MPa"),
        case.draws.of("cracked modulus", cracked_modulus()),
        Origin.ASSUMED,
        "light treated layers crack as they dry and are judged in that state",
        (source_note("earthfast_proposal, 0.2 to 0.5 GPa [P]"),),
    )
    return trail.derive(
        "treated_modulus",
        Meaning("Modulus of the treated soil, cracked", MODULUS, "MPa"),
        cracked_soil_modulus,
        {"compressive_strength": case.mix.strength, "cracked": cracked, "ground_modulus": support},
    )


_MODULI: dict[Material | None, Callable[[Case, Quantity, BoundState, Trail], Quantity]] = {
    Material.CRUSHED_STONE: _stone,
    Material.TREATED_SOIL: _treated,
    None: _ground,
}
