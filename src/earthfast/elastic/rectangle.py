"""A uniformly loaded rectangle on a half-space, and on a layer of finite depth."""

from __future__ import annotations

import numpy as np

from earthfast.estimate import FloatLike, Floats


def rectangle_corner_influence(breadth_over_depth: FloatLike, length_over_depth: FloatLike) -> FloatLike:
    """Vertical stress below the corner of a loaded rectangle, as a share of its pressure.

    Parameters
    ----------
    breadth_over_depth : array-like
        One side over the depth. [-]
    length_over_depth : array-like
        The other side over the depth. [-]

    Returns
    -------
    influence : array-like
        Vertical stress over pressure, up to 1/4. [-]

    Notes
    -----
    I = (1 / 2π)[atan(mn / √s) + (mn / √s)(1 / (1 + m²) + 1 / (1 + n²))], s = m² + n² + 1, with m and n in the
    order of the arguments. Odd in each argument, so points off the corner follow by adding signed rectangles.

    References
    ----------
    newmark_1935, corner influence, checked by integration of the point load [C]
    """
    m, n = np.asarray(breadth_over_depth, dtype=float), np.asarray(length_over_depth, dtype=float)
    product = m * n / np.sqrt(m**2 + n**2 + 1.0)
    factor: FloatLike = (np.arctan(product) + product * (1.0 / (1.0 + m**2) + 1.0 / (1.0 + n**2))) / (
        2.0 * np.pi
    )
    return factor


def rectangle_vertical_stress(
    pressure: FloatLike,
    breadth: FloatLike,
    length: FloatLike,
    x: FloatLike,
    y: FloatLike,
    depth: FloatLike,
) -> FloatLike:
    """Vertical stress anywhere below a uniformly loaded rectangle on a half-space.

    Parameters
    ----------
    pressure : array-like
        Pressure on the rectangle. [Pa]
    breadth : array-like
        Side along x. [m]
    length : array-like
        Side along y. [m]
    x : array-like
        Distance from the centre along the breadth. [m]
    y : array-like
        Distance from the centre along the length. [m]
    depth : array-like
        Depth below the surface, above 0. [m]

    Returns
    -------
    vertical_stress : array-like
        Compression positive. [Pa]

    Notes
    -----
    Four corner influences with sign: σz = q Σ± I((B/2 ± x) / z, (L/2 ± y) / z).

    References
    ----------
    newmark_1935, superposition of corners [C]
    """
    total = np.zeros(())
    for side in (1.0, -1.0):
        for end in (1.0, -1.0):
            total = total + rectangle_corner_influence(
                (0.5 * np.asarray(breadth, dtype=float) + side * np.asarray(x, dtype=float)) / depth,
                (0.5 * np.asarray(length, dtype=float) + end * np.asarray(y, dtype=float)) / depth,
            )
    return pressure * total


def rectangle_corner_factor(length_over_breadth: FloatLike) -> FloatLike:
    """Surface settlement at the corner of a flexible loaded rectangle, as a factor.

    Parameters
    ----------
    length_over_breadth : array-like
        Sides' ratio, either way round if the factor is used with the side in the denominator. [-]

    Returns
    -------
    factor : array-like
        w E / (q B (1 − ν²)); the centre's is twice this. [-]

    Notes
    -----
    I = (1/π)[M ln((1 + √(M² + 1)) / M) + ln(M + √(M² + 1))], M = L / B.

    References
    ----------
    timoshenko_goodier_1951, rectangle by integration of the point load [C]
    """
    ratio = np.asarray(length_over_breadth, dtype=float)
    factor: FloatLike = (ratio * np.arcsinh(1.0 / ratio) + np.arcsinh(ratio)) / np.pi
    return factor


def rectangle_mean_factor(length_over_breadth: FloatLike) -> FloatLike:
    """Surface settlement averaged over a flexible loaded rectangle, as a factor.

    Parameters
    ----------
    length_over_breadth : array-like
        Sides' ratio. [-]

    Returns
    -------
    factor : array-like
        w E / (q B (1 − ν²)). [-]

    Notes
    -----
    I = (2/π)[M ln((1 + s) / M) + ln(M + s) − (s³ − 1 − M³) / (3M)], s = √(1 + M²). A rigid footing settles
    about 0.93 of this (remembered rule).

    References
    ----------
    timoshenko_goodier_1951, rectangle by integration of the point load; mean checked by quadrature [C]
    """
    ratio = np.asarray(length_over_breadth, dtype=float)
    diagonal = np.hypot(1.0, ratio)
    mean = ratio * np.arcsinh(1.0 / ratio) + np.arcsinh(ratio)
    factor: FloatLike = 2.0 / np.pi * (mean - (diagonal**3 - 1.0 - ratio**3) / (3.0 * ratio))
    return factor


