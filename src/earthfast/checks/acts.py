"""The ways in which a load acts on the base: through each contact, and over its whole footprint."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from earthfast.elastic import CircularLoad
from earthfast.estimate import FloatLike, Floats
from earthfast.loads import Contact, Footing, Load, contact_through_units

FLAT = 0.99  # share of its footprint on which a thing that stands flat stands
CROWD_RADIUS = 2.0  # m; a spread load without a footprint of its own reaches over the whole base


@dataclass(frozen=True, slots=True)
class PavingUnit:
    """A block or flag: its side (of a square of equal area) and thickness, m; 0 where there is none."""

    side: float
    thickness: float


@dataclass(frozen=True, slots=True)
class Act:
    """One way in which one load acts, as equal circles at the top of the bed or slab.

    Attributes
    ----------
    words : how it is named to a person.
    circles : unit pressures on circles; the first is the one looked under.
    pressure : pressure of each circle at the load's central force, Pa.
    radius : of each circle, m.
    span : distance over which it would tip, m.
    load : whose act it is.
    """

    words: str
    circles: tuple[CircularLoad, ...]
    pressure: float
    radius: float
    span: float
    load: Load

    @property
    def force(self) -> float:
        """Force of one circle at the central force, N."""
        return self.pressure * np.pi * self.radius**2


def bed_radius(contact_area: FloatLike, unit_thickness: FloatLike) -> Floats:
    """Radius over which a contact at the edge of a paving unit reaches the bed.

    Parameters
    ----------
    contact_area : array-like
        Area of the contact on the surface. [m²]
    unit_thickness : array-like
        Thickness of the block or flag; 0 where there is none. [m]

    Returns
    -------
    radius : array-like
        Radius of the circle of equal area at the bed. [m]

    Notes
    -----
    π r² = (b + t)(b + 2 t), b = √A; A and t in the order of the arguments: 45 degrees through the thickness, to three sides.
    In the middle a unit presses with all of its underside, but at its edge the far side lifts. A wheel wider than a block
    reaches its neighbours through filled joints: against 60 mm blocks as an elastic layer of 0.5 to 4 GPa this puts 1.5 to
    2.5 times the stress on the ground.

    References
    ----------
    common_practice, 45 degrees through a slab [CP]
    earthfast_proposal, three sides at an edge [P]
    """
    side, thickness = np.sqrt(np.asarray(contact_area, dtype=np.float64)), np.asarray(unit_thickness)
    return np.asarray(np.sqrt((side + thickness) * (side + 2.0 * thickness) / np.pi))


def acts_of(load: Load, unit: PavingUnit, *, repeated: bool = False) -> tuple[Act, ...]:
    """All acts of a load.

    Parameters
    ----------
    load : what stands or rolls.
    unit : the paving unit between the load and its bed.
    repeated : as the load acts time after time; feet come down on the edge of a unit now and then only, wheels always.

    Returns
    -------
    acts : through its contacts, and over its footprint, or all those side by side, where it loads its ground as one. Such a
        patch is taken as a circle of the same area.
    """
    radius = bed_radius(load.contact_area, unit.thickness)
    if repeated and load.footing is Footing.RIGID:
        radius = np.maximum(radius, contact_through_units(radius, unit.side, unit.side))
    contacts = _through_contacts(load, float(radius))
    if load.base_pressure is None:
        return (contacts,)
    together = load.side_by_side
    spread = float(np.sqrt(together * load.footprint.area / np.pi)) if load.footprint else CROWD_RADIUS
    circle = CircularLoad(radius=spread, pressure=1.0)
    stands_flat = len(load.contacts) == 1 and load.contact_area >= np.pi * spread**2 * FLAT
    words = load.key if stands_flat else f"{load.key}, over its whole footprint"
    if together > 1 and load.footprint:
        words = f"{load.key}, {together} side by side"
    whole = Act(words, (circle,), load.base_pressure.centre, spread, _span(load, spread), load)
    return (whole,) if stands_flat else (contacts, whole)


def _through_contacts(load: Load, radius: float) -> Act:
    first = min(load.contacts, key=lambda one: _farness(one, load.contacts))
    others = [contact for contact in load.contacts if contact is not first]
    circles = tuple(
        CircularLoad(radius=radius, pressure=1.0, x=contact.x - first.x, y=contact.y - first.y)
        for contact in (first, *others)
    )
    part = "wheels" if load.footing is Footing.TYRE else "feet"
    words = f"{load.key}, {part}" if len(circles) > 1 else load.key
    return Act(words, circles, load.force.centre / (np.pi * radius**2), radius, _span(load, radius), load)


def _farness(one: Contact, contacts: Sequence[Contact]) -> float:
    """Sum of the distances of a contact from all; the most central has the least, the earliest of like ones counting."""
    return round(sum(float(np.hypot(other.x - one.x, other.y - one.y)) for other in contacts), 9)


def _span(load: Load, radius: float) -> float:
    """Distance over which a load tips: its shorter side, or between its nearest contacts, or across one."""
    if load.footprint is not None:
        return min(load.footprint.width, load.footprint.length)
    first = load.contacts[0]
    gaps = [np.hypot(c.x - first.x, c.y - first.y) for c in load.contacts[1:]]
    return float(min(gaps)) if gaps else 2.0 * radius
