"""Specimens and curves as they are shown: corrections in words, strengths brought to one age, bands."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from scipy.constants import day

from earthfast.checks import Method
from earthfast.mixes import (
    REFERENCE_AGE,
    FieldReading,
    MixState,
    Specimen,
    StrengthBand,
    StrengthBelief,
    StrengthFactor,
    belief_after_trial,
    bound_from_reading,
    strength_band,
)
from earthfast.sources import source_note
from earthfast.stages.answers import CorrectionLine, CurveMark, CurvePoint, SpecimenLine, StrengthCurve
from earthfast.stages.showing import digits, source_lines
from earthfast.stages.specimen_shapes import Correction, bound_words
from earthfast.stages.specimens import (
    OLDEST,
    YOUNGEST,
    ReadSpecimen,
    batch_of,
    equivalent_age,
    was_soaked,
)
from earthfast.stages.trials import Trial

PERCENT, MEGA = 100.0, 1e6
MEAN = StrengthFactor(0.0, 0.0)
LEANEST, RICHEST = 0.02, 0.16  # doses drawn, and farther where specimens are
AGES = np.array([1.0, 2.0, 3.0, 5.0, 7.0, 10.0, 14.0, 21.0, 28.0, 42.0, 60.0, 90.0, 120.0, 180.0]) * day
MOST_LEFT_OUT = 40  # specimens that are judged against the others alone; among more, one hardly counts
SHOWN_FROM = 0.005  # a correction smaller than this is not listed
ODD = 2.5  # standard deviations from what the other specimens foretell
DENSITY_SOURCE = source_note("tabarsa_2021, density and age [C]")
SOAKED_SOURCE = source_note("gajurel_2021, appendix C, 12 pairs soaked and not [C]")
AGE_SOURCE = source_note("gajurel_2021, appendix C, 7 and 28 days [C]")
WARMTH_SOURCE = source_note("astm_c1074, equivalent age [S]")


@dataclass(frozen=True, slots=True)
class Fitted:
    """Specimens with the belief before and after them, for one way of treating."""

    trial: Trial
    method: Method
    before: StrengthBelief
    after: StrengthBelief
    site: StrengthFactor

    def log_ratio(self, state: MixState, wanted: MixState) -> float:
        """How much higher ln strength is in the state wanted, by the fitted exponents."""
        return float(self.after.log_ratio(state, wanted))

    def brought_to(self, specimen: Specimen, wanted: MixState) -> float:
        """Strength of a specimen, or the bound that is known of it, brought to another state, Pa."""
        known = specimen.strength_low or specimen.strength_high
        return known * float(np.exp(self.log_ratio(specimen.state, wanted)))

    def oddness(self, used: tuple[Specimen, ...], place: int) -> float:
        """How far one of the specimens used lies from what the others foretell, in standard deviations."""
        one = used[place]
        if not one.is_crushed:
            return 0.0
        belief = self.after
        if len(used) <= MOST_LEFT_OUT:
            others = (*used[:place], *used[place + 1 :])
            belief = belief_after_trial(self.before, others, self.trial.scatter)
        means = np.array([float(group.log_mean(one.state)) for group in belief.groups])
        variances = np.array([float(group.log_variance(one.state)) for group in belief.groups])
        mean = float(belief.weights @ means)
        scatter = self.trial.scatter
        spread = float(belief.weights @ (variances + (means - mean) ** 2))
        total = spread + scatter.specimen**2 + scatter.batch**2 + one.log_sd**2
        return float((np.log(one.strength_low) - mean) / np.sqrt(total))


def specimen_lines(fitted: Fitted) -> tuple[SpecimenLine, ...]:
    """Every specimen of the job with what it says."""
    lines, place, used = [], -1, fitted.trial.used_for(fitted.method)
    for one in fitted.trial.specimens:
        oddness = 0.0
        if one.specimen and one.method is fitted.method:
            place += 1
            oddness = fitted.oddness(used, place)
        lines.append(_specimen_line(one, fitted, oddness))
    return tuple(lines)


def _specimen_line(one: ReadSpecimen, fitted: Fitted, oddness: float) -> SpecimenLine:
    entry, specimen = one.entry, one.specimen
    is_used = specimen is not None and one.method is fitted.method
    lime = entry.lime_dose.centre if entry.lime_dose else 0.0
    ratio = float(specimen.state.relative_density) if specimen else 1.0
    late = float(fitted.brought_to(specimen, MixState(entry.dose.centre))) if specimen else None
    return SpecimenLine(
        number=one.number,
        name=one.name,
        made_of=f"{entry.kind}, {f'{lime * PERCENT:.3g} % lime, ' if lime else ''}"
        f"{entry.dose.centre * PERCENT:.3g} % cement",
        dose_percent=round(entry.dose.centre * PERCENT, 3),
        lime_percent=round(lime * PERCENT, 3),
        batch=batch_of(entry),
        age_days=round((entry.age.centre if entry.age else REFERENCE_AGE) / day, 3),
        age_at_20_c_days=round(equivalent_age(entry) / day, 2),
        soaked=soaked_words(one),
        density=f"{one.density:.0f} kg/m³, taken as {ratio * PERCENT:.0f} % of the usual"
        if one.density
        else "",
        strength_mpa=one.strength / MEGA if specimen else None,
        strength_28_days_mpa=None if late is None else late / MEGA,
        known_as=known_as(specimen) if specimen else "",
        corrections=_corrections(one, fitted),
        is_used=is_used,
        remark=_remark(one, is_used=is_used, oddness=oddness),
    )


def known_as(specimen: Specimen) -> str:
    """Whether the strength of a specimen is itself known, or a bound to it."""
    if specimen.is_crushed:
        return "strength"
    return "at least" if specimen.strength_low > 0.0 else "at most"


def soaked_words(one: ReadSpecimen) -> str:
    """Whether it was soaked, in words."""
    if one.entry.soaked is None and one.entry.in_water is None:
        return "not said"
    return "soaked" if was_soaked(one.entry) else "not soaked"


def _soaking_words(one: ReadSpecimen) -> str:
    if soaked_words(one) == "not said":
        return "soaking not said: taken as not soaked"
    return "from not soaked to soaked"


def _remark(one: ReadSpecimen, *, is_used: bool, oddness: float) -> str:
    """The first thing to know about a specimen: why it is left out, or what is odd about it."""
    if one.left_out or one.specimen is None:
        return one.left_out
    age = float(np.asarray(one.specimen.state.age))
    way = "stronger" if oddness > 0.0 else "weaker"
    remarks = (
        (not is_used, f"speaks for another way: {one.method.value}"),
        (bool(one.doubt), one.doubt),
        (one.bound is not None, _bound_remark(one)),
        (abs(oddness) > ODD, f"odd: much {way} than the others foretell; it counts for little"),
        (not 0.99 * YOUNGEST <= age <= 1.01 * OLDEST, "outside 7 to 90 days, where growth is known"),
    )
    return next((words for applies, words in remarks if applies), "")


def _bound_remark(one: ReadSpecimen) -> str:
    """What a simple test counts as."""
    if one.bound is None:
        return ""
    words = "fell apart" if one.bound == bound_from_reading(FieldReading.SLAKED) else "not crushed"
    return f"{words}: counted as {bound_words(one.bound)}"


def _corrections(one: ReadSpecimen, fitted: Fitted) -> tuple[CorrectionLine, ...]:
    if one.specimen is None:
        return ()
    state = one.specimen.state
    found = [*one.corrections]
    if one.entry.cured_at is not None:
        own = one.entry.age.centre if one.entry.age else REFERENCE_AGE
        warmth = float(np.asarray(state.age)) / own
        words = f"age when kept at {one.entry.cured_at} as an age at 20 °C"
        found += [Correction(words, warmth, WARMTH_SOURCE)] if abs(warmth - 1.0) > SHOWN_FROM else []
    steps = (
        ("from its age at 20 °C to 28 days", replace(state, age=REFERENCE_AGE), AGE_SOURCE),
        ("from its density to the usual one", replace(state, relative_density=1.0), DENSITY_SOURCE),
        (_soaking_words(one), replace(state, unsoaked=0.0), SOAKED_SOURCE),
    )
    for words, other, source in steps:
        factor = float(np.exp(fitted.log_ratio(state, other)))
        if abs(factor - 1.0) > SHOWN_FROM:
            found.append(Correction(words, factor, source))
    return tuple(
        CorrectionLine(words=step.words, factor=round(step.factor, 4), source=source_lines((step.source,))[0])
        for step in found
    )


def curve_by_dose(fitted: Fitted, target: float) -> StrengthCurve:
    """Strength at 28 days against dose."""
    tried = fitted.after.highest_dose
    own = [float(np.asarray(specimen.state.dose)) for _, specimen in _used(fitted)]
    doses = np.linspace(min(LEANEST, *own, RICHEST), max(RICHEST, *own, LEANEST), 29)
    points = _points(fitted, MixState(doses), doses * PERCENT, (doses > tried + 1e-9) & (len(own) > 0))
    marks = tuple(
        _mark(
            one, specimen, float(specimen.state.dose) * PERCENT, fitted.brought_to(specimen, _at_28(specimen))
        )
        for one, specimen in _used(fitted)
    )
    return StrengthCurve(
        title="Strength at 28 days, soaked, against dose",
        across="dose (% of dry soil)",
        points=points,
        marks=marks,
        target_mpa=target / MEGA,
    )


def curve_by_age(fitted: Fitted, dose: float, target: float) -> StrengthCurve:
    """Strength of one dose against age."""
    points = _points(fitted, MixState(dose, AGES), AGES / day, (AGES < YOUNGEST) | (AGES > OLDEST))
    marks = []
    for one, specimen in _used(fitted):
        age = float(np.asarray(specimen.state.age))
        marks.append(_mark(one, specimen, age / day, fitted.brought_to(specimen, MixState(dose, age))))
    return StrengthCurve(
        title=f"Strength with {digits(dose * PERCENT)} %, soaked, against age",
        across="age at 20 °C (days)",
        points=points,
        marks=tuple(marks),
        target_mpa=target / MEGA,
    )


def _at_28(specimen: Specimen) -> MixState:
    return MixState(specimen.state.dose)


def _used(fitted: Fitted) -> tuple[tuple[ReadSpecimen, Specimen], ...]:
    return tuple(
        (one, one.specimen)
        for one in fitted.trial.specimens
        if one.specimen is not None and one.method is fitted.method
    )


def _mark(one: ReadSpecimen, specimen: Specimen, at: float, strength: float) -> CurveMark:
    return CurveMark(
        at=round(at, 3),
        strength_mpa=round(strength / MEGA, 4),
        name=one.name,
        state=soaked_words(one),
        known_as=known_as(specimen),
    )


def _points(
    fitted: Fitted,
    states: MixState,
    at: np.ndarray[tuple[int], np.dtype[np.float64]],
    beyond: np.ndarray[tuple[int], np.dtype[np.bool_]],
) -> tuple[CurvePoint, ...]:
    laboratory = strength_band(fitted.after, states, MEAN)
    site = strength_band(fitted.after, states, fitted.site)
    bands = np.stack([*_megapascals(laboratory), *_megapascals(site)], axis=-1).round(4)
    return tuple(
        CurvePoint(
            at=round(float(place), 3),
            laboratory_low_mpa=row[0],
            laboratory_mpa=row[1],
            laboratory_high_mpa=row[2],
            site_low_mpa=row[3],
            site_mpa=row[4],
            site_high_mpa=row[5],
            is_extrapolated=bool(far),
        )
        for place, row, far in zip(at, bands.tolist(), beyond, strict=True)
    )


def _megapascals(band: StrengthBand) -> tuple[np.ndarray[tuple[int, ...], np.dtype[np.float64]], ...]:
    return tuple(one / MEGA for one in (band.low, band.median, band.high))