def rectangle_settlement(
    pressure: FloatLike,
    breadth: FloatLike,
    modulus: FloatLike,
    poisson_ratio: FloatLike,
    factor: FloatLike,
) -> FloatLike:
    """Surface settlement of a uniformly loaded rectangle from its settlement factor.

    Parameters
    ----------
    pressure : array-like
        Pressure on the rectangle. [Pa]
    breadth : array-like
        Side that the factor refers to. [m]
    modulus : array-like
        Young's modulus of the ground. [Pa]
    poisson_ratio : array-like
        Poisson's ratio of the ground. [-]
    factor : array-like
        Corner, twice corner (centre), mean or finite-layer factor. [-]

    Returns
    -------
    settlement : array-like
        Downward positive. [m]

    Notes
    -----
    w = q B (1 − ν²) I / E. For the centre over a finite layer, add four corners of half the sides.

    References
    ----------
    timoshenko_goodier_1951, rectangle by integration of the point load [C]
    """
    return pressure * breadth * (1.0 - np.square(poisson_ratio)) / modulus * factor


def steinbrenner_first_factor(
    length_over_breadth: FloatLike, layer_depth_over_breadth: FloatLike
) -> FloatLike:
    """Part of the corner settlement over a layer of finite depth that does not depend on Poisson's ratio.

    Parameters
    ----------
    length_over_breadth : array-like
        Sides' ratio. [-]
    layer_depth_over_breadth : array-like
        Depth to the hard base over the breadth. [-]

    Returns
    -------
    factor : array-like
        F1. [-]

    Notes
    -----
    F1 = (1/π)[M ln((1 + A)√(M² + N²) / (M(1 + C))) + ln((M + A)√(1 + N²) / (M + C))], A = √(M² + 1),
    C = √(M² + N² + 1), with M and N in the order of the arguments.

    References
    ----------
    steinbrenner_1934, half-space displacement at the surface less that at the base [C]
    """
    ratio = np.asarray(length_over_breadth, dtype=float)
    thickness = np.asarray(layer_depth_over_breadth, dtype=float)
    diagonal, slant = np.hypot(1.0, ratio), np.sqrt(ratio**2 + thickness**2 + 1.0)
    along = (1.0 + diagonal) * np.hypot(ratio, thickness) / (ratio * (1.0 + slant))
    across = (ratio + diagonal) * np.hypot(1.0, thickness) / (ratio + slant)
    factor: FloatLike = (ratio * np.log(along) + np.log(across)) / np.pi
    return factor


def steinbrenner_second_factor(
    length_over_breadth: FloatLike, layer_depth_over_breadth: FloatLike
) -> FloatLike:
    """Part of the corner settlement over a layer of finite depth that grows as Poisson's ratio falls.

    Parameters
    ----------
    length_over_breadth : array-like
        Sides' ratio. [-]
    layer_depth_over_breadth : array-like
        Depth to the hard base over the breadth. [-]

    Returns
    -------
    factor : array-like
        F2. [-]

    Notes
    -----
    F2 = (N / 2π) atan(M / (N C)), C = √(M² + N² + 1), with M and N in the order of the arguments.

    References
    ----------
    steinbrenner_1934, half-space displacement at the surface less that at the base [C]
    """
    ratio = np.asarray(length_over_breadth, dtype=float)
    thickness = np.asarray(layer_depth_over_breadth, dtype=float)
    slant = np.sqrt(ratio**2 + thickness**2 + 1.0)
    factor: FloatLike = thickness / (2.0 * np.pi) * np.arctan(ratio / (thickness * slant))
    return factor


def finite_layer_corner_factor(
    length_over_breadth: FloatLike, layer_depth_over_breadth: FloatLike, poisson_ratio: FloatLike
) -> FloatLike:
    """Surface settlement at the corner of a loaded rectangle over a layer of finite depth, as a factor.

    Parameters
    ----------
    length_over_breadth : array-like
        Sides' ratio. [-]
    layer_depth_over_breadth : array-like
        Depth to the hard base over the breadth. [-]
    poisson_ratio : array-like
        Poisson's ratio of the layer. [-]

    Returns
    -------
    factor : array-like
        w E / (q B (1 − ν²)). [-]

    Notes
    -----
    I = F1 + F2 (1 − 2ν) / (1 − ν). The hard base is represented by leaving out what a half-space would settle
    below it, so it does not stiffen the layer above. No correction for depth or rigidity of the footing.

    References
    ----------
    steinbrenner_1934, half-space displacement at the surface less that at the base [C]
    """
    nu: Floats = np.asarray(poisson_ratio, dtype=float)
    first = steinbrenner_first_factor(length_over_breadth, layer_depth_over_breadth)
    second = steinbrenner_second_factor(length_over_breadth, layer_depth_over_breadth)
    return first + second * (1.0 - 2.0 * nu) / (1.0 - nu)
