"""A circle on a uniform half-space: everything anywhere, in closed form."""

from __future__ import annotations

import numpy as np
from scipy.special import ellipe, ellipkm1, elliprd, elliprj, hyp2f1

from earthfast.elastic.layered_ground import CircularLoad
from earthfast.elastic.response import Integrals, Response, Surroundings
from earthfast.estimate import FloatLike, Floats

_ON_AXIS = 1e-5  # offset over radius below which the axis stands for the point: error of its square
_TINY = 1e-30  # squared distance from the load's edge below which integrals keep their value


def half_space_response(
    modulus: FloatLike, poisson_ratio: FloatLike, load: CircularLoad, offset: FloatLike, depth: FloatLike
) -> Response:
    """Everything under and beside a uniformly loaded circle on a half-space, in closed form.

    Parameters
    ----------
    modulus : array-like
        Young's modulus. [Pa]
    poisson_ratio : array-like
        Poisson's ratio, above -1 and up to 0.5. [-]
    load : CircularLoad
        Radius and pressure. [-]
    offset : array-like
        Horizontal distance from the load's centre. [m]
    depth : array-like
        Depth below the surface. [m]

    Returns
    -------
    response : Response
        Stresses, strains and displacements. [-]

    Notes
    -----
    The integrals ∫ J1(ma) Jn(mr) e^(−mz) m^k dm in complete elliptic integrals of the modulus
    k² = 4ar / ((a + r)² + z²), the third kind through Carlson's symmetric forms.
    σz = qa[I(0,0) + z I(0,1)], τ = qaz I(1,1), w = (qa/2G)[2(1 − ν) I(0,−1) + z I(0,0)],
    u = (qa/2G)[z I(1,0) − (1 − 2ν) I(1,−1)]. At the load's edge on the surface σz is q/2 by convention
    and τ, which has no limit there, is given as 0.

    References
    ----------
    eason_noble_sneddon_1955, form of the integrals; derived anew and checked by quadrature [C]
    """
    modulus, nu = np.asarray(modulus, dtype=float), np.asarray(poisson_ratio, dtype=float)
    shear = modulus / (2.0 * (1.0 + nu))
    integrals = half_space_integrals(np.asarray(offset) / load.radius, np.asarray(depth) / load.radius, nu)
    return Surroundings(load.radius, load.pressure, offset, shear, nu, shear).response(integrals)


def half_space_integrals(offset: Floats, depth: Floats, poisson_ratio: FloatLike) -> Integrals:
    """The integrals of a uniform half-space; lengths over the load's radius."""
    offset, depth = np.asarray(offset, dtype=float), np.asarray(depth, dtype=float)
    if np.all(offset < _ON_AXIS):
        return _axis_integrals(offset, depth, poisson_ratio)
    # Elliptic moduli: m = k², its complement, and the characteristic's complement, kept off their poles.
    far = np.square(1.0 + offset) + np.square(depth)
    near = np.maximum(np.square(1.0 - offset) + np.square(depth), _TINY)
    root, lopsided = np.sqrt(far), (1.0 - offset) / (1.0 + offset)
    parameter = np.minimum(4.0 * offset / far, 1.0)
    complement = near / far
    first, second = ellipkm1(complement), ellipe(parameter)
    third_excess = elliprj(0.0, complement, 1.0, np.maximum(np.square(lopsided), _TINY)) / 3.0
    inside = np.heaviside(1.0 - offset, 0.5)
    third = lopsided * (first + 4.0 * offset / np.square(1.0 + offset) * third_excess)
    crossed = _crossed(parameter, first, second)
    square = np.square(depth)
    # Names say J1(ma) Jn(mr) m^k as n and k, with J1(mr) divided by r.
    i00 = inside - depth / (np.pi * root) * (first + third)
    i01 = (first + (1.0 - np.square(offset) - square) / near * second) / (np.pi * root)
    i0m = (far * second + (1.0 - np.square(offset) - square) * first) / (np.pi * root) - depth * i00
    i10 = crossed / (2.0 * far * root)
    i11 = 8.0 * depth / (np.pi * root * far * near)
    i11 = i11 * (elliprd(0.0, complement, 1.0) / 3.0 - np.pi / 16.0 * crossed)
    safe = np.where(offset < _ON_AXIS, 1.0, offset)
    swapped = first - 2.0 * (1.0 - offset) / np.square(1.0 + offset) * third_excess
    swapped = -2.0 * depth / (np.pi * root * (1.0 + offset)) * swapped / safe
    swapped = swapped + (1.0 - inside) / np.square(safe)
    i1m = np.where(offset < _ON_AXIS, 0.5 * i00, 0.5 * (swapped + i00 - depth * i10))
    c = 1.0 - 2.0 * np.asarray(poisson_ratio)
    return Integrals(
        even=depth * i01,
        slope=i00,
        even_hoop=depth * i10,
        slope_hoop=i1m,
        odd=depth * offset * i11,
        sink=depth * i00 + (1.0 + c) * i0m,
    )


def _crossed(parameter: Floats, first: Floats, second: Floats) -> Floats:
    """F(3/2, 3/2; 3; m), by its series where the form in K and E would cancel."""
    series = hyp2f1(1.5, 1.5, 3.0, np.minimum(parameter, 0.3))
    square = np.square(np.maximum(parameter, 0.3))
    closed = 16.0 / np.pi * ((2.0 - parameter) * first - 2.0 * second) / square
    return np.where(parameter > 0.3, closed, series)


def _axis_integrals(offset: Floats, depth: Floats, poisson_ratio: FloatLike) -> Integrals:
    depth = depth + np.zeros_like(offset)
    root = np.hypot(1.0, depth)
    slope = 1.0 / (root * (root + depth))
    even = depth / root**3
    c = 1.0 - 2.0 * np.asarray(poisson_ratio)
    sink = depth * slope + (1.0 + c) / (root + depth)
    return Integrals(even, slope, 0.5 * even, 0.5 * slope, np.zeros_like(depth), sink)
