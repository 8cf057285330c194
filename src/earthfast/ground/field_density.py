"""Density of ground in place, from a hole or a ring."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from earthfast.estimate import FloatLike, Floats


@dataclass(frozen=True, slots=True)
class FieldDensity:
    """Density in place: volume dug (m³), bulk and dry density (kg/m³)."""

    volume: Floats
    bulk_density: Floats
    dry_density: Floats


def sand_replacement_density(
    sand_used: FloatLike,
    sand_in_cone: FloatLike,
    sand_density: FloatLike,
    soil_mass: FloatLike,
    water_content: FloatLike,
) -> FieldDensity:
    """Density in place by filling the hole with sand of known density.

    Parameters
    ----------
    sand_used : array-like
        Mass of sand that left the bottle. [kg]
    sand_in_cone : array-like
        Mass of sand that fills the cone above the hole. [kg]
    sand_density : array-like
        Density at which the sand pours. [kg/m³]
    soil_mass : array-like
        Mass of the moist soil dug out. [kg]
    water_content : array-like
        Mass of water over mass of dry soil. [-]

    Returns
    -------
    density : FieldDensity
        Volume in m³, densities in kg/m³.

    Notes
    -----
    V = (sand used - sand in cone) / sand density; bulk = soil mass / V; dry = bulk / (1 + w). Keep all
    digits: rounding the volume first costs half a percent.

    References
    ----------
    definition, volume and mass of the hole [C]
    """
    volume = (np.asarray(sand_used, dtype=np.float64) - sand_in_cone) / sand_density
    bulk = np.asarray(soil_mass / volume)
    return FieldDensity(np.asarray(volume), bulk, np.asarray(bulk / (1.0 + np.asarray(water_content))))


def core_cutter_density(
    soil_mass: FloatLike, water_content: FloatLike, diameter: FloatLike = 0.100, length: FloatLike = 0.130
) -> FieldDensity:
    """Density in place by a driven ring.

    Parameters
    ----------
    soil_mass : array-like
        Mass of the moist soil in the ring. [kg]
    water_content : array-like
        Mass of water over mass of dry soil. [-]
    diameter : array-like
        Inside diameter of the ring. [m]
    length : array-like
        Length of the ring. [m]

    Returns
    -------
    density : FieldDensity
        Volume in m³, densities in kg/m³.

    Notes
    -----
    V = pi d² L / 4; bulk = mass / V; dry = bulk / (1 + w). The usual ring is 100 mm across and 130 mm
    long (1021 cm³). Clay and silt without stones only.

    References
    ----------
    definition, volume of a cylinder [C]
    from_memory, size of the usual ring [M]
    """
    volume = np.pi * np.asarray(diameter) ** 2 / 4.0 * np.asarray(length)
    bulk = np.asarray(np.asarray(soil_mass) / volume)
    return FieldDensity(np.asarray(volume), bulk, np.asarray(bulk / (1.0 + np.asarray(water_content))))
