"""How much the ground heaves: segregation potential, carried by the freezing front through the winter."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from earthfast.estimate import Estimate, FloatLike, Floats, lognormal_from_band
from earthfast.frost.periods import DAY
from earthfast.frost.susceptibility import FrostGroup
from earthfast.sources import read_table
from earthfast.sources.constants import WATER_DENSITY

EXPANSION = 1.09  # volume of ice over volume of water
LATENT_HEAT_INTAKE = 334e6  # J/m³ of water taken in, as the front balance of the source has it


@dataclass(frozen=True, slots=True)
class SegregationRow:
    """Prior of the segregation potential of one frost group: 5..95 % band, mm²/(K·day)."""

    group: str
    low: float
    high: float


def segregation_potential_prior(group: FrostGroup) -> Estimate:
    """Segregation potential to expect of a soil known only by its frost group.

    Parameters
    ----------
    group : FrostGroup
        US frost group. [-]

    Returns
    -------
    potential : Estimate
        Segregation potential without overburden. [m²/(K·s)]

    Notes
    -----
    Bands in mm²/(K·day): NFS 0 to 5 (0.5 to 5 here, a lognormal having no zero), PFS and S1 as their
    neighbours, F1 5 to 15, F2 10 to 35, F3 20 to 70, F4 50 to 150, taken as 5 to 95 percent. One
    laboratory silt gave 52 to 121; classes of one committee are negligible below 12, low to 36, medium to
    72, strong above. Grain size finds susceptible soils but ranks them poorly: the band is wide on
    purpose.

    References
    ----------
    earthfast_proposal, bands by frost group [P]
    konrad_morgenstern_1981, tables 1 and 2, quoted at second hand [S]
    """
    rows: tuple[SegregationRow, ...] = read_table("segregation_potential", SegregationRow).rows
    row = next(row for row in rows if row.group == group)
    unit = 1e-6 / DAY
    return lognormal_from_band(row.low * unit, row.high * unit)


def segregation_potential_under(
    potential: FloatLike, sensitivity: FloatLike, overburden: FloatLike
) -> Floats:
    """Segregation potential under overburden.

    Parameters
    ----------
    potential : array-like
        Segregation potential without overburden. [m²/(K·s)]
    sensitivity : array-like
        Soil constant, 1e-6 to 20e-6. [1/Pa]
    overburden : array-like
        Vertical stress at the freezing front. [Pa]

    Returns
    -------
    potential : ndarray
        Segregation potential at that stress. [m²/(K·s)]

    Notes
    -----
    SP = SP0 exp(-a sigma). Under light paving, 10 to 20 kPa, the effect is small.

    References
    ----------
    konrad_morgenstern_1981, overburden; form and range recalled [M]
    """
    return np.asarray(np.asarray(potential, float) * np.exp(-np.asarray(sensitivity, float) * overburden))


def segregation_heave(potential: FloatLike, front_gradient: FloatLike) -> Floats:
    """Heave by water drawn to the freezing front.

    Parameters
    ----------
    potential : array-like
        Segregation potential of the soil at the front. [m²/(K·s)]
    front_gradient : array-like
        Time integral of the gradient on the frozen side of the front. [K·s/m]

    Returns
    -------
    heave : ndarray
        Heave. [m]

    Notes
    -----
    h = 1.09 SP G, with G the integral that `frozen_winters` gives. Uncoupled: the heat of the water drawn
    in is left out, which F-28's closed form puts at a few percent for SP 25 and a third for SP 120
    mm²/(K·day); see `segregation_heave_ratio`.

    References
    ----------
    konrad_morgenstern_1981, segregation potential; form recalled [M]
    """
    return np.asarray(EXPANSION * np.asarray(potential, float) * front_gradient)


def segregation_heave_ratio(
    potential: FloatLike, volumetric_latent_heat: FloatLike, frozen_conductivity: FloatLike
) -> Floats:
    """Segregation heave over frozen thickness when no heat comes from below, coupled.

    Parameters
    ----------
    potential : array-like
        Segregation potential. [m²/(K·s)]
    volumetric_latent_heat : array-like
        Latent heat of the water in place. [J/m³]
    frozen_conductivity : array-like
        Conductivity of the frozen soil. [W/(m·K)]

    Returns
    -------
    ratio : ndarray
        Heave over frozen thickness. [-]

    Notes
    -----
    1.09 SP L/(k_f - 334e6 SP), whatever the temperature was: from k_f grad T = L dX/dt + 334e6 SP grad T.
    A lower bound, since heat from the ground slows the front and gives ice more time to grow.

    References
    ----------
    saarelainen_1992, heat balance at the front; form recalled [M]
    definition, closed form of that balance [C]
    """
    sp = np.asarray(potential, float)
    return np.asarray(
        EXPANSION * sp * volumetric_latent_heat / (frozen_conductivity - LATENT_HEAT_INTAKE * sp)
    )


def segregation_heave_ratio_uncoupled(
    potential: FloatLike, volumetric_latent_heat: FloatLike, frozen_conductivity: FloatLike
) -> Floats:
    """Segregation heave over frozen thickness when no heat comes from below, uncoupled.

    Parameters
    ----------
    potential : array-like
        Segregation potential. [m²/(K·s)]
    volumetric_latent_heat : array-like
        Latent heat of the water in place. [J/m³]
    frozen_conductivity : array-like
        Conductivity of the frozen soil. [W/(m·K)]

    Returns
    -------
    ratio : ndarray
        Heave over frozen thickness. [-]

    Notes
    -----
    1.09 SP L/k_f: the heat of the water drawn in is left out of the balance.

    References
    ----------
    definition, closed form of the balance at the front [C]
    """
    sp = np.asarray(potential, float)
    return np.asarray(EXPANSION * sp * volumetric_latent_heat / frozen_conductivity)


def in_place_heave(porosity: FloatLike, frozen_thickness: FloatLike) -> Floats:
    """Heave by the water already in the pores.

    Parameters
    ----------
    porosity : array-like
        Porosity, full of water. [-]
    frozen_thickness : array-like
        Thickness frozen. [m]

    Returns
    -------
    heave : ndarray
        Heave. [m]

    Notes
    -----
    0.09 n X; in full only where the pore water cannot drain or is not already short of filling the pores.

    References
    ----------
    definition, expansion of water on freezing [C]
    """
    return np.asarray((EXPANSION - 1.0) * np.asarray(porosity, float) * frozen_thickness)


def coupled_front_gradient(
    front_gradient: FloatLike, potential: FloatLike, conductivity: FloatLike
) -> Floats:
    """Time integral of the front gradient once the heat of the water drawn in is allowed for.

    Parameters
    ----------
    front_gradient : array-like
        Integral from a heat flow without water intake. [K·s/m]
    potential : array-like
        Segregation potential. [m²/(K·s)]
    conductivity : array-like
        Conductivity of the frozen soil. [W/(m·K)]

    Returns
    -------
    front_gradient : ndarray
        Integral with intake, for the same frozen thickness. [K·s/m]

    Notes
    -----
    G' = G/(1 - 334e6 SP/k_f): the closed forms with and without coupling differ by this factor at equal
    frozen thickness. In a given winter the front goes less deep, so this bounds the coupled heave.

    References
    ----------
    earthfast_proposal, ratio of the two closed forms [P]
    """
    slowed = 1.0 - LATENT_HEAT_INTAKE * np.asarray(potential, float) / conductivity
    return np.asarray(np.asarray(front_gradient, float) / slowed)


def intake_of_front(potential: FloatLike, front_gradient: FloatLike) -> Floats:
    """Water drawn to the freezing front through a winter.

    Parameters
    ----------
    potential : array-like
        Segregation potential. [m²/(K·s)]
    front_gradient : array-like
        Time integral of the gradient on the frozen side of the front. [K·s/m]

    Returns
    -------
    water : ndarray
        Mass of water a plan area, released again in the thaw. [kg/m²]

    Notes
    -----
    m = 1000 kg/m³ SP G. This is the water that softens formation in spring.

    References
    ----------
    konrad_morgenstern_1981, segregation potential; form recalled [M]
    """
    return np.asarray(WATER_DENSITY * np.asarray(potential, float) * front_gradient)
