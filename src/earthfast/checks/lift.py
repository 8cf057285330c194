"""Lift of the surface by frost: water drawn to the front, pore water, what treatment leaves, and how uneven it is."""

from __future__ import annotations

import numpy as np

from earthfast.estimate import FloatLike, Floats
from earthfast.frost import (
    coupled_front_gradient,
    in_place_heave,
    segregation_heave,
    segregation_potential_under,
)
from earthfast.frost.heave import EXPANSION
from earthfast.frost.rules import HEAVE_FREE_STRENGTH
from earthfast.ground.stratum_draws import GRAIN_DENSITY_RATIO
from earthfast.sources.constants import WATER_DENSITY

OVERBURDEN_SENSITIVITY = 6.0e-6  # 1/Pa


def frost_heave(
    ground_gradient: FloatLike,
    treated_gradient: FloatLike,
    treated_share: FloatLike,
    segregation_potential: FloatLike,
    frozen_conductivity: FloatLike,
    overburden: FloatLike,
    pore_lift: FloatLike,
    supply: FloatLike,
) -> Floats:
    """Lift of the surface by one winter.

    Parameters
    ----------
    ground_gradient : array-like
        Time integral of the temperature gradient at the front while it stood in natural ground. [K·s/m]
    treated_gradient : array-like
        The same while it stood in treated soil. [K·s/m]
    treated_share : array-like
        Susceptibility left in the treated soil. [-]
    segregation_potential : array-like
        Water drawn to the front per gradient, without overburden. [m²/(K·s)]
    frozen_conductivity : array-like
        Of the frozen ground. [W/(m·K)]
    overburden : array-like
        Weight on formation. [Pa]
    pore_lift : array-like
        Lift by pore water that freezes where it is. [m]
    supply : array-like
        Share of the water it would draw that reaches the front. [-]

    Returns
    -------
    heave : array-like
        Lift of the surface. [m]

    Notes
    -----
    h = 1.09 SP (G_g + s G_t)/(1 − 334·10⁶ SP/k_f) + h_p with SP = w SP₀ exp(−a σ), a 6 per MPa; G_g, G_t, s, SP₀, k_f, σ, h_p, w
    in the order of the arguments. G comes from heat flow through each winter without intake; the bracket allows for the heat of
    the water drawn in at equal frozen thickness, which errs towards more heave.

    References
    ----------
    konrad_morgenstern_1981, segregation potential [S]
    earthfast_proposal, allowance for the heat of the water drawn in [P]
    """
    loaded = segregation_potential_under(segregation_potential, OVERBURDEN_SENSITIVITY, overburden)
    potential = np.asarray(supply) * loaded
    gradient = np.asarray(ground_gradient) + np.asarray(treated_share) * treated_gradient
    coupled = coupled_front_gradient(gradient, potential, frozen_conductivity)
    return np.asarray(segregation_heave(potential, coupled) + pore_lift)


def water_supply(water_depth: FloatLike, front_depth: FloatLike, capillary_rise: FloatLike) -> Floats:
    """Share of the water it would draw that reaches a freezing front.

    Parameters
    ----------
    water_depth : array-like
        Depth of the highest seasonal water below the surface. [m]
    front_depth : array-like
        Depth of the front. [m]
    capillary_rise : array-like
        Height to which water climbs in the ground. [m]

    Returns
    -------
    share : array-like
        1 where the front stands in water, 0 where it is out of reach. [-]

    Notes
    -----
    s = 1 − max(W − X, 0)/h, at least 0, W, X and h in the order of the arguments: suction at the front less what it takes to lift
    the water. Clay reaches so far that it hardly counts there; clean sand well above water is fed nothing.

    References
    ----------
    earthfast_proposal, straight line over the capillary rise [P]
    """
    height = np.maximum(np.asarray(water_depth) - front_depth, 0.0)
    return np.asarray(np.clip(1.0 - height / np.asarray(capillary_rise), 0.0, 1.0))


