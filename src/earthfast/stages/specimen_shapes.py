"""What a specimen was found to carry, by its shape and what broke it: strength at slenderness 1, or bounds."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from earthfast.estimate import lognormal_from_band
from earthfast.job import (
    BeamLoading,
    Brushed,
    DensityOf,
    Dropped,
    InWater,
    SpecimenEntry,
    SpecimenKind,
    TypedQuantity,
)
from earthfast.mixes import (
    FieldReading,
    StrengthBound,
    bound_from_reading,
    core_size_factor,
    crushing_strength,
    lever_press_force,
    lump_area,
    penetrometer_bound,
    round_area,
    rupture_strength_centre,
    rupture_strength_thirds,
    slenderness_factor,
)
from earthfast.mixes.field_strength import FIELD_LOG_SD, FIELD_MEDIAN
from earthfast.mixes.specimen import LUMP_LOG_SD
from earthfast.sources import SourceNote, source_note

BEAM_SHARE = lognormal_from_band(0.20, 1.0 / 3.0)  # flexural over crushing strength. M: published 1/5 to 1/3
SHAPE_UNKNOWN_LOG_SD = 0.10  # P
SPOT_LOG_SD = 0.30  # P: a core speaks of one spot; unevenness of a garden tiller
BEAM_SOURCE = source_note("from_memory, flexural strength is a fifth to a third of crushing strength [M]")
SLENDER_SOURCE = source_note("sroh, class pairs in A10.2.15 [S]")
MEGA = 1e6

IN_WATER = {
    InWater.FELL_APART: FieldReading.SLAKED,
    InWater.SOFTENED: FieldReading.SOFTENED,
    InWater.STAYED_FIRM: FieldReading.FIRM_AFTER_SOAK,
}
DROPPED = {Dropped.BROKE: FieldReading.BROKE_ON_DROP, Dropped.SURVIVED: FieldReading.SURVIVED_DROP}
BRUSHED = {Brushed.CUT: FieldReading.BRUSHED_AWAY, Brushed.MARKED: FieldReading.BRUSH_MARKED}


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
    corrections: tuple[Correction, ...] = ()

    def corrected(self, step: Correction, log_sd: float = 0.0) -> Measured:
        """The same after one more step, with the doubt it brings."""
        return Measured(
            self.strength * step.factor, math.hypot(self.log_sd, log_sd), (*self.corrections, step)
        )


class LeftOutError(ValueError):
    """A specimen that says nothing about strength, with the reason."""


def bound_of(entry: SpecimenEntry) -> StrengthBound:
    """Bounds from what water, a drop, a brush and a pocket penetrometer showed; the poorer where they disagree.

    One that broke at no load at all fell apart.
    """
    readings = [
        *([IN_WATER[entry.in_water]] if entry.in_water else ()),
        *([DROPPED[entry.dropped]] if entry.dropped else ()),
        *([BRUSHED[entry.brushed]] if entry.brushed else ()),
    ]
    sank = entry.penetrometer is not None and entry.penetrometer.centre == 0.0
    if entry.was_crushed or FieldReading.SLAKED in readings or sank:
        return bound_from_reading(FieldReading.SLAKED)
    bounds = [bound_from_reading(reading) for reading in readings]
    if entry.penetrometer is not None:
        read_off = penetrometer_bound(entry.penetrometer.centre)
        if read_off.low == read_off.high:
            return read_off
        bounds.append(read_off)
    lowest, highest = max(bounds, key=lambda one: one.low), min(bounds, key=lambda one: one.high)
    low = lowest.low if lowest.low < highest.high else 0.0
    telling = [one.log_sd for one, end in ((lowest, low), (highest, highest.high)) if 0.0 < end < np.inf]
    return StrengthBound(low, highest.high, max(telling))


def bound_words(bound: StrengthBound) -> str:
    """Bounds in words."""
    low, high = bound.low / MEGA, bound.high / MEGA
    if low == high:
        return f"about {low:.2g} MPa"
    if np.isinf(high):
        return f"stronger than about {low:.2g} MPa"
    return f"between about {low:.2g} and {high:.2g} MPa" if low else f"weaker than about {high:.2g} MPa"


def bound_step(bound: StrengthBound) -> Correction:
    """A simple test as the one step from what was seen to strength."""
    if bound.low == bound.high:
        note = source_note("earthfast_proposal, scatter of a reading [P]")
        return Correction(f"read off a pocket penetrometer: {bound_words(bound)}", 1.0, note)
    note = source_note("earthfast_proposal, bounds and softness [P]")
    return Correction(f"simple test: {bound_words(bound)}", 1.0, note)


def measured_strength(entry: SpecimenEntry) -> Measured:
    """Strength of a specimen at slenderness 1; LeftOutError where its sizes do not give one."""
    return SHAPES[entry.kind](entry)


def load_of(entry: SpecimenEntry) -> float:
    """Load at failure, from the press or from masses on a lever, N."""
    if entry.failure_load is not None:
        return entry.failure_load.centre
    assert entry.hung_mass is not None
    if entry.hung_arm is None or entry.specimen_arm is None:
        raise LeftOutError("a mass on a lever needs its arm and that of the specimen to be a load")
    lever, middle = _typed(entry.lever_mass), _typed(entry.lever_middle)
    arms = entry.hung_arm.centre, entry.specimen_arm.centre
    return float(lever_press_force(entry.hung_mass.centre, arms[0], lever, middle, arms[1]))


def _typed(quantity: TypedQuantity | None) -> float:
    return quantity.centre if quantity else 0.0


def _reading_log_sd(entry: SpecimenEntry) -> float:
    """Doubt of a result given as a range, in ln."""
    reading = entry.strength or entry.failure_load or entry.hung_mass
    assert reading is not None
    return reading.estimate().spread if reading.is_range and reading.low > 0.0 else 0.0


def _own_strength(entry: SpecimenEntry, area: float | None) -> float:
    if entry.strength is not None:
        return entry.strength.centre
    if area is None:
        raise LeftOutError(f"a {entry.kind} needs the sizes of its faces to have a strength")
    return float(crushing_strength(load_of(entry), area))


def _pressed(entry: SpecimenEntry, area: float | None, slenderness: float | None) -> Measured:
    """Strength between two faces, brought to slenderness 1."""
    found = Measured(_own_strength(entry, area), _reading_log_sd(entry))
    if slenderness is None:
        words = "shape not said: taken as high as wide, the cautious reading"
        source = source_note("earthfast_proposal, shape not said [P]")
        return found.corrected(Correction(words, 1.0, source), SHAPE_UNKNOWN_LOG_SD)
    factor = 1.0 / float(slenderness_factor(slenderness))
    if factor == 1.0:
        return found
    words = f"{slenderness:.2g} times as high as wide, brought to as high as wide"
    return found.corrected(Correction(words, factor, SLENDER_SOURCE))


def _cube(entry: SpecimenEntry) -> Measured:
    edge = entry.length.centre if entry.length else None
    slenderness = entry.height.centre / edge if entry.height and edge else 1.0
    return _pressed(entry, edge**2 if edge else None, slenderness)


def _cylinder(entry: SpecimenEntry) -> Measured:
    diameter = entry.diameter.centre if entry.diameter else None
    area = float(round_area(diameter)) if diameter else None
    slenderness = entry.height.centre / diameter if entry.height and diameter else None
    return _pressed(entry, area, slenderness)


def _core(entry: SpecimenEntry) -> Measured:
    """A core, brought to 100 mm and to the laboratory: it was mixed on site and speaks of one spot."""
    found = _cylinder(entry)
    if entry.diameter is not None:
        factor = 1.0 / float(core_size_factor(entry.diameter.centre))
        note = source_note("bartlett_macgregor_1994, abstract [S]")
        words = f"core of {entry.diameter}, brought to 100 mm (measured on concrete)"
        found = found if factor == 1.0 else found.corrected(Correction(words, factor, note))
    words = "mixed on site, brought to the laboratory; one spot of the layer"
    note = source_note("melancon_shah_1976, field over design strength [S]")
    doubt = math.hypot(FIELD_LOG_SD, SPOT_LOG_SD)
    return found.corrected(Correction(words, 1.0 / FIELD_MEDIAN, note), doubt)


def _lump(entry: SpecimenEntry) -> Measured:
    area = slenderness = None
    if entry.length and entry.width:
        face = entry.length.centre * entry.width.centre
        area = float(lump_area(face, face))
        slenderness = entry.height.centre / math.sqrt(area) if entry.height else None
    words = "lump between uneven faces: taken as found, with more doubt"
    step = Correction(words, 1.0, source_note("earthfast_proposal, mean of two faces and its doubt [P]"))
    return _pressed(entry, area, slenderness).corrected(step, LUMP_LOG_SD)


def _beam(entry: SpecimenEntry) -> Measured:
    at_thirds = entry.loaded_at is BeamLoading.THIRDS
    if entry.strength is not None:
        bending = entry.strength.centre
    elif entry.span and entry.width and entry.height:
        rupture = rupture_strength_thirds if at_thirds else rupture_strength_centre
        bending = float(rupture(load_of(entry), entry.span.centre, entry.width.centre, entry.height.centre))
    else:
        raise LeftOutError("a beam needs its span, width and height to have a strength")
    place = "at the thirds" if at_thirds else "in the middle"
    words = f"beam loaded {place}: crushing strength from bending strength"
    step = Correction(words, 1.0 / BEAM_SHARE.centre, BEAM_SOURCE)
    return Measured(bending, _reading_log_sd(entry)).corrected(step, BEAM_SHARE.spread)


SHAPES: dict[SpecimenKind, Callable[[SpecimenEntry], Measured]] = {
    SpecimenKind.CUBE: _cube,
    SpecimenKind.CYLINDER: _cylinder,
    SpecimenKind.CORE: _core,
    SpecimenKind.BEAM: _beam,
    SpecimenKind.LUMP: _lump,
}


def dry_density(entry: SpecimenEntry) -> float | None:
    """Dry density of soil and binder when moulded, kg/m³; None where neither told nor mass, water and sizes known."""
    if entry.dry_density is not None:
        binder = _typed(entry.dose) + _typed(entry.lime_dose)
        share = 1.0 + binder if entry.density_of is DensityOf.SOIL else 1.0
        return entry.dry_density.centre * share
    volume = VOLUMES[entry.kind](entry)
    if volume is None or not (entry.mass and entry.mass.centre and entry.water):
        return None
    return entry.mass.centre / volume / (1.0 + entry.water.centre)


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
    SpecimenKind.CORE: _cylinder_volume,
    SpecimenKind.BEAM: _beam_volume,
    SpecimenKind.LUMP: _no_volume,
}
