"""Bearing through stone or a stiff crust into soft clay below."""

from __future__ import annotations

import numpy as np

from earthfast.estimate import Estimate, FloatLike, Floats, lognormal_from_band
from earthfast.ground.bearing_resistance import bearing_resistance_drained


def crust_punching_strip_brown_meyerhof(
    crust_strength: FloatLike, clay_strength: FloatLike, crust_thickness: FloatLike, width: FloatLike
) -> Floats:
    """Pressure at which a strip punches through a stiff cohesive crust into soft clay.

    Parameters
    ----------
    crust_strength : array-like
        Undrained shear strength of the crust. [Pa]
    clay_strength : array-like
        Undrained shear strength of the clay below it. [Pa]
    crust_thickness : array-like
        Thickness of crust under the strip. [m]
    width : array-like
        Width of the strip. [m]

    Returns
    -------
    resistance : array-like
        Failure pressure. [Pa]

    Notes
    -----
    q = c₁ min(1.5 H/B + 5.14 c₂/c₁, 5.14); c₁ crust and c₂ clay strength, H crust thickness, B width. For
    c₂ ≤ c₁. A treated crust that has cracked loses the first term.

    References
    ----------
    brown_meyerhof_1969 [M]
    """
    through = 1.5 * crust_strength * crust_thickness / width + 5.14 * np.asarray(clay_strength)
    return np.asarray(np.minimum(through, 5.14 * np.asarray(crust_strength)))


def crust_punching_circle_brown_meyerhof(
    crust_strength: FloatLike, clay_strength: FloatLike, crust_thickness: FloatLike, diameter: FloatLike
) -> Floats:
    """Pressure at which a circular load punches through a stiff cohesive crust into soft clay.

    Parameters
    ----------
    crust_strength : array-like
        Undrained shear strength of the crust. [Pa]
    clay_strength : array-like
        Undrained shear strength of the clay below it. [Pa]
    crust_thickness : array-like
        Thickness of crust under the load. [m]
    diameter : array-like
        Diameter of the load. [m]

    Returns
    -------
    resistance : array-like
        Failure pressure. [Pa]

    Notes
    -----
    q = c₁ min(3 H/B + 6.05 c₂/c₁, 6.05); c₁ crust and c₂ clay strength, H crust thickness, B diameter. For
    c₂ ≤ c₁. A treated crust that has cracked loses the first term.

    References
    ----------
    brown_meyerhof_1969 [M]
    """
    through = 3.0 * crust_strength * crust_thickness / diameter + 6.05 * np.asarray(clay_strength)
    return np.asarray(np.minimum(through, 6.05 * np.asarray(crust_strength)))


def punching_coefficient() -> Estimate:
    """Punching shear coefficient of compacted stone over soft clay, where the authors' chart is not at hand.

    Returns
    -------
    coefficient : Estimate
        Median and log-standard deviation. [-]

    Notes
    -----
    K_s lognormal with its 5..95 % band at 2 to 6, about 3.5, for stone of friction angle near 40° on clay
    much weaker than the stone. The chart runs from 1 to 20.

    References
    ----------
    earthfast_proposal, band within the chart [P]
    meyerhof_hanna_1978, range of the chart [M]
    """
    return lognormal_from_band(2.0, 6.0)


