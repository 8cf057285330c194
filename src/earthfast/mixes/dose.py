"""Dose by mass, area, thickness, volume, parts and bags: one conversion a function."""

from __future__ import annotations

import numpy as np

from earthfast.estimate import FloatLike, Floats


def areal_mass(dose: FloatLike, dry_density: FloatLike, depth: FloatLike) -> FloatLike:
    """Binder on each square metre, with a dry density that counts the soil alone.

    Parameters
    ----------
    dose : array-like
        Binder as a fraction of dry soil mass. [-]
    dry_density : array-like
        Dry density of the compacted layer, soil only. [kg/m³]
    depth : array-like
        Compacted depth of the treated layer. [m]

    Returns
    -------
    areal_mass : array-like
        Mass of binder per area of ground. [kg/m²]

    Notes
    -----
    M = c ρ h, with c, ρ and h in the order of the arguments. A density from a compaction test on the mix
    counts the binder too: then use `areal_mass_of_mix`; the two differ by the factor 1 + c.

    References
    ----------
    definition, mass of binder in a layer [C]
    """
    return dose * dry_density * depth


def areal_mass_of_mix(dose: FloatLike, mix_dry_density: FloatLike, depth: FloatLike) -> FloatLike:
    """Binder on each square metre, with a dry density that counts soil and binder together.

    Parameters
    ----------
    dose : array-like
        Binder as a fraction of dry soil mass. [-]
    mix_dry_density : array-like
        Dry density of the compacted mix, soil and binder. [kg/m³]
    depth : array-like
        Compacted depth of the treated layer. [m]

    Returns
    -------
    areal_mass : array-like
        Mass of binder per area of ground. [kg/m²]

    Notes
    -----
    M = c ρ h / (1 + c), with c, ρ and h in the order of the arguments.

    References
    ----------
    definition, mass of binder in a layer [C]
    """
    return areal_mass(dose, soil_density_in_mix(mix_dry_density, dose), depth)


def soil_density_in_mix(mix_dry_density: FloatLike, dose: FloatLike) -> FloatLike:
    """Dry soil in each cubic metre of a mix whose dry density counts the binder.

    Parameters
    ----------
    mix_dry_density : array-like
        Dry density of the compacted mix, soil and binder. [kg/m³]
    dose : array-like
        Binder as a fraction of dry soil mass. [-]

    Returns
    -------
    dry_density : array-like
        Dry density counting the soil alone. [kg/m³]

    Notes
    -----
    ρs = ρ / (1 + c), with ρ the density of the mix and c the dose.

    References
    ----------
    definition, mass of soil in a mix [C]
    """
    return mix_dry_density / (1.0 + dose)


def spread_thickness(areal_mass: FloatLike, loose_density: FloatLike) -> FloatLike:
    """Thickness of loose binder spread on the ground before mixing.

    Parameters
    ----------
    areal_mass : array-like
        Mass of binder per area of ground. [kg/m²]
    loose_density : array-like
        Density of the binder as it lies when poured. [kg/m³]

    Returns
    -------
    thickness : array-like
        Mean thickness of the loose binder. [m]

    Notes
    -----
    t = M / γ, with M and γ in the order of the arguments. Poured cement lies at 1100 to 1500 kg/m³, so a dose
    set by thickness inherits ±15 % from that alone; weigh bags instead.

    References
    ----------
    definition, mass of a loose layer [C]
    """
    return areal_mass / loose_density


def areal_mass_from_volume(
    volume_fraction: FloatLike, depth: FloatLike, loose_density: FloatLike
) -> FloatLike:
    """Binder on each square metre when the dose is told by loose volume.

    Parameters
    ----------
    volume_fraction : array-like
        Loose volume of binder as a fraction of the compacted layer. [-]
    depth : array-like
        Compacted depth of the treated layer. [m]
    loose_density : array-like
        Density of the binder as it lies when poured. [kg/m³]

    Returns
    -------
    areal_mass : array-like
        Mass of binder per area of ground. [kg/m²]

    Notes
    -----
    M = V h γ, with V, h and γ in the order of the arguments. In the United States γ is fixed by convention at
    94 lb/ft³ (1506 kg/m³), a bag of one cubic foot.

    References
    ----------
    us_cement_bag, one bag is 94 lb and one cubic foot loose [S]
    """
    return volume_fraction * depth * loose_density


