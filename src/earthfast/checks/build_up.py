"""The courses between the finished surface and formation, and how they are built."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Material(StrEnum):
    """What a course is made of."""

    BLOCKS = "blocks"
    FLAGS = "flags"
    GRAVEL = "gravel"
    BEDDING_SAND = "bedding sand"
    CRUSHED_STONE = "crushed stone"
    INSULATION_BOARD = "insulation board"
    TREATED_SOIL = "treated soil"
    CONCRETE = "concrete"


UNITS = (Material.BLOCKS, Material.FLAGS)
LOOSE = (Material.BEDDING_SAND, Material.GRAVEL)


class Method(StrEnum):
    """How the base is built."""

    STONE = "dig and bring in stone"
    CEMENT = "treat in place with cement"
    LIME_CEMENT = "treat in place with lime, then cement"
    SLAB = "concrete slab on a thin base"
    SAND_BED = "paving on a sand bed only"


@dataclass(frozen=True, slots=True)
class Course:
    """One constructed course.

    Attributes
    ----------
    material : what it is made of.
    thickness : compacted thickness, m.
    dose : cement as a fraction of dry soil mass; 0 unless the course is treated soil.
    lime_dose : hydrated lime as a fraction of dry soil mass, mixed in before the cement.
    """

    material: Material
    thickness: float
    dose: float = 0.0
    lime_dose: float = 0.0


@dataclass(frozen=True, slots=True)
class BuildUp:
    """Courses from the finished surface down to formation."""

    courses: tuple[Course, ...]

    @property
    def thickness(self) -> float:
        """Depth from the finished surface to formation, m."""
        return sum(course.thickness for course in self.courses)

    @property
    def treated(self) -> Course | None:
        """The course of treated soil, where there is one."""
        for course in self.courses:  # asked thousands of times in a search
            if course.material is Material.TREATED_SOIL:
                return course
        return None

    @property
    def loose_top(self) -> Course | None:
        """Sand or gravel that is the finished surface, where it is."""
        top = self.courses[0]
        return top if top.material in LOOSE else None

    def thickness_of(self, *materials: Material) -> float:
        """Thickness of all courses of these materials, m."""
        total = 0.0
        for course in self.courses:  # as often
            if course.material in materials:
                total += course.thickness
        return total


@dataclass(frozen=True, slots=True)
class Way:
    """One feasible way of building: how, and the build-up it gives."""

    method: Method
    build_up: BuildUp
