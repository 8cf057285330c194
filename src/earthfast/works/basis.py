"""The densities, waste and sizes behind a take-off: every default in one place, each with its source."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import cache

from earthfast.checks import Course, Restraint, restraints
from earthfast.estimate import Estimate, normal_from_band
from earthfast.mixes import water_to_add
from earthfast.sources import Table, read_table


@dataclass(frozen=True, slots=True)
class BasisRow:
    """One default of a take-off: usual value, its band, unit and source."""

    key: str
    words: str
    low: float
    usual: float
    high: float
    unit: str
    status: str
    source: str


@dataclass(frozen=True, slots=True)
class QuantityBasis:
    """Defaults of a take-off, SI; `dataclasses.replace` puts the user's own figures in.

    Attributes
    ----------
    stone_density, stone_loose_density, sand_density, gravel_density, joint_sand_density : kg/m³.
    unit_density, concrete_density, haunch_mix_yield_density, topsoil_density : kg/m³.
    topsoil_swell : gain of volume on digging.
    stone_waste, sand_waste, concrete_waste, unit_waste, binder_waste, fabric_waste, edging_waste : fractions.
    block_length, block_width, flag_side, joint_width, flag_joint_width : m, faces with their joint.
    ready_mix_from : volume at which concrete under edgings comes ready-mixed, m³.
    loose_stone_from, tanker_from, grab_lorry_from : masses at which the trade changes container, kg.
    least_extension : base beyond the edge restraint at least, m.
    edging : what holds the edges.
    """

    stone_density: float
    stone_loose_density: float
    sand_density: float
    gravel_density: float
    joint_sand_density: float
    unit_density: float
    concrete_density: float
    haunch_mix_yield_density: float
    topsoil_density: float
    topsoil_swell: float
    stone_waste: float
    sand_waste: float
    concrete_waste: float
    unit_waste: float
    binder_waste: float
    fabric_waste: float
    edging_waste: float
    block_length: float
    block_width: float
    flag_side: float
    joint_width: float
    flag_joint_width: float
    ready_mix_from: float
    loose_stone_from: float
    tanker_from: float
    grab_lorry_from: float
    least_extension: float
    edging: Restraint


def basis_table() -> Table[BasisRow]:
    """Every default of a take-off with its band and source, for the list of assumptions."""
    return read_table("quantity_basis", BasisRow)


@cache
def default_basis() -> QuantityBasis:
    """The usual values of the table."""
    return QuantityBasis(**{row.key: row.usual for row in basis_table().rows}, edging=restraints()[0])


class DugSoil(StrEnum):
    """Soils by how much they swell on digging."""

    SAND_OR_GRAVEL = "sand or gravel"
    TOPSOIL = "topsoil"
    LOAM = "loam"
    COMMON_EARTH = "common earth"
    CLAY = "clay"
    ROCK = "rock"


@dataclass(frozen=True, slots=True)
class SwellRow:
    """Swell of one soil, as the published range."""

    soil: str
    low: float
    high: float


def swell_of(soil: DugSoil) -> Estimate:
    """Swell of a soil on digging.

    Parameters
    ----------
    soil : DugSoil
        Kind of soil.

    Returns
    -------
    swell : Estimate
        Loose volume over bank volume, less 1; the published range is read as the 5..95 % band. [-]

    Notes
    -----
    s = V_l / V_b − 1, read from the table.

    References
    ----------
    construction_methods_handbook, table 4-1 [S]
    """
    row = next(row for row in read_table("swell", SwellRow).rows if row.soil == soil)
    return normal_from_band(row.low, row.high)


@dataclass(frozen=True, slots=True)
class SiteGround:
    """What the take-off needs to know of the ground, SI.

    Attributes
    ----------
    bank_density : wet mass per volume of the subsoil in the ground.
    natural_dry_density : dry density of the subsoil in the ground.
    layer_dry_density : dry soil mass per volume of the finished treated layer, binder not counted.
    swell : gain of volume of the subsoil on digging.
    field_water, target_water : water over dry mass, now and for compaction.
    evaporation_allowance : water added for drying while mixing, as a fraction of dry mass.
    topsoil : depth of topsoil to strip.
    surface_above_ground : mean height of the finished surface above the ground now.
    topsoil_kept : fraction of the topsoil that stays on the site.
    subsoil_kept : volume of subsoil that stays on the site, measured in the ground.
    fabric : a separator belongs under stone (clay or silt).
    """

    bank_density: float
    natural_dry_density: float
    layer_dry_density: float
    swell: float
    field_water: float
    target_water: float
    evaporation_allowance: float = 0.0
    topsoil: float = 0.0
    surface_above_ground: float = 0.0
    topsoil_kept: float = 1.0
    subsoil_kept: float = 0.0
    fabric: bool = False

    def water_balance(self, treated: Course) -> float:
        """Water that a treated layer lacks, kg/m²; below 0 where the soil is too wet already."""
        return float(
            water_to_add(
                treated.thickness * self.layer_dry_density,
                treated.dose + treated.lime_dose,
                self.field_water,
                self.target_water,
                self.evaporation_allowance,
            )
        )

    def water_for(self, treated: Course) -> float:
        """Water to add to a treated layer, kg/m²; none where the soil is too wet already."""
        return max(self.water_balance(treated), 0.0)
