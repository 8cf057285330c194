"""A circle on a uniform half-space: closed forms on its axis and for its settlement."""

from __future__ import annotations

import numpy as np

from earthfast.estimate import FloatLike, Floats


def axis_vertical_stress(pressure: FloatLike, radius: FloatLike, depth: FloatLike) -> FloatLike:
    """Vertical stress below the centre of a uniformly loaded circle on a half-space.

    Parameters
    ----------
    pressure : array-like
        Pressure on the circle. [Pa]
    radius : array-like
        Radius of the circle. [m]
    depth : array-like
        Depth below the surface. [m]

    Returns
    -------
    vertical_stress : array-like
        Compression positive. [Pa]

    Notes
    -----
    σz = q (1 − c³), c = z / √(a² + z²), with q, a, z in the order of the arguments. Any depth; independent of
    the elastic constants.

    References
    ----------
    boussinesq_1885, circle by integration of the point load, checked by quadrature [C]
    """
    return pressure * (1.0 - _slant(radius, depth) ** 3)


def axis_depth_of_stress(stress_ratio: FloatLike, radius: FloatLike) -> FloatLike:
    """Depth below the centre of a loaded circle where the vertical stress has fallen to a share.

    Parameters
    ----------
    stress_ratio : array-like
        Vertical stress over the pressure, above 0 and up to 1. [-]
    radius : array-like
        Radius of the circle. [m]

    Returns
    -------
    depth : array-like
        Depth below the surface. [m]

    Notes
    -----
    z = a c / √(1 − c²), c = (1 − ratio)^(1/3): the inverse of σz = q (1 − c³).

    References
    ----------
    boussinesq_1885, circle by integration of the point load, solved for the depth [C]
    """
    slant = np.cbrt(1.0 - np.asarray(stress_ratio))
    return radius * slant / np.sqrt(1.0 - slant**2)


def axis_radial_stress(
    pressure: FloatLike, radius: FloatLike, depth: FloatLike, poisson_ratio: FloatLike
) -> FloatLike:
    """Horizontal stress below the centre of a uniformly loaded circle on a half-space.

    Parameters
    ----------
    pressure : array-like
        Pressure on the circle. [Pa]
    radius : array-like
        Radius of the circle. [m]
    depth : array-like
        Depth below the surface. [m]
    poisson_ratio : array-like
        Poisson's ratio, 0 to 0.5. [-]

    Returns
    -------
    radial_stress : array-like
        The same in all horizontal directions; compression positive. [Pa]

    Notes
    -----
    σr = (q / 2)[1 + 2ν − 2(1 + ν) c + c³], c = z / √(a² + z²).

    References
    ----------
    boussinesq_1885, circle by integration of the point load, checked by quadrature [C]
    """
    slant, nu = _slant(radius, depth), np.asarray(poisson_ratio)
    return 0.5 * pressure * (1.0 + 2.0 * nu - 2.0 * (1.0 + nu) * slant + slant**3)


def axis_vertical_strain(
    pressure: FloatLike,
    radius: FloatLike,
    depth: FloatLike,
    modulus: FloatLike,
    poisson_ratio: FloatLike,
) -> FloatLike:
    """Vertical strain below the centre of a uniformly loaded circle on a half-space.

    Parameters
    ----------
    pressure : array-like
        Pressure on the circle. [Pa]
    radius : array-like
        Radius of the circle. [m]
    depth : array-like
        Depth below the surface. [m]
    modulus : array-like
        Young's modulus. [Pa]
    poisson_ratio : array-like
        Poisson's ratio, 0 to 0.5. [-]

    Returns
    -------
    vertical_strain : array-like
        Shortening positive. [-]

    Notes
    -----
    εz = (1 + ν)(q / E)[1 − 2ν + 2ν c − c³], c = z / √(a² + z²).

    References
    ----------
    boussinesq_1885, circle by integration of the point load, checked by quadrature [C]
    """
    slant, nu = _slant(radius, depth), np.asarray(poisson_ratio)
    return (1.0 + nu) * pressure / modulus * (1.0 - 2.0 * nu + 2.0 * nu * slant - slant**3)


def axis_radial_strain(
    pressure: FloatLike,
    radius: FloatLike,
    depth: FloatLike,
    modulus: FloatLike,
    poisson_ratio: FloatLike,
) -> FloatLike:
    """Horizontal strain below the centre of a uniformly loaded circle on a half-space.

    Parameters
    ----------
    pressure : array-like
        Pressure on the circle. [Pa]
    radius : array-like
        Radius of the circle. [m]
    depth : array-like
        Depth below the surface. [m]
    modulus : array-like
        Young's modulus. [Pa]
    poisson_ratio : array-like
        Poisson's ratio, 0 to 0.5. [-]

    Returns
    -------
    radial_strain : array-like
        The same in all horizontal directions; shortening positive. [-]

    Notes
    -----
    εr = (1 + ν)(q / 2E)[1 − 2ν − 2(1 − ν) c + c³], c = z / √(a² + z²).

    References
    ----------
    boussinesq_1885, circle by integration of the point load, checked by quadrature [C]
    """
    slant, nu = _slant(radius, depth), np.asarray(poisson_ratio)
    return (1.0 + nu) * pressure / (2.0 * modulus) * (1.0 - 2.0 * nu - 2.0 * (1.0 - nu) * slant + slant**3)


