"""One thing that stands or rolls on the paving."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum

import numpy as np
from scipy.constants import g

from earthfast.estimate import Estimate, Family, FloatLike, Floats, exact
from earthfast.loads.contact import contact_radius
from earthfast.sources import SourceNote, Status


class Footing(StrEnum):
    """What touches the paving: a foot of fixed size, or a tyre of fixed pressure."""

    RIGID = "rigid"
    TYRE = "tyre"


class Motion(StrEnum):
    """Whether the load stands or passes."""

    RESTING = "resting"
    ROLLING = "rolling"


@dataclass(frozen=True, slots=True)
class Contact:
    """Middle of one foot or wheel, m, from any origin of the load."""

    x: float
    y: float


@dataclass(frozen=True, slots=True)
class Footprint:
    """Rectangle of paving that the load covers, m."""

    width: float
    length: float

    @property
    def area(self) -> float:
        """Covered area, m²."""
        return self.width * self.length


@dataclass(frozen=True, slots=True)
class Load:
    """One thing that stands or rolls on the paving.

    Attributes
    ----------
    key : the plain word it is asked for by.
    words : what it is, in a phrase.
    contacts : where its feet or wheels are; every one carries the same force.
    force : force of each contact, N.
    pressure : contact pressure at the central force, Pa.
    footing : a foot keeps its area, a tyre its pressure, when the force varies.
    motion : resting or rolling.
    passes_per_year : times a year it passes over or is set down on one spot.
    base_pressure : mean pressure on the footprint (on the whole base, where there is no footprint), Pa; None where it does
        not load its ground as one.
    footprint : the rectangle it covers; None for a vehicle or a crowd.
    needs_engineer : True where a licensed person should decide: vehicles, racking.
    sources : where the figures come from.
    side_by_side : how many of it stand at once, next to one another.
    """

    key: str
    words: str
    contacts: tuple[Contact, ...]
    force: Estimate
    pressure: Estimate
    footing: Footing
    motion: Motion
    passes_per_year: Estimate
    base_pressure: Estimate | None
    footprint: Footprint | None
    needs_engineer: bool
    sources: tuple[SourceNote, ...]
    side_by_side: int = 1

    @property
    def total_force(self) -> float:
        """Central force of all contacts together, N."""
        return len(self.contacts) * self.force.centre

    @property
    def contact_area(self) -> float:
        """Area of one contact at the central force, m²."""
        return self.force.centre / self.pressure.centre

    def contact_radius_at(self, force: FloatLike, pressure: FloatLike) -> Floats:
        """Contact radius, m, at a force and (for a tyre; a foot keeps its size) a pressure."""
        if self.footing is Footing.RIGID:
            shape = np.broadcast_shapes(np.shape(force), np.shape(pressure))
            return np.full(shape, np.sqrt(self.contact_area / np.pi))
        return contact_radius(force, pressure)


def _scaled(estimate: Estimate, factor: float) -> Estimate:
    spread = estimate.spread if estimate.family is Family.LOGNORMAL else estimate.spread * factor
    return replace(estimate, centre=estimate.centre * factor, spread=spread)


def load_from_mass(
    key: str,
    mass: Estimate,
    footprint: Footprint,
    feet: tuple[Contact, ...] = (Contact(0.0, 0.0),),
    foot_area: float | None = None,
) -> Load:
    """A thing that stands on the paving, from what it weighs and covers.

    Parameters
    ----------
    key : str
        The plain word it goes by. [-]
    mass : Estimate
        Its whole mass, filled and in use. [kg]
    footprint : Footprint
        The rectangle it covers. [m]
    feet : tuple of Contact
        Where its feet are; they share the mass evenly. [m]
    foot_area : float, optional
        Area of one foot; the whole footprint where it stands flat. [m²]

    Returns
    -------
    load : Load
        Resting, set down once a year. [-]

    Notes
    -----
    P = m g / n for each of n feet, base pressure m g / A; m mass, g 9.80665 m/s², A footprint area. Even
    sharing between feet is the best case: on an uneven surface a table of four feet stands on two.

    References
    ----------
    definition, weight of a mass [C]
    """
    force = _scaled(mass, g / len(feet))
    area = footprint.area if foot_area is None else foot_area
    return Load(
        key=key,
        words=key,
        contacts=feet,
        force=force,
        pressure=_scaled(force, 1.0 / area),
        footing=Footing.RIGID,
        motion=Motion.RESTING,
        passes_per_year=exact(1.0),
        base_pressure=_scaled(mass, g / footprint.area),
        footprint=footprint,
        needs_engineer=False,
        sources=(SourceNote("definition", "weight of the mass given", Status.USER),),
    )


def vehicle_from_mass(
    key: str,
    mass: Estimate,
    wheels: tuple[Contact, ...],
    tyre_pressure: Estimate,
    passes_per_year: Estimate,
) -> Load:
    """A thing that rolls over the paving, from what it weighs and its tyres.

    Parameters
    ----------
    key : str
        The plain word it goes by. [-]
    mass : Estimate
        Mass carried by the wheels given. [kg]
    wheels : tuple of Contact
        Where the wheels are; they share the mass evenly. [m]
    tyre_pressure : Estimate
        Inflation pressure. [Pa]
    passes_per_year : Estimate
        Times a year it passes over one spot. [-]

    Returns
    -------
    load : Load
        Rolling, and marked as needing an engineer. [-]

    Notes
    -----
    P = m g / n for each of n wheels; m mass, g 9.80665 m/s². A laden axle carries more than its even share:
    give the axle's own mass and wheels.

    References
    ----------
    definition, weight of a mass [C]
    """
    return Load(
        key=key,
        words=key,
        contacts=wheels,
        force=_scaled(mass, g / len(wheels)),
        pressure=tyre_pressure,
        footing=Footing.TYRE,
        motion=Motion.ROLLING,
        passes_per_year=passes_per_year,
        base_pressure=None,
        footprint=None,
        needs_engineer=True,
        sources=(SourceNote("definition", "weight of the mass given", Status.USER),),
    )
