"""Yearly and daily temperature waves in the ground, without freezing."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from earthfast.estimate import FloatLike, Floats


def damping_depth(conductivity: FloatLike, heat_capacity: FloatLike, period: FloatLike) -> Floats:
    """Depth at which a temperature wave has fallen to 1/e of its surface amplitude.

    Parameters
    ----------
    conductivity : array-like
        Thermal conductivity. [W/(m·K)]
    heat_capacity : array-like
        Volumetric heat capacity. [J/(m³·K)]
    period : array-like
        Period of the wave. [s]

    Returns
    -------
    depth : ndarray
        Damping depth. [m]

    Notes
    -----
    D = sqrt(a P/pi), a = k/C, P the period. A daily wave is down to 37 percent at about 150 mm and a
    yearly one still 68 percent at 1 m: freeze-thaw cycling belongs to the top 100 to 200 mm, winter heave
    to the top 1 to 2 m.

    References
    ----------
    carslaw_jaeger_1959, periodic surface temperature [M]
    definition, solution of the conduction equation [C]
    """
    diffusivity = np.asarray(conductivity, float) / heat_capacity
    return np.asarray(np.sqrt(diffusivity * period / np.pi))


def wave_amplitude(surface_amplitude: FloatLike, depth: FloatLike, damping: FloatLike) -> Floats:
    """Amplitude of a temperature wave at a depth in uniform ground.

    Parameters
    ----------
    surface_amplitude : array-like
        Amplitude at the surface. [K]
    depth : array-like
        Depth below the surface. [m]
    damping : array-like
        Damping depth. [m]

    Returns
    -------
    amplitude : ndarray
        Amplitude at the depth. [K]

    Notes
    -----
    A(z) = A exp(-z/D), with D of `damping_depth`.

    References
    ----------
    definition, solution of the conduction equation [C]
    """
    return np.asarray(np.asarray(surface_amplitude, float) * np.exp(-np.asarray(depth, float) / damping))


def wave_lag(depth: FloatLike, damping: FloatLike, period: FloatLike) -> Floats:
    """Delay of a temperature wave at a depth in uniform ground.

    Parameters
    ----------
    depth : array-like
        Depth below the surface. [m]
    damping : array-like
        Damping depth. [m]
    period : array-like
        Period of the wave. [s]

    Returns
    -------
    lag : ndarray
        Time behind the surface. [s]

    Notes
    -----
    lag = z P/(2 pi D), with D of `damping_depth` and P the period.

    References
    ----------
    definition, solution of the conduction equation [C]
    """
    return np.asarray(np.asarray(depth, float) * period / (2.0 * np.pi * np.asarray(damping, float)))


def layered_wave(
    depth: Floats, thickness: Floats, conductivity: Floats, heat_capacity: Floats, period: float
) -> npt.NDArray[np.complex128]:
    """Temperature wave in a layered column, as a complex ratio to the surface wave.

    Parameters
    ----------
    depth : ndarray
        Depths below the surface along the last axis. [m]
    thickness : ndarray
        Layer thicknesses, top down along the last axis; the last layer goes on for ever. [m]
    conductivity : ndarray
        Thermal conductivity of each layer. [W/(m·K)]
    heat_capacity : ndarray
        Volumetric heat capacity of each layer. [J/(m³·K)]
    period : float
        Period of the wave. [s]

    Returns
    -------
    ratio : ndarray
        Complex ratio: modulus is the amplitude ratio, minus the phase angle is the lag. [-]

    Notes
    -----
    With g = (1+i) sqrt(w C/(2 k)) in each layer, start from the admittance k g of the ground below and
    step up by Y = k g (Y' + k g tanh(g d))/(k g + Y' tanh(g d)); going down, T(s) = T_top (cosh(g s) -
    (Y/(k g)) sinh(g s)), with d the thickness of the layer and s the depth below its top. No phase
    change.

    References
    ----------
    definition, solution of the conduction equation in layers [C]
    """
    z, d, k, c = (np.asarray(x, float) for x in (depth, thickness, conductivity, heat_capacity))
    layers = d.shape[-1]
    g = (1.0 + 1.0j) * np.sqrt(np.pi * c / (k * period))
    admittance = [k[..., -1] * g[..., -1]]
    for j in range(layers - 2, -1, -1):
        kg, through = k[..., j] * g[..., j], np.tanh(g[..., j] * d[..., j])
        admittance.insert(0, kg * (admittance[0] + kg * through) / (kg + admittance[0] * through))
    top = np.zeros(d.shape[:-1])
    at_top = np.ones(d.shape[:-1], complex)
    ratio = np.ones(np.broadcast_shapes(z.shape, (*top.shape, 1)), complex)
    for j in range(layers):
        inside = z - top[..., None]
        if j == layers - 1:
            below = at_top[..., None] * np.exp(-g[..., j, None] * np.maximum(inside, 0.0))
        else:
            share = admittance[j] / (k[..., j] * g[..., j])
            wave = g[..., j, None] * np.clip(inside, 0.0, d[..., j, None])
            below = at_top[..., None] * (np.cosh(wave) - share[..., None] * np.sinh(wave))
            end = g[..., j] * d[..., j]
            at_top = at_top * (np.cosh(end) - share * np.sinh(end))
            top = top + d[..., j]
        ratio = np.where(inside >= 0.0, below, ratio)
    return np.asarray(ratio)