def stone_punching_meyerhof_hanna(
    friction_angle: FloatLike,
    unit_weight: FloatLike,
    clay_strength: FloatLike,
    stone_thickness: FloatLike,
    embedment: FloatLike,
    width: FloatLike,
    length: FloatLike,
    punching_coefficient: FloatLike,
) -> Floats:
    """Pressure at which a rectangular load punches through stone or sand into soft clay.

    Parameters
    ----------
    friction_angle : array-like
        Effective friction angle of the stone. [deg]
    unit_weight : array-like
        Unit weight of the stone. [N/m³]
    clay_strength : array-like
        Undrained shear strength of the clay. [Pa]
    stone_thickness : array-like
        Thickness of stone under the load. [m]
    embedment : array-like
        Depth of the load below the surface of the stone. [m]
    width : array-like
        Width of the load, the shorter side. [m]
    length : array-like
        Length of the load; infinite for a strip. [m]
    punching_coefficient : array-like
        Punching shear coefficient from the authors' chart, 1 to 20; it rises with c N_c over the stone's own
        bearing. [-]

    Returns
    -------
    resistance : array-like
        Failure pressure. [Pa]

    Notes
    -----
    q = (1 + 0.2 B/L) 5.14 c + γ (D + H) + (1 + B/L) γ H² (1 + 2 D/H) K_s tan φ / B − γ H, no more than the
    resistance of the stone alone; c clay strength, γ unit weight, D embedment, H stone thickness, B width,
    L length. The stone alone is taken by EN 1997-1 Annex D, a departure from the authors.

    References
    ----------
    meyerhof_hanna_1978 [M]
    """
    ratio = np.asarray(width, dtype=np.float64) / np.asarray(length, dtype=np.float64)
    overburden = unit_weight * np.asarray(embedment, dtype=np.float64)
    below = (1.0 + 0.2 * ratio) * 5.14 * clay_strength
    tangent = np.tan(np.deg2rad(np.asarray(friction_angle, dtype=np.float64)))
    lever = stone_thickness * (stone_thickness + 2.0 * np.asarray(embedment, dtype=np.float64))
    shear = (1.0 + ratio) * unit_weight * lever * punching_coefficient * tangent / width
    alone = bearing_resistance_drained(friction_angle, 0.0, overburden, unit_weight, width, length)
    return np.asarray(np.minimum(below + overburden + shear, alone))


def crust_punching_meyerhof_hanna(
    crust_strength: FloatLike,
    clay_strength: FloatLike,
    adhesion: FloatLike,
    crust_thickness: FloatLike,
    overburden: FloatLike,
    width: FloatLike,
    length: FloatLike,
) -> Floats:
    """Pressure at which a rectangular load punches through a stiff cohesive crust into soft clay.

    Parameters
    ----------
    crust_strength : array-like
        Undrained shear strength of the crust. [Pa]
    clay_strength : array-like
        Undrained shear strength of the clay below it. [Pa]
    adhesion : array-like
        Shear stress on the sides of the plug, 0.6 to 1 of the crust strength. [Pa]
    crust_thickness : array-like
        Thickness of crust under the load. [m]
    overburden : array-like
        Overburden pressure beside the load at its level. [Pa]
    width : array-like
        Width of the load, the shorter side. [m]
    length : array-like
        Length of the load; infinite for a strip. [m]

    Returns
    -------
    resistance : array-like
        Failure pressure. [Pa]

    Notes
    -----
    q = (1 + 0.2 B/L) 5.14 c₂ + (1 + B/L) 2 c_a H / B + p, no more than (1 + 0.2 B/L) 5.14 c₁ + p; c₁ crust,
    c₂ clay strength, c_a adhesion, H crust thickness, p overburden, B width, L length. A cracked crust
    loses the middle term.

    References
    ----------
    meyerhof_hanna_1978 [M]
    """
    ratio = np.asarray(width, dtype=np.float64) / np.asarray(length, dtype=np.float64)
    shape = (1.0 + 0.2 * ratio) * 5.14
    through = shape * clay_strength + (1.0 + ratio) * 2.0 * adhesion * crust_thickness / width
    return np.asarray(np.minimum(through, shape * crust_strength) + overburden)


def cone_capacity(
    radius: FloatLike,
    thickness: FloatLike,
    undrained_strength: FloatLike,
    bearing_factor: FloatLike,
    spread: FloatLike,
) -> Floats:
    """Circular load that fails the clay below a layer through which it spreads as a cone.

    Parameters
    ----------
    radius : array-like
        Contact radius at the surface. [m]
    thickness : array-like
        Thickness of the spreading layer. [m]
    undrained_strength : array-like
        Undrained shear strength of the clay. [Pa]
    bearing_factor : array-like
        Bearing factor times shape factor, 1.2 (π + 2) for a circle. [-]
    spread : array-like
        Tangent of the cone against the vertical: 0.5 is the 2:1 rule, 1 is 45°. [-]

    Returns
    -------
    capacity : array-like
        Load at failure of the clay. [N]

    Notes
    -----
    P = π (a + t h)² N c_u; a radius, h thickness, t spread, N bearing factor, c_u strength. The cone gives
    the average stress on the clay; the elastic peak is higher under thin layers, and 45° is earned by bound
    layers only.

    References
    ----------
    from_memory, cone method for a working surface on clay [M]
    """
    spread_radius = radius + spread * np.asarray(thickness, dtype=np.float64)
    return np.asarray(np.pi * np.square(spread_radius) * bearing_factor * undrained_strength)
