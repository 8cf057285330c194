"""What an area is for: its loads, its surface, its design life, the chances put up with."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from scipy.constants import Julian_year as year
from scipy.constants import g

from earthfast.checks import CheckName, Material
from earthfast.choice import Surface
from earthfast.estimate import Caution, CautionCode, Estimate, Meaning, Origin, Trail, lognormal
from earthfast.job import (
    Consequence,
    LoadedJob,
    LoadEntry,
    Paving,
    PavingKind,
    PlanArea,
    Problem,
    TypedQuantity,
    Use,
)
from earthfast.loads import Contact, Footprint, Load, Motion, load_from_mass, load_library, vehicle_from_mass
from earthfast.sources import source_note

USUAL_LIFE = 20.0  # years
FLAG, BLOCK = 0.45, 0.20  # m, sides of a flag and a block
USUAL_THICKNESS = {Material.FLAGS: 0.04, Material.BLOCKS: 0.06}
USUAL_GRAVEL = 0.04  # m
USUAL_BEDDING = 0.03
BEDS = (USUAL_BEDDING, 0.04, 0.05)  # m, tried where the job does not say
TYRE = 250.0e3
PROPOSED = source_note("earthfast_proposal, after the reliability classes of EN 1990 [P]")
STRUCTURAL = (CheckName.BEARING, CheckName.SOFTENING, CheckName.CRACKING)
TARGETS = {
    Consequence.MINOR: (0.05, 0.10),
    Consequence.MODERATE: (0.02, 0.05),
    Consequence.SERIOUS: (0.005, 0.02),
}


@dataclass(frozen=True, slots=True)
class Usage:
    """An area's use, ready for the checks.

    Attributes
    ----------
    loads : what stands and rolls.
    words : loads as said to a person.
    surface : paving on its bed.
    unit_length : side of the paving unit, m.
    years : design life.
    targets : chance of failure put up with over the design life, by check.
    beds : thicknesses of bedding sand to try, m; as typed, or those that are laid.
    wheels_keep_off : wheels are kept off its edges.
    cautions : doubts.
    """

    loads: tuple[Load, ...]
    words: tuple[str, ...]
    surface: Surface
    unit_length: float
    years: float
    targets: dict[CheckName, float]
    cautions: tuple[Caution, ...]
    wheels_keep_off: bool
    beds: tuple[float, ...]


def use_of(job: LoadedJob, area: PlanArea) -> Use:
    """The use that stands on an area."""
    return next((use for use in job.job.uses if use.name == area.use), job.job.uses[0])


def load_problems(job: LoadedJob) -> list[Problem]:
    """Loads that are named but not listed."""
    problems = []
    known = ", ".join(load_library())
    for number, use in enumerate(job.job.uses):
        for place, entry in enumerate(use.loads):
            if entry.mass is None and entry.name not in load_library():
                where = f"use[{number + 1}].load[{place + 1}].name"
                line = job.line("use", number, "load", place, "name")
                problems.append(
                    Problem(where, f"'{entry.name}'", f"a listed load ({known}), or a `mass`", line)
                )
    return problems


def usage_of(job: LoadedJob, area: PlanArea, trail: Trail) -> Usage:
    """Loads, surface, life and targets of an area."""
    use = use_of(job, area)
    loads = _told_apart([_load(entry, trail, place) for place, entry in enumerate(use.loads, start=1)])
    surface, unit = _surface(use.paving, trail)
    years = _years(use, trail)
    return Usage(
        loads,
        tuple(_words(entry, load) for entry, load in zip(use.loads, loads, strict=True)),
        surface,
        unit,
        years,
        _targets(job, use, trail),
        (*_cautions(loads), *_nothing_stands(use, loads)),
        bool(use.wheels_keep_off_edges),
        _beds(use.paving, surface),
    )


def _beds(paving: Paving | None, surface: Surface) -> tuple[float, ...]:
    """Thicknesses of the bedding sand under units that the job leaves open, or the one it names."""
    is_open = surface.paving is not None and (paving is None or paving.bedding is None)
    return BEDS if is_open else (surface.bedding_thickness,)


def _years(use: Use, trail: Trail) -> float:
    given = use.design_life is not None
    years = use.design_life.centre / year if use.design_life else USUAL_LIFE
    trail.enter(
        "design_life",
        Meaning("Design life", "years", "years"),
        years,
        Origin.GIVEN if given else Origin.ASSUMED,
        f"as typed for {use.name}" if given else "usual for small works",
        () if given else (source_note("common_practice, twenty years [CP]"),),
    )
    return round(years, 3)


def _told_apart(loads: Sequence[Load]) -> tuple[Load, ...]:
    """The same loads, those of one name numbered from the second on."""
    keys = [load.key for load in loads]
    before = [keys[:place].count(key) for place, key in enumerate(keys)]
    return tuple(
        replace(load, key=f"{load.key} {count + 1}") if count else load
        for load, count in zip(loads, before, strict=True)
    )


def _load(entry: LoadEntry, trail: Trail, place: int) -> Load:
    if entry.mass is None:
        listed = load_library()[str(entry.name)]
        rate = listed.passes_per_year if entry.passes is None else _per_year(entry)
        return replace(listed, passes_per_year=rate, side_by_side=entry.count or 1)
    name = entry.name or f"load of {entry.mass}"
    footprint, contacts = _footprint(entry, entry.mass.centre), entry.contacts or 1
    places = _places(contacts, footprint.width, footprint.length)
    pressure = entry.contact_pressure
    if entry.passes is None:
        area = entry.mass.centre * g / contacts / pressure.centre if pressure else None
        standing = load_from_mass(name, entry.mass.estimate(), footprint, places, area)
        return replace(standing, side_by_side=entry.count or 1)
    tyre = pressure.estimate() if pressure else _usual_tyre(name, trail, place)
    return vehicle_from_mass(name, entry.mass.estimate(), places, tyre, _per_year(entry))


def _footprint(entry: LoadEntry, mass: float) -> Footprint:
    """As typed; of one foot or wheel without one, a square of the area that it touches."""
    if entry.width and entry.length:
        return Footprint(entry.width.centre, entry.length.centre)
    assert entry.contact_pressure is not None
    side = float(np.sqrt(mass * g / entry.contact_pressure.centre))
    return Footprint(side, side)


def _per_year(entry: LoadEntry) -> Estimate:
    assert entry.passes is not None
    rate = entry.passes.estimate()
    return replace(rate, centre=rate.centre * year)


def _usual_tyre(name: str, trail: Trail, place: int) -> Estimate:
    usual = lognormal(TYRE, 0.15)
    trail.enter(
        f"tyre.{place}",
        Meaning(f"Tyre pressure of the {name}", "Pa", "kPa"),
        usual.centre,
        Origin.ASSUMED,
        "as of a car; `contact_pressure` says it",
        (source_note("earthfast_proposal, 250 kPa [P]"),),
    )
    return usual


def _places(count: int, width: float, length: float) -> tuple[Contact, ...]:
    """Contacts in two rows along the footprint's long sides."""
    if count == 1:
        return (Contact(0.0, 0.0),)
    columns = int(np.ceil(count / 2))
    spots = [
        Contact(column * length / max(columns - 1, 1), row * width)
        for column in range(columns)
        for row in (0, 1)
    ]
    return tuple(spots[:count])


