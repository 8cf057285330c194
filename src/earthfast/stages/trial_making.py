"""The first set of specimens: doses, masses, moulds, how to make and keep them, and what they leave open."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

import numpy as np
from scipy.constants import day

from earthfast.checks import Method
from earthfast.estimate import Band, Meaning, Quantity, Trail
from earthfast.mixes import (
    REFERENCE_AGE,
    MixState,
    Mould,
    PlannedSpecimen,
    StrengthBelief,
    StrengthFactor,
    age_factor_power,
    belief_after_trial,
    crushed,
    crushing_strength,
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
LIME_FIRST = 0.02  # P: hydrated lime mixed in a day before the cement
MEAN = StrengthFactor(0.0, 0.0)


@dataclass(frozen=True, slots=True)
class StepRow:
    """One step of making and breaking specimens at one bench."""

    bench: str
    step: str


@dataclass(frozen=True, slots=True)
class Bench:
    """Where specimens are made: diameter of a round mould as high as wide, share of mix to spare."""

    name: str
    diameter: float
    spare: float

    @property
    def mould(self) -> Mould:
        """The mould's volume."""
        return Mould(float(round_area(self.diameter)) * self.diameter, self.spare)

    @property
    def words(self) -> str:
        """The mould in words."""
        wide = f"{self.diameter * MILLI:.0f} mm"
        return f"round, {wide} across and {wide} high"

    @property
    def steps(self) -> tuple[str, ...]:
        """What to do, in order."""
        rows: tuple[StepRow, ...] = read_table("trial_steps", StepRow).rows
        return tuple(row.step for row in rows if row.bench == self.name)


BENCHES = (Bench("kitchen scale", 0.070, 0.15), Bench("laboratory", 0.100, 0.10))


def plan_for(
    asked: Asked, belief: StrengthBelief, site: StrengthFactor, trial: Trial, trail: Trail
) -> TrialPlan:
    """The first set of specimens for this soil, at two benches."""
    growth = float(age_factor_power(asked.target_age, AGE_EXPONENT_MEAN))
    inputs = tuple(trail.figures[f"{trail.prefix}{key}"] for key in ("specimen_density", "target_water"))
    target = asked.target / growth
    sets = {
        bench: trial_plan(belief, target, site, asked.mix.specimen_density, asked.mix.water, bench.mould)
        for bench in BENCHES
    }
    setups = tuple(
        PlanSetup(
            name=bench.name,
            mould=bench.words,
            lines=tuple(
                _line(tuple(same), bench, asked, belief, trail) for _, same in groupby(planned, key=_dose)
            ),
            steps=bench.steps,
        )
        for bench, planned in sets.items()
    )
    density, water = (figure(one) for one in inputs)
    planned = sets[BENCHES[0]]
    leaves = plan_leaves(belief, planned, trial, asked)
    return TrialPlan(count=len(planned), dry_density=density, water=water, setups=setups, leaves=leaves)


def _dose(planned: PlannedSpecimen) -> float:
    return planned.dose


def _line(
    same: tuple[PlannedSpecimen, ...], bench: Bench, asked: Asked, belief: StrengthBelief, trail: Trail
) -> PlanLine:
    first = same[0]
    moist = first.dry_soil * (1.0 + asked.mix.field_water)
    lime = LIME_FIRST * first.dry_soil if asked.method is Method.LIME_CEMENT else 0.0
    return PlanLine(
        dose_percent=round(first.dose * PERCENT, 2),
        count=len(same),
        mixes=len({one.batch for one in same}),
        ages_days=tuple(sorted({one.age / day for one in same})),
        moist_soil_g=round(moist * GRAMS, 1),
        dry_soil_g=round(first.dry_soil * GRAMS, 1),
        binder_g=round(first.binder * GRAMS, 1),
        lime_g=round(lime * GRAMS, 1),
        water_g=round((first.dry_soil + first.water - moist) * GRAMS, 1),
        pack_g=round(first.wet_mass * GRAMS, 1),
        expected_load_28=figure(trail.figures[_expected_load(first.dose, bench, belief, trail).key]),
    )


def _expected_load(dose: float, bench: Bench, belief: StrengthBelief, trail: Trail) -> Quantity:
    band = strength_band(belief, MixState(dose, REFERENCE_AGE), MEAN)
    area = float(round_area(bench.diameter))
    low, median, high = (float(one) * area for one in (band.low, band.median, band.high))
    return trail.conclude(
        f"load.{bench.name.split()[0]}.{dose * PERCENT:.3g}pc",
        Meaning(f"Load expected at 28 days with {dose * PERCENT:.3g} %, {bench.name}", "N", "kN"),
        median,
        (),
        crushing_strength,
        Band(low, median, high),
    )


def plan_leaves(
    belief: StrengthBelief, planned: Sequence[PlannedSpecimen], trial: Trial, asked: Asked
) -> tuple[str, ...]:
    """What stays uncertain once the planned specimens have come out as expected."""
    used = trial.used_for(asked.method)
    start = max((one.batch for one in used), default=0)
    expected = [
        crushed(state, float(strength_band(belief, state, MEAN).median), start + one.batch)
        for one in planned
        for state in (MixState(one.dose, one.age),)
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
