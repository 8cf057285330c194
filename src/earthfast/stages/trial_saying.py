"""What a trial says, in sentences and cautions."""

from __future__ import annotations

from dataclasses import dataclass

from earthfast.checks import Method
from earthfast.estimate import Caution, CautionCode
from earthfast.job import BinderKind
from earthfast.mixes import DoseAnswer, MixState, strength_band
from earthfast.stages.answers import Figure
from earthfast.stages.profile import GroundProfile
from earthfast.stages.showing import digits
from earthfast.stages.specimens import YOUNGEST
from earthfast.stages.treatment import hard_stop, stops_of
from earthfast.stages.trial_case import Case
from earthfast.stages.trial_curves import MEAN
from earthfast.stages.trial_design import DesignNeed
from earthfast.stages.trial_target import Asked, Spot
from earthfast.stages.trials import beyond_trials
from earthfast.stages.wording import capitalised

PERCENT, MEGA = 100.0, 1e6
SAID_DOSE = 0.06  # dose that stands for others before there are specimens
SUSPECTED = 0.5  # chance from which organic retardation is said aloud
MIXES = {Method.CEMENT: "cement alone", Method.LIME_CEMENT: "cement after lime"}
PASTE = (
    "the specimens lag behind what such a soil reaches: organic matter may be holding the cement back. "
    "Test the paste pH: stir ten parts of soil and one of cement by mass to a paste with water and read its pH after a "
    "quarter of an hour; below 12.1 says that it is. More cement helps little; take soil from deeper, or mix in lime first."
)


def trial_cautions(
    case: Case, wanted: DoseAnswer, profile: GroundProfile, retardation: Figure | None
) -> tuple[Caution, ...]:
    """Doubts about the trial and the dose it gives."""
    asked, after = case.asked, case.fitted.after
    found = [*(one for one in wanted.cautions if one.code is not CautionCode.DOSE_BEYOND_TRIALS)]
    found += beyond_trials(after, wanted.dose, "dose wanted") if wanted.is_reached else ()
    if asked.present_dose:
        found += beyond_trials(after, asked.present_dose, "binder.dose")
    if asked.ages[-1] < YOUNGEST:
        text = (
            "specimens broken before 7 days foretell 28 days badly: the law of growth is known from 7 days on"
        )
        found.append(Caution(CautionCode.OUTSIDE_VALIDITY, text, "trial.time_left", "gajurel_2021"))
    stop = hard_stop(stops_of(case.loaded.job, profile))
    if stop is not None:
        found.append(Caution(CautionCode.STOP_AND_ASK, f"{stop.reason}: {stop.remedy}", stop.rule.value))
    if retardation is not None and retardation.value > SUSPECTED * PERCENT:
        found.append(Caution(CautionCode.MODEL_DISAGREES, PASTE, "trial", "from_memory, pH 12.1 of a paste"))
    found += _lime_not_said(case)
    kind = case.loaded.job.binder.kind if case.loaded.job.binder else None
    if kind is BinderKind.LIME:
        text = f"the strength of lime alone is not known here; this goes by the way to {asked.method.value}"
        found.append(Caution(CautionCode.OUTSIDE_VALIDITY, text, "binder.kind", "earthfast_proposal"))
    if kind is BinderKind.SLAG_CEMENT:
        text = "slag cement gains strength more slowly than these curves: break some specimens at 60 days"
        found.append(Caution(CautionCode.OUTSIDE_VALIDITY, text, "binder.kind", "earthfast_proposal"))
    return tuple(found)


def _lime_not_said(case: Case) -> tuple[Caution, ...]:
    """Specimens that do not say whether they have lime, where lime is to go in before the cement."""
    unsaid = [one.name for one in case.fitted.trial.specimens if one.specimen and one.entry.lime_dose is None]
    if not unsaid or case.asked.design is None or not case.asked.design.wants_lime:
        return ()
    text = (
        f"no lime said of {'specimen' if len(unsaid) == 1 else 'specimens'} {', '.join(unsaid)}: taken as none, so "
        f"speaking for {MIXES[Method.CEMENT]}. Say lime_dose, 0 % where there is none"
    )
    return (Caution(CautionCode.OUTSIDE_VALIDITY, text, "trial.specimen.lime_dose", "earthfast_proposal"),)


def trial_headline(case: Case, wanted: DoseAnswer, chance: Figure | None, used: int, planned: int) -> str:
    """The answer in one sentence."""
    asked = case.asked
    target, sure = f"{asked.target / MEGA:.2g} MPa", f"{asked.confidence * PERCENT:.3g} %"
    if not used:
        return f"{_plan_words(asked.design, planned)} {_known_before(case)}"
    spot = asked.governs.spot.value
    if wanted.is_reached:
        words = f"{digits(wanted.dose * PERCENT)} %{_of_what(asked)} gives {spot} {target} with a chance of {sure}"
        if wanted.dose > case.fitted.after.highest_dose:
            words += f", extrapolated beyond the {case.fitted.after.highest_dose * PERCENT:.3g} % tried"
    else:
        words = f"No dose up to 20 % gives {spot} {target} with a chance of {sure}"
    if chance is None and asked.design is not None and _of_what(asked):
        built = f"build {asked.design.beside_words}, as Choose has it"
        return f"{capitalised(MIXES[asked.method])} fails other checks: {built}. {words}."
    if chance is None:
        return f"{words}{_built_with(asked, wanted)}."
    present = (asked.present_dose or 0.0) * PERCENT
    return f"{words}; the present {present:.3g} % does with {chance.as_chance}: {present_verdict(case, chance).words}."


