"""Labour and days: hours by task as a range, because published norms differ by more than two."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from enum import StrEnum
from functools import cache, lru_cache

from scipy.constants import hour

from earthfast.checks import Material, Way
from earthfast.sources import Status, read_table
from earthfast.works.band import UsualBand
from earthfast.works.compaction import LiftSoil
from earthfast.works.goods import Goods, Line, order_line, whole_units
from earthfast.works.lifts import lifts_for
from earthfast.works.plant import Kit, PlantHours, compacting_hours
from earthfast.works.quantities import TakeOff

TONNE = 1000.0  # kg
WHEELED = 50.0  # m, the reach of the published rate of wheeling


class Task(StrEnum):
    """Pieces of work with a published or proposed rate; each has a row of labour_rates.toml."""

    DIG_SAND = "dig_sand"
    DIG_MEDIUM = "dig_medium"
    DIG_HEAVY = "dig_heavy"
    LOAD_SAND = "load_sand"
    LOAD_MEDIUM = "load_medium"
    LOAD_HEAVY = "load_heavy"
    WHEEL = "wheel"
    ATTEND_MACHINE = "attend_machine"
    TRIM = "trim"
    FABRIC = "fabric"
    STONE = "stone"
    STONE_TIPPED = "stone_tipped"
    SPREAD_BINDER = "spread_binder"
    WATER_IN = "water_in"
    CURE = "cure"
    SAND_BED = "sand_bed"
    BLOCKS = "blocks"
    FLAGS = "flags"
    EDGING = "edging"
    KERB = "kerb"
    CONCRETE = "concrete"


class DiggingSoil(StrEnum):
    """How hard the soil is to dig by hand."""

    SAND = "sand"
    MEDIUM = "medium"
    HEAVY = "heavy"


_DIG = {
    DiggingSoil.SAND: Task.DIG_SAND,
    DiggingSoil.MEDIUM: Task.DIG_MEDIUM,
    DiggingSoil.HEAVY: Task.DIG_HEAVY,
}
_LOAD = {
    DiggingSoil.SAND: Task.LOAD_SAND,
    DiggingSoil.MEDIUM: Task.LOAD_MEDIUM,
    DiggingSoil.HEAVY: Task.LOAD_HEAVY,
}


class HardGround(StrEnum):
    """Ground that digs slower than light or medium soil."""

    LIGHT_OR_MEDIUM = "light or medium"
    CLAY = "clay"
    COMPACT_GRAVEL = "compact gravel"
    SOFT_CHALK = "soft chalk"
    HARD_ROCK = "hard rock"


@dataclass(frozen=True, slots=True)
class LabourRow:
    """One row of labour_rates.toml, person-hours for a unit."""

    key: str
    words: str
    unit: str
    low: float
    usual: float
    high: float
    status: str
    source: str

    @property
    def band(self) -> UsualBand:
        """Hours for one unit."""
        return UsualBand(self.low, self.usual, self.high)


@dataclass(frozen=True, slots=True)
class HardGroundRow:
    """One row of hard_ground.toml."""

    ground: str
    multiplier: float


@dataclass(frozen=True, slots=True)
class Crew:
    """Who builds, and with what.

    Attributes
    ----------
    people : how many work.
    day_hours : working hours of one day.
    soil : how hard it is to dig.
    by_machine : an excavator digs.
    by_train : a stabilising train treats, not a tiller.
    stone_tipped : a lorry tips the stone at the work; else it is barrowed there.
    wheeled : distance that dug soil is wheeled by hand, m; up to 50 m makes no difference.
    kit : the machines.
    """

    people: int
    day_hours: float
    soil: DiggingSoil = DiggingSoil.MEDIUM
    by_machine: bool = False
    by_train: bool = False
    stone_tipped: bool = False
    wheeled: float = 0.0
    kit: Kit = field(default_factory=Kit)


@dataclass(frozen=True, slots=True)
class TaskHours:
    """Person-hours of one task."""

    task: Task
    words: str
    quantity: float
    unit: str
    hours: UsualBand
    status: Status
    source: str


@dataclass(frozen=True, slots=True)
class Labour:
    """Hours of a way of building.

    Attributes
    ----------
    tasks : hours by task, in the order of the work.
    machine : hours that machines run, minded by one person each.
    total : person-hours, those at the machines counted.
    days : working days of the crew.
    """

    tasks: tuple[TaskHours, ...]
    machine: PlantHours
    total: UsualBand
    days: UsualBand

    @property
    def line(self) -> Line:
        """Hours as a line of the bill."""
        return labour_line(self.total)


def labour_line(hours: UsualBand) -> Line:
    """Usual hours as a line of the bill, whose money reaches from the low hours to the high ones.

    Parameters
    ----------
    hours : UsualBand
        Person-hours. [h]

    Returns
    -------
    line : Line
        Whole hours, with the least and the most they may come to.

    Notes
    -----
    amount = low hours × low rate to high hours × high rate.

    References
    ----------
    definition, ends multiplied [C]
    """
    line = order_line(Goods.LABOUR_HOUR, hours.usual)
    least, most = (whole_units(end, line.unit_size) for end in (hours.low, hours.high))
    return replace(line, least=least, most=most)


@cache
def labour_row(task: Task) -> LabourRow:
    """The row of labour_rates.toml for a task."""
    rows: tuple[LabourRow, ...] = read_table("labour_rates", LabourRow).rows
    return next(row for row in rows if row.key == task)


@cache
def hard_ground_multiplier(ground: HardGround) -> float:
    """Factor on digging hours in hard ground.

    Parameters
    ----------
    ground : HardGround
        What is dug.

    Returns
    -------
    multiplier : float
        Hours over hours in light or medium soil. [-]

    Notes
    -----
    Read from the table; do not use it on top of a rate already given for heavy soil.

    References
    ----------
    landscape_price_book, approximate estimates [S]
    """
    rows: tuple[HardGroundRow, ...] = read_table("hard_ground", HardGroundRow).rows
    return next(row.multiplier for row in rows if row.ground == ground)


@lru_cache(maxsize=8192)  # most ways of a search share most of their tasks
def task_hours(task: Task, quantity: float) -> TaskHours:
    """Person-hours of one task for a quantity in the task's unit."""
    row = labour_row(task)
    return TaskHours(
        task, row.words, quantity, row.unit, row.band.times(quantity), Status(row.status), row.source
    )


