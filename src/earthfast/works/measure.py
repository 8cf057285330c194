"""The arithmetic of measuring up: stone by mass, blocks by face, sand by joint, concrete by volume."""

from __future__ import annotations

from dataclasses import dataclass

from earthfast.estimate import FloatLike


def placed_mass(area: FloatLike, thickness: FloatLike, compacted_density: FloatLike) -> FloatLike:
    """Mass of a compacted course.

    Parameters
    ----------
    area : float or array
        Area covered. [m²]
    thickness : float or array
        Compacted thickness. [m]
    compacted_density : float or array
        Mass per volume in place. [kg/m³]

    Returns
    -------
    mass : float or array
        Mass in place, waste not counted. [kg]

    Notes
    -----
    m = A h ρ_c. Compacted volume goes with compacted density, loose with loose; mixing them adds a third
    to the order.

    References
    ----------
    definition, conservation of mass [C]
    """
    return area * thickness * compacted_density


def spread_depth(
    compacted_thickness: FloatLike, compacted_density: FloatLike, loose_density: FloatLike
) -> FloatLike:
    """Depth of loose stone to spread for a compacted thickness.

    Parameters
    ----------
    compacted_thickness : float or array
        Thickness wanted after compaction. [m]
    compacted_density : float or array
        Mass per volume in place. [kg/m³]
    loose_density : float or array
        Mass per volume as tipped. [kg/m³]

    Returns
    -------
    depth : float or array
        Depth to spread. [m]

    Notes
    -----
    d = h ρ_c / ρ_l, with h, ρ_c, ρ_l in the order of the arguments.

    References
    ----------
    definition, conservation of mass [C]
    """
    return compacted_thickness * compacted_density / loose_density


def joint_sand_by_area(
    block_length: float, block_width: float, block_thickness: float, joint_width: float, sand_density: float
) -> float:
    """Jointing sand by area of paving.

    Parameters
    ----------
    block_length : float
        Length of the block itself. [m]
    block_width : float
        Width of the block itself. [m]
    block_thickness : float
        Thickness, to which the joints are filled. [m]
    joint_width : float
        Width of the joints. [m]
    sand_density : float
        Mass per volume of sand in the joint. [kg/m³]

    Returns
    -------
    mass : float
        Sand, waste not counted. [kg/m²]

    Notes
    -----
    m = (1 − L W / ((L + j)(W + j))) t ρ, with L, W, t, j, ρ in the order of the arguments.

    References
    ----------
    definition, geometry of the joints [C]
    """
    pitch = (block_length + joint_width) * (block_width + joint_width)
    return (1.0 - block_length * block_width / pitch) * block_thickness * sand_density


@dataclass(frozen=True, slots=True)
class ConcreteBatch:
    """Loose volumes for a volume of concrete, m³, and the mass of cement in them, kg."""

    cement_volume: float
    sand_volume: float
    stone_volume: float
    cement_mass: float


def concrete_by_parts(
    volume: float, sand_parts: float, stone_parts: float, dry_factor: float, cement_density: float
) -> ConcreteBatch:
    """Cement, sand and stone for concrete mixed by volume.

    Parameters
    ----------
    volume : float
        Volume of concrete in place. [m³]
    sand_parts : float
        Parts of sand to one of cement. [-]
    stone_parts : float
        Parts of stone to one of cement. [-]
    dry_factor : float
        Loose dry volume over volume in place: 1.54 in one source, 1.40 in another. [-]
    cement_density : float
        Loose cement. [kg/m³]

    Returns
    -------
    batch : ConcreteBatch
        Loose volumes and mass of cement.

    Notes
    -----
    V_c = f V / (1 + s + g), with V, s, g, f in the order of the arguments. The two published factors differ
    by a tenth, so the factor is always given.

    References
    ----------
    concrete_teaching_page_2019, worked example 1:2:4 [S]
    """
    part = dry_factor * volume / (1.0 + sand_parts + stone_parts)
    return ConcreteBatch(part, sand_parts * part, stone_parts * part, part * cement_density)