def pore_lift(
    frozen_thickness: FloatLike, dry_density: FloatLike, water_content: FloatLike, drains: FloatLike
) -> Floats:
    """Lift by pore water that freezes where it is, as far as the pores have no room for it.

    Parameters
    ----------
    frozen_thickness : array-like
        Thickness of natural ground frozen. [m]
    dry_density : array-like
        Dry density. [kg/m³]
    water_content : array-like
        Water by dry mass. [-]
    drains : array-like
        1 where the ground lets its water go as it freezes, else 0. [-]

    Returns
    -------
    lift : array-like
        Lift of the surface. [m]

    Notes
    -----
    h = n (1.09 S − 1) X where that is above 0 and the ground does not drain: n = 1 − ρ_d/2680, S = ρ_d w/(1000 n) at most 1. Up
    to a saturation of 0.92 the ice finds room.

    References
    ----------
    definition, expansion of water on freezing into the air voids [C]
    """
    porosity = 1.0 - np.asarray(dry_density) / (GRAIN_DENSITY_RATIO * WATER_DENSITY)
    saturation = np.minimum(np.asarray(dry_density) * water_content / (WATER_DENSITY * porosity), 1.0)
    surplus = np.maximum(EXPANSION * saturation - 1.0, 0.0) / (EXPANSION - 1.0)
    held = np.where(np.asarray(drains) > 0.0, 0.0, surplus)
    return np.asarray(in_place_heave(porosity * held, frozen_thickness))


def susceptibility_left(compressive_strength: FloatLike) -> Floats:
    """Share of its frost susceptibility that treated soil keeps.

    Parameters
    ----------
    compressive_strength : array-like
        Unconfined compressive strength, soaked. [Pa]

    Returns
    -------
    share : array-like
        1 for untreated soil, 0 from 2 MPa. [-]

    Notes
    -----
    s = max(0, 1 − q/2 MPa), q the strength. Bound mixtures show no measurable heave above 2 MPa; the line below is ours.

    References
    ----------
    uk_bound_mixture_frost_note, no heave above 2 MPa [S]
    earthfast_proposal, straight line below [P]
    """
    return np.clip(1.0 - np.asarray(compressive_strength) / HEAVE_FREE_STRENGTH, 0.0, 1.0)


def uneven_lift(heave: FloatLike, share: FloatLike, at_verge: FloatLike, in_shade: FloatLike) -> Floats:
    """Largest difference of lift between neighbouring places.

    Parameters
    ----------
    heave : array-like
        Lift in the open, away from edges. [m]
    share : array-like
        Share of it that a place 3 m away does not have. [-]
    at_verge : array-like
        Lift at the edge, where the cover of the verge keeps some of the cold out. [m]
    in_shade : array-like
        Lift in the shade of a building or trees. [m]

    Returns
    -------
    difference : array-like
        Difference over about 3 m. [m]

    Notes
    -----
    d = max(s h, h − h_v, h_s − h), with h, s, h_v, h_s in the order of the arguments: what the ground makes of it over 3 m,
    or the edge, or the shade.

    References
    ----------
    earthfast_proposal, edge and shade by their surface factors [P]
    """
    return np.asarray(np.max(differences(heave, share, at_verge, in_shade), axis=0))


def differences(heave: FloatLike, share: FloatLike, at_verge: FloatLike, in_shade: FloatLike) -> Floats:
    """Unevenness by its three causes, over 3 m, at the edge and in the shade, on the first axis, m."""
    lift = np.asarray(heave)
    return np.stack(np.broadcast_arrays(np.asarray(share) * lift, lift - at_verge, in_shade - lift))


def whole_lift_stood(total: FloatLike, at_wall: FloatLike, meets_wall: FloatLike) -> Floats:
    """Lift as a whole that a surface stands.

    Parameters
    ----------
    total : array-like
        What it stands in the open. [m]
    at_wall : array-like
        What it stands at a threshold or against a building. [m]
    meets_wall : array-like
        1 where it meets one. [-]

    Returns
    -------
    lift : array-like
        Lift stood. [m]

    Notes
    -----
    The second where it meets a wall, else the first: even lift hurts doors, gullies and damp courses, not the paving.

    References
    ----------
    earthfast_proposal, working limits 25 and 15 mm [P]
    """
    return np.where(np.asarray(meets_wall) > 0.0, at_wall, total)
