"""Stone for an unpaved surface: allowed ground stress and thickness by published methods."""

from __future__ import annotations

from enum import StrEnum

import numpy as np
from scipy.constants import psi

from earthfast.estimate import FloatLike, Floats

STRENGTH_PER_CBR = 30.0e3  # Pa, of the unpaved-road methods
REFERENCE_RUT = 0.075  # m, of the unpaved-road methods
BISECTIONS = 60


class SurfaceUse(StrEnum):
    """How an unpaved surface is used, for the stress its ground may carry."""

    STATIC = "standing load, no fabric"
    STATIC_FABRIC = "standing load, on fabric"
    MANY_PASSES = "many passes, rut under 50 mm, no fabric"
    MANY_PASSES_FABRIC = "many passes, rut under 50 mm, on fabric"
    FEW_PASSES = "few passes, rut over 100 mm, no fabric"
    FEW_PASSES_FABRIC = "few passes, rut over 100 mm, on fabric"


GROUND_STRESS_FACTORS: dict[SurfaceUse, float] = {
    SurfaceUse.STATIC: np.pi,
    SurfaceUse.STATIC_FABRIC: np.pi + 2.0,
    SurfaceUse.MANY_PASSES: 2.8,
    SurfaceUse.MANY_PASSES_FABRIC: 5.0,
    SurfaceUse.FEW_PASSES: 3.3,
    SurfaceUse.FEW_PASSES_FABRIC: 6.0,
}


def ground_stress_limit(undrained_strength: FloatLike, use: SurfaceUse) -> Floats:
    """Vertical stress that soft clay may carry under an unpaved stone surface.

    Parameters
    ----------
    undrained_strength : array-like
        Undrained shear strength. [Pa]
    use : SurfaceUse
        Standing load or passes, with or without fabric. [-]

    Returns
    -------
    stress : array-like
        Allowed vertical stress on the ground. [Pa]

    Notes
    -----
    N c_u; N = π standing without fabric (first yield), π + 2 with (plastic limit); with traffic 2.8 for
    ruts under 50 mm and many passes, 3.3 for ruts over 100 mm and few, and 5 and 6 on fabric; c_u the
    strength.

    References
    ----------
    giroud_noiray_1981, standing loads [M]
    forest_service_1977, traffic [M]
    """
    return np.asarray(GROUND_STRESS_FACTORS[SurfaceUse(use)] * np.asarray(undrained_strength))


def stone_thickness_giroud_noiray(
    axle_load: FloatLike, rut: FloatLike, undrained_strength: FloatLike, repetitions: FloatLike
) -> Floats:
    """Stone over soft clay for an unpaved surface without fabric.

    Parameters
    ----------
    axle_load : array-like
        Load of one axle. [N]
    rut : array-like
        Rut accepted at the surface. [m]
    undrained_strength : array-like
        Undrained shear strength of the ground. [Pa]
    repetitions : array-like
        Axle passes, 1 to 1e4. [-]

    Returns
    -------
    thickness : array-like
        Stone thickness, never below 0. [m]

    Notes
    -----
    h = [119.24 log N + 470.98 log P − 279.01 s − 2283.34] / c_u^0.63; logarithms to base 10, N repetitions,
    P axle load, s rut, c_u strength, all in SI units.

    References
    ----------
    giroud_noiray_1981 [M]
    """
    traffic = 119.24 * np.log10(repetitions) + 470.98 * np.log10(axle_load)
    demand = traffic - 279.01 * np.asarray(rut) - 2283.34
    return np.asarray(np.maximum(demand / np.asarray(undrained_strength, dtype=np.float64) ** 0.63, 0.0))


def stone_thickness_giroud_noiray_simple(cbr: FloatLike, repetitions: FloatLike) -> Floats:
    """Stone over soft clay for an unpaved surface under the standard axle, short form.

    Parameters
    ----------
    cbr : array-like
        California bearing ratio, in percent by definition. [-]
    repetitions : array-like
        Passes of an 80 kN axle, 1 to 1e4. [-]

    Returns
    -------
    thickness : array-like
        Stone thickness for a rut of 75 mm. [m]

    Notes
    -----
    h = 0.19 log N / CBR^0.63, N repetitions, logarithm to base 10.

    References
    ----------
    giroud_noiray_1981 [M]
    """
    return np.asarray(0.19 * np.log10(repetitions) / np.asarray(cbr, dtype=np.float64) ** 0.63)


def limited_modulus_ratio_giroud_han(base_cbr: FloatLike, ground_cbr: FloatLike) -> Floats:
    """Ratio of stone to ground modulus in the method of Giroud and Han.

    Parameters
    ----------
    base_cbr : array-like
        California bearing ratio of the stone, in percent by definition. [-]
    ground_cbr : array-like
        California bearing ratio of the ground, in percent by definition. [-]

    Returns
    -------
    ratio : array-like
        Modulus ratio, at most 5. [-]

    Notes
    -----
    R_E = min(5, 3.48 CBR_b^0.3 / CBR_s), b the stone, s the ground.

    References
    ----------
    giroud_han_2004 [M]
    """
    return np.asarray(np.minimum(5.0, 3.48 * np.asarray(base_cbr) ** 0.3 / np.asarray(ground_cbr)))


