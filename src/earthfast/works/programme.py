"""The order of work with its hold points, the cautions, and what goes on each bay."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from earthfast.checks import Course, Method
from earthfast.estimate import Floats
from earthfast.mixes import (
    SettingBinder,
    area_per_bag,
    areal_mass,
    spread_thickness,
    working_limit,
    working_window,
)
from earthfast.sources import Table, read_table
from earthfast.works.basis import SiteGround
from earthfast.works.bays import Bay

LEAST_CHECKS = 3
_ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth")


@dataclass(frozen=True, slots=True)
class ByMethod:
    """Whether a row of a table holds for each method of building."""

    stone: bool
    cement: bool
    lime_cement: bool
    slab: bool
    sand_bed: bool

    def holds_for(self, method: Method) -> bool:
        """Whether the row belongs to the method."""
        return {
            Method.STONE: self.stone,
            Method.CEMENT: self.cement,
            Method.LIME_CEMENT: self.lime_cement,
            Method.SLAB: self.slab,
            Method.SAND_BED: self.sand_bed,
        }[method]


PAVING_STEPS = ("edging", "bed", "pave", "joints")


@dataclass(frozen=True, slots=True)
class WorkStep(ByMethod):
    """One step of the work.

    Attributes
    ----------
    key : short name.
    step : what to do.
    hold : what must have been looked at before going on; empty where no hold point.
    record : what to write down.
    each_bay : done bay by bay.
    """

    key: str
    step: str
    hold: str
    record: str
    each_bay: bool


@dataclass(frozen=True, slots=True)
class WorkCaution(ByMethod):
    """One usual caution: the hazard, what to do about it, and on whose word."""

    key: str
    hazard: str
    text: str
    status: str
    source: str


def work_steps(
    method: Method,
    *,
    stone: bool = False,
    paved: bool = False,
    topped: bool = False,
    edged: bool = False,
    fabric: bool = False,
) -> tuple[WorkStep, ...]:
    """Steps of a method in order; where `hold` says something, work stops until it has been looked at.

    A treated layer under a course of stone gets it once it has its strength; a slab under paving gets edging, bed and
    paving as the others do. A loose layer on top takes the place of bed and paving, and of edging where none is bought.
    Fabric is laid only where it is bought.
    """
    rows: tuple[WorkStep, ...] = read_table("work_steps", WorkStep).rows
    laid = {"top", *(("edging",) if edged else ())} if topped else set(PAVING_STEPS) if paved else set()
    barred = {*(set(PAVING_STEPS) - laid if topped else ()), *(() if fabric else ("fabric",))}
    steps = [row for row in rows if (row.holds_for(method) or row.key in laid) and row.key not in barred]
    keys = [row.key for row in steps]
    if stone and "stone" not in keys:
        place = keys.index("strength") + 1
        steps[place:place] = [row for row in rows if row.key == "stone"]
    return tuple(steps)


def work_cautions(method: Method) -> tuple[WorkCaution, ...]:
    """Usual cautions for a method; local rules come first."""
    rows: tuple[WorkCaution, ...] = read_table("work_cautions", WorkCaution).rows
    return tuple(row for row in rows if row.holds_for(method))


def _ordinal(number: int) -> str:
    """A number above ten in its order: 11th, 21st, 32nd."""
    teen = number % 100 in {11, 12, 13}
    return f"{number}{'th' if teen else {1: 'st', 2: 'nd', 3: 'rd'}.get(number % 10, 'th')}"


@dataclass(frozen=True, slots=True)
class BagSplit:
    """A mass in whole bags and part of a last one, kg."""

    whole: int
    part: float
    bag_mass: float

    @property
    def words(self) -> str:
        """As said on the site: '7 bags and 12 kg of the eighth'."""
        bags = f"{self.whole} bag{'' if self.whole == 1 else 's'}"
        if self.part < 0.5:
            return bags
        nth = _ORDINALS[self.whole] if self.whole < len(_ORDINALS) else _ordinal(self.whole + 1)
        return (
            f"{self.part:.0f} kg of one bag"
            if not self.whole
            else f"{bags} and {self.part:.0f} kg of the {nth}"
        )


def bag_split(mass: float, bag_mass: float) -> BagSplit:
    """Whole bags and the part of a last one that make up a mass.

    Parameters
    ----------
    mass : float
        Binder for one bay. [kg]
    bag_mass : float
        Mass of one bag. [kg]

    Returns
    -------
    split : BagSplit
        Whole bags, and the rest. [kg]

    Notes
    -----
    m = n B + r, with 0 <= r < B.

    References
    ----------
    definition [C]
    """
    whole = int(mass / bag_mass + 1e-9)
    return BagSplit(whole, max(mass - whole * bag_mass, 0.0), bag_mass)


@dataclass(frozen=True, slots=True)
class BinderSpread:
    """One binder on one bay.

    Attributes
    ----------
    mass : kg.
    areal_mass : kg/m².
    thickness : loose on the ground, m; a coarse check only, loose density varies.
    bags : whole bags and part of the last.
    area_per_bag : m².
    grid_side : side of the square that one bag covers, m.
    """

    mass: float
    areal_mass: float
    thickness: float
    bags: BagSplit
    area_per_bag: float
    grid_side: float


@dataclass(frozen=True, slots=True)
class BayAmounts:
    """What goes on one bay: cement, lime where there is any, and water in litres."""

    bay: Bay
    cement: BinderSpread
    lime: BinderSpread | None
    water: float


@dataclass(frozen=True, slots=True)
class Bags:
    """The binder as it comes: mass of a bag, kg, and loose density, kg/m³."""

    bag_mass: float
    loose_density: float


def bay_amounts(
    bays: Sequence[Bay], treated: Course, ground: SiteGround, cement: Bags, lime: Bags
) -> tuple[BayAmounts, ...]:
    """Binder and water for every bay of a treated layer.

    Parameters
    ----------
    bays : sequence of Bay
        Bays of the plan with the base's extension.
    treated : Course
        The treated layer.
    ground : SiteGround
        Dry density of the layer, moisture now and wanted.
    cement : Bags
        How the cement comes.
    lime : Bags
        How the lime comes.

    Returns
    -------
    amounts : tuple of BayAmounts
        One a bay.

    Notes
    -----
    Mass of binder dose × ρ_d × h × A, ρ_d being dry soil only; water brings soil and binder together to the
    moisture wanted, never below nought.

    References
    ----------
    definition, mass balance [C]
    """
    density, depth = ground.layer_dry_density, treated.thickness
    water = ground.water_for(treated)
    cement_mass = float(areal_mass(treated.dose, density, depth))
    lime_mass = float(areal_mass(treated.lime_dose, density, depth))
    return tuple(
        BayAmounts(
            bay,
            _spread(cement_mass, bay.area, cement),
            _spread(lime_mass, bay.area, lime) if lime_mass > 0.0 else None,
            bay.area * water,
        )
        for bay in bays
    )


def _spread(by_area: float, area: float, bags: Bags) -> BinderSpread:
    covered = float(area_per_bag(by_area, bags.bag_mass))
    mass = by_area * area
    thickness = float(spread_thickness(by_area, bags.loose_density))
    return BinderSpread(
        mass, by_area, thickness, bag_split(mass, bags.bag_mass), covered, float(np.sqrt(covered))
    )


@dataclass(frozen=True, slots=True)
class ClockRow:
    """Working time with cement at one air temperature, °C and s, by the shorter reading of the rule."""

    air_temperature: float
    window: float


def working_clock(air_temperatures: Floats) -> tuple[ClockRow, ...]:
    """Working time from first contact of cement and damp soil, at steady air temperatures."""
    windows = working_window(working_limit(SettingBinder.CEMENT), air_temperatures).advised
    return tuple(
        ClockRow(float(air), float(window)) for air, window in zip(air_temperatures, windows, strict=True)
    )


@dataclass(frozen=True, slots=True)
class FrequencyRow:
    """How often one thing is checked on a large treated area."""

    what: str
    area_m2: float
    status: str
    source: str


def checks_wanted(area: float) -> tuple[tuple[FrequencyRow, int], ...]:
    """How many of each check a treated area asks for, three at least."""
    rows: tuple[FrequencyRow, ...] = read_table("inspection_frequency", FrequencyRow).rows
    return tuple((row, max(int(np.ceil(area / row.area_m2 - 1e-9)), LEAST_CHECKS)) for row in rows)


@dataclass(frozen=True, slots=True)
class ToleranceRow:
    """One tolerance, mm; `over_m` is the length of the straightedge, 0 at a point."""

    layer: str
    what: str
    minus_mm: float
    plus_mm: float
    over_m: float
    status: str
    source: str


def tolerance_table() -> Table[ToleranceRow]:
    """Tolerances of level, thickness, evenness and lips, each with whose it is."""
    return read_table("tolerances", ToleranceRow)


@dataclass(frozen=True, slots=True)
class MinimumRow:
    """Least thickness of surface, bed and stone base that one publication asks for, mm."""

    place: str
    use: str
    surface_mm: float
    bed_mm: float
    base_mm: float
    status: str
    source: str


def published_minimums() -> Table[MinimumRow]:
    """Published least thicknesses by place and use: always quoted with whose they are."""
    return read_table("published_minimums", MinimumRow)


def published_minimum(place: str, use: str) -> MinimumRow:
    """The published least thicknesses of one place for one use."""
    rows: tuple[MinimumRow, ...] = published_minimums().rows
    for row in rows:
        if (row.place, row.use) == (place, use):
            return row
    uses = ", ".join(sorted(f"{row.place}: {row.use}" for row in rows))
    raise ValueError(f"no published minimum for {use} in {place}; there are {uses}")
