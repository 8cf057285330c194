"""Grains falling through water: what the marks on a jar divide."""

from __future__ import annotations

import numpy as np
from scipy.constants import g

from earthfast.estimate import FloatLike, Floats

GRAIN_DENSITY = 2650.0
# Viscosity and density of water against temperature, from memory of standard tables (20 °C: 1.002 mPa·s).
TEMPERATURES = (0.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0)
VISCOSITIES = (1.792e-3, 1.519e-3, 1.307e-3, 1.138e-3, 1.002e-3, 0.890e-3, 0.798e-3, 0.719e-3, 0.653e-3)
DENSITIES = (999.8, 1000.0, 999.7, 999.1, 998.2, 997.0, 995.7, 994.0, 992.2)


def _fall_factor(temperature: FloatLike) -> Floats:
    viscosity = np.exp(np.interp(temperature, TEMPERATURES, np.log(VISCOSITIES)))
    density = np.interp(temperature, TEMPERATURES, DENSITIES)
    return np.asarray((GRAIN_DENSITY - density) * g / (18.0 * viscosity))


def settling_time(size: FloatLike, depth: FloatLike, temperature: FloatLike = 20.0) -> Floats:
    """Time for grains of one size to fall through still water.

    Parameters
    ----------
    size : array-like
        Grain diameter. [m]
    depth : array-like
        Height fallen. [m]
    temperature : array-like
        Temperature of the water. [°C]

    Returns
    -------
    time : array-like
        [s]

    Notes
    -----
    t = h / v, v = (rho_s - rho_w) g d² / (18 eta): Stokes' law for spheres of 2650 kg/m³, dispersed, not
    hindering one another; valid below about 60 µm. Viscosity and density of water are interpolated in
    temperature between 0 and 40 °C.

    References
    ----------
    definition, Stokes' law [C]
    from_memory, viscosity of water [M]
    """
    return np.asarray(np.asarray(depth) / (_fall_factor(temperature) * np.asarray(size) ** 2))


def settled_grain_size(depth: FloatLike, time: FloatLike, temperature: FloatLike = 20.0) -> Floats:
    """Size of the smallest grains that have all settled after a time.

    Parameters
    ----------
    depth : array-like
        Height of the water column. [m]
    time : array-like
        Time since the shaking stopped. [s]
    temperature : array-like
        Temperature of the water. [°C]

    Returns
    -------
    size : array-like
        Grain diameter. [m]

    Notes
    -----
    d = sqrt(18 eta h / ((rho_s - rho_w) g t)), the inverse of Stokes' law; valid below about 60 µm. The usual
    two-hour mark in 150 mm divides at about 5 µm, not 2 µm.

    References
    ----------
    definition, Stokes' law [C]
    from_memory, viscosity of water [M]
    """
    return np.asarray(np.sqrt(np.asarray(depth) / (_fall_factor(temperature) * np.asarray(time))))
