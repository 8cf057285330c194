"""Stress in layered ground for every way and draw, from a table worked out once.

Stresses in bonded elastic layers depend on thicknesses and on ratios of moduli only. So for each act of a
load the layered solution is worked out on a small Chebyshev grid of the two ratios, for all thicknesses of
one pair of materials at once, and thousands of draws read it by interpolation.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from earthfast.checks.acts import Act
from earthfast.checks.build_up import BuildUp, Material
from earthfast.checks.interpolation import Axis, axis_over, interpolated
from earthfast.elastic import LayeredGround, Points, superpose
from earthfast.estimate import Floats

POISSON = {
    Material.BEDDING_SAND: 0.35,
    Material.CRUSHED_STONE: 0.35,
    Material.TREATED_SOIL: 0.20,
    Material.CONCRETE: 0.15,
}
POISSON_GROUND = 0.42
THINNEST = 0.01  # m, of a course that is there
BLANK = 0.10  # m of ground in place of a course that a way lacks
ACCURACY = 1e-4
RANGE_STEP = 0.5  # ranges of the logarithms are widened to whole steps, so that checks share tables
BOUND = (Material.TREATED_SOIL, Material.CONCRETE)
TABLES_KEPT = 64

Materials = tuple[Material | None, Material | None]


@dataclass(frozen=True, slots=True)
class Courses:
    """The two courses of a way that spread load, m; those it lacks are ground."""

    materials: Materials
    thickness: tuple[float, float]


def courses_of(build_up: BuildUp) -> Courses:
    """The two load-spreading courses of a build-up: bedding or slab above, base below.

    Stone that makes up the level over treated soil counts as bedding.
    """
    treated = build_up.treated
    if treated is not None:
        loose = build_up.thickness_of(Material.BEDDING_SAND) + build_up.thickness_of(Material.CRUSHED_STONE)
        return Courses((Material.BEDDING_SAND, Material.TREATED_SOIL), (loose, treated.thickness))
    slab = build_up.thickness_of(Material.CONCRETE)
    if slab > 0.0:  # bedding on a slab spreads nothing that the slab does not
        stone = max(build_up.thickness_of(Material.CRUSHED_STONE), THINNEST)
        return Courses((Material.CONCRETE, Material.CRUSHED_STONE), (slab, stone))
    spreading = [course for course in build_up.courses if course.material in POISSON]
    found = [*((c.material, c.thickness) for c in spreading), (None, BLANK), (None, BLANK)][:2]
    return Courses((found[0][0], found[1][0]), (found[0][1], found[1][1]))


@dataclass(frozen=True, slots=True)
class Stresses:
    """Stresses under the first circle of an act, per unit pressure, shape (ways, draws).

    Attributes
    ----------
    on_ground : vertical stress on the ground.
    tension : horizontal tension at the underside of the bound course, where there is one (0 elsewhere).
    """

    on_ground: Floats
    tension: Floats


@dataclass(frozen=True, slots=True)
class _Table:
    """Stresses at the nodes of two axes, shape (thicknesses, n1, n2)."""

    axes: tuple[Axis, Axis]
    on_ground: Floats
    tension: Floats


def stresses(courses: tuple[Courses, ...], log_ratios: Floats, act: Act) -> Stresses:
    """Stresses of one act for every way and draw.

    Parameters
    ----------
    courses : one for each way.
    log_ratios : (2, ways, draws), ln of the moduli of the two courses over that of the ground.
    act : the act.

    Returns
    -------
    stresses : per unit pressure.
    """
    on_ground, tension = np.zeros(log_ratios.shape[1:]), np.zeros(log_ratios.shape[1:])
    by_materials: dict[Materials, list[int]] = defaultdict(list)
    for row, one in enumerate(courses):
        by_materials[one.materials].append(row)
    for materials, rows in by_materials.items():
        ratios = log_ratios[:, rows]
        thicknesses = tuple(dict.fromkeys(courses[row].thickness for row in rows))
        table = _table(materials, thicknesses, _steps(ratios[0]), _steps(ratios[1]), act)
        first, second = (axis.basis(ratio) for axis, ratio in zip(table.axes, ratios, strict=True))
        place = {thickness: i for i, thickness in enumerate(thicknesses)}
        at = [place[courses[row].thickness] for row in rows]
        on_ground[rows] = interpolated(table.on_ground[at], first, second)
        if any(material in BOUND for material in materials):
            tension[rows] = np.maximum(interpolated(table.tension[at], first, second), 0.0)
    return Stresses(on_ground, tension)


def _steps(log_ratio: Floats) -> tuple[int, int]:
    """Range of a logarithm in whole steps, widened outwards."""
    return int(np.floor(log_ratio.min() / RANGE_STEP)), int(np.ceil(log_ratio.max() / RANGE_STEP))


@lru_cache(maxsize=TABLES_KEPT)
def _table(
    materials: Materials,
    thicknesses: tuple[tuple[float, float], ...],
    first: tuple[int, int],
    second: tuple[int, int],
    act: Act,
) -> _Table:
    axes = tuple(axis_over(low * RANGE_STEP, high * RANGE_STEP) for low, high in (first, second))
    nodes = np.meshgrid(axes[0].nodes, axes[1].nodes, indexing="ij")
    modulus = np.stack([np.exp(nodes[0]), np.exp(nodes[1]), np.ones_like(nodes[0])], axis=-1)
    poisson = np.array([POISSON_GROUND if m is None else POISSON[m] for m in materials] + [POISSON_GROUND])
    thickness = np.array(thicknesses)[:, None, None, :]
    depth = np.stack([thickness[..., 0], thickness.sum(axis=-1), thickness.sum(axis=-1)], axis=-1)
    ground = LayeredGround(thickness, modulus, poisson)
    answer = superpose(ground, act.circles, Points(depth, (0, 1, 2)), accuracy=ACCURACY)
    bound = next((i for i, material in enumerate(materials) if material in BOUND), 0)
    return _Table(
        (axes[0], axes[1]), answer.vertical_stress[..., 2], -answer.least_horizontal_stress[..., bound]
    )
