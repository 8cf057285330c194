"""From air to surface: the n-factor of what lies on top."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from earthfast.sources import Table, read_table


class SurfaceCover(StrEnum):
    """What the air meets."""

    SNOW = "snow"
    CONCRETE = "concrete"
    BITUMINOUS = "bituminous"
    BARE_SOIL = "bare soil"
    SHADED = "shaded"
    TURF = "turf"
    TREES = "trees"
    BLOCK_PAVING = "paving of blocks or flags"
    BLOCK_PAVING_IN_SHADE = "block paving in shade"


@dataclass(frozen=True, slots=True)
class NFactor:
    """Surface index over air index, freezing and (low to high) thawing.

    Attributes
    ----------
    surface : what the air meets.
    freezing, thawing_low, thawing_high : ratios; thawing is None where the source gives none.
    status : how the figure reached us.
    """

    surface: str
    freezing: float
    status: str
    thawing_low: float | None = None
    thawing_high: float | None = None


def n_factors() -> Table[NFactor]:
    """Table of n-factors.

    Returns
    -------
    table : Table of NFactor
        Freezing and thawing n-factor of each surface. [-]

    Notes
    -----
    surface freezing index = n x air freezing index. Surfaces are exposed directly, with no snow or soil
    on them unless named; block paving rows are our reading of concrete and of a shaded surface.

    References
    ----------
    ufc_3_130_04, table 4-1 [S]
    earthfast_proposal, block paving rows [P]
    """
    return read_table("n_factors", NFactor)


def n_factor(surface: SurfaceCover) -> float:
    """Freezing n-factor of a surface.

    Parameters
    ----------
    surface : SurfaceCover
        What the air meets. [-]

    Returns
    -------
    n_factor : float
        Surface freezing index over air freezing index. [-]

    Notes
    -----
    nF = n x FI. Use 1.0 (a snow surface) to err on the cold side.

    References
    ----------
    ufc_3_130_04, table 4-1 [S]
    """
    return next(row.freezing for row in n_factors().rows if row.surface == surface)