def bearing_mobilised_giroud_han(thickness: FloatLike, radius: FloatLike, rut: FloatLike) -> Floats:
    """Share of the ground's bearing strength in use at a given rut.

    Parameters
    ----------
    thickness : array-like
        Stone thickness. [m]
    radius : array-like
        Contact radius of the wheel. [m]
    rut : array-like
        Rut accepted at the surface. [m]

    Returns
    -------
    share : array-like
        Bearing capacity mobilisation coefficient. [-]

    Notes
    -----
    m = (s / 75 mm) [1 − 0.9 exp(−(r/h)²)]; s rut, r radius, h thickness.

    References
    ----------
    giroud_han_2004 [M]
    giroud_han_sheet, reference rut of 75 mm [S]
    """
    relative = np.asarray(radius, dtype=np.float64) / thickness
    return np.asarray(rut / REFERENCE_RUT * (1.0 - 0.9 * np.exp(-np.square(relative))))


def wheel_load_without_stone_giroud_han(
    radius: FloatLike, rut: FloatLike, ground_cbr: FloatLike, bearing_factor: FloatLike
) -> Floats:
    """Wheel load that the bare ground carries at a given rut.

    Parameters
    ----------
    radius : array-like
        Contact radius of the wheel. [m]
    rut : array-like
        Rut accepted at the surface. [m]
    ground_cbr : array-like
        California bearing ratio of the ground, in percent by definition. [-]
    bearing_factor : array-like
        3.14 without reinforcement. [-]

    Returns
    -------
    load : array-like
        Wheel load that needs no stone. [N]

    Notes
    -----
    P = (s / 75 mm) π r² N_c c_u with c_u = 30 CBR kPa; s rut, r radius, N_c bearing factor.

    References
    ----------
    giroud_han_2004 [M]
    giroud_han_sheet, strength per CBR and bearing factor [S]
    """
    strength = STRENGTH_PER_CBR * np.asarray(ground_cbr, dtype=np.float64)
    return np.asarray(rut / REFERENCE_RUT * np.pi * np.square(radius) * bearing_factor * strength)


def stone_thickness_giroud_han(
    wheel_load: FloatLike,
    tyre_pressure: FloatLike,
    base_cbr: FloatLike,
    ground_cbr: FloatLike,
    rut: FloatLike,
    repetitions: FloatLike,
) -> Floats:
    """Unreinforced stone over soft ground for an unpaved surface.

    Parameters
    ----------
    wheel_load : array-like
        Load of one wheel or pair of wheels. [N]
    tyre_pressure : array-like
        Contact pressure. [Pa]
    base_cbr : array-like
        California bearing ratio of the stone, in percent by definition. [-]
    ground_cbr : array-like
        California bearing ratio of the ground, below about 5, in percent by definition. [-]
    rut : array-like
        Rut accepted at the surface, 0.05 to 0.1. [m]
    repetitions : array-like
        Passes, 1 to 1e5. [-]

    Returns
    -------
    thickness : array-like
        Stone thickness; 0 where the bare ground carries the wheel. [m]

    Notes
    -----
    h = [0.868 + 0.661 (r/h)^1.5 log N] / [1 + 0.204 (R_E − 1)] · {√[P / (π r² m N_c c_u)] − 1} r, solved by
    bisection; P wheel load, r = √(P/(π p)), p pressure, N repetitions, m and R_E as in their own relations,
    N_c = 3.14, c_u = 30 CBR kPa.

    References
    ----------
    giroud_han_2004 [M]
    giroud_han_sheet, constants [S]
    """
    inputs = (wheel_load, tyre_pressure, base_cbr, ground_cbr, rut, repetitions)
    load, pressure, base, ground, accepted, passes = np.broadcast_arrays(
        *(np.asarray(one, dtype=np.float64) for one in inputs)
    )
    radius = np.sqrt(load / (np.pi * pressure))
    bare = wheel_load_without_stone_giroud_han(radius, accepted, ground, 3.14)
    stiffening = 1.0 + 0.204 * (limited_modulus_ratio_giroud_han(base, ground) - 1.0)

    def needed(thickness: Floats) -> Floats:
        traffic = 0.868 + 0.661 * (radius / thickness) ** 1.5 * np.log10(passes)
        share = bearing_mobilised_giroud_han(thickness, radius, accepted)
        overload = np.sqrt(load * accepted / (bare * share * REFERENCE_RUT)) - 1.0
        return np.asarray(traffic / stiffening * overload * radius)

    low, high = radius * 1.0e-3, radius * 1.0e3
    for _ in range(BISECTIONS):
        middle = np.sqrt(low * high)
        short = needed(middle) > middle
        low, high = np.where(short, middle, low), np.where(short, high, middle)
    return np.where(load <= bare, 0.0, low)


def stone_thickness_corps(wheel_load: FloatLike, tyre_pressure: FloatLike, cbr: FloatLike) -> Floats:
    """Cover over ground of a given CBR, for few thousand coverages of one wheel.

    Parameters
    ----------
    wheel_load : array-like
        Load of one wheel. [N]
    tyre_pressure : array-like
        Contact pressure. [Pa]
    cbr : array-like
        California bearing ratio of the ground, below about 12, in percent by definition. [-]

    Returns
    -------
    thickness : array-like
        Total cover above the ground, never below 0. [m]

    Notes
    -----
    t = √[P / (8.1 CBR) − A/π] in pounds and inches, A = P/p the contact area; here with 8.1 in psi. P wheel
    load, p pressure.

    References
    ----------
    wes_3_441, range of CBR [S]
    from_memory, form of the equation [M]
    """
    load = np.asarray(wheel_load, dtype=np.float64)
    square = load / (8.1 * psi * np.asarray(cbr, dtype=np.float64)) - load / (
        np.pi * np.asarray(tyre_pressure)
    )
    return np.asarray(np.sqrt(np.maximum(square, 0.0)))
