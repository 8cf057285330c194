"""One dose in all the languages of the trade at once."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from earthfast.estimate import FloatLike
from earthfast.mixes.dose import area_per_bag, areal_mass, spread_thickness, whole_bags


@dataclass(frozen=True, slots=True)
class DoseQuantities:
    """One dose in all its languages; every figure describes the same binder on the same ground.

    Attributes
    ----------
    dose : fraction of dry soil mass.
    areal_mass : kg/m².
    spread_thickness : loose thickness on the ground, m.
    volume_fraction : loose volume as a fraction of the compacted layer.
    soil_parts : compacted soil to one of loose binder, by volume.
    area_per_bag : m².
    grid_side : side of a square grid of bags, m.
    total_mass : binder on the whole area, kg.
    bags : bags used, not rounded.
    bags_to_buy : whole bags.
    """

    dose: FloatLike
    areal_mass: FloatLike
    spread_thickness: FloatLike
    volume_fraction: FloatLike
    soil_parts: FloatLike
    area_per_bag: FloatLike
    grid_side: FloatLike
    total_mass: FloatLike
    bags: FloatLike
    bags_to_buy: FloatLike


def dose_quantities(
    dose: FloatLike,
    dry_density: FloatLike,
    depth: FloatLike,
    area: FloatLike,
    bag_mass: FloatLike,
    loose_density: FloatLike,
) -> DoseQuantities:
    """One dose in all its languages at once, so that they cannot disagree.

    Parameters
    ----------
    dose : array-like
        Binder as a fraction of dry soil mass. [-]
    dry_density : array-like
        Dry density of the compacted layer, soil only. [kg/m³]
    depth : array-like
        Compacted depth of the treated layer. [m]
    area : array-like
        Area to be treated. [m²]
    bag_mass : array-like
        Mass of binder in one bag. [kg]
    loose_density : array-like
        Density of the binder as it lies when poured. [kg/m³]

    Returns
    -------
    quantities : DoseQuantities
        The dose as a fraction, by area, by thickness, by volume, in parts and in bags.

    Notes
    -----
    All follow from M = c ρ h; see `areal_mass`, `spread_thickness`, `area_per_bag` and `whole_bags`. The
    dose must be above 0.

    References
    ----------
    definition, conservation of mass [C]
    """
    mass = areal_mass(dose, dry_density, depth)
    thickness = spread_thickness(mass, loose_density)
    bag_area = area_per_bag(mass, bag_mass)
    return DoseQuantities(
        dose=dose,
        areal_mass=mass,
        spread_thickness=thickness,
        volume_fraction=thickness / depth,
        soil_parts=depth / thickness,
        area_per_bag=bag_area,
        grid_side=np.sqrt(bag_area),
        total_mass=mass * area,
        bags=mass * area / bag_mass,
        bags_to_buy=whole_bags(mass, area, bag_mass),
    )
