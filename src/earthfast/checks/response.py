"""What an act does to layered ground for every way and draw, from tables worked out once.

Stresses in bonded elastic layers depend on thicknesses and on ratios of moduli only. So for each act the
layered solution is worked out on a small Chebyshev grid of both ratios and of the thicknesses, and thousands
of draws read it by interpolation. Every grid spans a fixed range, so that a figure never depends on what else
was worked out with it.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache, reduce

import numpy as np

from earthfast.checks.acts import Act
from earthfast.checks.build_up import LOOSE, BuildUp, Material
from earthfast.checks.interpolation import Axis, axis_over, coefficients, interpolated
from earthfast.elastic import CircularLoad, LayeredGround, Points, superpose
from earthfast.estimate import Floats

POISSON = {
    Material.BEDDING_SAND: 0.35,
    Material.CRUSHED_STONE: 0.35,
    Material.TREATED_SOIL: 0.20,
    Material.CONCRETE: 0.15,
}
POISSON_GROUND = 0.42
THINNEST = 0.01  # m, of a course that is there
FAINTEST = 1e-12
DEPTHS = 3  # looked at below each place
BLANK = 0.10  # m of ground in place of a course that a way lacks
ACCURACY = 1e-4
BOUND = (Material.TREATED_SOIL, Material.CONCRETE)
TABLES_KEPT = 64
# m; between two contacts, and amid four, that are farther apart the ground feels less than under one
BESIDE, AMID = 1.0, 2.0
BENDING_NODES = 3.0  # per unit of ln of a bound course's thickness: bending goes with its square
Materials = tuple[Material | None, Material | None]


@dataclass(frozen=True, slots=True)
class Reach:
    """Range of a logarithm and how densely it is filled, per unit."""

    low: float
    high: float
    density: float

    def axis(self) -> Axis:
        """Points over the range."""
        return axis_over(self.low, self.high, self.density)


# ln of the modulus over that of ground between 1 MPa and 0.5 GPa; densities for half a percent on every reading
RATIOS: dict[Material | None, Reach] = {
    Material.BEDDING_SAND: Reach(-2.6, 5.0, 0.9),
    Material.CRUSHED_STONE: Reach(-0.6, 2.1, 1.1),
    Material.TREATED_SOIL: Reach(0.0, 9.5, 0.8),
    Material.CONCRETE: Reach(3.2, 10.8, 0.8),
    None: Reach(0.0, 0.0, 0.0),
}
# ln of the thickness of a course that is swept; beyond it, and for courses not swept, a table of its own
THICKNESSES: dict[Material | None, Reach] = {
    Material.CRUSHED_STONE: Reach(float(np.log(0.01)), float(np.log(1.5)), 1.8),
    Material.TREATED_SOIL: Reach(float(np.log(0.08)), float(np.log(0.45)), BENDING_NODES),
    Material.CONCRETE: Reach(float(np.log(0.07)), float(np.log(0.30)), BENDING_NODES),
}
UNDER_SLAB = Reach(float(np.log(0.01)), float(np.log(1.5)), 0.8)  # its stone matters little


class Seen(StrEnum):
    """What is looked at, each per unit pressure on ground of unit modulus."""

    ON_BASE = "vertical stress on top of the base"
    ON_GROUND = "vertical stress on the ground"
    STRAIN = "vertical strain of the ground"
    DEFLECTION = "deflection of the ground"
    TENSION = "tension at the underside of the bound course"


@dataclass(frozen=True, slots=True)
class Courses:
    """The two courses of a way that spread load, m; those it lacks are ground."""

    materials: Materials
    thickness: tuple[float, float]

    @property
    def is_bound_soil(self) -> bool:
        """Whether the base is treated soil, which may be whole or cracked."""
        return Material.TREATED_SOIL in self.materials


def courses_of(build_up: BuildUp) -> Courses:
    """The two load-spreading courses of a build-up: bedding or slab above, base below.

    Gravel on top counts as bedding, and so does stone that makes up the level over treated soil.
    """
    treated = build_up.treated
    if treated is not None:
        loose = build_up.thickness_of(*LOOSE, Material.CRUSHED_STONE)
        thickness = (max(loose, THINNEST), treated.thickness)
        return Courses((Material.BEDDING_SAND, Material.TREATED_SOIL), thickness)
    slab = build_up.thickness_of(Material.CONCRETE)
    if slab > 0.0:  # bedding on a slab spreads nothing that the slab does not
        stone = max(build_up.thickness_of(Material.CRUSHED_STONE), THINNEST)
        return Courses((Material.CONCRETE, Material.CRUSHED_STONE), (slab, stone))
    spreading = [
        (Material.BEDDING_SAND if course.material in LOOSE else course.material, course.thickness)
        for course in build_up.courses
        if course.material in POISSON or course.material in LOOSE
    ]
    found = [*spreading, (None, BLANK), (None, BLANK)][:2]
    return Courses((found[0][0], found[1][0]), (found[0][1], found[1][1]))


@dataclass(frozen=True, slots=True)
class Spreading:
    """Ways of like materials on their ground, ready to be asked what an act does to them.

    Attributes
    ----------
    courses : one for each way.
    first, second : polynomials of ln of each course's modulus over the ground's, (ways, polynomials, draws).
    """

    courses: tuple[Courses, ...]
    first: Floats
    second: Floats

    def under(self, act: Act, seen: Seen) -> Floats:
        """What is seen per unit pressure on ground of unit modulus, at the worst of the places looked at, (ways, draws)."""
        unique = tuple(dict.fromkeys(one.thickness for one in self.courses))
        materials = self.courses[0].materials
        found = np.stack([_at_thickness(materials, pair, act.circles, seen) for pair in unique])
        places = [unique.index(one.thickness) for one in self.courses]
        under = interpolated(found[places, 0], self.first, self.second)
        # polynomials reach one at most: between contacts that never comes up to what is under one it need not be read
        most = np.abs(found[:, 1:]).sum(axis=(-2, -1)).max(axis=0)
        counts = [
            at for at, reach in enumerate(most.tolist(), start=1) if seen is Seen.TENSION or reach > 1.0
        ]
        between = [interpolated(found[places, at], self.first, self.second) for at in counts]
        if seen is Seen.TENSION:
            return reduce(np.maximum, between, np.maximum(under, 0.0))
        return np.asarray(np.exp(under) * reduce(np.maximum, between, np.ones(1)))


def ratio_axes(materials: Materials) -> tuple[Axis, Axis]:
    """Axes of ln of both courses' moduli over the ground's; bedding is no stiffer than what it lies on."""
    upper, lower = RATIOS[materials[0]], RATIOS[materials[1]]
    if materials[0] is Material.BEDDING_SAND:
        upper = Reach(upper.low, min(upper.high, lower.high), upper.density)
    return upper.axis(), lower.axis()


@lru_cache(maxsize=4096)
def _at_thickness(
    materials: Materials, thickness: tuple[float, float], circles: tuple[CircularLoad, ...], seen: Seen
) -> Floats:
    """Coefficients over both ratios at one pair of thicknesses, at each place looked at, (places, n1, n2)."""
    axes = _thickness_axes(materials, thickness)
    first, second = (
        axis.basis(np.log(np.array([one])))[:, 0] for axis, one in zip(axes, thickness, strict=True)
    )
    tables = _table(materials, axes, circles)[:, tuple(Seen).index(seen)]
    return np.asarray(np.einsum("i,j,pijkl->pkl", first, second, tables))


def _thickness_axes(materials: Materials, thickness: tuple[float, float]) -> tuple[Axis, Axis]:
    reaches = [THICKNESSES.get(material) for material in materials]
    if materials[0] is Material.CONCRETE:
        reaches[1] = UNDER_SLAB
    logs = np.log(thickness).tolist()
    axes = [
        reach.axis() if reach and reach.low <= one <= reach.high else axis_over(one, one, 0.0)
        for reach, one in zip(reaches, logs, strict=True)
    ]
    return axes[0], axes[1]


def looked_at(circles: tuple[CircularLoad, ...]) -> tuple[tuple[float, float], ...]:
    """Places in plan, m: under the first circle and, where others are near, half way to the next and amid four."""
    beside = sorted(((float(one.x), float(one.y)) for one in circles[1:]), key=lambda place: np.hypot(*place))
    places = [(0.0, 0.0)]
    for count, near in ((2, BESIDE), (4, AMID)):
        group = beside[: count - 1]
        if len(group) == count - 1 and np.hypot(*group[-1]) < near:
            x, y = np.sum(group, axis=0) / count
            places.append((float(x), float(y)))
    return tuple(places)


def _points(materials: Materials, thickness: Floats, places: tuple[tuple[float, float], ...]) -> Points:
    """Top of the base, top of the ground and underside of the bound course; of a single course the first two are one."""
    top, underside = thickness[..., 0], thickness.sum(axis=-1)
    formation = (top, 1) if materials[1] is None else (underside, 2)
    bound = (top, 0) if materials[0] is Material.CONCRETE else (underside, 1)
    depth = np.concatenate([np.stack([top, formation[0], bound[0]], axis=-1)] * len(places), axis=-1)
    x, y = np.repeat(np.array(places), DEPTHS, axis=0).T
    return Points(depth, (1, formation[1], bound[1]) * len(places), x, y)


@lru_cache(maxsize=TABLES_KEPT)
def _table(materials: Materials, thicknesses: tuple[Axis, Axis], circles: tuple[CircularLoad, ...]) -> Floats:
    """Coefficients over both thicknesses and both ratios, for all that can be seen, (places, 5, t1, t2, n1, n2)."""
    ratios = ratio_axes(materials)
    axes = (*thicknesses, *ratios)
    h1, h2, e1, e2 = np.meshgrid(*(axis.nodes for axis in axes), indexing="ij", sparse=True)
    thickness = np.stack(np.broadcast_arrays(np.exp(h1), np.exp(h2)), axis=-1)
    modulus = np.stack(np.broadcast_arrays(np.exp(e1), np.exp(e2), 1.0), axis=-1)
    poisson = np.array([POISSON_GROUND if m is None else POISSON[m] for m in materials] + [POISSON_GROUND])
    places = looked_at(circles)
    points = _points(materials, thickness, places)
    answer = superpose(LayeredGround(thickness, modulus, poisson), circles, points, accuracy=ACCURACY)
    shape = tuple(axis.count for axis in axes)
    base, ground, bound = (np.arange(at, DEPTHS * len(places), DEPTHS) for at in range(DEPTHS))
    shares = (
        answer.vertical_stress[..., base],
        answer.vertical_stress[..., ground],
        np.maximum(answer.vertical_strain[..., ground], FAINTEST),
        answer.deflection[..., ground],
    )
    tension = -answer.least_horizontal_stress[..., bound]

    def seen(place: int) -> Floats:
        """Under a contact as logarithms, between contacts over what is under one; tension as it is."""
        if place == 0:
            told = [np.log(share[..., 0]) for share in shares]
        else:
            told = [share[..., place] / share[..., 0] for share in shares]
        tables = (*told, tension[..., place])
        return np.stack([coefficients(np.broadcast_to(table, shape), axes) for table in tables])

    return np.stack([seen(place) for place in range(len(places))])
