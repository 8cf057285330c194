"""Frost depth by Stefan: all the cold goes into freezing water."""

from __future__ import annotations

import numpy as np

from earthfast.estimate import FloatLike, Floats


def frost_depth_stefan(
    freezing_index: FloatLike, conductivity: FloatLike, volumetric_latent_heat: FloatLike
) -> Floats:
    """Depth of the freezing front after a cold spell, neglecting sensible heat.

    Parameters
    ----------
    freezing_index : array-like
        Time integral of surface temperature below freezing. [K·s]
    conductivity : array-like
        Conductivity of the frozen ground. [W/(m·K)]
    volumetric_latent_heat : array-like
        Latent heat of the ground's water. [J/m³]

    Returns
    -------
    depth : ndarray
        Depth below the surface. [m]

    Notes
    -----
    X = sqrt(2 k I/L), with I, k, L the index, conductivity and latent heat. Upper bound for given k and
    L: the ground is taken to start at the freezing point and its heat capacity is left out.

    References
    ----------
    handy_spangler_2007, example 11.7 [S]
    """
    return np.sqrt(2.0 * np.asarray(conductivity, float) * freezing_index / volumetric_latent_heat)


def frost_depth_stefan_layered(
    freezing_index: FloatLike, thickness: Floats, conductivity: Floats, volumetric_latent_heat: Floats
) -> Floats:
    """Depth of the freezing front in a layered column, neglecting sensible heat.

    Parameters
    ----------
    freezing_index : array-like
        Time integral of surface temperature below freezing. [K·s]
    thickness : ndarray
        Layer thicknesses, top down along the last axis; the last layer goes on for ever. [m]
    conductivity : ndarray
        Conductivity of the frozen layers. [W/(m·K)]
    volumetric_latent_heat : ndarray
        Latent heat of the layers, above 0 in the last. [J/m³]

    Returns
    -------
    depth : ndarray
        Depth below the surface. [m]

    Notes
    -----
    Freezing layer j uses I_j = L_j d_j (sum of R above + R_j/2), with R = d/k; in the layer where the
    index runs out the part thickness x solves L x (R_above + x/(2 k)) = the index left.

    References
    ----------
    definition, quasi-steady heat balance of layers [C]
    """
    index = np.asarray(freezing_index, float)
    d, k, latent = np.broadcast_arrays(thickness, conductivity, volumetric_latent_heat)
    depth = np.zeros(np.broadcast_shapes(index.shape, d.shape[:-1]))
    left = np.broadcast_to(index, depth.shape)
    above = np.zeros(depth.shape)
    frozen = left > 0.0
    for j in range(d.shape[-1]):
        part = part_frozen(left, above, k[..., j], latent[..., j])
        if j < d.shape[-1] - 1:
            part = np.minimum(part, d[..., j])
        depth = depth + np.where(frozen, part, 0.0)
        used = latent[..., j] * part * (above + 0.5 * part / k[..., j])
        frozen = frozen & (part >= d[..., j])
        left = np.maximum(left - used, 0.0)
        above = above + d[..., j] / k[..., j]
    return np.asarray(depth)


def part_frozen(index_left: Floats, resistance: Floats, conductivity: Floats, latent: Floats) -> Floats:
    """Thickness of a layer that the remaining index freezes below a thermal resistance; unbounded if dry."""
    behind = conductivity * resistance
    twice = 2.0 * conductivity * index_left
    shape = np.broadcast_shapes(behind.shape, twice.shape, np.shape(latent))
    wet = (np.asarray(latent) > 0.0) & (twice > 0.0)
    square = np.divide(twice, latent, out=np.ones(shape), where=wet)
    # written so that a thin part under a thick cover keeps its digits
    part = square / (behind + np.sqrt(behind * behind + square))
    return np.asarray(np.where(wet, part, np.where(twice > 0.0, np.inf, 0.0)))
