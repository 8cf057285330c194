"""The setting of a choice: everything the checks need, from which a case is made for any batch of ways."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields, replace
from typing import TypeVar

import numpy as np

from earthfast.checks import (
    Case,
    Drainage,
    GroundDraws,
    Method,
    MixDraws,
    PavingUnit,
    Restraint,
    Way,
    Winters,
    with_infiltration,
)
from earthfast.estimate import Draws, FloatLike, Floats, Meaning, Origin, Quantity, Trail
from earthfast.loads import Load
from earthfast.mixes import (
    REFERENCE_AGE,
    FieldPlace,
    StrengthBelief,
    StrengthNormals,
    field_strength,
    strength_normals,
)

Places = np.ndarray[tuple[int], np.dtype[np.int64]]

Holder = TypeVar("Holder", GroundDraws, Winters, Drainage)
FELT_BELOW = 0.5  # m below formation within which a weaker stratum counts
NEAR = "under the base or the next stratum, the weaker"
WEAKER_COUNTS = {
    "strength": Meaning(f"Undrained strength as found {NEAR}", "Pa", "kPa"),
    "strength_wet": Meaning(f"Undrained strength, long-term wet, {NEAR}", "Pa", "kPa"),
    "modulus": Meaning(f"Modulus as found {NEAR}", "Pa", "MPa"),
    "modulus_wet": Meaning(f"Modulus, long-term wet, {NEAR}", "Pa", "MPa"),
}


@dataclass(frozen=True, slots=True)
class GroundStep:
    """One stratum as the checks see it.

    Attributes
    ----------
    top : its top below the ground surface, m.
    draws : its properties on the common draws.
    order : which draw of the stratum's own estimate stands in each place.
    """

    top: float
    draws: GroundDraws
    order: Places


@dataclass(frozen=True, slots=True)
class Batch:
    """Ways that stand on the same ground, with their places in the list they came from."""

    places: tuple[int, ...]
    case: Case


@dataclass(frozen=True, slots=True)
class MixSetting:
    """What is believed of treated soil: by method, how it is mixed, and the scores of the draws."""

    beliefs: Mapping[Method, StrengthBelief]
    place: FieldPlace
    normals: StrengthNormals
    leaves: tuple[Quantity, ...]
    depth_scatter: float


@dataclass(frozen=True, slots=True)
class Setting:
    """Everything but the ways.

    Attributes
    ----------
    grounds : strata that may carry the base, top down.
    surface_above_ground : finished surface above today's ground, m.
    mix : what is believed of treated soil.
    loads : what stands and rolls.
    unit : the paving unit that spreads a contact.
    years : design life.
    tolerable_settlement : settlement put up with, m; None where nothing is said.
    winters, drainage, draws, is_beside_building, restraint, has_verge : as the checks take them.
    """

    grounds: tuple[GroundStep, ...]
    surface_above_ground: float
    mix: MixSetting
    loads: tuple[Load, ...]
    unit: PavingUnit
    years: float
    tolerable_settlement: float | None
    winters: Winters
    drainage: Drainage
    draws: Draws
    is_beside_building: bool = False
    restraint: Restraint | None = None
    has_verge: bool = True

    def batches(self, ways: tuple[Way, ...], trail: Trail) -> Iterator[Batch]:
        """Cases for ways grouped by method and by the ground they stand on."""
        kinds = [(way.method, self._ground_under(way)) for way in ways]
        for method, bearing in dict.fromkeys(kinds):
            places = tuple(place for place, kind in enumerate(kinds) if kind == (method, bearing))
            yield Batch(places, self._case(tuple(ways[place] for place in places), bearing, trail))

    def alone(self, way: Way) -> Case:
        """The case of one way by itself, recorded nowhere."""
        (batch,) = self.batches((way,), Trail(recording=False))
        return batch.case

    def first(self, count: int) -> Setting:
        """The same setting on the first draws only."""
        mix = self.mix
        normals = mix.normals
        return replace(
            self,
            grounds=tuple(
                replace(g, draws=_at(g.draws, slice(count)), order=g.order[:count]) for g in self.grounds
            ),
            mix=replace(
                mix,
                normals=StrengthNormals(
                    normals.group[:count], normals.parameters[:count], normals.bias[:count]
                ),
                leaves=tuple(Quantity(q.key, q.values[:count]) for q in mix.leaves),
            ),
            winters=_at(self.winters, slice(count)),
            drainage=_at(self.drainage, slice(count)),
            draws=self.draws.first(count),
        )

    def with_grounds_in(self, places: Places) -> Setting:
        """The same setting with the draws of the grounds in another order, against all else as it was."""
        grounds = tuple(replace(g, draws=_at(g.draws, places), order=g.order[places]) for g in self.grounds)
        return replace(self, grounds=grounds)

    def redrawn(self, grounds: Places, winters: Places, draws: Draws) -> Setting:
        """The same beliefs on other draws: which ground and which winter stands in each, and the scores of all else."""
        return replace(
            self,
            grounds=tuple(
                replace(g, draws=_at(g.draws, grounds), order=g.order[grounds]) for g in self.grounds
            ),
            mix=replace(self.mix, normals=strength_normals(draws)),
            winters=_at(self.winters, winters),
            draws=draws,
        )

    def _ground_under(self, way: Way) -> tuple[int, bool]:
        formation = way.build_up.thickness - self.surface_above_ground
        index = max((i for i, ground in enumerate(self.grounds) if ground.top <= formation), default=0)
        below = self.grounds[index + 1].top if index + 1 < len(self.grounds) else np.inf
        return index, bool(below - formation < FELT_BELOW)

    def _case(self, ways: tuple[Way, ...], bearing: tuple[int, bool], trail: Trail) -> Case:
        index, next_counts = bearing
        ground = self.grounds[index].draws
        if next_counts:
            ground = _weaker(ground, self.grounds[index + 1].draws, trail.under("weaker"))
        return Case(
            ways=ways,
            ground=with_infiltration(ground, ways[0], self.drainage, trail),
            mix=MixDraws(self._strength(ways, trail), self.mix.depth_scatter),
            loads=self.loads,
            unit=self.unit,
            years=self.years,
            tolerable_settlement=self.tolerable_settlement,
            winters=self.winters,
            drainage=self.drainage,
            draws=self.draws,
            is_beside_building=self.is_beside_building,
            restraint=self.restraint,
            has_verge=self.has_verge,
        )

    def _strength(self, ways: tuple[Way, ...], trail: Trail) -> Quantity:
        belief = self.mix.beliefs.get(ways[0].method)
        if belief is None:  # nothing is treated
            return Quantity(f"{trail.prefix}mix.strength", np.ones((len(ways), 1)))
        courses = [way.build_up.treated for way in ways]
        dose = np.array([course.dose if course else 0.0 for course in courses])[:, None]
        given = trail.enter(
            "mix.dose", Meaning("Cement, of dry soil", "-", "%"), dose, Origin.GIVEN, "of this way"
        )
        values = field_strength(belief, dose, REFERENCE_AGE, self.mix.place, self.mix.normals)
        return trail.conclude(
            "mix.strength",
            Meaning("Strength of the treated soil at 28 days, soaked, at its weak spots", "Pa", "MPa"),
            values,
            (given, *self.mix.leaves),
            field_strength,
        )


def weaker_of_two(upper: FloatLike, lower: FloatLike) -> Floats:
    """What counts of two strata that a load feels: the weaker, draw by draw.

    Parameters
    ----------
    upper : array-like
        Of the stratum under the base. [-]
    lower : array-like
        Of the next, in the same unit. [-]

    Returns
    -------
    weaker : array-like
        The smaller. [-]

    Notes
    -----
    c = min(c₁, c₂), c₁ and c₂ in the order of the arguments: the next stratum counts where it lies within half a metre below.

    References
    ----------
    earthfast_proposal, the weaker of two strata [P]
    """
    return np.minimum(upper, lower)


def _at(holder: Holder, which: slice | Places) -> Holder:
    """The same holder with every drawn quantity on these draws only, in this order."""
    cut = {}
    for field in fields(holder):
        value = getattr(holder, field.name)
        if isinstance(value, Quantity) and value.values.shape[-1:] > (1,):
            value = Quantity(value.key, value.values[..., which])
        cut[field.name] = value
    return replace(holder, **cut)


def _weaker(upper: GroundDraws, lower: GroundDraws, steps: Trail) -> GroundDraws:
    """The upper stratum with the strength and stiffness of the lower one where that is weaker."""

    def weaker(name: str) -> Quantity:
        both = {"upper": getattr(upper, name), "lower": getattr(lower, name)}
        return steps.derive(name, WEAKER_COUNTS[name], weaker_of_two, both)

    return replace(
        upper,
        strength=weaker("strength"),
        strength_wet=weaker("strength_wet"),
        modulus=weaker("modulus"),
        modulus_wet=weaker("modulus_wet"),
    )
