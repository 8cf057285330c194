"""Moduli of the courses of every way, as their support and their strength allow."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from earthfast.checks.build_up import Material, Way
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


@dataclass(frozen=True, slots=True)
class CourseModuli:
    """Moduli of the upper and the lower load-spreading course and the ground, shape (ways, draws)."""

    upper: Quantity
    lower: Quantity
    ground: Quantity

    @property
    def log_ratios(self) -> Floats:
        """ln of both courses' moduli over that of the ground, shape (2, ways, draws)."""
        return np.stack(
            [np.log(self.upper.values / self.ground.values), np.log(self.lower.values / self.ground.values)]
        )


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
    E = min(f E_rule(h, E_below), 350 MPa), f the scatter and E_rule the published ratio rule: stone cannot be stiff on
    soft ground, since layers that bend down would have to carry tension.

    References
    ----------
    irc_37, sub-layer rule shared by several guides [M]
    from_memory, crushed stone 150 to 350 MPa [M]
    """
    return np.minimum(stone_modulus(thickness, support_modulus) * np.asarray(scatter), STIFFEST_STONE)


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
    E = max(E_g, min(E_c, ½ E_u(q))), with E_g, E_c and q in the order ground, cracked, strength and E_u the uncracked
    modulus: weakly treated soil is never stiffer than half its uncracked self nor softer than the soil it was.

    References
    ----------
    earthfast_proposal, cracked state of weak treated soil [P]
    nchrp_1_37a, uncracked modulus of soil-cement [M]
    """
    uncracked = bound_modulus(BoundSystem.SOIL_CEMENT_MEPDG, compressive_strength)
    return np.maximum(ground_modulus, np.minimum(cracked, 0.5 * uncracked))


def course_moduli(case: Case, ground_modulus: Quantity, *, cracked: bool, trail: Trail) -> CourseModuli:
    """Moduli of all ways on a ground modulus, with treated soil cracked or not yet."""
    shape = (len(case.ways), case.draws.count)
    lower = _base_modulus(case, ground_modulus, cracked=cracked, trail=trail)
    bedding = trail.enter(
        "bedding_modulus",
        Meaning("Modulus of bedding sand", MODULUS, "MPa"),
        case.draws.of("bedding modulus", BEDDING_MODULUS),
        Origin.ASSUMED,
        "compacted bedding sand",
        (source_note("from_memory, 50 to 100 MPa [M]"),),
    )
    concrete = trail.enter(
        "concrete_modulus",
        Meaning("Modulus of concrete", MODULUS, "GPa"),
        case.draws.of("concrete modulus", CONCRETE_MODULUS),
        Origin.ASSUMED,
        "ordinary concrete, under a load that stays",
        (source_note("from_memory, 20 to 30 GPa [M]"),),
    )
    slab = np.array([_has(way, Material.CONCRETE) for way in case.ways])[:, None]
    # sand is no stiffer than what it is compacted on, save on a bound base
    sand = np.minimum(bedding.values, lower.values)
    upper = np.where(slab, np.broadcast_to(concrete.values, shape), np.broadcast_to(sand, shape))
    used = concrete if slab.all() else bedding
    ground = np.broadcast_to(ground_modulus.values, shape)
    return CourseModuli(
        Quantity(used.key, upper),
        Quantity(lower.key, np.broadcast_to(lower.values, shape)),
        Quantity(ground_modulus.key, ground),
    )


def _base_modulus(case: Case, ground_modulus: Quantity, *, cracked: bool, trail: Trail) -> Quantity:
    stone = _stone_modulus(case, ground_modulus, trail)
    treated = _treated_modulus(case, ground_modulus, cracked=cracked, trail=trail)
    has_stone = (case.thickness(Material.CRUSHED_STONE) > 0.0)[:, None]
    has_treated = (case.thickness(Material.TREATED_SOIL) > 0.0)[:, None]
    values = np.where(has_treated, treated.values, np.where(has_stone, stone.values, ground_modulus.values))
    if has_treated.all():
        return Quantity(treated.key, values)
    return Quantity(stone.key if has_stone.all() else ground_modulus.key, values)


def _stone_modulus(case: Case, ground_modulus: Quantity, trail: Trail) -> Quantity:
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
        {"thickness": thickness, "support_modulus": ground_modulus, "scatter": scatter},
    )


def _treated_modulus(case: Case, ground_modulus: Quantity, *, cracked: bool, trail: Trail) -> Quantity:
    if not cracked:
        return trail.conclude(
            "treated_modulus",
            Meaning("Modulus of the treated soil before it cracks", MODULUS, "MPa"),
            np.maximum(
                bound_modulus(BoundSystem.SOIL_CEMENT_MEPDG, case.mix.strength.values), ground_modulus.values
            ),
            (case.mix.strength, ground_modulus),
            bound_modulus,
        )
    modulus = trail.enter(
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
        {"compressive_strength": case.mix.strength, "cracked": modulus, "ground_modulus": ground_modulus},
    )


def _has(way: Way, material: Material) -> bool:
    return way.build_up.thickness_of(material) > 0.0
