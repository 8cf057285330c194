"""The patch over which a foot or a wheel touches the paving."""

from __future__ import annotations

import numpy as np

from earthfast.estimate import FloatLike, Floats


def contact_radius(force: FloatLike, pressure: FloatLike) -> Floats:
    """Radius of the circle over which a force acts at a given pressure.

    Parameters
    ----------
    force : array-like
        Force of the foot or wheel. [N]
    pressure : array-like
        Contact pressure; of a tyre about its inflation pressure. [Pa]

    Returns
    -------
    radius : array-like
        Radius of the circle of equal area. [m]

    Notes
    -----
    a = √(P/(π p)), P the force, p the pressure. Feet and tyre prints are not circles: below about one
    radius the shape no longer matters.

    References
    ----------
    definition, circle of equal area [C]
    """
    return np.asarray(np.sqrt(np.asarray(force, dtype=np.float64) / (np.pi * np.asarray(pressure))))


def contact_through_units(contact_radius: FloatLike, unit_width: FloatLike, unit_length: FloatLike) -> Floats:
    """Radius over which a contact reaches the bed below a rigid paving unit.

    Parameters
    ----------
    contact_radius : array-like
        Contact radius on the surface. [m]
    unit_width : array-like
        Width of the block or flag. [m]
    unit_length : array-like
        Length of the block or flag. [m]

    Returns
    -------
    radius : array-like
        Radius of the circle of equal area at the bed. [m]

    Notes
    -----
    a' = max(a, √(B L/π)); a the contact radius, B and L the sides of the unit. The unit is taken as rigid,
    loaded at its middle, and passing nothing to its neighbours: jointed blocks do pass some (so this
    overstates the pressure), while a foot at the edge or corner of a flag uses less of it (so this
    understates the pressure there). A flag is rigid only while its half-side is below about 5 of its
    thicknesses.

    References
    ----------
    earthfast_proposal, rigid unit on its bed [P]
    """
    unit_radius = np.sqrt(np.asarray(unit_width, dtype=np.float64) * unit_length / np.pi)
    return np.asarray(np.maximum(contact_radius, unit_radius))
