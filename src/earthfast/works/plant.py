"""Machines on the site: strips of the tiller, output of the compactor, hours run and days hired."""

from __future__ import annotations

import math
from dataclasses import dataclass

from scipy.constants import hour

from earthfast.works.compaction import Compactor
from earthfast.works.goods import Goods, Line, order_line
from earthfast.works.lifts import HIRE_PLATE, CompactionPlant, Lifts


@dataclass(frozen=True, slots=True)
class PlantHours:
    """Hours that machines run on the site."""

    plate: float = 0.0
    tamper: float = 0.0
    roller: float = 0.0
    tiller: float = 0.0
    excavator: float = 0.0
    stabiliser: float = 0.0

    @property
    def minded(self) -> float:
        """Hours that a person of the crew minds a machine; a train brings its own."""
        return self.plate + self.tamper + self.roller + self.tiller + self.excavator

    def plus(self, other: PlantHours) -> PlantHours:
        """Hours of both."""
        return PlantHours(
            self.plate + other.plate,
            self.tamper + other.tamper,
            self.roller + other.roller,
            self.tiller + other.tiller,
            self.excavator + other.excavator,
            self.stabiliser + other.stabiliser,
        )


NO_PLANT = PlantHours()


@dataclass(frozen=True, slots=True)
class Tilling:
    """How a tiller covers one bay.

    Attributes
    ----------
    strips : strips side by side.
    walk : distance walked in all passes, m.
    time : at the walking speed, turning not counted, s.
    """

    strips: int
    walk: float
    time: float


def tilling(
    bay_width: float, bay_length: float, tine_width: float, overlap: float, passes: int, speed: float
) -> Tilling:
    """Strips, walk and time of a tiller on one bay.

    Parameters
    ----------
    bay_width : float
        Across the strips. [m]
    bay_length : float
        Along the strips. [m]
    tine_width : float
        Width of ground the tines turn. [m]
    overlap : float
        Overlap of neighbouring strips. [m]
    passes : int
        Times the whole bay is gone over. [-]
    speed : float
        Walking speed. [m/s]

    Returns
    -------
    tilling : Tilling
        Strips, walk and time.

    Notes
    -----
    n = ⌈(W − w) / (w − o)⌉ + 1; walk n L p; time walk / v, with W, L, w, o, p, v in the order of the
    arguments.

    References
    ----------
    definition, strips side by side [C]
    """
    if overlap >= tine_width:
        raise ValueError(f"an overlap of {overlap} m leaves nothing of tines {tine_width} m wide")
    beyond_first = max(bay_width - tine_width, 0.0) / (tine_width - overlap)
    strips = math.ceil(beyond_first - 1e-9) + 1
    walk = strips * bay_length * passes
    return Tilling(strips, walk, walk / speed)


def compactor_output(width: float, speed: float, efficiency: float, passes: float) -> float:
    """Area that a compactor finishes in time.

    Parameters
    ----------
    width : float
        Width of plate or drum. [m]
    speed : float
        Travelling speed. [m/s]
    efficiency : float
        Share of the time spent compacting new ground. [-]
    passes : float
        Times the whole surface is covered. [-]

    Returns
    -------
    output : float
        Area finished in time. [m²/s]

    Notes
    -----
    Q = w v e / n, with w, v, e, n in the order of the arguments.

    References
    ----------
    from_memory, output of compactors [M]
    """
    return width * speed * efficiency / passes


@dataclass(frozen=True, slots=True)
class Kit:
    """The machines of one crew; typical small hire plant unless the user says otherwise.

    Attributes
    ----------
    tine_width, overlap : of the tiller, m.
    till_passes : times the bay is gone over, dry and wet together.
    till_speed : walking speed of the tiller, m/s.
    compactors : machines that compact; the one the table of passes permits the deepest lift is taken.
    compacting_speed, tamping_speed : of a plate or roller, and of a tamper, m/s.
    compacting_efficiency : share of the time spent compacting new ground.
    unlisted_passes : passes over a lift that the published table has no number for; for the time it takes, never printed.
    excavator_output : volume dug in time, measured in the ground, m³/s.
    train_output : area a stabilising train finishes in time, m²/s.
    """

    tine_width: float = 0.5
    overlap: float = 0.1
    till_passes: int = 5
    till_speed: float = 8.0 / 60.0
    compactors: tuple[CompactionPlant, ...] = (HIRE_PLATE,)
    compacting_speed: float = 20.0 / 60.0
    tamping_speed: float = 10.0 / 60.0
    compacting_efficiency: float = 0.6
    unlisted_passes: int = 6
    excavator_output: float = 4.0 / hour
    train_output: float = 400.0 / hour


def compacting_hours(kit: Kit, lifts: Lifts, area: float) -> PlantHours:
    """Hours that a compactor runs to finish the lifts of one course.

    Parameters
    ----------
    kit : Kit
        Speeds and efficiency.
    lifts : Lifts
        Machine, lifts and passes.
    area : float
        Area compacted. [m²]

    Returns
    -------
    hours : PlantHours
        Under the machine's kind. [h]

    Notes
    -----
    t = k A / Q, with lifts k, area A and the output Q of :func:`compactor_output`.

    References
    ----------
    from_memory, output of compactors [M]
    """
    plant = lifts.plant
    tamping = plant.kind in (Compactor.VIBRATING_TAMPER, Compactor.LIGHT_TAMPER)
    speed = kit.tamping_speed if tamping else kit.compacting_speed
    passes = lifts.passes.passes or kit.unlisted_passes
    output = compactor_output(plant.width, speed, kit.compacting_efficiency, passes)
    hours = lifts.count * area / output / hour
    if tamping:
        return PlantHours(tamper=hours)
    return PlantHours(plate=hours) if plant.kind is Compactor.PLATE else PlantHours(roller=hours)


def hire_lines(plant: PlantHours, day_hours: float) -> list[Line]:
    """Days of hire, whole days for every machine that runs at all."""
    hired = [
        (Goods.PLATE_DAY, plant.plate),
        (Goods.TAMPER_DAY, plant.tamper),
        (Goods.ROLLER_DAY, plant.roller),
        (Goods.TILLER_DAY, plant.tiller),
        (Goods.EXCAVATOR_DAY, plant.excavator),
        (Goods.STABILISER_DAY, plant.stabiliser),
    ]
    return [order_line(goods, hours / day_hours) for goods, hours in hired if hours > 0.0]
