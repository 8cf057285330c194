"""Figures of a trial, each entered in the trail: what the specimens showed, and what they foretell."""

from __future__ import annotations

from dataclasses import dataclass

from scipy.constants import day

from earthfast.estimate import Band, Meaning, Origin, Quantity, Trail
from earthfast.job import LoadedJob
from earthfast.mixes import MixState, StrengthFactor, chance_of_strength, strength_band
from earthfast.sources import source_note
from earthfast.stages.answers import Figure
from earthfast.stages.showing import figure
from earthfast.stages.specimens import ReadSpecimen
from earthfast.stages.trial_curves import MEAN, Fitted
from earthfast.stages.trial_target import Asked
from earthfast.stages.trials import Trial

PERCENT = 100.0


@dataclass(frozen=True, slots=True)
class Case:
    """Everything the parts of the answer read."""

    loaded: LoadedJob
    asked: Asked
    fitted: Fitted
    trail: Trail
    inputs: tuple[Quantity, ...]

    def strength(self, dose: float, age: float, factor: StrengthFactor, where: str) -> Figure:
        """Strength of a dose at an age, with its band."""
        band = strength_band(self.fitted.after, MixState(dose, age), factor)
        key = f"strength.{where}.{dose * PERCENT:.4g}pc.{age / day:.3g}d"
        place = "in the laboratory" if where == "laboratory" else f"at {self.asked.governs.spot.value}"
        meaning = Meaning(
            f"Strength {place} with {dose * PERCENT:.3g} % at {age / day:.3g} days, soaked", "Pa", "MPa"
        )
        spread = Band(float(band.low), float(band.median), float(band.high))
        found = self.trail.conclude(key, meaning, spread.median, self.inputs, strength_band, spread)
        return figure(self.trail.figures[found.key])

    def chance(self, dose: float) -> Figure:
        """Chance that the spots asked about reach the target."""
        asked = self.asked
        state = MixState(dose, asked.target_age)
        value = float(chance_of_strength(self.fitted.after, state, asked.target, self.fitted.site))
        label = (
            f"Chance that {asked.governs.spot.value} reaches the strength wanted with {dose * PERCENT:.3g} %"
        )
        found = self.trail.conclude(
            f"chance.{dose * PERCENT:.4g}pc", Meaning(label, "-", "%"), value, self.inputs, chance_of_strength
        )
        return figure(self.trail.figures[found.key])


def enter_specimens(fitted: Fitted, trail: Trail) -> tuple[Quantity, ...]:
    """Strengths of the specimens as leaves of the trail, and what was assumed in reading them."""
    used = [one for one in fitted.trial.specimens if one.specimen and one.method is fitted.method]
    if not used:
        return (
            trail.enter(
                "soil_response",
                Meaning("Strength of such a soil with 6 % before any specimen", "Pa", "MPa"),
                float(strength_band(fitted.before, MixState(0.06), MEAN).median),
                Origin.ASSUMED,
                "no specimens of this soil yet; other soils of its group",
                (source_note("gajurel_2021, appendix C, 13 soils [C]"),),
            ),
        )
    _enter_reading(used, fitted.trial, trail)
    return tuple(
        trail.enter(
            f"specimen.{one.number}",
            Meaning(f"Strength of specimen {one.name}, as high as wide, at its age", "Pa", "MPa"),
            one.strength,
            Origin.OBSERVED,
            "; ".join(step.words for step in one.corrections) or "no correction",
            tuple(step.source for step in one.corrections),
        )
        for one in used
    )


def _enter_reading(used: list[ReadSpecimen], trial: Trial, trail: Trail) -> None:
    scatter = trial.scatter
    trail.enter(
        "specimen_scatter",
        Meaning("Scatter of specimens of one mix, in ln strength", "-", "-"),
        scatter.specimen,
        Origin.ASSUMED,
        f"made and broken by {trial.workmanship.value} hands; {scatter.batch:.2g} more between mixes",
        (source_note("castaneda_lopez_2023, triplicates and mixing days [C]"),),
    )
    said = [one.entry for one in used]
    for key, label, because, unsaid in (
        ("soaking", "soaking", "taken as not soaked, the cautious reading", [one.soaked for one in said]),
        ("curing", "temperature", "taken as kept at 20 °C", [one.cured_at for one in said]),
        ("mix", "mix", "one dose made on one day is taken as one mix", [one.batch for one in said]),
    ):
        _assume_state(
            trail, f"unsaid_{key}", f"Specimens whose {label} is not said", because, unsaid.count(None)
        )


def _assume_state(trail: Trail, key: str, label: str, because: str, count: int) -> None:
    if not count:
        return
    note = source_note("earthfast_proposal, reading of what is not said [P]")
    trail.enter(key, Meaning(label, "specimens", "specimens"), float(count), Origin.ASSUMED, because, (note,))
