"""The machines that compact the base, and in how many lifts each works."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from earthfast.works.compaction import (
    UNLISTED_LIFT,
    Compactor,
    LiftSoil,
    Passes,
    compaction_passes,
    deepest_lift,
    plate_mass_by_area,
)

_ROUNDING = 1e-9


@dataclass(frozen=True, slots=True)
class CompactionPlant:
    """A machine that compacts.

    Attributes
    ----------
    kind : what it is.
    size : what the table of passes is entered with: kg, kg/m or kg/m² by its kind.
    width : of plate, drum or foot, m.
    words : what it is called on the sheet, with its mass.
    """

    kind: Compactor
    size: float
    width: float
    words: str


@dataclass(frozen=True, slots=True)
class Lifts:
    """How one course is compacted.

    Attributes
    ----------
    plant : with which machine.
    count : lifts, laid one on another.
    thickness : of one lift, m.
    passes : what the published table says of a lift.
    """

    plant: CompactionPlant
    count: int
    thickness: float
    passes: Passes


def vibrating_plate(mass: float = 90.0, length: float = 0.50, width: float = 0.42) -> CompactionPlant:
    """A vibrating plate by its mass and the plate it stands on, by default a usual one for hire.

    Parameters
    ----------
    mass : float
        Mass of the machine. [kg]
    length : float
        Length of the plate on the ground. [m]
    width : float
        Width of the plate on the ground. [m]

    Returns
    -------
    plant : CompactionPlant
        The machine.

    References
    ----------
    rr_208, static mass by area governs [S]
    common_practice, size of a hire plate [CP]
    """
    size = plate_mass_by_area(mass, length, width)
    return CompactionPlant(Compactor.PLATE, size, width, f"vibrating plate of {mass:.0f} kg")


HIRE_PLATE = vibrating_plate()


@lru_cache(maxsize=1024)
def lifts_for(plants: tuple[CompactionPlant, ...], soil: LiftSoil, thickness: float) -> Lifts:
    """Machine, lifts and passes for one course.

    Parameters
    ----------
    plants : tuple of CompactionPlant
        Machines at hand.
    soil : LiftSoil
        What is compacted; treated soil is cohesive.
    thickness : float
        Compacted thickness of the course. [m]

    Returns
    -------
    lifts : Lifts
        The machine that the table permits the deepest lift, and equal lifts no deeper than that.

    Notes
    -----
    Where the table permits none of the machines, lifts are thin and no number of passes is given.

    References
    ----------
    scottish_reinstatement_2015, table A8.1 [S]
    common_practice, thin lifts proved by test [CP]
    """
    plant = max(plants, key=lambda one: deepest_lift(one.kind, one.size, soil) or 0.0)
    deepest = deepest_lift(plant.kind, plant.size, soil) or UNLISTED_LIFT
    count = max(math.ceil(thickness / deepest - _ROUNDING), 1)
    lift = thickness / count
    return Lifts(plant, count, lift, compaction_passes(plant.kind, plant.size, soil, lift))
