"""The first set of specimens: doses, masses, moulds, how to make and keep them, and what they leave open."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

import numpy as np
from scipy.constants import day
from scipy.constants import g as standard_gravity

from earthfast.estimate import Band, Meaning, Quantity, Trail
from earthfast.mixes import (
    REFERENCE_AGE,
    MixRecipe,
    MixState,
    Mould,
    PlannedMix,
    StrengthBelief,
    StrengthFactor,
    age_factor_power,
    belief_after_trial,
    crushed,
    crushing_strength,
    plan_doses,
    round_area,
    strength_band,
    trial_plan,
)
from earthfast.mixes.soil_prior import AGE_EXPONENT_MEAN
from earthfast.sources import read_table
from earthfast.stages.answers import PlanLine, PlanSetup, TrialPlan
from earthfast.stages.showing import digits, figure
from earthfast.stages.trial_target import Asked
from earthfast.stages.trials import Trial

GRAMS, PERCENT, MILLI = 1000.0, 100.0, 1000.0
LEVER_RATIO, LEVER_MASS = 10.0, 60.0  # P: arms, and kg a person can hang with care
LEVER_LOAD = LEVER_RATIO * LEVER_MASS * standard_gravity  # N
STONES_TO_MOULD = 5.0  # CP: a mould is five times as wide as the largest stone
MEAN = StrengthFactor(0.0, 0.0)


@dataclass(frozen=True, slots=True)
class StepRow:
    """One step of making and breaking specimens at one bench."""

    bench: str
    step: str


@dataclass(frozen=True, slots=True)
class Bench:
    """Where specimens are made.

    Attributes
    ----------
    name : what the place is called.
    diameters : of its round moulds as high as wide, the widest first, m.
    greatest_load : that it can bring, N.
    spare : share of mix made beyond the moulds' volume.
    least_soil : dry soil of the smallest mix that its scale weighs well, kg.
    """

    name: str
    diameters: tuple[float, ...]
    greatest_load: float
    spare: float
    least_soil: float

    def mould(self, strength: float) -> Round:
        """The widest mould in which a strength can be broken here; the narrowest where none can."""
        moulds = [Round(diameter) for diameter in self.diameters]
        return next((one for one in moulds if one.area * strength <= self.greatest_load), moulds[-1])

    def steps(self, mould: Round, *, with_lime: bool) -> tuple[str, ...]:
        """What to do, in order."""
        rows: tuple[StepRow, ...] = read_table("trial_steps", StepRow).rows
        benches = {self.name, f"{self.name}, {'lime first' if with_lime else 'cement alone'}"}
        sizes = {"stones": f"{mould.diameter * MILLI / STONES_TO_MOULD:.0f} mm"}
        return tuple(row.step.format(**sizes) for row in rows if row.bench in benches)


@dataclass(frozen=True, slots=True)
class Round:
    """A round mould as high as wide, of that diameter, m."""

    diameter: float

    @property
    def area(self) -> float:
        """Area of its face, m²."""
        return float(round_area(self.diameter))

    @property
    def volume(self) -> float:
        """What it holds, m³."""
        return self.area * self.diameter

    @property
    def words(self) -> str:
        """The mould in words."""
        wide = f"{self.diameter * MILLI:.0f} mm"
        return f"round, {wide} across and {wide} high"


BENCHES = (
    Bench("kitchen table", (0.070, 0.050, 0.040), LEVER_LOAD, 0.15, 1.0),
    Bench("laboratory", (0.100,), np.inf, 0.10, 0.0),
)


def plan_for(
    asked: Asked, belief: StrengthBelief, site: StrengthFactor, trial: Trial, trail: Trail
) -> TrialPlan:
    """The first set of specimens for this soil, at two benches."""
    growth = float(age_factor_power(asked.target_age, AGE_EXPONENT_MEAN))
    doses = plan_doses(belief, asked.target / growth, asked.confidence, site, asked.design_dose or 0.0)
    richest = float(strength_band(belief, MixState(doses[-1], REFERENCE_AGE), MEAN).median)
    recipe = MixRecipe(asked.mix.specimen_density, asked.mix.water, asked.lime_dose)
    benches = [(bench, bench.mould(richest)) for bench in BENCHES]
    sets = [
        trial_plan(doses, recipe, Mould(mould.volume, bench.spare, bench.least_soil), asked.ages)
        for bench, mould in benches
    ]
    setups = tuple(
        PlanSetup(
            name=bench.name,
            mould=mould.words,
            load_age_days=asked.ages[-1] / day,
            has_press=bool(np.isinf(bench.greatest_load)),
            lines=tuple(
                _line(tuple(same), bench, mould, asked, belief, trail)
                for _, same in groupby(planned, key=_dose)
            ),
            steps=bench.steps(mould, with_lime=asked.lime_dose > 0.0),
        )
        for (bench, mould), planned in zip(benches, sets, strict=True)
    )
    density, water = (
        figure(trail.figures[f"{trail.prefix}{key}"]) for key in ("specimen_density", "target_water")
    )
    count = sum(len(mix.ages) for mix in sets[0])
    leaves = plan_leaves(belief, sets[0], trial, asked)
    return TrialPlan(count=count, dry_density=density, water=water, setups=setups, leaves=leaves)


def _dose(planned: PlannedMix) -> float:
    return planned.dose


def _line(
    same: tuple[PlannedMix, ...],
    bench: Bench,
    mould: Round,
    asked: Asked,
    belief: StrengthBelief,
    trail: Trail,
) -> PlanLine:
    first = same[0]
    moist = first.dry_soil * (1.0 + asked.mix.field_water)
    load = _expected_load(MixState(first.dose, asked.ages[-1]), bench, mould, belief, trail)
    centre = trail.figures[load.key].centre
    return PlanLine(
        dose_percent=round(first.dose * PERCENT, 2),
        count=sum(len(mix.ages) for mix in same),
        mixes=len(same),
        ages_days=tuple(age / day for age in first.ages),
        moist_soil_g=round(moist * GRAMS, 1),
        dry_soil_g=round(first.dry_soil * GRAMS, 1),
        binder_g=round(first.binder * GRAMS, 1),
        lime_g=round(first.lime * GRAMS, 1),
        water_g=round((first.dry_soil + first.water - moist) * GRAMS, 1),
        pack_g=round(first.packed * GRAMS, 1),
        expected_load=figure(trail.figures[load.key]),
        lever_kg=round(centre / LEVER_RATIO / standard_gravity, 1),
        is_for_a_press=centre > LEVER_LOAD,
    )


def _expected_load(
    mix: MixState, bench: Bench, mould: Round, belief: StrengthBelief, trail: Trail
) -> Quantity:
    band = strength_band(belief, mix, MEAN)
    dose, age = float(mix.dose), float(mix.age)
    low, median, high = (float(one) * mould.area for one in (band.low, band.median, band.high))
    return trail.conclude(
        f"load.{bench.name.split()[0]}.{dose * PERCENT:.3g}pc",
        Meaning(
            f"Load expected at {age / day:.0f} days with {dose * PERCENT:.3g} %, {bench.name}", "N", "kN"
        ),
        median,
        (),
        crushing_strength,
        Band(low, median, high),
    )


def plan_leaves(
    belief: StrengthBelief, planned: Sequence[PlannedMix], trial: Trial, asked: Asked
) -> tuple[str, ...]:
    """What stays uncertain once the planned specimens have come out as expected."""
    used = trial.used_for(asked.method)
    start = max((one.batch for one in used), default=0)
    expected = [
        crushed(state, float(strength_band(belief, state, MEAN).median), start + mix.batch)
        for mix in planned
        for age in mix.ages
        for state in (MixState(mix.dose, age),)
    ]
    after = belief_after_trial(belief, expected, trial.scatter)
    middle = float(np.mean([one.dose for one in planned]))
    richer = min(1.5 * max(one.dose for one in planned), 0.16)
    before_28, after_28, beyond = (
        _factor(one, MixState(dose)) for one, dose in ((belief, middle), (after, middle), (after, richer))
    )
    late = _factor(after, MixState(middle, 90.0 * day))
    return (
        (
            f"At 28 days with {middle * PERCENT:.3g} % strength is known now within a factor of {before_28} "
            f"either way (5 to 95 %); after the plan, should it come out as expected, within {after_28}."
        ),
        f"With {richer * PERCENT:.3g} %, richer than planned, within {beyond}; at 90 days within {late}.",
        (
            f"The site stays: mixing with {asked.mixing.value} makes some spots weaker than others, whatever "
            "specimens say. Spread trays and depth pins tell how even it was."
        ),
        (
            "Crushing tells nothing of sulfate, which swells months later, and little of frost: have sulfate "
            "tested, and keep two specimens to freeze, thaw and brush."
        ),
    )


def _factor(belief: StrengthBelief, state: MixState) -> str:
    band = strength_band(belief, state, MEAN)
    return digits(float(np.sqrt(band.high / band.low)))
