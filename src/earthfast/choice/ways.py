"""Ways of building, generated: every method the tools allow, over a sweep of thickness and dose."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from earthfast.checks import BuildUp, Course, Material, Method, Way

THICKEST_STONE, THICKEST_SLAB = 0.60, 0.20  # m, as far as is swept
THINNEST_STONE = 0.03  # m, a skin thinner than this cannot be laid


@dataclass(frozen=True, slots=True)
class Surface:
    """What the user wants to see on top.

    Attributes
    ----------
    paving : blocks or flags; None where the base itself is the surface.
    paving_thickness, bedding_thickness : m; without paving the bed is the loose layer on top.
    is_slab : a concrete slab is the surface.
    bed : what the bed is made of, or the loose layer on top.
    """

    paving: Material | None
    paving_thickness: float
    bedding_thickness: float
    is_slab: bool = False
    bed: Material = Material.BEDDING_SAND

    @property
    def courses(self) -> tuple[Course, ...]:
        """Paving on its bed; the loose layer alone where there is none; nothing over a slab that is the surface."""
        bedding = Course(self.bed, self.bedding_thickness)
        if self.is_slab:
            return ()
        return (bedding,) if self.paving is None else (Course(self.paving, self.paving_thickness), bedding)


@dataclass(frozen=True, slots=True)
class Sweep:
    """How far each method is swept.

    Attributes
    ----------
    stone, treated, slab, slab_stone : thicknesses, m.
    cement : doses as fractions of dry soil mass.
    lime : lime dose mixed in before the cement, fraction of dry soil mass.
    least_cover : depth from the finished surface to the ground that stays once topsoil is stripped, m; no course of
        treated soil begins above it, and what is left over it is made up with stone.
    """

    stone: tuple[float, ...]
    treated: tuple[float, ...]
    slab: tuple[float, ...]
    slab_stone: tuple[float, ...]
    cement: tuple[float, ...]
    lime: float
    least_cover: float


def steps_between(low: float, high: float, step: float) -> tuple[float, ...]:
    """Values from low to high in whole steps, both ends included."""
    return tuple(round(float(value), 6) for value in np.arange(low, high + 0.5 * step, step))


def full_sweep(deepest_treated: float, least_cover: float) -> Sweep:
    """Thickness in 10 mm steps and dose in half-percent steps, as deep as the tools can mix."""
    return Sweep(
        stone=steps_between(0.06, THICKEST_STONE, 0.01),
        treated=steps_between(0.10, max(0.10, deepest_treated), 0.01),
        slab=steps_between(0.08, THICKEST_SLAB, 0.01),
        slab_stone=(0.05, 0.10, 0.15, 0.20, 0.30, 0.40, 0.50, 0.60),
        cement=steps_between(0.03, 0.14, 0.005),
        lime=0.03,
        least_cover=least_cover,
    )


def ways_of(method: Method, surface: Surface, sweep: Sweep) -> Iterator[Way]:
    """All ways of one method within a sweep."""
    for build_up in _GENERATORS[method](surface, sweep):
        yield Way(method, build_up)


def _stone(surface: Surface, sweep: Sweep) -> Iterator[BuildUp]:
    wanted = _made_up(surface, sweep, 0.0)
    for thickness in dict.fromkeys(max(thickness, wanted) for thickness in sweep.stone):
        yield BuildUp((*surface.courses, Course(Material.CRUSHED_STONE, thickness)))


def _treated(surface: Surface, sweep: Sweep, lime: float) -> Iterator[BuildUp]:
    made_up = _made_up(surface, sweep, 0.0)
    stone = (Course(Material.CRUSHED_STONE, max(made_up, THINNEST_STONE)),) if made_up > 0.0 else ()
    for thickness in sweep.treated:
        for dose in sweep.cement:
            treated = Course(Material.TREATED_SOIL, thickness, dose, lime)
            yield BuildUp((*surface.courses, *stone, treated))


def _cement(surface: Surface, sweep: Sweep) -> Iterator[BuildUp]:
    yield from _treated(surface, sweep, 0.0)


def _lime_cement(surface: Surface, sweep: Sweep) -> Iterator[BuildUp]:
    yield from _treated(surface, sweep, sweep.lime)


def _slab(surface: Surface, sweep: Sweep) -> Iterator[BuildUp]:
    for slab in sweep.slab:
        wanted = _made_up(surface, sweep, slab)
        for stone in dict.fromkeys(max(stone, wanted) for stone in sweep.slab_stone):
            concrete = Course(Material.CONCRETE, slab)
            yield BuildUp((*surface.courses, concrete, Course(Material.CRUSHED_STONE, stone)))


def _sand_bed(surface: Surface, sweep: Sweep) -> Iterator[BuildUp]:
    if surface.paving is None:
        return
    paving, bedding = surface.courses
    sand = round(max(bedding.thickness, sweep.least_cover - paving.thickness), 4)
    yield BuildUp((paving, Course(Material.BEDDING_SAND, sand)))


def _made_up(surface: Surface, sweep: Sweep, base: float) -> float:
    """What is left between the courses named and the ground that stays, m."""
    above = sum(course.thickness for course in surface.courses) + base
    return round(max(sweep.least_cover - above, 0.0), 4)


_GENERATORS = {
    Method.STONE: _stone,
    Method.CEMENT: _cement,
    Method.LIME_CEMENT: _lime_cement,
    Method.SLAB: _slab,
    Method.SAND_BED: _sand_bed,
}
