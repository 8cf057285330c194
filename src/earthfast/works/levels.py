"""Levels to peg: finished surface and formation at the corners, the fall, and the dig between them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from earthfast.estimate import FloatLike, Floats
from earthfast.works.plan import Plan, Point, edge_of

DAMP_COURSE_CLEARANCE = 0.15  # m, surface below the damp-proof course at least


@dataclass(frozen=True, slots=True)
class Fall:
    """A fall, held as drop over run, in the ways people say it."""

    gradient: float

    @property
    def one_in(self) -> float:
        """Run for a drop of 1."""
        return 1.0 / self.gradient if self.gradient else float("inf")

    @property
    def percent(self) -> float:
        """Drop in hundredths of the run."""
        return 100.0 * self.gradient

    @property
    def degrees(self) -> float:
        """Angle below the horizontal, degrees."""
        return float(np.degrees(np.arctan(self.gradient)))

    @property
    def drop_mm_per_m(self) -> float:
        """Drop on one metre of run, mm."""
        return 1000.0 * self.gradient

    def drop(self, run: float) -> float:
        """Drop along a run, m."""
        return self.gradient * run


def fall_one_in(run: float) -> Fall:
    """Fall given as 1 in `run`."""
    if run <= 0.0:
        raise ValueError(f"a fall of 1 in {run} has no meaning; give the run for a drop of 1")
    return Fall(1.0 / run)


@dataclass(frozen=True, slots=True)
class LevelPlane:
    """A plane of levels: level at the origin of the plan, and its rise along x and y."""

    at_origin: float
    rise_x: float = 0.0
    rise_y: float = 0.0

    def at(self, x: FloatLike, y: FloatLike) -> Floats:
        """Level at places on the plan, m."""
        return np.asarray(self.at_origin + self.rise_x * np.asarray(x) + self.rise_y * np.asarray(y))

    def raised(self, height: float) -> LevelPlane:
        """The plane moved up."""
        return LevelPlane(self.at_origin + height, self.rise_x, self.rise_y)

    def above(self, other: LevelPlane) -> LevelPlane:
        """Height of this plane above another, itself a plane."""
        return LevelPlane(
            self.at_origin - other.at_origin, self.rise_x - other.rise_x, self.rise_y - other.rise_y
        )

    @property
    def fall(self) -> Fall:
        """Steepest fall."""
        return Fall(float(np.hypot(self.rise_x, self.rise_y)))


def falling_plane(datum: Point, level: float, fall: Fall, downhill: float = 0.0) -> LevelPlane:
    """Plane through a datum that falls in a direction, given in degrees from x towards y."""
    angle = np.radians(downhill)
    rise_x, rise_y = -fall.gradient * np.cos(angle), -fall.gradient * np.sin(angle)
    return LevelPlane(level - float(rise_x * datum.x + rise_y * datum.y), float(rise_x), float(rise_y))


def surface_below_damp_course(
    plan: Plan, wall: int, damp_course: float, fall: Fall, clearance: float = DAMP_COURSE_CLEARANCE
) -> LevelPlane:
    """Finished surface that starts a clearance below the damp-proof course and falls away from the wall."""
    first, last = edge_of(plan, wall)
    inward = np.degrees(np.arctan2(last.x - first.x, -(last.y - first.y)))
    return falling_plane(first, damp_course - clearance, fall, float(inward))


@dataclass(frozen=True, slots=True)
class PeggedPlane:
    """Plane through levelled pegs, and the largest distance of a peg from it, m."""

    plane: LevelPlane
    largest_gap: float


def plane_through_pegs(x: Floats, y: Floats, level: Floats) -> PeggedPlane:
    """Plane through three pegs, or the least-squares plane of more.

    Parameters
    ----------
    x : array
        Places of the pegs along x. [m]
    y : array
        Places of the pegs along y. [m]
    level : array
        Levels of the pegs. [m]

    Returns
    -------
    pegged : PeggedPlane
        The plane and the largest distance of a peg from it. [m]

    Notes
    -----
    Minimises Σ (z₀ + a x + b y − z)²; three pegs in a line fix no plane and are refused.

    References
    ----------
    definition, least squares [C]
    """
    rows = np.column_stack([np.ones_like(x), x, y])
    if np.linalg.matrix_rank(rows) < 3:
        raise ValueError("a plane needs three pegs that do not stand in one line")
    origin, rise_x, rise_y = np.linalg.lstsq(rows, level, rcond=None)[0]
    plane = LevelPlane(float(origin), float(rise_x), float(rise_y))
    return PeggedPlane(plane, float(np.max(np.abs(plane.at(x, y) - level))))


@dataclass(frozen=True, slots=True)
class CornerLevels:
    """Levels to peg at one corner, m.

    Attributes
    ----------
    place : where on the plan.
    existing, finished, formation : levels of the ground now, of the surface, of the trimmed ground.
    dig : depth from the ground now to formation; negative where the ground lies too low.
    """

    place: Point
    existing: float
    finished: float
    formation: float

    @property
    def dig(self) -> float:
        """Depth from the ground now to formation, m."""
        return self.existing - self.formation


def corner_levels(
    plan: Plan, finished: LevelPlane, existing: LevelPlane, thickness: float
) -> tuple[CornerLevels, ...]:
    """Levels at every corner of a plan; formation lies a build-up's thickness under the finished surface."""
    x, y = np.array([c.x for c in plan.corners]), np.array([c.y for c in plan.corners])
    now, top = existing.at(x, y), finished.at(x, y)
    return tuple(
        CornerLevels(place, float(ground), float(surface), float(surface - thickness))
        for place, ground, surface in zip(plan.corners, now, top, strict=True)
    )


