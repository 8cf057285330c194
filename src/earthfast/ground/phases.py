"""Grains, water and air: how densities, water and voids hang together."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from earthfast.estimate import FloatLike, Floats
from earthfast.sources.constants import WATER_DENSITY


@dataclass(frozen=True, slots=True)
class Phases:
    """Volumes and densities of a soil.

    Attributes
    ----------
    dry_density : kg/m³.
    void_ratio : voids over grains by volume, -.
    porosity : voids over the whole, -.
    saturation : water over voids, -; above 1 the data are impossible.
    air : air over the whole, -.
    """

    dry_density: Floats
    void_ratio: Floats
    porosity: Floats
    saturation: Floats
    air: Floats


def phases_of(
    bulk_density: FloatLike, water_content: FloatLike, grain_density_ratio: FloatLike = 2.68
) -> Phases:
    """Dry density, voids and saturation from bulk density and water content.

    Parameters
    ----------
    bulk_density : array-like
        Mass of soil and water over volume. [kg/m³]
    water_content : array-like
        Mass of water over mass of dry soil. [-]
    grain_density_ratio : array-like
        Density of the grains over that of water. [-]

    Returns
    -------
    phases : Phases
        Dry density in kg/m³; void ratio, porosity, saturation and air as ratios.

    Notes
    -----
    rho_d = rho / (1 + w); e = Gs rho_w / rho_d - 1; n = e / (1 + e); S = w Gs / e; air = n (1 - S).
    Saturation above 1 means that mass, volume, water or grain density is wrong.

    References
    ----------
    definition, volumes of grains, water and air [C]
    """
    water, ratio = np.asarray(water_content, dtype=np.float64), np.asarray(grain_density_ratio)
    dry = np.asarray(bulk_density) / (1.0 + water)
    voids = ratio * WATER_DENSITY / dry - 1.0
    porosity = voids / (1.0 + voids)
    saturation = water * ratio / voids
    return Phases(
        np.asarray(dry),
        np.asarray(voids),
        np.asarray(porosity),
        np.asarray(saturation),
        np.asarray(porosity * (1.0 - saturation)),
    )


def saturated_water_content(void_ratio: FloatLike, grain_density_ratio: FloatLike = 2.68) -> Floats:
    """Water content that fills all voids.

    Parameters
    ----------
    void_ratio : array-like
        Voids over grains by volume. [-]
    grain_density_ratio : array-like
        Density of the grains over that of water. [-]

    Returns
    -------
    water_content : array-like
        [-]

    Notes
    -----
    w = e / Gs.

    References
    ----------
    definition, volumes of grains and water [C]
    """
    return np.asarray(np.asarray(void_ratio) / np.asarray(grain_density_ratio))


def bulked_volume(bank_volume: FloatLike, swell: FloatLike) -> Floats:
    """Loose volume of soil that was dug, for carting.

    Parameters
    ----------
    bank_volume : array-like
        Volume in the ground. [m³]
    swell : array-like
        Swell as a fraction of the bank volume. [-]

    Returns
    -------
    loose_volume : array-like
        [m³]

    Notes
    -----
    V_loose = V_bank (1 + swell).

    References
    ----------
    us_federal_lands_design_manual, swell factor [S]
    """
    return np.asarray(np.asarray(bank_volume) * (1.0 + np.asarray(swell)))


def compacted_volume(bank_volume: FloatLike, shrink: FloatLike) -> Floats:
    """Volume that dug soil fills once compacted, with the shrink stated on the compacted volume.

    Parameters
    ----------
    bank_volume : array-like
        Volume in the ground. [m³]
    shrink : array-like
        Shrink as a fraction of the compacted volume. [-]

    Returns
    -------
    compacted_volume : array-like
        [m³]

    Notes
    -----
    V = V_bank / (1 + shrink): 25 % gives 0.80. Other authors use 1 - shrink (0.75); say which.

    References
    ----------
    us_federal_lands_design_manual, shrink factor [S]
    """
    return np.asarray(np.asarray(bank_volume) / (1.0 + np.asarray(shrink)))
