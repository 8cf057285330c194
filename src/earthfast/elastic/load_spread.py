"""Rules for how a load spreads with depth, and the cone that a computed stress amounts to."""

from __future__ import annotations

import numpy as np

from earthfast.estimate import FloatLike, Floats


def cone_stress_circle(
    pressure: FloatLike, radius: FloatLike, depth: FloatLike, spread: FloatLike
) -> FloatLike:
    """Average vertical stress at a depth below a loaded circle, spread over a cone.

    Parameters
    ----------
    pressure : array-like
        Pressure on the circle. [Pa]
    radius : array-like
        Radius of the circle. [m]
    depth : array-like
        Depth below it. [m]
    spread : array-like
        Tangent of the cone's side from the vertical: 0.5 for 2:1, 1 for 45 degrees. [-]

    Returns
    -------
    vertical_stress : array-like
        Average over the widened circle. [Pa]

    Notes
    -----
    σ = q (a / (a + z t))², with q, a, z, t in the order of the arguments. An average: the elastic peak below
    the centre is up to 1.4 times the 2:1 value under thin stone, and above the 45 degree value for every
    unbound layer.

    References
    ----------
    common_practice, load spread through granular layers [CP]
    """
    return pressure * np.square(radius / (radius + depth * np.asarray(spread, dtype=float)))


def cone_stress_rectangle(
    pressure: FloatLike, breadth: FloatLike, length: FloatLike, depth: FloatLike, spread: FloatLike
) -> FloatLike:
    """Average vertical stress at a depth below a loaded rectangle, spread over a widening block.

    Parameters
    ----------
    pressure : array-like
        Pressure on the rectangle. [Pa]
    breadth : array-like
        One side. [m]
    length : array-like
        The other side. [m]
    depth : array-like
        Depth below it. [m]
    spread : array-like
        Tangent of the side from the vertical: 0.5 for 2:1, 1 for 45 degrees. [-]

    Returns
    -------
    vertical_stress : array-like
        Average over the widened rectangle. [Pa]

    Notes
    -----
    σ = q B L / ((B + 2 z t)(L + 2 z t)), with q, B, L, z, t in the order of the arguments; for 2:1 the
    divisor is (B + z)(L + z).

    References
    ----------
    common_practice, load spread through granular layers [CP]
    """
    widened = 2.0 * np.asarray(depth, dtype=float) * spread
    return pressure * breadth * length / ((breadth + widened) * (length + widened))


def equivalent_cone(stress_ratio: FloatLike, thickness_over_radius: FloatLike) -> FloatLike:
    """Tangent of the cone whose average equals a given stress below a loaded circle.

    Parameters
    ----------
    stress_ratio : array-like
        Vertical stress at the depth over the pressure on the circle. [-]
    thickness_over_radius : array-like
        Depth over the circle's radius. [-]

    Returns
    -------
    spread : array-like
        Tangent of the cone's side from the vertical. [-]

    Notes
    -----
    t = (ratio^(−1/2) − 1) / (h / a): the cone rule solved for its tangent. A way of saying a computed stress
    in the words of the rule.

    References
    ----------
    definition, inverse of the cone rule [C]
    """
    return (1.0 / np.sqrt(stress_ratio) - 1.0) / thickness_over_radius


def equivalent_thickness(
    thickness: Floats,
    modulus: Floats,
    poisson_ratio: Floats,
    ground_modulus: FloatLike,
    ground_poisson_ratio: FloatLike,
    factor: FloatLike,
) -> FloatLike:
    """Thickness of ground that spreads a load about as the layers above it do.

    Parameters
    ----------
    thickness : array-like
        Thicknesses of the layers, on the last axis. [m]
    modulus : array-like
        Their Young's moduli. [Pa]
    poisson_ratio : array-like
        Their Poisson's ratios. [-]
    ground_modulus : array-like
        Young's modulus of the ground. [Pa]
    ground_poisson_ratio : array-like
        Poisson's ratio of the ground. [-]
    factor : array-like
        Correction, 0.9 for two layers and 0.8 for more; 0.8 overstates stress, if anything. [-]

    Returns
    -------
    thickness : array-like
        Depth to use in the half-space solution. [m]

    Notes
    -----
    h = f Σ hᵢ [(Eᵢ / E)(1 − ν²) / (1 − νᵢ²)]^(1/3). A plausibility check beside the layered solution: stress
    within about 25 %, strain much worse under stiff layers.

    References
    ----------
    odemark_1949, equivalent thickness [M]
    """
    stiffness = np.asarray(modulus, dtype=float) / np.asarray(ground_modulus, dtype=float)[..., None]
    lateral = (1.0 - np.square(ground_poisson_ratio))[..., None] / (1.0 - np.square(poisson_ratio))
    total: FloatLike = factor * np.sum(
        np.asarray(thickness, dtype=float) * np.cbrt(stiffness * lateral), axis=-1
    )
    return total
