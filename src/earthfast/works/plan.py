"""The outline on the ground: its area and edge, what the base needs beyond it, and how to peg it square."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property, lru_cache

import numpy as np
from shapely.geometry import LinearRing, Polygon
from shapely.geometry.base import BaseGeometry

from earthfast.estimate import Floats

LEAST_EXTENSION = 0.15  # m, base beyond the edge restraint: the greater of this and its thickness
SQUARE_WITHIN = 0.010  # m, sideways at the end of the second leg; our proposal


@dataclass(frozen=True, slots=True)
class Point:
    """A place on the plan, m."""

    x: float
    y: float


@dataclass(frozen=True)  # no slots: sizes are kept once they are worked out, since every way asks for them
class Plan:
    """A closed outline on the ground.

    Attributes
    ----------
    corners : the corners in walking order, either way round.
    walls : numbers of the edges that stand against a wall; edge 0 runs from corner 0 to corner 1.
    """

    corners: tuple[Point, ...]
    walls: frozenset[int] = frozenset()

    def __post_init__(self) -> None:
        if len(self.corners) < 3:
            raise ValueError(f"an outline needs three corners or more, got {len(self.corners)}")
        if not LinearRing([(c.x, c.y) for c in self.corners]).is_simple:
            raise ValueError("the edges of the outline cross: give the corners in the order you walk them")
        if not all(0 <= wall < len(self.corners) for wall in self.walls):
            raise ValueError(f"the outline has edges 0 to {len(self.corners) - 1}, walls name {self.walls}")

    @cached_property
    def area(self) -> float:
        """Area inside the outline, m²."""
        return shape_of(self).area

    @cached_property
    def perimeter(self) -> float:
        """Length of the whole outline, m."""
        return shape_of(self).length

    @property
    def free_edge(self) -> float:
        """Length of the outline that is not against a wall and so needs an edge restraint, m."""
        return self.perimeter - sum(_length(*edge_of(self, wall)) for wall in self.walls)

    def extended(self, distance: float) -> Plan:
        """The outline moved outwards by a distance along every edge that is not against a wall."""
        return _extended(self, distance) if distance > 0.0 else self


def plan_from_corners(corners: Floats | Sequence[Sequence[float]], walls: Sequence[int] = ()) -> Plan:
    """Plan from rows of x and y in metres; an outline whose edges cross is refused."""
    rows = np.asarray(corners, dtype=np.float64)
    return Plan(tuple(Point(float(x), float(y)) for x, y in rows), frozenset(int(w) for w in walls))


def rectangular_plan(length: float, width: float, walls: Sequence[int] = ()) -> Plan:
    """Rectangle from the origin, length along x; its edges run 0 near, 1 right, 2 far, 3 left."""
    return plan_from_corners([[0.0, 0.0], [length, 0.0], [length, width], [0.0, width]], walls)


def edge_of(plan: Plan, number: int) -> tuple[Point, Point]:
    """The two ends of an edge, so that the inside of the plan lies to its left."""
    first, last = plan.corners[number], plan.corners[(number + 1) % len(plan.corners)]
    return (first, last) if shape_of(plan).exterior.is_ccw else (last, first)


def base_extension(base_thickness: float, least: float = LEAST_EXTENSION) -> float:
    """How far the base runs past the edge restraint.

    Parameters
    ----------
    base_thickness : float
        Thickness of the base. [m]
    least : float
        Extension of a thin base. [m]

    Returns
    -------
    extension : float
        Distance beyond the outside of the edge restraint. [m]

    Notes
    -----
    e = max(e₀, h) with e₀ = least, h = base_thickness; no base needs no extension. A treated layer is
    given the same rule as stone, by common practice.

    References
    ----------
    na_paver_tolerance_sheet, base beyond the edge restraint [S]
    """
    return max(least, base_thickness) if base_thickness > 0.0 else 0.0


@lru_cache(maxsize=512)
def shape_of(plan: Plan) -> Polygon:
    """The outline as a polygon for the geometry library."""
    return Polygon([(c.x, c.y) for c in plan.corners])


@lru_cache(maxsize=512)
def _extended(plan: Plan, distance: float) -> Plan:
    outline = shape_of(plan)
    grown: BaseGeometry = outline.buffer(distance, join_style="mitre", mitre_limit=3.0)
    for wall in plan.walls:
        grown = grown.difference(_strip_beyond(*edge_of(plan, wall), distance))
    whole = grown.union(outline)
    # Where walls meet in a hollow corner slivers may stand alone: the largest part is the base.
    largest = max(getattr(whole, "geoms", [whole]), key=lambda part: float(part.area))
    return Plan(tuple(Point(x, y) for x, y, *_ in largest.exterior.coords[:-1]))


def _strip_beyond(first: Point, last: Point, distance: float) -> Polygon:
    along = np.array([last.x - first.x, last.y - first.y]) / _length(first, last)
    outward = np.array([along[1], -along[0]])
    reach = 4.0 * distance  # past the mitres at both ends
    near, far = np.array([first.x, first.y]) - reach * along, np.array([last.x, last.y]) + reach * along
    return Polygon([near, far, far + reach * outward, near + reach * outward])


def _length(first: Point, last: Point) -> float:
    return float(np.hypot(last.x - first.x, last.y - first.y))


class Squareness(StrEnum):
    """What a diagonal says about a corner."""

    SQUARE = "square"
    TOO_OPEN = "corner too open"
    TOO_TIGHT = "corner too tight"


@dataclass(frozen=True, slots=True)
class CornerCheck:
    """A corner measured by two legs and the diagonal between their ends.

    Attributes
    ----------
    angle : angle at the corner, degrees.
    sideways : how far the end of the second leg stands outside its square place, m.
    verdict : square, too open or too tight.
    """

    angle: float
    sideways: float
    verdict: Squareness


def corner_check(leg_a: float, leg_b: float, diagonal: float, within: float = SQUARE_WITHIN) -> CornerCheck:
    """Angle of a pegged corner from a 3-4-5 check.

    Parameters
    ----------
    leg_a : float
        Distance from the corner to the first peg. [m]
    leg_b : float
        Distance from the corner to the second peg. [m]
    diagonal : float
        Distance measured between the pegs. [m]
    within : float
        Sideways error at the second peg that still counts as square. [m]

    Returns
    -------
    check : CornerCheck
        Angle, sideways error and verdict.

    Notes
    -----
    cos γ = (a² + b² − d²) / (2 a b), with a, b, d in the order of the arguments; sideways error −b cos γ.

    References
    ----------
    definition, cosine rule [C]
    earthfast_proposal, 10 mm counts as square [P]
    """
    cosine = (leg_a**2 + leg_b**2 - diagonal**2) / (2.0 * leg_a * leg_b)
    if not -1.0 < cosine < 1.0:
        raise ValueError(f"legs {leg_a} m and {leg_b} m cannot have {diagonal} m between their ends")
    return _corner(cosine, leg_b, within)


def diagonals_check(
    length: float, width: float, across_corner: float, from_corner: float, within: float = SQUARE_WITHIN
) -> CornerCheck:
    """Angle of a four-sided outline, opposite sides equal, from its two diagonals.

    Parameters
    ----------
    length : float
        Longer side. [m]
    width : float
        Shorter side. [m]
    across_corner : float
        Diagonal across the corner that is judged. [m]
    from_corner : float
        Diagonal that starts at the corner that is judged. [m]
    within : float
        Sideways error along the width that still counts as square. [m]

    Returns
    -------
    check : CornerCheck
        Angle, sideways error and verdict.

    Notes
    -----
    Parallelogram law: d₂² − d₁² = 4 a b cos γ, with a, b, d₁, d₂ in the order of the arguments. Equal
    diagonals prove a rectangle only when opposite sides are equal too.

    References
    ----------
    definition, parallelogram law [C]
    earthfast_proposal, 10 mm counts as square [P]
    """
    cosine = (from_corner**2 - across_corner**2) / (4.0 * length * width)
    return _corner(cosine, width, within)


def _corner(cosine: float, leg: float, within: float) -> CornerCheck:
    sideways = -leg * cosine
    return CornerCheck(float(np.degrees(np.arccos(cosine))), sideways, _squareness(sideways, within))


def _squareness(sideways: float, within: float) -> Squareness:
    if abs(sideways) <= within:
        return Squareness.SQUARE
    return Squareness.TOO_OPEN if sideways > 0.0 else Squareness.TOO_TIGHT


def area_by_offsets_simpson(spacing: float, offsets: Floats) -> float:
    """Area between a line and a curved edge by Simpson's rule.

    Parameters
    ----------
    spacing : float
        Distance between offsets along the line. [m]
    offsets : array
        Distances from the line to the edge, an odd number of them. [m]

    Returns
    -------
    area : float
        Area between line and edge. [m²]

    Notes
    -----
    A = s/3 (o₀ + 4 Σ odd + 2 Σ even + oₙ). The rule needs an even number of strips; an odd number is refused.

    References
    ----------
    definition, Simpson's rule [C]
    """
    if len(offsets) < 3 or len(offsets) % 2 == 0:
        raise ValueError(f"Simpson's rule needs an even number of strips, got {len(offsets) - 1}")
    ends, odd, even = offsets[0] + offsets[-1], offsets[1:-1:2].sum(), offsets[2:-1:2].sum()
    return float(spacing / 3.0 * (ends + 4.0 * odd + 2.0 * even))


def area_by_offsets_trapezoid(spacing: float, offsets: Floats) -> float:
    """Area between a line and a curved edge by the trapezoid rule.

    Parameters
    ----------
    spacing : float
        Distance between offsets along the line. [m]
    offsets : array
        Distances from the line to the edge. [m]

    Returns
    -------
    area : float
        Area between line and edge. [m²]

    Notes
    -----
    A = s (o₀/2 + Σ inner + oₙ/2). Lies below the truth for an outward curve.

    References
    ----------
    definition, trapezoid rule [C]
    """
    return float(np.trapezoid(offsets, dx=spacing))
