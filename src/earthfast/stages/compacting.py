"""Which machines compact the base, in how many lifts, and what may not be promised of them."""

from __future__ import annotations

from dataclasses import dataclass, replace

from earthfast.checks import Material, Way
from earthfast.estimate import Caution, Meaning, Origin, Trail
from earthfast.job import Job, Tools
from earthfast.sources import source_note
from earthfast.stages.wording import capitalised, millimetres
from earthfast.works import (
    CompactionPlant,
    Compactor,
    Lifts,
    LiftSoil,
    Listing,
    lifts_for,
    lightest_listed,
    vibrating_plate,
)

LIGHT_TAMPER = 50.0  # kg; lighter ones are for small holes only
TAMPER_FOOT = 0.28  # m wide, from memory
STONE_LIFT = 0.15  # m, what a machine of the table is asked for
MANY_LIFTS = 4
SIZED = {Compactor.VIBRATING_TAMPER: "kg", Compactor.TWIN_DRUM: "kg to the metre of drum"}
LIGHTER = (
    "the {} is lighter than every one of the published table: no number of passes is promised of it, "
    "so every lift is proved before the next"
)
TREATED, STONE = "treated soil", "stone"


@dataclass(frozen=True, slots=True)
class Compacting:
    """What to do, in words, and the doubts that go with it."""

    words: str
    cautions: tuple[Caution, ...]


@dataclass(frozen=True, slots=True)
class _Course:
    """One course of the base and how it is compacted."""

    name: str
    soil: LiftSoil
    thickness: float
    lifts: Lifts


def compactors_of(job: Job, trail: Trail) -> tuple[CompactionPlant, ...]:
    """The compactors with an engine that the job names, or the plate that is hired where it names none."""
    named = _named(job.tools) if job.tools else ()
    if named:
        return named
    hired = vibrating_plate()
    trail.enter(
        "compactor",
        Meaning("Mass of the hired vibrating plate by the area it stands on", "kg/m²", "kg/m²"),
        hired.size,
        Origin.ASSUMED,
        f"no compactor with an engine is named under [tools]: a {hired.words} on 420 by 500 mm is put on the list",
        (source_note("common_practice, a usual hire plate [CP]"),),
    )
    return (hired,)


def _named(tools: Tools) -> tuple[CompactionPlant, ...]:
    plants = []
    roller, plate, tamper = tools.roller, tools.plate, tools.tamper
    if roller and roller.mass and roller.width:
        mass, width = roller.mass.centre, roller.width.centre
        kind = Compactor.TWIN_DRUM if (roller.drums or 1) > 1 else Compactor.SINGLE_DRUM
        plants.append(CompactionPlant(kind, mass / width, width, f"roller of {mass:,.0f} kg"))
    if plate:
        sides = {name: getattr(plate, name) for name in ("mass", "length", "width")}
        plants.append(vibrating_plate(**{name: q.centre for name, q in sides.items() if q}))
    if tamper and tamper.powered and tamper.mass and tamper.mass.centre >= LIGHT_TAMPER:
        mass = tamper.mass.centre
        words = f"vibrating tamper of {mass:.0f} kg"
        plants.append(CompactionPlant(Compactor.VIBRATING_TAMPER, mass, TAMPER_FOOT, words))
    return tuple(plants)


def compaction_of(way: Way, make_up: float, plants: tuple[CompactionPlant, ...]) -> Compacting:
    """Lifts and passes of every course of the base, with the machines that the hours and the list count."""
    courses = _courses(way, make_up, plants)
    sentences: dict[str, None] = {}
    for course in courses:
        if course.lifts.passes.listing is not Listing.SPECIFIED:
            sentences[_unlisted_words(course.lifts)] = None
    sentences |= dict.fromkeys(_course_words(course) for course in courses)
    sentences |= dict.fromkeys(_heavier_words(course) for course in courses)
    cautions = {
        replace(caution, text=f"{LIGHTER.format(course.lifts.plant.words)}"): None
        for course in courses
        for caution in course.lifts.passes.cautions
    }
    return Compacting(" ".join(filter(None, sentences)), tuple(cautions))


def _courses(way: Way, make_up: float, plants: tuple[CompactionPlant, ...]) -> list[_Course]:
    treated = way.build_up.treated
    stone = way.build_up.thickness_of(Material.CRUSHED_STONE) + make_up
    found = []
    if treated is not None:
        found.append((TREATED, LiftSoil.COHESIVE, treated.thickness))
    if stone > 0.0:
        found.append((STONE, LiftSoil.GRANULAR, stone))
    return [_Course(name, soil, deep, lifts_for(plants, soil, deep)) for name, soil, deep in found]


def _unlisted_words(lifts: Lifts) -> str:
    kind = lifts.plant.kind
    reason = (
        f"No {kind} so light is in the published table, so there is no number of passes for it"
        if lifts.passes.listing is Listing.NOT_LISTED
        else "The published table does not permit it here, so there is no number of passes for it"
    )
    return (
        f"Compact with the {lifts.plant.words}. {reason}: go over each lift, edges first, until it sinks no further "
        "and a rod dropped from the same height makes no smaller mark; only then the next."
    )


def _course_words(course: _Course) -> str:
    lifts = course.lifts
    depth = millimetres(lifts.thickness)
    counted = f"one lift of {depth}" if lifts.count == 1 else f"{lifts.count} lifts of {depth}"
    name = course.name
    if lifts.passes.passes is not None:
        name, counted = f"{name}, with the {lifts.plant.words}", f"{counted}, {lifts.passes.text}"
    if course.name is TREATED and lifts.count > 1:
        counted += "; rake the upper part of the mixed soil aside first, and be done with all lifts within the working time"
    return capitalised(f"{name}: {counted}.")


def _heavier_words(course: _Course) -> str:
    """What a machine of the published table would make of a course that this one needs many lifts for."""
    lifts = course.lifts
    treated = course.name is TREATED
    if lifts.passes.passes is not None or not (treated or lifts.count >= MANY_LIFTS):
        return ""
    kinds = (Compactor.VIBRATING_TAMPER, Compactor.TWIN_DRUM) if treated else (Compactor.TWIN_DRUM,)
    deepest = course.thickness if treated else STONE_LIFT
    for kind in kinds:
        size = lightest_listed(kind, course.soil, deepest)
        if size is not None:
            plant = CompactionPlant(kind, size, TAMPER_FOOT, kind)
            heavier = lifts_for((plant,), course.soil, course.thickness)
            one = heavier.count == 1
            counted, each = ("one lift", "") if one else (f"{heavier.count} lifts", " each")
            return (
                f"A {kind} of {size:,.0f} {SIZED[kind]} or more, hired, would do the {course.name} in {counted} "
                f"with {heavier.passes.passes} passes{each}."
            )
    return ""
