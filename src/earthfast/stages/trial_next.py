"""The specimen most worth making next, by the cost of a wrong dose that it is expected to save."""

from __future__ import annotations

import numpy as np
from scipy.constants import day

from earthfast.estimate import Meaning
from earthfast.mixes import MixState, SpecimenWorth, age_factor_power, next_specimen
from earthfast.mixes.soil_prior import AGE_EXPONENT_MEAN
from earthfast.stages.answers import NextLine
from earthfast.stages.showing import figure
from earthfast.stages.trial_case import Case
from earthfast.stages.trial_target import WrongDose, wrong_dose

PERCENT = 100.0
NEXT_DOSES = np.round(np.arange(0.03, 0.1401, 0.01), 3)
NEXT_SHOWN = 3
FARTHEST = 1.5  # P: times the highest dose tried; a specimen beyond tells little of the doses before


def next_lines(case: Case) -> tuple[NextLine, ...]:
    """The specimens most worth making next, each dose at its better age."""
    asked, trail = case.asked, case.trail
    cost = wrong_dose(case.loaded, asked, trail)
    growth = float(age_factor_power(asked.target_age, AGE_EXPONENT_MEAN))
    farthest = FARTHEST * case.fitted.after.highest_dose
    doses = [float(dose) for dose in NEXT_DOSES if dose <= max(farthest, NEXT_DOSES[0])]
    candidates = [MixState(dose, age) for dose in doses for age in dict.fromkeys(asked.ages)]
    worths = next_specimen(
        case.fitted.after,
        candidates,
        asked.target / growth,
        case.fitted.site,
        cost.costs,
        case.fitted.trial.scatter,
    )
    best: dict[float, SpecimenWorth] = {}
    for worth in worths:
        best.setdefault(float(np.asarray(worth.state.dose)), worth)
    return tuple(_next_line(case, worth, cost) for worth in [*best.values()][:NEXT_SHOWN])


def _next_line(case: Case, worth: SpecimenWorth, cost: WrongDose) -> NextLine:
    dose, age = float(np.asarray(worth.state.dose)), float(np.asarray(worth.state.age))
    label = f"Worth of a specimen with {dose * PERCENT:.3g} % broken at {age / day:.3g} days"
    found = case.trail.conclude(
        f"next.{dose * PERCENT:.3g}pc.{age / day:.3g}d",
        Meaning(label, cost.currency, cost.currency),
        max(worth.saving, 0.0),
        case.inputs,
        next_specimen,
    )
    saving = figure(case.trail.figures[found.key])
    return NextLine(dose_percent=round(dose * PERCENT, 2), age_days=age / day, saving=saving)
