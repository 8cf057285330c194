"""What the act that asks most does to one place in the ground, told step by step: a share of its pressure, times the pressure."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from earthfast.checks.build_up import Material
from earthfast.checks.loading import enter_factor
from earthfast.checks.response import POISSON, POISSON_GROUND, Seen, Spreading, looked_at
from earthfast.checks.situation import Case
from earthfast.checks.slab_edge import slab_edge_share
from earthfast.checks.stiffness import CourseModuli
from earthfast.checks.worst import Worst
from earthfast.elastic import CircularLoad, superpose
from earthfast.estimate import FloatLike, Floats, Meaning, Origin, Quantity, Trail
from earthfast.sources import source_note

SHARES = {
    Seen.ON_BASE: Meaning("Stress on top of the base over the pressure of the load", "-", "-"),
    Seen.ON_GROUND: Meaning("Stress on the ground over the pressure of the load", "-", "-"),
    Seen.TENSION: Meaning("Tension in the bound course over the pressure of the load", "-", "-"),
    Seen.STRAIN: Meaning("Strain of the ground, times its modulus over the pressure of the load", "-", "-"),
    Seen.DEFLECTION: Meaning("Deflection of the ground, times its modulus over the pressure", "m", "mm"),
}


def stress_under_load(
    share: FloatLike,
    pressure: FloatLike,
    load: FloatLike,
    model_error: FloatLike = 1.0,
    edge: FloatLike = 1.0,
) -> Floats:
    """Stress at a place in the ground from its share of the pressure of a load.

    Parameters
    ----------
    share : array-like
        Stress there for a unit pressure. [-]
    pressure : array-like
        Pressure of the load on its bed at its usual value. [Pa]
    load : array-like
        Load over its usual value. [-]
    model_error : array-like
        True stress over computed stress. [-]
    edge : array-like
        Stress under the edge of a slab over that under its middle. [-]

    Returns
    -------
    stress : array-like
        Stress there. [Pa]

    Notes
    -----
    σ = I p f e k, with I, p, f, e, k in the order of the arguments; e and k 1 where they are not listed.

    References
    ----------
    definition, linear elasticity [C]
    """
    pushed = np.asarray(pressure) * np.asarray(load) * np.asarray(model_error) * np.asarray(edge)
    return np.asarray(np.asarray(share) * pushed)


def strain_under_load(
    strain_share: FloatLike,
    pressure: FloatLike,
    load: FloatLike,
    modulus: FloatLike,
    edge: FloatLike = 1.0,
) -> Floats:
    """Strain of the ground from the strain that a unit pressure makes in ground of unit modulus.

    Parameters
    ----------
    strain_share : array-like
        Strain for a unit pressure on ground of unit modulus. [-]
    pressure : array-like
        Pressure of the load on its bed at its usual value. [Pa]
    load : array-like
        Load over its usual value. [-]
    modulus : array-like
        Modulus of the ground. [Pa]
    edge : array-like
        Pressure under the edge of a slab over that under its middle. [-]

    Returns
    -------
    strain : array-like
        Vertical strain of the ground. [-]

    Notes
    -----
    ε = I p f k/E, with I, p, f, E, k in the order of the arguments; k 1 where it is not listed.

    References
    ----------
    definition, linear elasticity [C]
    """
    pushed = np.asarray(pressure) * np.asarray(load) * np.asarray(edge)
    return np.asarray(np.asarray(strain_share) * pushed / np.asarray(modulus))


def deflection_under_load(
    reach: FloatLike, pressure: FloatLike, load: FloatLike, modulus: FloatLike
) -> Floats:
    """Deflection of the ground from the deflection that a unit pressure makes of ground of unit modulus.

    Parameters
    ----------
    reach : array-like
        Deflection for a unit pressure on ground of unit modulus. [m]
    pressure : array-like
        Pressure of the load on its bed at its usual value. [Pa]
    load : array-like
        Load over its usual value. [-]
    modulus : array-like
        Modulus of the ground. [Pa]

    Returns
    -------
    deflection : array-like
        Deflection of the ground. [m]

    Notes
    -----
    s = d p f/E, with d, p, f, E in the order of the arguments.

    References
    ----------
    definition, linear elasticity [C]
    """
    return np.asarray(np.asarray(reach) * (np.asarray(pressure) * np.asarray(load)) / np.asarray(modulus))


def _where(circles: tuple[CircularLoad, ...]) -> str:
    """Where an act is looked at."""
    between = [f"at ({x:.2f}, {y:.2f}) m" for x, y in looked_at(circles)[1:]]
    return f"under one and {' and '.join(between)} beside it, the worst counting" if between else "under one"


@dataclass(frozen=True, slots=True)
class Pressing:
    """The act that asks most, on ways whose courses have these moduli, seen at a place; told into a trail."""

    case: Case
    worst: Worst
    moduli: CourseModuli
    spread: Spreading
    steps: Trail

    def stress(self, seen: Seen) -> dict[str, Quantity]:
        """What `stress_under_load` takes, by parameter."""
        return {"share": self.share(seen), **self.push()}

    def push(self) -> dict[str, Quantity]:
        """Pressure and load, by parameter."""
        return {
            "pressure": self.pressure(),
            "load": enter_factor(self.case, self.worst, self.steps),
        }

    def edge(self) -> dict[str, Quantity]:
        """How much harder a slab presses at its edge, by parameter; nothing where there is no slab."""
        if not self.case.thickness(Material.CONCRETE).any():
            return {}
        share = self.steps.derive(
            "edge_share",
            Meaning("Pressure under the edge of the slab over that under its middle", "-", "-"),
            slab_edge_share,
            {"load_radius": self.radius()},
        )
        return {"edge": share}

    def share(self, seen: Seen) -> Quantity:
        """What is seen for a unit pressure, on ground of unit modulus."""
        return self.steps.conclude(
            f"share_{seen.name.lower()}",
            SHARES[seen],
            self.worst.of(lambda act: self.spread.under(act, seen)),
            (*self.moduli.quantities, *self._layers(), self.radius(), self._contacts()),
            superpose,
        )

    def pressure(self) -> Quantity:
        """Pressure of the load on its bed at its usual value."""
        meaning = Meaning("Pressure of the load on its bed, at its usual value", "Pa", "kPa")
        values = self.worst.of(lambda act: act.pressure)
        return self._on_bed("pressure", meaning, values, "force over the area that reaches the bed")

    def radius(self) -> Quantity:
        """Radius over which the load reaches its bed."""
        meaning = Meaning("Radius over which the load reaches its bed", "m", "mm")
        values = self.worst.of(lambda act: act.radius)
        return self._on_bed("radius", meaning, values, "a circle of the same area")

    def _on_bed(self, key: str, meaning: Meaning, values: Floats, because: str) -> Quantity:
        """Enter how the load reaches its bed, spread through the paving."""
        return self.steps.enter(
            key,
            meaning,
            values,
            Origin.DERIVED,
            f"{self.worst.usual[0].words}: {because}",
            (source_note("common_practice, 45 degrees through a slab [CP]"),),
        )

    def _contacts(self) -> Quantity:
        nearest = self.worst.usual[0].act.circles
        gaps = ", ".join(f"({one.x:.2f}, {one.y:.2f}) m" for one in nearest[1:])
        return self.steps.enter(
            "contacts",
            Meaning("Contacts that act together", "-", "-"),
            self.worst.of(lambda act: len(act.circles)),
            Origin.GIVEN,
            f"{self.worst.usual[0].words}"
            + (f": looked at {_where(nearest)}, the others at {gaps}" if gaps else ""),
        )

    def _layers(self) -> Iterator[Quantity]:
        """Thicknesses of the courses that spread load, with their Poisson's ratios."""
        courses = self.spread.courses[0]
        for material, thickness in zip(courses.materials, courses.thickness, strict=True):
            if material is None:
                continue
            yield self.steps.enter(
                f"thickness_{material.name.lower()}",
                Meaning(f"Thickness of {material.value} that spreads the load", "m", "mm"),
                thickness,
                Origin.GIVEN,
                f"of this way; Poisson's ratio {POISSON[material]:g}, of the ground {POISSON_GROUND:g}",
                (source_note("from_memory, usual Poisson's ratios [M]"),),
            )