def dose_from_volume(
    volume_fraction: FloatLike, mix_dry_density: FloatLike, loose_density: FloatLike
) -> FloatLike:
    """Dose by mass of dry soil from a dose told by loose volume of the compacted layer.

    Parameters
    ----------
    volume_fraction : array-like
        Loose volume of binder as a fraction of the compacted layer. [-]
    mix_dry_density : array-like
        Dry density of the compacted mix, soil and binder. [kg/m³]
    loose_density : array-like
        Density of the binder as it lies when poured. [kg/m³]

    Returns
    -------
    dose : array-like
        Binder as a fraction of dry soil mass. [-]

    Notes
    -----
    c = V γ / (ρ − V γ), with V, ρ and γ in the order of the arguments; V γ must stay below ρ.

    References
    ----------
    definition, masses in a cubic metre of mix [C]
    """
    binder = volume_fraction * loose_density
    return binder / (mix_dry_density - binder)


def dose_from_spread(
    thickness: FloatLike, loose_density: FloatLike, dry_density: FloatLike, depth: FloatLike
) -> FloatLike:
    """Dose from the thickness of loose binder spread over a depth of soil.

    Parameters
    ----------
    thickness : array-like
        Mean thickness of the loose binder. [m]
    loose_density : array-like
        Density of the binder as it lies when poured. [kg/m³]
    dry_density : array-like
        Dry density of the soil it is mixed into, soil only. [kg/m³]
    depth : array-like
        Depth of that soil. [m]

    Returns
    -------
    dose : array-like
        Binder as a fraction of dry soil mass. [-]

    Notes
    -----
    c = t γ / (ρ h), with t, γ, ρ and h in the order of the arguments. Rule of the trade: 10 to 15 mm of loose
    cement on 100 mm of soil is a dose of roughly 10 to 15 %; 25 mm on 100 mm is four to one by volume, near a
    lean concrete.

    References
    ----------
    definition, mass of a loose layer [C]
    common_practice, millimetres of cement on 100 mm of soil [CP]
    """
    return thickness * loose_density / (dry_density * depth)


def dose_from_parts(
    soil_parts: FloatLike, loose_density: FloatLike, loose_soil_dry_density: FloatLike
) -> FloatLike:
    """Dose from parts by loose volume: so many buckets of soil to one of binder.

    Parameters
    ----------
    soil_parts : array-like
        Loose volumes of soil to one loose volume of binder. [-]
    loose_density : array-like
        Density of the binder as it lies when poured. [kg/m³]
    loose_soil_dry_density : array-like
        Dry mass of soil in a cubic metre of it, loose in the bucket. [kg/m³]

    Returns
    -------
    dose : array-like
        Binder as a fraction of dry soil mass. [-]

    Notes
    -----
    c = γ / (p ρl), with p, γ and ρl in the order of the arguments. Damp loose soil may hold as little as
    1000 kg/m³ of dry soil, so parts by bucket give a richer mix than the same parts of soil in place.

    References
    ----------
    definition, masses in a loose bucket [C]
    """
    return loose_density / (soil_parts * loose_soil_dry_density)


def area_per_bag(areal_mass: FloatLike, bag_mass: FloatLike) -> FloatLike:
    """Ground that one bag covers.

    Parameters
    ----------
    areal_mass : array-like
        Mass of binder per area of ground. [kg/m²]
    bag_mass : array-like
        Mass of binder in one bag. [kg]

    Returns
    -------
    area : array-like
        Area covered by one bag. [m²]

    Notes
    -----
    A = B / M, with M and B in the order of the arguments. The side of a square grid of bags is sqrt(A).

    References
    ----------
    definition, geometry [C]
    """
    return bag_mass / areal_mass


def bag_spacing(areal_mass: FloatLike, bag_mass: FloatLike, strip_width: FloatLike) -> FloatLike:
    """Distance between bags set out along a strip.

    Parameters
    ----------
    areal_mass : array-like
        Mass of binder per area of ground. [kg/m²]
    bag_mass : array-like
        Mass of binder in one bag. [kg]
    strip_width : array-like
        Width of the strip that each row of bags serves. [m]

    Returns
    -------
    spacing : array-like
        Distance from bag to bag along the strip. [m]

    Notes
    -----
    s = B / (M w), with M, B and w in the order of the arguments.

    References
    ----------
    definition, geometry [C]
    """
    return area_per_bag(areal_mass, bag_mass) / strip_width


def whole_bags(areal_mass: FloatLike, area: FloatLike, bag_mass: FloatLike) -> Floats:
    """Whole bags to buy for an area.

    Parameters
    ----------
    areal_mass : array-like
        Mass of binder per area of ground. [kg/m²]
    area : array-like
        Area to be treated. [m²]
    bag_mass : array-like
        Mass of binder in one bag. [kg]

    Returns
    -------
    bags : array-like
        Number of bags, rounded up. [-]

    Notes
    -----
    N = ceil(M A / B), with M, A and B in the order of the arguments; a surplus below a millionth of a bag
    is rounding.

    References
    ----------
    definition, arithmetic [C]
    """
    return np.asarray(np.ceil(areal_mass * area / bag_mass - 1e-6))