def _of_what(asked: Asked) -> str:
    """Which mix a dose is told of, where Choose would build with another."""
    beside = asked.design is not None and not asked.design.passes and asked.design.is_beside_another
    return f" of {MIXES[asked.method]}" if beside else ""


def _built_with(asked: Asked, wanted: DoseAnswer) -> str:
    """The one dose to build with, as Choose has it once it knows the specimens; empty where no way passes."""
    designed = asked.design_dose
    if designed is None or not wanted.is_reached:
        return ""
    if designed >= wanted.dose:
        return f"; build with {designed * PERCENT:.3g} %, as Choose has it"
    return f"; build with that, more than the {designed * PERCENT:.3g} % of Choose"


def _plan_words(design: DesignNeed | None, planned: int) -> str:
    if design is None:
        return "Nothing here would be built with treated soil, so no trial is needed."
    if design.is_chosen:
        return f"No specimens yet: make {planned}."
    if design.is_beside_another:
        return f"No specimens yet: make {planned}, though Choose would treat the soil in another way."
    return f"What Choose would build needs no trial; {planned} specimens would tell of treated soil all the same."


def _known_before(case: Case) -> str:
    band = strength_band(case.fitted.after, MixState(SAID_DOSE), MEAN)
    return (
        f"Before them {SAID_DOSE * PERCENT:.0f} % cement may give anything from {float(band.low) / MEGA:.2g} to "
        f"{float(band.high) / MEGA:.2g} MPa at 28 days in the laboratory."
    )


@dataclass(frozen=True, slots=True)
class Verdict:
    """Whether the present dose is enough, and in words."""

    is_enough: bool
    words: str


def present_verdict(case: Case, chance: Figure) -> Verdict:
    """Judge the present dose by the strength that governs, and by what the design asks of a dose."""
    asked = case.asked
    if chance.value < asked.confidence * PERCENT:
        return Verdict(is_enough=False, words="not enough")
    if asked.design is not None and not asked.design.passes:
        return Verdict(is_enough=False, words="enough for that strength, but not for every check of Choose")
    if asked.design_dose is not None and (asked.present_dose or 0.0) < asked.design_dose - 1e-9:
        words = f"enough for that strength, but Choose asks for {asked.design_dose * PERCENT:.3g} %"
        return Verdict(is_enough=False, words=words)
    return Verdict(is_enough=True, words="enough")


def trial_says(case: Case, wanted: DoseAnswer, retardation: Figure | None, mean_28: float) -> tuple[str, ...]:
    """What the figures mean, in sentences."""
    return (
        *_dose_against_design(case, wanted),
        _laboratory_and_site(case, wanted),
        *_retardation(retardation),
        f"Strength says nothing of sulfate and little of frost: {mean_28 / MEGA:.2g} MPa promises neither.",
    )


def _dose_against_design(case: Case, wanted: DoseAnswer) -> tuple[str, ...]:
    """Which of two doses to build with: the one for the strength, or the one Choose asks."""
    design, designed = case.asked.design, case.asked.design_dose
    if design is not None and not design.passes and design.is_beside_another:
        return (
            (
                f"Strength is not all: no dose of {MIXES[case.asked.method]} passes every check of Choose. Build "
                f"{design.beside_words}."
            ),
        )
    if design is not None and not design.passes:
        return (
            "Strength is not all: no dose within reach makes treated soil pass every check of Choose, so none is called enough.",
        )
    if designed is None or not wanted.is_reached:
        return ()
    dose, asks = f"{digits(wanted.dose * PERCENT)} %", f"{designed * PERCENT:.3g} %"
    if designed >= wanted.dose:
        return (
            (
                f"{dose} is what that strength takes; Choose asks for {asks}, since its other checks hang on strength too. "
                f"Build with {asks}."
            ),
        )
    return (
        f"That strength takes {dose}, more than the {asks} with which Choose passes its checks: {dose} governs.",
    )


def _laboratory_and_site(case: Case, wanted: DoseAnswer) -> str:
    asked, fitted = case.asked, case.fitted
    state, dose = MixState(wanted.dose, asked.target_age), f"{digits(wanted.dose * PERCENT)} %"
    site = strength_band(fitted.after, state, fitted.site)
    share = float(site.median) / float(strength_band(fitted.after, state, MEAN).median)
    low, mixed = f"{float(site.low) / MEGA:.2g} MPa", f"mixed with {asked.mixing.value}"
    if asked.governs.spot is Spot.WEAKEST:
        return (
            f"On site, {mixed}, the weakest twentieth of the layer has about {share * PERCENT:.0f} % of the strength in the "
            f"laboratory, and less than {low} at {dose} with a chance of one in twenty."
        )
    return (
        f"On site half the spots fall below {share * PERCENT:.0f} % of the strength in the laboratory; {mixed}, one spot in "
        f"twenty has less than {low} at {dose}."
    )


def _retardation(retardation: Figure | None) -> tuple[str, ...]:
    if retardation is None:
        return ()
    words = "suspected" if retardation.value > SUSPECTED * PERCENT else "not suspected"
    return (f"Organic matter holding the cement back is {words} (chance {retardation.value:.0f} %).",)
