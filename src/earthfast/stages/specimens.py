"""A specimen as typed turned into strength: by its shape, load and keeping, with each correction."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.constants import day

from earthfast.checks import Method
from earthfast.job import BinderKind, Job, SpecimenEntry, TypedQuantity
from earthfast.mixes import (
    MixState,
    Specimen,
    StrengthBound,
    bounded_specimen,
    crushed,
    delay_factor,
    equivalent_age_arrhenius,
)
from earthfast.sources import source_note
from earthfast.stages.specimen_shapes import (
    Correction,
    LeftOutError,
    Measured,
    bound_of,
    bound_step,
    dry_density,
    measured_strength,
)

ROOM = 20.0  # °C
ACTIVATION_ENERGY = 42.5e3  # J/mol, 40 to 45 kJ/mol. M: as equivalent_age_arrhenius
FARTHEST_DENSITY = 0.15  # P: one soil compacted by one crew does not differ by more
YOUNGEST, OLDEST = 7.0 * day, 90.0 * day  # ages behind the law of growth
DELAY_DOUBT = 0.5  # P: share of the loss by delay, in ln, that is carried as doubt
DELAY_SOURCE = source_note("ubani_delay, losses after 5 hours [S]")


@dataclass(frozen=True, slots=True)
class ReadSpecimen:
    """One specimen of the job and what could be made of it.

    Attributes
    ----------
    number : place in the job, counted from 1.
    entry : as typed.
    method : way of treating that it speaks for.
    measured : strength and its corrections; None without one.
    bound : bounds on strength; None where it was crushed or has no result.
    specimen : as the belief takes it; None where it is left out.
    density : dry density when moulded, kg/m³; None where it cannot be told.
    left_out : why it is left out, in words.
    doubt : what cannot be right about it though it is used.
    """

    number: int
    entry: SpecimenEntry
    method: Method
    measured: Measured | None
    bound: StrengthBound | None
    specimen: Specimen | None
    density: float | None
    left_out: str = ""
    doubt: str = ""

    @property
    def name(self) -> str:
        """The mark scratched into it, or its number."""
        return self.entry.name or f"{self.number}"

    @property
    def strength(self) -> float:
        """Strength at slenderness 1 and its own age, or the bound that is known, Pa; 0 without a result."""
        if self.measured is not None:
            return self.measured.strength
        if self.bound is None:
            return 0.0
        return self.bound.low or self.bound.high

    @property
    def corrections(self) -> tuple[Correction, ...]:
        """Steps from what was measured to that strength."""
        if self.measured is not None:
            return self.measured.corrections
        return (bound_step(self.bound),) if self.bound is not None else ()


def read_specimens(job: Job) -> tuple[ReadSpecimen, ...]:
    """Every specimen of a job, in its order; those that cannot be used say why."""
    entries = job.trial.specimens if job.trial else ()
    batches = {key: number for number, key in enumerate(dict.fromkeys(map(batch_of, entries)), start=1)}
    densities = [dry_density(entry) for entry in entries]
    usual = _usual_density(densities)
    kind = job.binder.kind if job.binder else None
    return tuple(
        _read(number, entry, density, usual, batches[batch_of(entry)], kind)
        for number, (entry, density) in enumerate(zip(entries, densities, strict=True), start=1)
    )


def _read(
    number: int,
    entry: SpecimenEntry,
    density: float | None,
    usual: float | None,
    batch: int,
    kind: BinderKind | None,
) -> ReadSpecimen:
    method = Method.LIME_CEMENT if _typed(entry.lime_dose) > 0.0 else Method.CEMENT
    ratio = density / usual if density and usual else 1.0
    doubt = "" if abs(ratio - 1.0) <= FARTHEST_DENSITY else _density_words(ratio)
    ratio = 1.0 if doubt else ratio
    try:
        _refuse_untreated(entry, kind)
        measured = _measured(entry, delay_shows=density is None or bool(doubt))
    except LeftOutError as reason:
        return ReadSpecimen(number, entry, method, None, None, None, density, str(reason))
    state = MixState(entry.dose.centre, equivalent_age(entry), ratio, float(not was_soaked(entry)))
    if measured is not None:
        specimen = crushed(state, measured.strength, batch, measured.log_sd)
        return ReadSpecimen(number, entry, method, measured, None, specimen, density, doubt=doubt)
    bound = bound_of(entry)
    specimen = bounded_specimen(state, bound, batch)
    return ReadSpecimen(number, entry, method, None, bound, specimen, density, doubt=doubt)


def _measured(entry: SpecimenEntry, *, delay_shows: bool) -> Measured | None:
    """Strength of a specimen that was broken; None for one that fell apart or was never pressed."""
    if not entry.was_crushed:
        return None
    found = measured_strength(entry)
    if found.strength == 0.0:
        return None
    return _without_delay(found, entry.delay) if delay_shows else found


def _without_delay(found: Measured, delay: TypedQuantity | None) -> Measured:
    """Brought to packing without delay; a density that was measured shows the delay by itself."""
    if delay is None or delay.centre == 0.0:
        return found
    factor = 1.0 / float(delay_factor(delay.centre))
    words = f"packed {delay} after the water went in, brought to no delay"
    return found.corrected(Correction(words, factor, DELAY_SOURCE), DELAY_DOUBT * float(np.log(factor)))


def was_soaked(entry: SpecimenEntry) -> bool:
    """Whether it lay in water before the test; a night in water counts."""
    return bool(entry.soaked) or (entry.soaked is None and entry.in_water is not None)


def _density_words(ratio: float) -> str:
    return (
        f"its density is {ratio * 100.0:.0f} % of the usual: mass, water or sizes cannot be right; not used"
    )


def _typed(quantity: TypedQuantity | None) -> float:
    return quantity.centre if quantity else 0.0


def _refuse_untreated(entry: SpecimenEntry, kind: BinderKind | None) -> None:
    if kind is BinderKind.LIME:
        raise LeftOutError("lime alone: no law of its strength is known here; ask a laboratory")
    if entry.dose.centre == 0.0:
        raise LeftOutError("no cement in it: it says nothing about the dose")
    if not entry.results:
        raise LeftOutError("not tested yet")
    if entry.age is not None and entry.age.centre == 0.0:
        raise LeftOutError("tested at age 0: nothing has set yet")


def batch_of(entry: SpecimenEntry) -> str:
    """What tells one mix from another: its name, or else dose and day."""
    return entry.batch or f"{entry.dose.centre} {_typed(entry.lime_dose)} {entry.made}"


def equivalent_age(entry: SpecimenEntry) -> float:
    """Age at 20 °C that brings the same strength, s; 28 days where no age is given."""
    age = entry.age.centre if entry.age else 28.0 * day
    if entry.cured_at is None:
        return age
    cured_at = np.array([entry.cured_at.centre])
    return float(equivalent_age_arrhenius(np.array([age]), cured_at, ACTIVATION_ENERGY))


def _usual_density(densities: list[float | None]) -> float | None:
    known = sorted(one for one in densities if one is not None)
    middle = len(known) // 2
    return 0.5 * (known[middle] + known[-middle - 1]) if len(known) > 1 else None
