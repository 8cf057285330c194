"""Soil texture: the triangle of sand, silt and clay, and what goes with it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from earthfast.estimate import FloatLike, Floats


class Texture(StrEnum):
    """The twelve texture classes, in the order in which they are tried."""

    SAND = "sand"
    LOAMY_SAND = "loamy sand"
    SANDY_LOAM = "sandy loam"
    LOAM = "loam"
    SILT_LOAM = "silt loam"
    SILT = "silt"
    SANDY_CLAY_LOAM = "sandy clay loam"
    CLAY_LOAM = "clay loam"
    SILTY_CLAY_LOAM = "silty clay loam"
    SANDY_CLAY = "sandy clay"
    SILTY_CLAY = "silty clay"
    CLAY = "clay"


Membership = np.ndarray[tuple[int, ...], np.dtype[np.bool_]]


def texture_membership(sand: FloatLike, silt: FloatLike, clay: FloatLike) -> Membership:
    """Which of the twelve classes each mixture falls in, shape (12, ...), before any order is applied.

    Parameters
    ----------
    sand : array-like
        Share between 0.05 and 2 mm, of the part finer than 2 mm. [-]
    silt : array-like
        Share between 0.002 and 0.05 mm. [-]
    clay : array-like
        Share finer than 0.002 mm. [-]

    Returns
    -------
    membership : array-like of bool
        In the order of Texture.

    Notes
    -----
    Sand Z + 1.5 C < 15; loamy sand up to Z + 2 C < 30; sandy loam 7 <= C < 20 with S > 52, or C < 7 with
    Z < 50; loam 7 <= C < 27, 28 <= Z < 50, S <= 52; silt loam Z >= 50 with 12 <= C < 27, or 50 <= Z < 80 with
    C < 12; silt Z >= 80, C < 12; sandy clay loam 20 <= C < 35, Z < 28, S > 45; clay loam 27 <= C < 40,
    20 < S <= 45; silty clay loam 27 <= C < 40, S <= 20; sandy clay C >= 35, S > 45; silty clay C >= 40,
    Z >= 40; clay C >= 40, S <= 45, Z < 40 (percent).

    References
    ----------
    usda_texture_limits, clay, clay loam, loam, loamy sand, sand [S]
    from_memory, the other seven classes [M]
    """
    s, z, c = (np.round(100.0 * np.asarray(share, dtype=np.float64), 9) for share in (sand, silt, clay))
    is_sand = z + 1.5 * c < 15.0
    is_loamy_sand = ~is_sand & (z + 2.0 * c < 30.0)
    sandy = is_sand | is_loamy_sand
    return np.stack(
        [
            is_sand,
            is_loamy_sand,
            ~sandy & (((c >= 7.0) & (c < 20.0) & (s > 52.0)) | ((c < 7.0) & (z < 50.0))),
            (c >= 7.0) & (c < 27.0) & (z >= 28.0) & (z < 50.0) & (s <= 52.0),
            ((z >= 50.0) & (c >= 12.0) & (c < 27.0)) | ((z >= 50.0) & (z < 80.0) & (c < 12.0)),
            (z >= 80.0) & (c < 12.0),
            (c >= 20.0) & (c < 35.0) & (z < 28.0) & (s > 45.0),
            (c >= 27.0) & (c < 40.0) & (s > 20.0) & (s <= 45.0),
            (c >= 27.0) & (c < 40.0) & (s <= 20.0),
            (c >= 35.0) & (s > 45.0),
            (c >= 40.0) & (z >= 40.0),
            (c >= 40.0) & (s <= 45.0) & (z < 40.0),
        ]
    )


def texture_class(sand: float, silt: float, clay: float) -> Texture:
    """Texture class of a mixture of sand, silt and clay.

    Parameters
    ----------
    sand : float
        Share between 0.05 and 2 mm, of the part finer than 2 mm. [-]
    silt : float
        Share between 0.002 and 0.05 mm. [-]
    clay : float
        Share finer than 0.002 mm. [-]

    Returns
    -------
    texture : Texture

    Notes
    -----
    First class of `texture_membership` that holds. Texture is not an engineering class: it knows neither
    plasticity nor gravel.

    References
    ----------
    usda_texture_limits, clay, clay loam, loam, loamy sand, sand [S]
    from_memory, the other seven classes [M]
    """
    if abs(sand + silt + clay - 1.0) > 0.01:
        raise ValueError(f"sand, silt and clay add up to {sand + silt + clay:.3f}, not 1")
    return list(Texture)[int(np.argmax(texture_membership(sand, silt, clay)))]


class RibbonGroup(StrEnum):
    """Texture groups that the length of a squeezed ribbon divides."""

    LOAM = "loam group"
    CLAY_LOAM = "clay loam group"
    CLAY = "clay group"


def ribbon_group(length: float) -> RibbonGroup:
    """Texture group by the length of a ribbon squeezed over the forefinger.

    Parameters
    ----------
    length : float
        Length at which the ribbon breaks. [m]

    Returns
    -------
    group : RibbonGroup

    Notes
    -----
    Below 25 mm clay is less than 27 %; 25 to 50 mm 27 to 40 %; longer 40 % or more.

    References
    ----------
    thien_1979, flow diagram as reproduced by extension services [S]
    """
    return list(RibbonGroup)[int(np.searchsorted((0.025, 0.050), length, side="right"))]


@dataclass(frozen=True, slots=True)
class WholeSoil:
    """Shares of the whole soil by volume, -."""

    clay: Floats
    silt: Floats
    sand: Floats
    organic: Floats
    stones: Floats


def whole_soil(
    clay: FloatLike, silt: FloatLike, sand: FloatLike, organic: FloatLike, stones: FloatLike
) -> WholeSoil:
    """Shares of the whole soil when texture was judged without organic matter and stones.

    Parameters
    ----------
    clay : array-like
        Share of the mineral part finer than 2 mm. [-]
    silt : array-like
        Share of the mineral part finer than 2 mm. [-]
    sand : array-like
        Share of the mineral part finer than 2 mm. [-]
    organic : array-like
        Organic matter as a share of what is finer than 2 mm. [-]
    stones : array-like
        Stones as a share of the whole. [-]

    Returns
    -------
    whole : WholeSoil

    Notes
    -----
    Each mineral share times (1 - organic)(1 - stones); organic times (1 - stones).

    References
    ----------
    nz_soil_description_handbook, worked example [S]
    """
    fine_earth = 1.0 - np.asarray(stones, dtype=np.float64)
    mineral = fine_earth * (1.0 - np.asarray(organic))
    return WholeSoil(
        np.asarray(mineral * clay),
        np.asarray(mineral * silt),
        np.asarray(mineral * sand),
        np.asarray(fine_earth * organic),
        np.asarray(stones, dtype=np.float64),
    )


def organic_matter_from_carbon(organic_carbon: FloatLike) -> Floats:
    """Organic matter from organic carbon.

    Parameters
    ----------
    organic_carbon : array-like
        Share of dry mass. [-]

    Returns
    -------
    organic_matter : array-like
        Share of dry mass. [-]

    Notes
    -----
    Organic matter = 1.72 times organic carbon.

    References
    ----------
    nz_soil_description_handbook, factor 1.72 [S]
    """
    return np.asarray(1.72 * np.asarray(organic_carbon))


class Drainage(StrEnum):
    """Drainage class by the depth to grey or rust-mottled soil."""

    VERY_POOR = "very poor"
    POOR = "poor"
    IMPERFECT = "imperfect"
    MODERATE = "moderately well"
    WELL = "well"


def drainage_class(mottle_depth: float) -> Drainage:
    """Drainage class of a soil by the depth at which grey or rusty mottles begin.

    Parameters
    ----------
    mottle_depth : float
        Depth below the ground surface. [m]

    Returns
    -------
    drainage : Drainage

    Notes
    -----
    Limits 0.10, 0.30, 0.60 and 0.90 m. The depth stands in for the winter water level even in a dry month.

    References
    ----------
    nz_soil_description_handbook, drainage classes [S]
    """
    return list(Drainage)[int(np.searchsorted((0.10, 0.30, 0.60, 0.90), mottle_depth, side="right"))]
