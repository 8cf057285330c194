"""Published stone thicknesses by use and CBR, to judge results by."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from earthfast.sources import Table, read_table


class StoneCatalogue(StrEnum):
    """Published tables of stone thickness by CBR, to judge results by."""

    ROAD_FOUNDATION = "road foundations"
    COUNTY_GUIDE = "county highway guide"


@dataclass(frozen=True, slots=True)
class CatalogueRow:
    """Stone that a published table gives for a use and a range of CBR (percent): thicknesses in m."""

    use: str
    cbr_low: float
    cbr_high: float
    capping: float
    sub_base: float


CATALOGUE_FILES: dict[StoneCatalogue, str] = {
    StoneCatalogue.ROAD_FOUNDATION: "stone_road_foundation",
    StoneCatalogue.COUNTY_GUIDE: "stone_county_guide",
}


def stone_catalogue(catalogue: StoneCatalogue) -> Table[CatalogueRow]:
    """Published stone thicknesses by use and CBR, for plausibility only.

    Parameters
    ----------
    catalogue : StoneCatalogue
        Which table. [-]

    Returns
    -------
    table : Table
        Rows of capping and sub-base thickness. [m]

    Notes
    -----
    For roads with commercial vehicles, so an upper neighbour of anything built for light use. A row holds
    from cbr_low up to, but not including, cbr_high.

    References
    ----------
    rogers_highway_engineering, Table 8.1 after LR1132 [S]
    county_highway_guide, Table 34 [S]
    """
    return read_table(CATALOGUE_FILES[StoneCatalogue(catalogue)], CatalogueRow)


@dataclass(frozen=True, slots=True)
class MinimumStone:
    """Least stone that practice puts under block paving for a use, m."""

    use: str
    climate: str
    thickness: float


def minimum_stone() -> Table[MinimumStone]:
    """Least stone under block paving by trade guidance, for plausibility only.

    Returns
    -------
    table : Table
        Rows by use and climate. [m]

    Notes
    -----
    Guidance for ground that is not weak; no traffic class and no CBR behind it.

    References
    ----------
    block_paving_minimum, quoted in secondary sources [S]
    """
    return read_table("stone_minimum", MinimumStone)


@dataclass(frozen=True, slots=True)
class PermeableCategory:
    """Load category of permeable block paving: use and standard axles over its life."""

    category: str
    use: str
    standard_axles: float


def permeable_categories() -> Table[PermeableCategory]:
    """Load categories of permeable block paving, to place a use among others.

    Returns
    -------
    table : Table
        Rows by category with standard axles over the life. [-]

    Notes
    -----
    A standard axle is 80 kN. A drive counts none, a car park a hundred, for the emergency vehicle only.

    References
    ----------
    bs_7533_13, quoted in a secondary source [S]
    """
    return read_table("permeable_category", PermeableCategory)


@dataclass(frozen=True, slots=True)
class InvestigationDepth:
    """Depth below formation that the ground should be known to for a use, m."""

    use: str
    depth: float


def investigation_depths() -> Table[InvestigationDepth]:
    """Depth of influence to look at below light works.

    Returns
    -------
    table : Table
        Depth by use. [m]

    Notes
    -----
    Least depths for the works themselves; fill, peat, trenches and trees reach deeper.

    References
    ----------
    look_handbook, table of depth of influence [S]
    """
    return read_table("investigation_depth", InvestigationDepth)
