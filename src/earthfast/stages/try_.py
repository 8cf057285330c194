"""Try: what dose this soil needs, and which specimen is worth making next."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.constants import day

from earthfast import __version__
from earthfast.estimate import Caution, Meaning, Origin, Trail
from earthfast.ground import StratumDraws
from earthfast.job import BinderKind, Job, LoadedJob
from earthfast.mixes import (
    REFERENCE_AGE,
    DoseAnswer,
    MixState,
    belief_after_trial,
    chance_of_retardation,
    strength_band,
)
from earthfast.sources import source_note
from earthfast.stages.answers import DoseLine, Figure, TryAnswer
from earthfast.stages.choose import Choice, choose_for
from earthfast.stages.showing import assumption_lines, caution_lines, figure
from earthfast.stages.trial_case import Case, enter_specimens
from earthfast.stages.trial_curves import MEAN, Fitted, curve_by_age, curve_by_dose, specimen_lines
from earthfast.stages.trial_design import design_need, design_says
from earthfast.stages.trial_ladder import ladder_cautions, ladder_lines, ladder_words
from earthfast.stages.trial_making import plan_for
from earthfast.stages.trial_next import next_lines
from earthfast.stages.trial_saying import (
    SAID_DOSE,
    present_verdict,
    trial_cautions,
    trial_headline,
    trial_says,
)
from earthfast.stages.trial_target import asked_of, method_of, site_factor
from earthfast.stages.trial_wanted import (
    Wanted,
    effects_on_strength,
    kept_assumptions,
    wanted_doses,
    wanted_lines,
)
from earthfast.stages.trials import (
    belief_before,
    retardation_after,
    retardation_before,
    trial_of,
)
from earthfast.stages.understanding import Understanding

PERCENT, MEGA = 100.0, 1e6
LATE = 60.0 * day
SHOWN_DOSES = (0.04, 0.06, 0.08, 0.10)


@dataclass(frozen=True, slots=True)
class Tried:
    """The answer, with the trail behind it."""

    trail: Trail
    answer: TryAnswer


def try_for(loaded: LoadedJob, confidence: float | None = None) -> Tried:
    """Plan a trial, or read its specimens: strength with bands, the dose wanted, the specimen to make next."""
    return try_on(choose_for(loaded), confidence)


def try_on(choice: Choice, confidence: float | None = None) -> Tried:
    """The same for a job whose ways have been weighed already."""
    understanding = choice.understanding
    ground = understanding.profile.bearing_stratum.estimate.draws
    trail = understanding.trail.under("trial")
    trial = trial_of(understanding.loaded.job)
    need = design_need(choice, method_of(understanding.loaded.job, trial))
    asked = asked_of(choice, trial, need, confidence, trail)
    before = belief_before(trial, asked.method, ground)
    after = belief_after_trial(before, trial.used_for(asked.method), trial.scatter)
    fitted = Fitted(trial, asked.method, before, after, site_factor(asked, after, asked.governs.spot))
    seen = enter_specimens(fitted, trail)
    case = Case(understanding.loaded, asked, fitted, trail, (*asked.inputs, *seen))
    return Tried(trail, _answer(case, choice))


def asks_for_lime(choice: Choice, before: Job) -> bool:
    """Whether specimens have to say how much lime they have: the job names lime, or some is to go in before cement.

    ``before`` is the job without those specimens, for what the trial served until then.
    """
    if before.binder is not None and before.binder.kind is BinderKind.LIME_CEMENT:
        return True
    need = design_need(choice, method_of(before, trial_of(before)))
    return need is not None and need.wants_lime


@dataclass(frozen=True, slots=True)
class _Found:
    """What the trial gives, before it is put into words.

    Attributes
    ----------
    used : specimens with a result that counts.
    doses : least dose for every strength asked, the one that governs first.
    present, chance : dose as stated and its chance; None where it is not stated.
    retardation : chance of organic retardation; None without specimens.
    shown, mean_28 : dose that curves and ladder are drawn for, and its mean strength, Pa.
    """

    used: int
    doses: tuple[Wanted, ...]
    present: Figure | None
    chance: Figure | None
    retardation: Figure | None
    shown: float
    mean_28: float

    @property
    def wanted(self) -> DoseAnswer:
        """Least dose for the strength that governs."""
        return self.doses[0].answer

    @property
    def shown_words(self) -> str:
        """The dose drawn, in words."""
        return f"{round(self.shown * PERCENT, 1):.3g} %"


def _found(case: Case, ground: StratumDraws) -> _Found:
    asked, fitted = case.asked, case.fitted
    used = len(fitted.trial.used_for(asked.method))
    doses = wanted_doses(case)
    untried = asked.design_dose or SAID_DOSE
    shown = asked.present_dose or (doses[0].answer.dose if used else untried)
    return _Found(
        used=used,
        doses=doses,
        present=_present(case),
        chance=case.chance(asked.present_dose) if asked.present_dose else None,
        retardation=_retardation(case, ground),
        shown=shown,
        mean_28=float(strength_band(fitted.after, MixState(shown), MEAN).median),
    )


def _exit_status(case: Case, found: _Found) -> int:
    """1 where specimens say that the present dose is not enough, or that no dose is."""
    misses = found.chance is not None and not present_verdict(case, found.chance).is_enough
    return 1 if found.used and (misses or not found.wanted.is_reached) else 0


def _cautions(case: Case, found: _Found, understanding: Understanding) -> tuple[Caution, ...]:
    profile = understanding.profile
    cautions = [*case.loaded.cautions, *profile.cautions]
    cautions += [caution for area in understanding.areas for caution in area.usage.cautions]
    cautions += trial_cautions(case, found.wanted, profile, found.retardation)
    if found.used or case.asked.present_dose:
        cautions += ladder_cautions(found.mean_28, found.shown_words)
    return tuple(cautions)


def _answer(case: Case, choice: Choice) -> TryAnswer:
    asked, fitted, trail, understanding = case.asked, case.fitted, case.trail, choice.understanding
    found = _found(case, understanding.profile.bearing_stratum.estimate.draws)
    plan = plan_for(asked, fitted.after, fitted.site, fitted.trial, trail)
    rung = ladder_words(found.mean_28)
    return TryAnswer(
        verb="try",
        earthfast=__version__,
        job=case.loaded.job.heading.title,
        demonstration=bool(case.loaded.job.heading.invented),
        headline=trial_headline(case, found.wanted, found.chance, found.used, plan.count),
        cautions=caution_lines(_cautions(case, found, understanding)),
        exit_status=_exit_status(case, found),
        method=asked.method.value,
        target=figure(trail.figures[asked.governs.strength.key]),
        target_age_days=asked.target_age / day,
        confidence=asked.confidence,
        spot=asked.governs.spot.value,
        wanted=wanted_lines(case, found.doses),
        design=design_says(choice, asked.design),
        specimens=specimen_lines(fitted),
        used=found.used,
        dose=found.doses[0].dose,
        dose_is_reached=found.wanted.is_reached,
        dose_is_extrapolated=found.wanted.dose > fitted.after.highest_dose,
        highest_dose_tried_percent=fitted.after.highest_dose * PERCENT,
        present_dose=found.present,
        present_chance=found.chance,
        doses=_dose_lines(case, found.wanted),
        retardation=found.retardation,
        ladder=ladder_lines(found.mean_28),
        ladder_says=f"With {found.shown_words}: {found.mean_28 / MEGA:.2g} MPa at 28 days in the laboratory, {rung}.",
        next_specimens=next_lines(case) if found.used else (),
        plan=plan,
        strength_by_dose=curve_by_dose(fitted, asked.target),
        strength_by_age=curve_by_age(fitted, found.shown, asked.target),
        says=trial_says(case, found.wanted, found.retardation, found.mean_28),
        assumptions=assumption_lines(
            trail, effects_on_strength(case, found.shown, asked.governs.spot), kept_assumptions(case)
        ),
    )


def _present(case: Case) -> Figure | None:
    dose = case.asked.present_dose
    if dose is None:
        return None
    found = case.trail.enter(
        "present_dose", Meaning("Dose as the job states it", "-", "%"), dose, Origin.GIVEN, "from [binder]"
    )
    return figure(case.trail.figures[found.key])


def _dose_lines(case: Case, wanted: DoseAnswer) -> tuple[DoseLine, ...]:
    used = case.fitted.trial.used_for(case.asked.method)
    tried = {round(float(np.asarray(one.state.dose)), 4) for one in used}
    names: dict[float, list[str]] = {}
    for dose, name in (
        (case.asked.present_dose, "present dose"),
        (case.asked.design_dose, "as Choose has it"),
        (round(wanted.dose, 3), "wanted"),
    ):
        names.setdefault(round(dose or 0.0, 4), []).append(name)
    doses = sorted({*SHOWN_DOSES, *tried, *(dose for dose in names if dose > 0.0)})
    return tuple(_dose_line(case, dose, tried, names.get(dose, [])) for dose in doses)


def _dose_line(case: Case, dose: float, tried: set[float], names: Sequence[str]) -> DoseLine:
    site = case.fitted.site
    state = "not tried"
    if dose in tried:
        state = "tried"
    elif tried and dose > max(tried):
        state = "extrapolated"
    return DoseLine(
        dose_percent=round(dose * PERCENT, 2),
        laboratory_28=case.strength(dose, REFERENCE_AGE, MEAN, "laboratory"),
        laboratory_60=case.strength(dose, LATE, MEAN, "laboratory"),
        site_28=case.strength(dose, REFERENCE_AGE, site, "site"),
        site_60=case.strength(dose, LATE, site, "site"),
        chance=case.chance(dose),
        remark=", ".join((*names, state)),
    )


def _retardation(case: Case, ground: StratumDraws) -> Figure | None:
    after = retardation_after(case.fitted.trial, case.asked.method, ground)
    if after is None:
        return None
    before = case.trail.enter(
        "retardation_before",
        Meaning("Chance of organic matter that holds the binder back, before specimens", "-", "%"),
        retardation_before(ground),
        Origin.ASSUMED,
        "one soil in ten, more where the soil looks organic",
        (source_note("earthfast_proposal, chance before specimens [P]"),),
    )
    found = case.trail.conclude(
        "retardation",
        Meaning("Chance that organic matter holds the binder back", "-", "%"),
        after,
        (before, *case.inputs),
        chance_of_retardation,
    )
    return figure(case.trail.figures[found.key])