def _words(entry: LoadEntry, load: Load) -> str:
    count = f"{entry.count} x " if entry.count and entry.count > 1 else ""
    return f"{count}{load.key}"


def _surface(paving: Paving | None, trail: Trail) -> tuple[Surface, float]:
    kind = paving.kind if paving else PavingKind.FLAGS
    if kind is PavingKind.CONCRETE:
        return Surface(None, 0.0, 0.0, is_slab=True), 0.0
    if kind is PavingKind.GRAVEL:
        gravel = _thickness(
            "bedding_thickness", "Thickness of the gravel", paving.thickness if paving else None,
            USUAL_GRAVEL, trail,
        )  # fmt: skip
        return Surface(None, 0.0, gravel, bed=Material.GRAVEL), 0.0
    is_bare = kind is PavingKind.NONE
    bedding = _thickness(
        "bedding_thickness",
        "Thickness of the sand that blinds the base" if is_bare else "Least thickness of the bedding sand",
        paving.bedding if paving else None, USUAL_BEDDING, trail,
        "usual for light paving" if is_bare else "usual for light paving; 40 and 50 mm are tried as well",
    )  # fmt: skip
    if is_bare:
        return Surface(None, 0.0, bedding), 0.0
    material = Material.BLOCKS if kind is PavingKind.BLOCKS else Material.FLAGS
    usual = FLAG if material is Material.FLAGS else BLOCK
    side = paving.length.centre if paving and paving.length else usual
    width = paving.width.centre if paving and paving.width else side
    thickness = _thickness(
        "paving_thickness", f"Thickness of the {material.value}", paving.thickness if paving else None,
        USUAL_THICKNESS[material], trail,
    )  # fmt: skip
    return Surface(material, thickness, bedding), float(np.sqrt(side * width))


def _thickness(
    key: str,
    label: str,
    typed: TypedQuantity | None,
    usual: float,
    trail: Trail,
    because: str = "usual for light paving",
) -> float:
    value = typed.centre if typed else usual
    trail.enter(
        key,
        Meaning(label, "m", "mm"),
        value,
        Origin.GIVEN if typed else Origin.ASSUMED,
        "as typed" if typed else because,
        () if typed else (source_note("common_practice, light paving [CP]"),),
    )
    return value


def _targets(job: LoadedJob, use: Use, trail: Trail) -> dict[CheckName, float]:
    consequence = use.consequence or Consequence.MINOR
    structural, serviceable = TARGETS[consequence]
    given = job.job.choose.chance if job.job.choose else {}
    targets = {}
    for name in CheckName:
        usual = structural if name in STRUCTURAL else serviceable
        typed = given.get(name.value)
        targets[name] = typed.centre if typed else usual
        trail.enter(
            f"target.{name.value}",
            Meaning(f"Chance put up with: {name.value}", "-", "%"),
            targets[name],
            Origin.GIVEN if typed else Origin.ASSUMED,
            f"over the design life, consequence {consequence.value}",
            () if typed else (PROPOSED,),
        )
    return targets


def _nothing_stands(use: Use, loads: tuple[Load, ...]) -> tuple[Caution, ...]:
    """That a settlement put up with is not used where everything rolls."""
    if use.tolerable_settlement is None or any(load.motion is Motion.RESTING for load in loads):
        return ()
    text = (
        f"read, but not used: tolerable_settlement of {use.name}, since sinking is judged under what stands, and everything "
        "there rolls; say what is parked for long as a `mass` without `passes`"
    )
    return (Caution(CautionCode.NOT_USED_YET, text, where="use.tolerable_settlement", source=""),)


def _cautions(loads: tuple[Load, ...]) -> list[Caution]:
    vehicles = [load.key for load in loads if load.needs_engineer]
    if not vehicles:
        return []
    return [
        Caution(
            CautionCode.VEHICLES_NEED_ENGINEER,
            f"{', '.join(vehicles)}: what carries vehicles or can hurt someone if it fails belongs before a "
            "licensed engineer; local codes come first",
            where="use.load",
            source="common practice",
        )
    ]
