"""Freezing of uniform ground after a step of surface temperature: the exact solution."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.special import erf, erfc, erfcx

from earthfast.estimate import FloatLike, Floats
from earthfast.frost.front import front_root


@dataclass(frozen=True, slots=True)
class NeumannFreezing:
    """Everything the exact solution says at one time.

    Attributes
    ----------
    root : front depth over 2 sqrt(frozen diffusivity x time).
    depth : depth of the freezing front, m.
    front_speed : speed of the front, m/s.
    surface_flux : heat leaving the surface, W/m².
    heat_loss : heat that has left the surface, J/m².
    frozen_gradient : temperature gradient on the frozen side of the front, K/m.
    unfrozen_gradient : temperature gradient on the unfrozen side of the front, K/m.
    """

    root: Floats
    depth: Floats
    front_speed: Floats
    surface_flux: Floats
    heat_loss: Floats
    frozen_gradient: Floats
    unfrozen_gradient: Floats


def neumann_freezing(
    frozen_conductivity: FloatLike,
    unfrozen_conductivity: FloatLike,
    frozen_capacity: FloatLike,
    unfrozen_capacity: FloatLike,
    latent_heat: FloatLike,
    surface_temperature: FloatLike,
    initial_temperature: FloatLike,
    freezing_point: FloatLike,
    time: FloatLike,
) -> NeumannFreezing:
    """Exact freezing of a half-space whose surface is suddenly held below the freezing point.

    Parameters
    ----------
    frozen_conductivity : array-like
        Conductivity of the frozen ground. [W/(m·K)]
    unfrozen_conductivity : array-like
        Conductivity of the unfrozen ground. [W/(m·K)]
    frozen_capacity : array-like
        Volumetric heat capacity of the frozen ground. [J/(m³·K)]
    unfrozen_capacity : array-like
        Volumetric heat capacity of the unfrozen ground. [J/(m³·K)]
    latent_heat : array-like
        Volumetric latent heat. [J/m³]
    surface_temperature : array-like
        Surface temperature from time 0 on, below the freezing point. [°C]
    initial_temperature : array-like
        Ground temperature at time 0, at or above the freezing point. [°C]
    freezing_point : array-like
        Freezing temperature of the ground's water. [°C]
    time : array-like
        Time since the step. [s]

    Returns
    -------
    solution : NeumannFreezing
        Front depth and speed, fluxes and gradients. [-]

    Notes
    -----
    X = 2 x sqrt(a_f t), with x the root of exp(-x²)/erf(x) - (k_u/k_f) r (T_i-T_f)/(T_f-T_s)
    exp(-r²x²)/erfc(r x) = x L sqrt(pi)/(C_f (T_f-T_s)) and r = sqrt(a_f/a_u); surface loss k_f
    (T_f-T_s)/(erf(x) sqrt(pi a_f t)), total 2 t times that. k conductivity, C capacity, a = k/C, L latent
    heat, subscripts f frozen, u unfrozen, s surface, i initial. Uniform ground, no water movement, one
    sharp freezing point.

    References
    ----------
    carslaw_jaeger_1959, chapter XI [M]
    definition, interface heat balance to 1e-14 W/m² [C]
    """
    k_f = np.asarray(frozen_conductivity, float)
    step = np.asarray(freezing_point, float) - surface_temperature
    above = np.asarray(initial_temperature, float) - freezing_point
    t = np.asarray(time, float)
    a_f = k_f / frozen_capacity
    a_u = np.asarray(unfrozen_conductivity, float) / unfrozen_capacity
    r = np.sqrt(a_f / a_u)
    x = front_root(unfrozen_conductivity / k_f * r * above / step, r, latent_heat / (frozen_capacity * step))
    spread = np.sqrt(np.pi * a_f * t)
    flux = k_f * step / (erf(x) * spread)
    return NeumannFreezing(
        root=x,
        depth=np.asarray(2.0 * x * np.sqrt(a_f * t)),
        front_speed=np.asarray(x * np.sqrt(a_f / t)),
        surface_flux=np.asarray(flux),
        heat_loss=np.asarray(2.0 * flux * t),
        frozen_gradient=np.asarray(step * np.exp(-x * x) / (erf(x) * spread)),
        unfrozen_gradient=np.asarray(above / (erfcx(r * x) * np.sqrt(np.pi * a_u * t))),
    )


def neumann_temperature(
    depth: FloatLike,
    frozen_conductivity: FloatLike,
    unfrozen_conductivity: FloatLike,
    frozen_capacity: FloatLike,
    unfrozen_capacity: FloatLike,
    latent_heat: FloatLike,
    surface_temperature: FloatLike,
    initial_temperature: FloatLike,
    freezing_point: FloatLike,
    time: FloatLike,
) -> Floats:
    """Exact temperature in a half-space whose surface is suddenly held below the freezing point.

    Parameters
    ----------
    depth : array-like
        Depth below the surface. [m]
    frozen_conductivity : array-like
        Conductivity of the frozen ground. [W/(m·K)]
    unfrozen_conductivity : array-like
        Conductivity of the unfrozen ground. [W/(m·K)]
    frozen_capacity : array-like
        Volumetric heat capacity of the frozen ground. [J/(m³·K)]
    unfrozen_capacity : array-like
        Volumetric heat capacity of the unfrozen ground. [J/(m³·K)]
    latent_heat : array-like
        Volumetric latent heat. [J/m³]
    surface_temperature : array-like
        Surface temperature from time 0 on, below the freezing point. [°C]
    initial_temperature : array-like
        Ground temperature at time 0, at or above the freezing point. [°C]
    freezing_point : array-like
        Freezing temperature of the ground's water. [°C]
    time : array-like
        Time since the step. [s]

    Returns
    -------
    temperature : ndarray
        Temperature at that depth and time. [°C]

    Notes
    -----
    Above the front T = T_s + (T_f-T_s) erf(z/(2 sqrt(a_f t)))/erf(x); below it T = T_i - (T_i-T_f)
    erfc(z/(2 sqrt(a_u t)))/erfc(r x). Symbols as in `neumann_freezing`.

    References
    ----------
    carslaw_jaeger_1959, chapter XI [M]
    definition, interface heat balance to 1e-14 W/m² [C]
    """
    solution = neumann_freezing(
        frozen_conductivity,
        unfrozen_conductivity,
        frozen_capacity,
        unfrozen_capacity,
        latent_heat,
        surface_temperature,
        initial_temperature,
        freezing_point,
        time,
    )
    z, t = np.asarray(depth, float), np.asarray(time, float)
    a_f = np.asarray(frozen_conductivity, float) / frozen_capacity
    a_u = np.asarray(unfrozen_conductivity, float) / unfrozen_capacity
    step = np.asarray(freezing_point, float) - surface_temperature
    above = np.asarray(initial_temperature, float) - freezing_point
    front = np.sqrt(a_f / a_u) * solution.root
    frozen = surface_temperature + step * erf(0.5 * z / np.sqrt(a_f * t)) / erf(solution.root)
    unfrozen = initial_temperature - above * erfc(0.5 * z / np.sqrt(a_u * t)) / erfc(front)
    return np.asarray(np.where(z <= solution.depth, frozen, unfrozen))
