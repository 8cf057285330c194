"""Rutting: do the wheels and feet that pass over it press the ground down, a little each time?"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import reduce

import numpy as np

from earthfast.checks.acts import Act, acts_of
from earthfast.checks.frozen_columns import usual_share_of_winters_below
from earthfast.checks.loading import enter_passes, load_factor, passes_of
from earthfast.checks.pressing import Pressing, strain_under_load
from earthfast.checks.registry import CheckName, check
from earthfast.checks.response import Seen, Spreading
from earthfast.checks.rut_wear import (
    damage_weighted_passes,
    equivalent_passes,
    passes_in_worst_thaw,
    passes_together,
    rutting_strain,
    spring_share_of_year,
    strain_exponent,
    worst_strain_met,
)
from earthfast.checks.situation import Case, CheckResult, nothing_to_judge
from earthfast.checks.slab_edge import at_edge
from earthfast.checks.stiffness import BoundState, CourseModuli, spreading
from earthfast.checks.thaw import SPRING, spring_state
from earthfast.checks.worst import (
    Asked,
    Worst,
    capacity_that_governs,
    demand_that_governs,
    holds_near_failure,
    worst_of,
)
from earthfast.estimate import FloatLike, Floats, Meaning, Origin, Quantity, Trail, lognormal_from_band
from earthfast.frost import frozen_winters
from earthfast.loads import Load, Motion
from earthfast.sources import source_note

HALF = 0.5
MOST_STRAIN = lognormal_from_band(3000e-6, 4000e-6)
STRAIN = Meaning("Strain of the top of the ground at each pass", "-", "%")
STOOD = Meaning("Strain at which it ruts over the design life", "-", "%")


@check(
    CheckName.RUTTING, "Does it keep its level under passing wheels?", "passing loads would rut the ground"
)
def rutting(case: Case, trail: Trail) -> CheckResult:
    """Judge strain of the ground under the load that asks most against what it stands over the passes of all loads.

    Where it thaws in spring, its strain there against the one that may never be passed as well, and the worse of the two.
    Nothing to judge where nothing rolls.
    """
    steps = trail.under("rutting")
    rolling = [load for load in case.loads if load.motion is Motion.ROLLING]
    if not rolling:
        return nothing_to_judge(case)
    moduli, spread = spreading(case, case.ground.modulus_wet, BoundState.CRACKED, steps)
    limit = _limit(case, steps)
    each = [_worn(case, load, moduli, spread, limit) for load in rolling]
    worst = reduce(Worst.or_worse, each)
    wear = _Wear(case, moduli, spread, each, worst, steps)
    exponent = strain_exponent(moduli.ground.values)
    passes = np.sum(
        [
            equivalent_passes(passes_of(case, one.asked[0].act.load), one.demand, worst.demand, exponent)
            for one in each
        ],
        axis=0,
    )
    demand = steps.follow(
        "strain", STRAIN, worst.demand, strain_under_load, lambda: wear.strain_under(worst, steps)
    )
    spring = _spring(case, rolling, trail, steps)
    counted = passes if spring is None else spring.counted(passes, worst.demand, exponent)
    capacity = steps.follow(
        "strain_stood",
        STOOD,
        rutting_strain(counted, moduli.ground.values, limit.score.values, limit.most.values),
        rutting_strain,
        lambda: {
            "repetitions": wear.passes(demand) if spring is None else wear.passes_with(spring, demand),
            "modulus": moduli.ground,
            "score": limit.score,
            "most": limit.most,
        },
    )
    everywhere = np.ones(len(case.ways))
    if spring is None:
        return CheckResult(demand, capacity, worst.words, everywhere)
    words = spring.words(worst.words, passes, counted)
    return _Both(case, demand, capacity, spring, limit.most, steps).judged(words, everywhere)


@dataclass(frozen=True, slots=True)
class _Limit:
    """Where the true limit of strain lies, and the strain that may never be passed."""

    score: Quantity
    most: Quantity


def _limit(case: Case, steps: Trail) -> _Limit:
    score = steps.enter(
        "criterion",
        Meaning("Where the true limit lies among the published ones (standard score)", "-", "-"),
        case.draws.normal("rut limit"),
        Origin.ASSUMED,
        "published limits differ two to two and a half times",
        (source_note("earthfast_proposal, equal weights [P]"),),
    )
    most = steps.enter(
        "most_strain",
        Meaning("Strain that may never be passed, however few the passes", "-", "%"),
        case.draws.of("rut limit", MOST_STRAIN),
        Origin.ASSUMED,
        "below some ten thousand passes the published limits are extrapolated",
        (source_note("earthfast_proposal, 3000 to 4000 millionths [P]"),),
    )
    return _Limit(score, most)


def _worn(case: Case, load: Load, moduli: CourseModuli, spread: Spreading, limit: _Limit) -> Worst:
    """Strain under each pass of one load, against what is stood over its own passes."""
    modulus = moduli.ground.values
    stood = rutting_strain(passes_of(case, load), modulus, limit.score.values, limit.most.values)
    return _pressed(case, load, moduli, spread, stood)


def _pressed(case: Case, load: Load, moduli: CourseModuli, spread: Spreading, stood: Floats) -> Worst:
    """Strain under each pass of one load, against a strain that is stood."""
    modulus, factor = moduli.ground.values, load_factor(case, load)

    def asked(act: Act) -> Asked:
        share = spread.under(act, Seen.STRAIN)
        strain = strain_under_load(share, act.pressure, factor, modulus, at_edge(case, act))
        return Asked(strain, stood, act.words, act)

    return worst_of([asked(act) for act in acts_of(load, case.unit, repeated=True)], case.shape)


@dataclass(frozen=True, slots=True)
class _Spring:
    """What loads do to thawing ground, and for how much of the year."""

    share: Quantity
    strain: Quantity
    each: Sequence[Worst]
    wear: _Wear

    def counted(self, passes: FloatLike, strain: Floats, exponent: Floats) -> Floats:
        """Passes with those of spring weighed by their wear."""
        return damage_weighted_passes(passes, self.share.values, self.strain.values, strain, exponent)

    def words(self, names: tuple[str, ...], passes: FloatLike, counted: Floats) -> tuple[str, ...]:
        """What governs each way, and whether most of the wear comes in spring."""
        rest = np.median(np.asarray(passes) * (1.0 - self.share.values) / counted, axis=-1)
        return tuple(
            f"{name}, mostly {SPRING}" if left < HALF else name
            for name, left in zip(names, rest, strict=True)
        )


@dataclass(frozen=True, slots=True)
class _Both:
    """Strain over the year against what is stood so many times, and in spring against what may never be passed."""

    case: Case
    strain: Quantity
    stood: Quantity
    spring: _Spring
    most: Quantity
    steps: Trail

    def judged(self, words: tuple[str, ...], applies: Floats) -> CheckResult:
        """Whichever uses more of what is stood, draw by draw."""
        case, score = self.case, self.case.draws.normal("thaw pass")
        met = [
            values
            for one in self.spring.each
            for values in (one.demand, self._expected(passes_of(case, one.asked[0].act.load)))
        ]
        once = worst_strain_met(score, **{str(place): values for place, values in enumerate(met)})
        four = (self.strain.values, self.stood.values, once, self.most.values)

        def told() -> dict[str, Quantity]:
            return {
                "first_demand": self.strain,
                "first_capacity": self.stood,
                "second_demand": self._met(score),
                "second_capacity": self.most,
            }

        return CheckResult(
            self.steps.follow("strain_asked", STRAIN, demand_that_governs(*four), demand_that_governs, told),
            self.steps.follow(
                "strain_held", STOOD, capacity_that_governs(*four), capacity_that_governs, told
            ),
            self._words(words, once),
            applies,
        )

    def _words(self, words: tuple[str, ...], once: Floats) -> tuple[str, ...]:
        """Names of what governs, with the spring where it does so in most of the twentieth of draws nearest to failing."""
        spring, year = once / self.most.values, self.strain.values / self.stood.values
        in_spring = holds_near_failure(spring > year, np.maximum(spring, year))
        return tuple(
            f"{word}, mostly {SPRING}" if springs and SPRING not in word else word
            for word, springs in zip(words, in_spring, strict=True)
        )

    def _expected(self, passes: FloatLike) -> Floats:
        return passes_in_worst_thaw(passes, self.case.years, self.case.winters.season.values)

    def _met(self, score: Floats) -> Quantity:
        told, case = self.steps.under("spring"), self.case
        life = told.enter(
            "years", Meaning("Design life", "years", "years"), case.years, Origin.GIVEN, "of the use"
        )
        inputs = {
            "score": told.enter(
                "score",
                Meaning("What comes in the worst thaw (standard score)", "-", "-"),
                score,
                Origin.DERIVED,
                "chance: passes come at any time of the year",
            )
        }
        for one in self.spring.each:
            name = one.asked[0].act.load.key
            steps = told.under(name.replace(" ", "-"))
            strain = steps.derive(
                "strain",
                Meaning(f"Strain of the top of the ground in a spring thaw: {name}", "-", "%"),
                strain_under_load,
                self.spring.wear.strain_under(one, steps),
            )
            expected = steps.derive(
                "expected",
                Meaning(f"Passes to be expected in the thaw after the coldest winter: {name}", "-", "-"),
                passes_in_worst_thaw,
                {
                    "repetitions": enter_passes(case, one, steps),
                    "years": life,
                    "season": case.winters.season,
                },
            )
            inputs |= {strain.key: strain, expected.key: expected}
        meaning = Meaning("Largest strain that comes in the thaw after the coldest winter", "-", "%")
        return told.derive("met", meaning, worst_strain_met, inputs)


def _spring(case: Case, rolling: Sequence[Load], trail: Trail, steps: Trail) -> _Spring | None:
    """Strain in the spring after the coldest winter; None where no ground under any way freezes."""
    state = spring_state(case, trail)
    if not state.is_thaw.any():
        return None
    told = steps.under("spring")
    reached = told.conclude(
        "share_frozen",
        Meaning("Share of winters in which frost reaches the ground under the base", "-", "%"),
        usual_share_of_winters_below(case, case.cover)[:, None],
        (case.winters.freezing_index,),
        frozen_winters,
    )
    share = told.derive(
        "share_of_year",
        Meaning("Share of the year in which the ground thaws", "-", "%"),
        spring_share_of_year,
        {"season": case.winters.season, "share_frozen": reached},
    )
    moduli, spread = spreading(case, state.modulus, BoundState.CRACKED, told)
    each = [_pressed(case, load, moduli, spread, np.ones(1)) for load in rolling]
    worst = reduce(Worst.or_worse, each)
    wear = _Wear(case, moduli, spread, each, worst, told)
    strain = told.follow(
        "strain",
        Meaning("Strain of the top of the ground at each pass in a spring thaw", "-", "%"),
        worst.demand,
        strain_under_load,
        lambda: wear.strain_under(worst, told),
    )
    return _Spring(share, strain, each, wear)


@dataclass(frozen=True, slots=True)
class _Wear:
    """Each load's strain and passes, and how they are told."""

    case: Case
    moduli: CourseModuli
    spread: Spreading
    each: Sequence[Worst]
    worst: Worst
    steps: Trail

    def strain_under(self, one: Worst, steps: Trail) -> dict[str, Quantity]:
        """What `strain_under_load` takes, by parameter."""
        pressing = Pressing(self.case, one, self.moduli, self.spread, steps)
        return {
            "strain_share": pressing.share(Seen.STRAIN),
            **pressing.push(),
            "modulus": self.moduli.ground,
            **pressing.edge(),
        }

    def passes_with(self, spring: _Spring, worst_strain: Quantity) -> Quantity:
        """Passes of all loads, those in spring weighed by their wear."""
        return self.steps.derive(
            "weighted_passes",
            Meaning("Passes, those in a spring thaw weighed by their wear", "-", "-"),
            damage_weighted_passes,
            {
                "repetitions": self.passes(worst_strain),
                "spring_share": spring.share,
                "spring_strain": spring.strain,
                "strain": worst_strain,
                "exponent": self.exponent(),
            },
        )

    def exponent(self) -> Quantity:
        """Power of the strain with which the wear of a pass grows."""
        return self.steps.derive(
            "exponent",
            Meaning("Power of the strain with which the wear of a pass grows", "-", "-"),
            strain_exponent,
            {"modulus": self.moduli.ground},
        )

    def passes(self, worst_strain: Quantity) -> Quantity:
        """Passes of all loads, counted in passes of the one that asks most."""
        if len(self.each) == 1:
            return enter_passes(self.case, self.worst, self.steps)
        exponent = self.exponent()
        counted = [self._equivalent(one, worst_strain, exponent) for one in self.each]
        return self.steps.derive(
            "passes",
            Meaning("Passes of all loads, counted in passes of the one that asks most", "-", "-"),
            passes_together,
            {quantity.key: quantity for quantity in counted},
        )

    def _equivalent(self, one: Worst, worst_strain: Quantity, exponent: Quantity) -> Quantity:
        name = one.asked[0].act.load.key
        steps = self.steps.under(name.replace(" ", "-"))
        strain = steps.derive(
            "strain",
            Meaning(f"Strain of the top of the ground at each pass: {name}", "-", "%"),
            strain_under_load,
            self.strain_under(one, steps),
        )
        return steps.derive(
            "equivalent",
            Meaning(f"Passes that wear as much as those of: {name}", "-", "-"),
            equivalent_passes,
            {
                "repetitions": enter_passes(self.case, one, steps),
                "strain": strain,
                "worst_strain": worst_strain,
                "exponent": exponent,
            },
        )
