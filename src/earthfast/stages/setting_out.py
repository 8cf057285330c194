"""Levels and bays of one area: what to peg, and how much goes where."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from earthfast.checks import Material, Way
from earthfast.estimate import Meaning, Origin, Trail
from earthfast.job import CompassPoint, Job
from earthfast.mixes import SettingBinder, bay_area, working_limit, working_window
from earthfast.sources import source_note
from earthfast.stages.answers import BayLine, CornerLine, SpreadLine
from earthfast.stages.understanding import Area
from earthfast.stages.wording import MILLI
from earthfast.works import (
    Bay,
    BayAmounts,
    BinderSpread,
    CornerLevels,
    Fall,
    LevelPlane,
    Plan,
    Point,
    base_extension,
    bay_amounts,
    bays_of,
    corner_levels,
    falling_plane,
)
from earthfast.works.plan import shape_of

DOWNHILL = {
    CompassPoint.EAST: 0.0,
    CompassPoint.NORTH_EAST: 45.0,
    CompassPoint.NORTH: 90.0,
    CompassPoint.NORTH_WEST: 135.0,
    CompassPoint.WEST: 180.0,
    CompassPoint.SOUTH_WEST: 225.0,
    CompassPoint.SOUTH: 270.0,
    CompassPoint.SOUTH_EAST: 315.0,
}
DESIGN_AIR = 15.0  # °C
FIXED_TIME, WET_MIXING, COMPACTING = 20.0 * 60.0, 1.2 * 60.0, 1.5 * 60.0
LARGEST_BAY = 40.0  # m², no more than a small crew can look after
LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


@dataclass(frozen=True, slots=True)
class SetOut:
    """One area set out.

    Attributes
    ----------
    towards : which way the surface falls, in words.
    fall : of the finished surface.
    corners : levels at the corners of the paving.
    """

    towards: str
    fall: Fall
    corners: tuple[CornerLevels, ...]


def fall_towards(job: Job, plan: Plan) -> CompassPoint:
    """Which way the surface falls: as wanted, else across the shorter side."""
    falls = job.site.falls if job.site else None
    if falls and falls.towards:
        return falls.towards
    west, south, east, north = shape_of(plan).bounds
    return CompassPoint.SOUTH if east - west >= north - south else CompassPoint.EAST


def set_out(job: Job, area: Area, way: Way, trail: Trail) -> SetOut:
    """Levels of surface and formation at every corner; the ground is taken to fall as the job says."""
    plan, towards = area.costing.plan, fall_towards(job, area.costing.plan)
    fall = Fall(float(np.median(area.setting.drainage.fall.values)))
    falls = job.site.falls if job.site else None
    ground_fall = Fall(falls.available.centre) if falls and falls.available else fall
    trail.enter(
        "ground_plane",
        Meaning("Fall of the ground now", "-", "%"),
        ground_fall.gradient,
        Origin.GIVEN if falls and falls.available else Origin.ASSUMED,
        f"an even slope towards the {towards.value}; level it before pegging. Levels are from the ground at the middle",
        () if falls and falls.available else (source_note("common_practice, take levels on site [CP]"),),
    )
    middle = shape_of(plan).centroid
    datum = Point(middle.x, middle.y)
    existing = falling_plane(datum, 0.0, ground_fall, DOWNHILL[towards])
    finished = falling_plane(datum, 0.0, fall, DOWNHILL[towards])
    return SetOut(towards.value, fall, _corners(area, way, finished, existing))


def levels_words(job: Job, out: SetOut, left: float) -> str:
    """What the levels take for granted, and to dig no deeper where `left` m of soil stays to be tilled in place."""
    falls = job.site.falls if job.site else None
    words = [
        f"Levels are from the ground at the middle; the surface falls 1 in {out.fall.one_in:.0f} {out.towards}."
    ]
    if left > 0.0:
        words.append(
            "Dig only as deep as the dig column says: formation is the underside of the layer tilled in place, and the soil "
            "above it stays."
        )
    if not (falls and falls.towards):
        words.append(
            f"Assumed: that it falls {out.towards}. If a house stands on that side, turn the fall away from it and set "
            "out new levels."
        )
    if not (falls and falls.wanted):
        words.append("Assumed: the fall itself, usual for paving.")
    if not (falls and falls.available):
        words.append("Assumed: today's ground slopes as the surface does. Level the corners before digging.")
    return " ".join(words)


def _corners(area: Area, way: Way, finished: LevelPlane, existing: LevelPlane) -> tuple[CornerLevels, ...]:
    return corner_levels(area.costing.plan, finished, existing, way.build_up.thickness)


def corner_lines(corners: tuple[CornerLevels, ...], left: float) -> tuple[CornerLine, ...]:
    """Corner levels as lines of the answer, lettered round the outline; `left` m of soil stays to be tilled in place."""
    return tuple(
        CornerLine(
            corner=LETTERS[number] if number < len(LETTERS) else str(number + 1),
            x_m=round(corner.place.x, 3),
            y_m=round(corner.place.y, 3),
            ground_m=round(corner.existing, 3),
            finished_m=round(corner.finished, 3),
            formation_m=round(corner.formation, 3),
            dig_mm=round((corner.dig - left) * MILLI),
        )
        for number, corner in enumerate(corners)
    )


def bays_for(area: Area, way: Way, trail: Trail) -> tuple[BayAmounts, ...]:
    """Bays small enough to finish before the cement goes off, with what goes on each; none where nothing is treated."""
    treated = way.build_up.treated
    if treated is None:
        return ()
    window = float(working_window(working_limit(SettingBinder.CEMENT), DESIGN_AIR).advised)
    largest = float(bay_area(window, FIXED_TIME, WET_MIXING, COMPACTING))
    trail.enter(
        "largest_bay",
        Meaning("Largest bay to finish in one go", "m²", "m²"),
        min(largest, LARGEST_BAY),
        Origin.ASSUMED,
        "air at 15 °C, 20 min fixed, 1.2 min/m² wet mixing and 1.5 min/m² compacting; learn your own pace on the first bay",
        (source_note("earthfast_proposal, outputs by hand [P]"),),
    )
    base = area.costing.plan.extended(reach_of(way))
    bays: tuple[Bay, ...] = bays_of(base, min(largest, LARGEST_BAY))
    return bay_amounts(bays, treated, area.costing.ground, area.costing.cement, area.costing.lime)


def reach_of(way: Way) -> float:
    """How far dig and base of a way reach past the paving, m."""
    treated = way.build_up.treated
    stone = way.build_up.thickness_of(Material.CRUSHED_STONE)
    return base_extension(stone + (treated.thickness if treated else 0.0))


def bay_lines(amounts: tuple[BayAmounts, ...]) -> tuple[BayLine, ...]:
    """Bays as lines of the answer."""
    lines = []
    for amount in amounts:
        x, y = min(p.x for p in amount.bay.outline), min(p.y for p in amount.bay.outline)
        lines.append(
            BayLine(
                bay=str(amount.bay.number),
                x_m=round(x, 3),
                y_m=round(y, 3),
                length_m=round(amount.bay.length, 3),
                width_m=round(amount.bay.width, 3),
                area_m2=round(amount.bay.area, 2),
                binder_kg=round(amount.cement.mass, 1),
                bags=amount.cement.bags.words,
                spread_mm=round(amount.cement.thickness * MILLI, 1),
                spread_kg_per_m2=round(amount.cement.areal_mass, 2),
                grid_mm=round(amount.cement.grid_side * MILLI),
                water_l=round(amount.water),
                lime=_spread_line(amount.lime) if amount.lime else None,
            )
        )
    return tuple(lines)


def _spread_line(spread: BinderSpread) -> SpreadLine:
    return SpreadLine(
        kg=round(spread.mass, 1),
        bags=spread.bags.words,
        spread_mm=round(spread.thickness * MILLI, 1),
        kg_per_m2=round(spread.areal_mass, 2),
        grid_mm=round(spread.grid_side * MILLI),
    )