def hand_dig(bank_volume: float, soil: DiggingSoil) -> UsualBand:
    """Person-hours to dig by hand, load a barrow and wheel it up to 50 m.

    Parameters
    ----------
    bank_volume : float
        Volume measured in the ground. [m³]
    soil : DiggingSoil
        How hard it digs.

    Returns
    -------
    hours : UsualBand
        Person-hours. [h]

    Notes
    -----
    t = V (dig + load + wheel). Norms differ by more than two: learn your own rate from the first cubic metre.

    References
    ----------
    trade_labour_factors, excavation [S]
    labour_constants, dig and throw [S]
    """
    parts = [labour_row(task).band.times(bank_volume) for task in (_DIG[soil], _LOAD[soil], Task.WHEEL)]
    return UsualBand.total(parts)


def labour_for(way: Way, quantities: TakeOff, crew: Crew) -> Labour:
    """Hours and days of a way of building.

    Parameters
    ----------
    way : Way
        Method and build-up.
    quantities : TakeOff
        Its quantities.
    crew : Crew
        Who builds, and with what.

    Returns
    -------
    labour : Labour
        Tasks, machine hours, total and days. [h]

    Notes
    -----
    total = Σ quantity × rate + Σ machine hours; days = total / (people × hours a day). Waiting for the layer
    to gain strength is not counted.

    References
    ----------
    trade_labour_factors, most rates [S]
    earthfast_proposal, rates for treating by hand [P]
    """
    tasks = tuple(task_hours(task, amount) for task, amount in _tasks(way, quantities, crew) if amount > 0.0)
    machine = machine_hours(way, quantities, crew)
    total = UsualBand.total((task.hours for task in tasks), machine.minded)
    return Labour(tasks, machine, total, total.times(1.0 / (crew.people * crew.day_hours)))


