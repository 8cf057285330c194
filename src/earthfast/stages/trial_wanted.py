"""The strengths asked of the layer, each with the dose that gives it, and what the doubt about it hangs on."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from earthfast.estimate import Influence, Meaning, Trail
from earthfast.mixes import DoseAnswer, MixState, dose_for_strength, local_log_sd, mean_dose_exponent
from earthfast.mixes.field_strength import FIELD_LOG_SD
from earthfast.stages.answers import Figure, WantedLine
from earthfast.stages.showing import figure
from earthfast.stages.trial_case import Case
from earthfast.stages.trial_target import Spot, StrengthAsked, site_factor

SCATTER = "dose_scatter"


@dataclass(frozen=True, slots=True)
class Wanted:
    """The least dose for one strength asked."""

    asked: StrengthAsked
    answer: DoseAnswer
    dose: Figure


def wanted_doses(case: Case) -> tuple[Wanted, ...]:
    """The least dose for every strength asked, the one that governs first."""
    return tuple(_wanted(case, asked, place) for place, asked in enumerate(case.asked.strengths))


def _wanted(case: Case, asked: StrengthAsked, place: int) -> Wanted:
    fitted = case.fitted
    factor = site_factor(case.asked, fitted.after, asked.spot)
    answer = dose_for_strength(fitted.after, asked.target, asked.chance, case.asked.target_age, factor)
    key = f"dose.{asked.asked_by.value.replace(' ', '-')}" if place else "dose"
    label = f"Least dose for the strength that {asked.asked_by.value} asks"
    inputs = (asked.strength, asked.confidence, *case.inputs)
    found = case.trail.conclude(key, Meaning(label, "-", "%"), answer.dose, inputs, dose_for_strength)
    shares = effects_on_strength(case, answer.dose, asked.spot)
    case.trail.shared[found.key] = tuple(
        Influence(name, share, rising=name.endswith(SCATTER))  # a stronger soil or site takes less
        for name, share in sorted(shares.items(), key=lambda row: -row[1])
        if name in case.trail.figures  # what specimens leave unknown of the soil is no figure of its own
    )
    return Wanted(asked, answer, figure(case.trail.figures[found.key]))


def wanted_lines(case: Case, wanted: tuple[Wanted, ...]) -> tuple[WantedLine, ...]:
    """The strengths asked as lines of an answer."""
    return tuple(
        WantedLine(
            asked_by=one.asked.asked_by.value,
            because=one.asked.because,
            strength=figure(case.trail.figures[one.asked.strength.key]),
            spot=one.asked.spot.value,
            chance=one.asked.chance,
            dose=one.dose,
            is_reached=one.answer.is_reached,
            governs=place == 0,
        )
        for place, one in enumerate(wanted)
    )


def effects_on_strength(case: Case, dose: float, spot: Spot) -> dict[str, float]:
    """Share of the variance of ln strength on site that each assumption carries, by key."""
    belief, asked = case.fitted.after, case.asked
    state = MixState(dose, asked.target_age)
    means = np.array([float(group.log_mean(state)) for group in belief.groups])
    variances = np.array([float(group.log_variance(state)) for group in belief.groups])
    soil = float(belief.weights @ (variances + (means - belief.weights @ means) ** 2))
    spots = float(local_log_sd(asked.place.scatter, mean_dose_exponent(belief), asked.place.loaded_area)) ** 2
    parts = {"soil_response": soil, "site_ratio": FIELD_LOG_SD**2}
    if spot is Spot.ANY:
        parts[SCATTER] = spots
    total = sum(parts.values())
    return {f"{case.trail.prefix}{key}": part / total for key, part in parts.items()}


def kept_assumptions(case: Case) -> set[str]:
    """Keys of the figures of a trial whose assumptions the answer rests on: strengths only compared with do not count."""
    compared = {key for one in case.asked.strengths[1:] for key in (one.strength.key, one.confidence.key)}
    return _own(case.trail) - compared


def _own(trail: Trail) -> set[str]:
    return {key for key in trail.figures if key.startswith(trail.prefix)}