def axis_deflection(
    pressure: FloatLike,
    radius: FloatLike,
    depth: FloatLike,
    modulus: FloatLike,
    poisson_ratio: FloatLike,
) -> FloatLike:
    """Vertical displacement below the centre of a uniformly loaded circle on a half-space.

    Parameters
    ----------
    pressure : array-like
        Pressure on the circle. [Pa]
    radius : array-like
        Radius of the circle. [m]
    depth : array-like
        Depth below the surface. [m]
    modulus : array-like
        Young's modulus. [Pa]
    poisson_ratio : array-like
        Poisson's ratio, 0 to 0.5. [-]

    Returns
    -------
    deflection : array-like
        Downward positive. [m]

    Notes
    -----
    w = (1 + ν)(q / E)[a² / R + (1 − 2ν)(R − z)], R = √(a² + z²); at the surface 2(1 − ν²) q a / E.

    References
    ----------
    boussinesq_1885, circle by integration of the point load, checked by quadrature [C]
    """
    slope, nu = np.hypot(radius, depth), np.asarray(poisson_ratio)
    reach = np.square(radius) / slope + (1.0 - 2.0 * nu) * (slope - depth)
    return (1.0 + nu) * pressure / modulus * reach


def edge_deflection(
    pressure: FloatLike, radius: FloatLike, modulus: FloatLike, poisson_ratio: FloatLike
) -> FloatLike:
    """Surface settlement at the edge of a uniformly loaded circle on a half-space.

    Parameters
    ----------
    pressure : array-like
        Pressure on the circle. [Pa]
    radius : array-like
        Radius of the circle. [m]
    modulus : array-like
        Young's modulus. [Pa]
    poisson_ratio : array-like
        Poisson's ratio, 0 to 0.5. [-]

    Returns
    -------
    deflection : array-like
        Downward positive. [m]

    Notes
    -----
    w = 4 (1 − ν²) q a / (π E): 2/π of the centre's.

    References
    ----------
    timoshenko_goodier_1951, §139, checked by quadrature [C]
    """
    return 4.0 / np.pi * (1.0 - np.square(poisson_ratio)) * pressure * radius / modulus


def mean_deflection(
    pressure: FloatLike, radius: FloatLike, modulus: FloatLike, poisson_ratio: FloatLike
) -> FloatLike:
    """Surface settlement of a uniformly loaded circle on a half-space, averaged over the circle.

    Parameters
    ----------
    pressure : array-like
        Pressure on the circle. [Pa]
    radius : array-like
        Radius of the circle. [m]
    modulus : array-like
        Young's modulus. [Pa]
    poisson_ratio : array-like
        Poisson's ratio, 0 to 0.5. [-]

    Returns
    -------
    deflection : array-like
        Downward positive. [m]

    Notes
    -----
    w = 16 (1 − ν²) q a / (3 π E): 0.849 of the centre's.

    References
    ----------
    timoshenko_goodier_1951, §139, checked by quadrature [C]
    """
    return 16.0 / (3.0 * np.pi) * (1.0 - np.square(poisson_ratio)) * pressure * radius / modulus


def rigid_disc_deflection(
    force: FloatLike, radius: FloatLike, modulus: FloatLike, poisson_ratio: FloatLike
) -> FloatLike:
    """Settlement of a rigid disc pressed on a half-space.

    Parameters
    ----------
    force : array-like
        Vertical force through the centre. [N]
    radius : array-like
        Radius of the disc. [m]
    modulus : array-like
        Young's modulus. [Pa]
    poisson_ratio : array-like
        Poisson's ratio, 0 to 0.5. [-]

    Returns
    -------
    deflection : array-like
        Downward positive. [m]

    Notes
    -----
    w = (1 − ν²) P / (2 a E), frictionless contact: π/4 of the centre of a flexible load of the same force.

    References
    ----------
    timoshenko_goodier_1951, §139, checked against the flexible load [C]
    """
    return (1.0 - np.square(poisson_ratio)) * force / (2.0 * radius * modulus)


def _slant(radius: FloatLike, depth: FloatLike) -> Floats:
    """Cosine of the angle under which the circle's rim is seen from below its centre."""
    return np.asarray(depth / np.hypot(radius, depth))