def _tasks(way: Way, quantities: TakeOff, crew: Crew) -> list[tuple[Task, float]]:
    return [
        *_digging(quantities, crew),
        *_base(way, quantities, crew),
        *_paving(way, quantities),
    ]


def _digging(quantities: TakeOff, crew: Crew) -> list[tuple[Task, float]]:
    dug = quantities.spoil.dug
    if crew.by_machine:
        return [(Task.ATTEND_MACHINE, dug)]
    # the rate reaches 50 m; a longer way is so many times that
    wheeled = dug * max(crew.wheeled / WHEELED, 1.0)
    return [(_DIG[crew.soil], dug), (_LOAD[crew.soil], dug), (Task.WHEEL, wheeled)]


def _base(way: Way, quantities: TakeOff, crew: Crew) -> list[tuple[Task, float]]:
    fabric, masses = quantities.line(Goods.FABRIC), quantities.masses
    tasks = [
        (Task.TRIM, quantities.base_area),
        (Task.FABRIC, fabric.net if fabric else 0.0),
        (Task.STONE_TIPPED if crew.stone_tipped else Task.STONE, (masses.stone + masses.gravel) / TONNE),
    ]
    if way.build_up.treated is not None:
        # Lime, mellowing, then cement: everything but curing is done twice.
        stages = 2.0 if way.build_up.treated.lime_dose > 0.0 else 1.0
        by_hand = 0.0 if crew.by_train else stages * quantities.base_area
        tasks += [
            (Task.SPREAD_BINDER, by_hand),
            (Task.WATER_IN, by_hand),
            (Task.CURE, quantities.base_area),
        ]
    return tasks


def _paving(way: Way, quantities: TakeOff) -> list[tuple[Task, float]]:
    build_up, area = way.build_up, quantities.area
    return [
        (Task.EDGING if quantities.line(Goods.KERB) is None else Task.KERB, quantities.edge),
        (Task.SAND_BED, area if build_up.thickness_of(Material.BEDDING_SAND) else 0.0),
        (Task.BLOCKS, area if build_up.thickness_of(Material.BLOCKS) else 0.0),
        (Task.FLAGS, area if build_up.thickness_of(Material.FLAGS) else 0.0),
        (Task.CONCRETE, area * build_up.thickness_of(Material.CONCRETE)),
    ]


def machine_hours(way: Way, quantities: TakeOff, crew: Crew) -> PlantHours:
    """Hours that machines run for a way of building."""
    kit, build_up, area = crew.kit, way.build_up, quantities.base_area
    treated = build_up.treated
    hours = PlantHours(
        excavator=quantities.spoil.dug / kit.excavator_output / hour if crew.by_machine else 0.0
    )
    stone = build_up.thickness_of(Material.CRUSHED_STONE) + quantities.make_up
    if stone > 0.0:
        lifts = lifts_for(kit.compactors, LiftSoil.GRANULAR, stone)
        hours = hours.plus(compacting_hours(kit, lifts, area))
    if treated is None:
        return hours
    if crew.by_train:
        return hours.plus(PlantHours(stabiliser=area / kit.train_output / hour))
    stages = 2.0 if treated.lime_dose > 0.0 else 1.0
    walk = stages * kit.till_passes * area / (kit.tine_width - kit.overlap)
    lifts = lifts_for(kit.compactors, LiftSoil.COHESIVE, treated.thickness)
    return hours.plus(compacting_hours(kit, lifts, area)).plus(
        PlantHours(tiller=walk / kit.till_speed / hour)
    )