@dataclass(frozen=True, slots=True)
class WallCheck:
    """How the finished surface meets one wall.

    Attributes
    ----------
    wall : number of the edge.
    fall_away : fall from the wall into the plan; negative runs at the wall.
    clearance : smallest height of the damp-proof course above the surface, m.
    runs_away : water leaves the wall.
    clears : the clearance is at least the one asked for.
    """

    wall: int
    fall_away: Fall
    clearance: float
    runs_away: bool
    clears: bool


def water_at_walls(
    plan: Plan, finished: LevelPlane, damp_course: float, clearance: float = DAMP_COURSE_CLEARANCE
) -> tuple[WallCheck, ...]:
    """Whether water runs away from every wall and the surface stays clear of the damp-proof course."""
    return tuple(_wall_check(plan, wall, finished, damp_course, clearance) for wall in sorted(plan.walls))


def _wall_check(
    plan: Plan, wall: int, finished: LevelPlane, damp_course: float, clearance: float
) -> WallCheck:
    first, last = edge_of(plan, wall)
    length = np.hypot(last.x - first.x, last.y - first.y)
    inward_x, inward_y = -(last.y - first.y) / length, (last.x - first.x) / length
    away = -float(finished.rise_x * inward_x + finished.rise_y * inward_y)
    surface = finished.at(np.array([first.x, last.x]), np.array([first.y, last.y]))
    least = damp_course - float(surface.max())
    return WallCheck(wall, Fall(away), least, away > 0.0, least >= clearance - 1e-9)


@dataclass(frozen=True, slots=True)
class Booking:
    """One set-up of a level, reduced; all in the unit of the staff."""

    height_of_instrument: float
    ground_level: float
    cut: float


def level_booking(bench_mark: float, backsight: float, foresight: float, dig_to: float) -> Booking:
    """Ground level and cut from a back sight on a bench mark and a fore sight on the ground.

    Parameters
    ----------
    bench_mark : float
        Known level. [m]
    backsight : float
        Staff reading on the bench mark. [m]
    foresight : float
        Staff reading on the ground. [m]
    dig_to : float
        Level wanted. [m]

    Returns
    -------
    booking : Booking
        Height of instrument, ground level and cut. [m]

    Notes
    -----
    Height of instrument = bench mark + back sight; level = height of instrument − fore sight; cut = level −
    level wanted. Any one unit of length serves.

    References
    ----------
    surveying_lecture_notes, borrow-pit levelling example [S]
    """
    instrument = bench_mark + backsight
    ground = instrument - foresight
    return Booking(instrument, ground, ground - dig_to)
