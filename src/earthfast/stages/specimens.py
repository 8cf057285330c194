"""A specimen as typed turned into strength: by its shape, load and keeping, with each correction."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from scipy.constants import day

from earthfast.checks import Method
from earthfast.estimate import lognormal_from_band
from earthfast.job import BinderKind, Job, SpecimenEntry, SpecimenKind, TypedQuantity
from earthfast.mixes import (
    FieldReading,
    MixState,
    Specimen,
    bound_from_reading,
    bounded_specimen,
    crushed,
    crushing_strength,
    equivalent_age_arrhenius,
    lump_area,
    round_area,
    rupture_strength_centre,
    slenderness_factor,
)
from earthfast.mixes.specimen import LUMP_LOG_SD
from earthfast.sources import SourceNote, source_note

ROOM = 20.0  # °C
ACTIVATION_ENERGY = 42.5e3  # J/mol, 40 to 45 kJ/mol. M: as equivalent_age_arrhenius
BEAM_SHARE = lognormal_from_band(0.20, 1.0 / 3.0)  # flexural over crushing strength. M: published 1/5 to 1/3
SHAPE_UNKNOWN_LOG_SD = 0.10  # P
FARTHEST_DENSITY = 0.15  # P: one soil compacted by one crew does not differ by more
YOUNGEST, OLDEST = 7.0 * day, 90.0 * day  # ages behind the law of growth
BEAM_SOURCE = "from_memory, flexural strength is a fifth to a third of crushing strength [M]"


@dataclass(frozen=True, slots=True)
class Correction:
    """One step from the strength as measured to the strength of the material."""

    words: str
    factor: float
    source: SourceNote


@dataclass(frozen=True, slots=True)
class Measured:
    """Strength of one specimen, brought to slenderness 1.

    Attributes
    ----------
    strength : Pa.
    log_sd : doubt of the reading beyond the scatter of specimens, in ln.
    corrections : steps already taken.
    """

    strength: float
    log_sd: float
    corrections: tuple[Correction, ...]


@dataclass(frozen=True, slots=True)
class ReadSpecimen:
    """One specimen of the job and what could be made of it.

    Attributes
    ----------
    number : place in the job, counted from 1.
    entry : as typed.
    method : way of treating that it speaks for.
    measured : strength and its corrections; None without a result.
    specimen : as the belief takes it; None where it is left out.
    density : dry density when moulded, kg/m³; None where it cannot be told.
    left_out : why it is left out, in words.
    doubt : what cannot be right about it though it is used.
    """

    number: int
    entry: SpecimenEntry
    method: Method
    measured: Measured | None
    specimen: Specimen | None
    density: float | None
    left_out: str = ""
    doubt: str = ""

    @property
    def name(self) -> str:
        """The mark scratched into it, or its number."""
        return self.entry.name or f"{self.number}"


class LeftOutError(ValueError):
    """A specimen that says nothing about strength, with the reason."""


def read_specimens(job: Job) -> tuple[ReadSpecimen, ...]:
    """Every specimen of a job, in its order; those that cannot be used say why."""
    entries = job.trial.specimens if job.trial else ()
    batches = {key: number for number, key in enumerate(dict.fromkeys(map(batch_of, entries)), start=1)}
    densities = [dry_density(entry) for entry in entries]
    usual = _usual_density(densities)
    kind = job.binder.kind if job.binder else None
    read = []
    for number, (entry, density) in enumerate(zip(entries, densities, strict=True), start=1):
        method = Method.LIME_CEMENT if _typed(entry.lime_dose) > 0.0 else Method.CEMENT
        ratio = density / usual if density and usual else 1.0
        doubt = "" if abs(ratio - 1.0) <= FARTHEST_DENSITY else _density_words(ratio)
        ratio = 1.0 if doubt else ratio
        state = MixState(entry.dose.centre, equivalent_age(entry), ratio, float(not entry.soaked))
        try:
            _refuse_untreated(entry, kind)
            measured = measured_strength(entry)
        except LeftOutError as reason:
            read.append(ReadSpecimen(number, entry, method, None, None, density, str(reason)))
            continue
        specimen = _believed(measured, state, batches[batch_of(entry)])
        read.append(ReadSpecimen(number, entry, method, measured, specimen, density, doubt=doubt))
    return tuple(read)


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
    if entry.failure_load is None and entry.strength is None:
        raise LeftOutError("not tested yet")
    if entry.age is not None and entry.age.centre == 0.0:
        raise LeftOutError("tested at age 0: nothing has set yet")


def _believed(measured: Measured, state: MixState, batch: int) -> Specimen:
    if measured.strength > 0.0:
        return crushed(state, measured.strength, batch, measured.log_sd)
    return bounded_specimen(state, bound_from_reading(FieldReading.SLAKED), batch)


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


def dry_density(entry: SpecimenEntry) -> float | None:
    """Dry density when moulded, where mass, water and sizes are known, kg/m³."""
    volume = VOLUMES[entry.kind](entry)
    if volume is None or not (entry.mass and entry.mass.centre and entry.water):
        return None
    return entry.mass.centre / volume / (1.0 + entry.water.centre)


def _usual_density(densities: list[float | None]) -> float | None:
    known = sorted(one for one in densities if one is not None)
    middle = len(known) // 2
    return 0.5 * (known[middle] + known[-middle - 1]) if len(known) > 1 else None


def measured_strength(entry: SpecimenEntry) -> Measured:
    """Strength of a specimen at slenderness 1; LeftOutError where its sizes do not give one."""
    reading = entry.strength or entry.failure_load
    assert reading is not None
    spread = reading.estimate().spread if reading.is_range and reading.low > 0.0 else 0.0
    shape = SHAPES[entry.kind](entry)
    return Measured(shape.strength, math.hypot(shape.log_sd, spread), shape.corrections)


def _own_strength(entry: SpecimenEntry, area: float | None) -> float:
    if entry.strength is not None:
        return entry.strength.centre
    assert entry.failure_load is not None
    if area is None:
        raise LeftOutError(f"a {entry.kind} needs the sizes of its faces to have a strength")
    return float(crushing_strength(entry.failure_load.centre, area))


def _at_slenderness_1(strength: float, slenderness: float | None, log_sd: float = 0.0) -> Measured:
    if slenderness is None:
        words = "shape not said: taken as high as wide, the cautious reading"
        source = source_note("earthfast_proposal, shape not said [P]")
        return Measured(strength, math.hypot(log_sd, SHAPE_UNKNOWN_LOG_SD), (Correction(words, 1.0, source),))
    factor = 1.0 / float(slenderness_factor(slenderness))
    if factor == 1.0:
        return Measured(strength, log_sd, ())
    words = f"{slenderness:.2g} times as high as wide, brought to as high as wide"
    step = Correction(words, factor, source_note("sroh, class pairs in A10.2.15 [S]"))
    return Measured(strength * factor, log_sd, (step,))


def _cube(entry: SpecimenEntry) -> Measured:
    edge = entry.length.centre if entry.length else None
    slenderness = entry.height.centre / edge if entry.height and edge else 1.0
    return _at_slenderness_1(_own_strength(entry, edge**2 if edge else None), slenderness)


def _cylinder(entry: SpecimenEntry) -> Measured:
    diameter = entry.diameter.centre if entry.diameter else None
    area = float(round_area(diameter)) if diameter else None
    slenderness = entry.height.centre / diameter if entry.height and diameter else None
    return _at_slenderness_1(_own_strength(entry, area), slenderness)


def _lump(entry: SpecimenEntry) -> Measured:
    area = slenderness = None
    if entry.length and entry.width:
        face = entry.length.centre * entry.width.centre
        area = float(lump_area(face, face))
        slenderness = entry.height.centre / math.sqrt(area) if entry.height else None
    return _at_slenderness_1(_own_strength(entry, area), slenderness, LUMP_LOG_SD)


def _beam(entry: SpecimenEntry) -> Measured:
    if entry.strength is not None:
        bending = entry.strength.centre
    else:
        if not (entry.failure_load and entry.span and entry.width and entry.height):
            raise LeftOutError("a beam needs its span, width and height to have a strength")
        bending = float(
            rupture_strength_centre(
                entry.failure_load.centre, entry.span.centre, entry.width.centre, entry.height.centre
            )
        )
    factor = 1.0 / BEAM_SHARE.centre
    words = "beam loaded in the middle: crushing strength from bending strength"
    step = Correction(words, factor, source_note(BEAM_SOURCE))
    return Measured(bending * factor, BEAM_SHARE.spread, (step,))


SHAPES: dict[SpecimenKind, Callable[[SpecimenEntry], Measured]] = {
    SpecimenKind.CUBE: _cube,
    SpecimenKind.CYLINDER: _cylinder,
    SpecimenKind.BEAM: _beam,
    SpecimenKind.LUMP: _lump,
}


def _cube_volume(entry: SpecimenEntry) -> float | None:
    if not entry.length:
        return None
    edge = entry.length.centre
    return edge**2 * (entry.height.centre if entry.height else edge)


def _cylinder_volume(entry: SpecimenEntry) -> float | None:
    if not (entry.diameter and entry.height):
        return None
    return float(round_area(entry.diameter.centre)) * entry.height.centre


def _beam_volume(entry: SpecimenEntry) -> float | None:
    if not (entry.length and entry.width and entry.height):
        return None
    return entry.length.centre * entry.width.centre * entry.height.centre


def _no_volume(_entry: SpecimenEntry) -> None:
    return None


VOLUMES: dict[SpecimenKind, Callable[[SpecimenEntry], float | None]] = {
    SpecimenKind.CUBE: _cube_volume,
    SpecimenKind.CYLINDER: _cylinder_volume,
    SpecimenKind.BEAM: _beam_volume,
    SpecimenKind.LUMP: _no_volume,
}
