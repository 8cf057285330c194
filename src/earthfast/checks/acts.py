"""The ways in which a load acts on the base: through each contact, and over its whole footprint."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from earthfast.elastic import CircularLoad
from earthfast.loads import Load, contact_through_units

CROWD_RADIUS = 2.0  # m; a spread load without a footprint of its own reaches over the whole base


@dataclass(frozen=True, slots=True)
class Act:
    """One way in which one load acts, as equal circles at the top of the bed or slab.

    Attributes
    ----------
    words : how it is named to a person.
    circles : unit pressures on circles; the first is the one looked under.
    pressure : pressure of each circle at the load's central force, Pa.
    radius : of each circle, m.
    passes_per_year : passes, or times it is set down.
    load : whose act it is.
    """

    words: str
    circles: tuple[CircularLoad, ...]
    pressure: float
    radius: float
    passes_per_year: float
    load: Load

    @property
    def force(self) -> float:
        """Force of one circle at the central force, N."""
        return self.pressure * np.pi * self.radius**2


def acts_of(load: Load, unit_length: float) -> tuple[Act, ...]:
    """All acts of a load.

    Parameters
    ----------
    load : what stands or rolls.
    unit_length : side of the paving unit that spreads a contact, m; 0 where a slab is the surface.

    Returns
    -------
    acts : through its contacts, and over its footprint where it loads its ground as one.
    """
    surface = float(np.sqrt(load.contact_area / np.pi))
    radius = float(contact_through_units(surface, unit_length, unit_length))
    first = load.contacts[0]
    circles = tuple(
        CircularLoad(radius=radius, pressure=1.0, x=contact.x - first.x, y=contact.y - first.y)
        for contact in load.contacts
    )
    force = load.force.centre
    part = "wheels" if load.footing == "tyre" else "feet"
    words = f"{load.key}, {part}" if len(circles) > 1 else load.key
    passes = load.passes_per_year.centre
    acts = [Act(words, circles, force / (np.pi * radius**2), radius, passes, load)]
    if load.base_pressure is not None:
        spread = np.sqrt(load.footprint.area / np.pi) if load.footprint else CROWD_RADIUS
        circle = CircularLoad(radius=float(spread), pressure=1.0)
        words = f"{load.key}, over its whole footprint"
        acts.append(Act(words, (circle,), load.base_pressure.centre, float(spread), passes, load))
    return tuple(acts)
