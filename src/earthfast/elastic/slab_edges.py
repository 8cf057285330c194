"""A slab on a bed of springs: a load at an edge or a corner."""

from __future__ import annotations

import numpy as np

from earthfast.estimate import FloatLike


def slab_edge_stress(
    force: FloatLike,
    load_radius: FloatLike,
    thickness: FloatLike,
    poisson_ratio: FloatLike,
    relative_stiffness_radius: FloatLike,
) -> FloatLike:
    """Flexural stress along the edge of a slab on springs, under a circle touching the edge.

    Parameters
    ----------
    force : array-like
        Load. [N]
    load_radius : array-like
        Radius of the loaded circle. [m]
    thickness : array-like
        Slab thickness. [m]
    poisson_ratio : array-like
        Poisson's ratio of the slab. [-]
    relative_stiffness_radius : array-like
        Radius of relative stiffness. [m]

    Returns
    -------
    stress : array-like
        Tension at the underside, positive. [Pa]

    Notes
    -----
    σ = 3(1 + ν) P / (π (3 + ν) h²)[ln(E h³ / (100 k a⁴)) + 1.84 − 4ν/3 + (1 − ν)/2 + 1.18 (1 + 2ν) a / ℓ],
    with P, a, h, ν, ℓ in the order of the arguments and E h³ / k = 12 (1 − ν²) ℓ⁴. About twice the
    interior stress.

    References
    ----------
    ioannides_thompson_barenberg_1985, edge load, circle [M]
    """
    nu = np.asarray(poisson_ratio, dtype=float)
    size = np.asarray(load_radius, dtype=float) / relative_stiffness_radius
    spread = np.log(0.12 * (1.0 - nu**2) / size**4) + 1.84 - 4.0 / 3.0 * nu
    spread = spread + 0.5 * (1.0 - nu) + 1.18 * (1.0 + 2.0 * nu) * size
    return 3.0 * (1.0 + nu) * force / (np.pi * (3.0 + nu) * np.square(thickness)) * spread


def slab_edge_deflection(
    force: FloatLike,
    load_radius: FloatLike,
    poisson_ratio: FloatLike,
    reaction_modulus: FloatLike,
    relative_stiffness_radius: FloatLike,
) -> FloatLike:
    """Deflection at the edge of a slab on springs, under a circle touching the edge.

    Parameters
    ----------
    force : array-like
        Load. [N]
    load_radius : array-like
        Radius of the loaded circle. [m]
    poisson_ratio : array-like
        Poisson's ratio of the slab. [-]
    reaction_modulus : array-like
        Pressure of the ground per unit settlement. [Pa/m]
    relative_stiffness_radius : array-like
        Radius of relative stiffness. [m]

    Returns
    -------
    deflection : array-like
        Downward positive. [m]

    Notes
    -----
    w = √(2 + 1.2ν) P / √(E h³ k) [1 − (0.76 + 0.4ν) a / ℓ], with P, a, ν, k, ℓ in the order of the arguments
    and E h³ k = 12 (1 − ν²) k² ℓ⁴.

    References
    ----------
    ioannides_thompson_barenberg_1985, edge load, circle [M]
    """
    nu, reach = np.asarray(poisson_ratio, dtype=float), np.asarray(relative_stiffness_radius, dtype=float)
    flexibility = np.sqrt((2.0 + 1.2 * nu) / (12.0 * (1.0 - nu**2))) / (reaction_modulus * reach**2)
    deflection: FloatLike = force * flexibility * (1.0 - (0.76 + 0.4 * nu) * load_radius / reach)
    return deflection


def slab_corner_stress(
    force: FloatLike,
    load_radius: FloatLike,
    thickness: FloatLike,
    relative_stiffness_radius: FloatLike,
) -> FloatLike:
    """Flexural stress near the corner of a slab on springs, under a circle touching both edges.

    Parameters
    ----------
    force : array-like
        Load. [N]
    load_radius : array-like
        Radius of the loaded circle. [m]
    thickness : array-like
        Slab thickness. [m]
    relative_stiffness_radius : array-like
        Radius of relative stiffness. [m]

    Returns
    -------
    stress : array-like
        Tension at the top, positive. [Pa]

    Notes
    -----
    σ = (3P / h²)[1 − (a√2 / ℓ)^0.6], with P, a, h, ℓ in the order of the arguments.

    References
    ----------
    westergaard_1926, corner load [M]
    """
    size = np.sqrt(2.0) * np.asarray(load_radius, dtype=float) / relative_stiffness_radius
    stress: FloatLike = 3.0 * force / np.square(thickness) * (1.0 - np.power(size, 0.6))
    return stress


def slab_corner_deflection(
    force: FloatLike,
    load_radius: FloatLike,
    reaction_modulus: FloatLike,
    relative_stiffness_radius: FloatLike,
) -> FloatLike:
    """Deflection at the corner of a slab on springs, under a circle touching both edges.

    Parameters
    ----------
    force : array-like
        Load. [N]
    load_radius : array-like
        Radius of the loaded circle. [m]
    reaction_modulus : array-like
        Pressure of the ground per unit settlement. [Pa/m]
    relative_stiffness_radius : array-like
        Radius of relative stiffness. [m]

    Returns
    -------
    deflection : array-like
        Downward positive. [m]

    Notes
    -----
    w = P / (k ℓ²)[1.1 − 0.88 a√2 / ℓ], with P, a, k, ℓ in the order of the arguments.

    References
    ----------
    westergaard_1926, corner load [M]
    """
    reach = np.asarray(relative_stiffness_radius, dtype=float)
    size = np.sqrt(2.0) * np.asarray(load_radius, dtype=float) / reach
    deflection: FloatLike = force / (reaction_modulus * reach**2) * (1.1 - 0.88 * size)
    return deflection


def slab_corner_stress_ioannides(
    force: FloatLike,
    load_radius: FloatLike,
    thickness: FloatLike,
    relative_stiffness_radius: FloatLike,
) -> FloatLike:
    """Flexural stress near the corner of a slab on springs, refitted to finite elements.

    Parameters
    ----------
    force : array-like
        Load. [N]
    load_radius : array-like
        Radius of the loaded circle. [m]
    thickness : array-like
        Slab thickness. [m]
    relative_stiffness_radius : array-like
        Radius of relative stiffness. [m]

    Returns
    -------
    stress : array-like
        Tension at the top, positive. [Pa]

    Notes
    -----
    σ = (3P / h²)[1 − (c / ℓ)^0.72], c = 1.772 a the side of the square of equal area, with P, a, h, ℓ in the
    order of the arguments.

    References
    ----------
    ioannides_thompson_barenberg_1985, corner load [M]
    """
    size = 1.772 * np.asarray(load_radius, dtype=float) / relative_stiffness_radius
    return 3.0 * force / np.square(thickness) * (1.0 - np.power(size, 0.72))


def slab_corner_deflection_ioannides(
    force: FloatLike,
    load_radius: FloatLike,
    reaction_modulus: FloatLike,
    relative_stiffness_radius: FloatLike,
) -> FloatLike:
    """Deflection at the corner of a slab on springs, refitted to finite elements.

    Parameters
    ----------
    force : array-like
        Load. [N]
    load_radius : array-like
        Radius of the loaded circle. [m]
    reaction_modulus : array-like
        Pressure of the ground per unit settlement. [Pa/m]
    relative_stiffness_radius : array-like
        Radius of relative stiffness. [m]

    Returns
    -------
    deflection : array-like
        Downward positive. [m]

    Notes
    -----
    w = P / (k ℓ²)[1.205 − 0.69 c / ℓ], c = 1.772 a, with P, a, k, ℓ in the order of the arguments.

    References
    ----------
    ioannides_thompson_barenberg_1985, corner load [M]
    """
    reach = np.asarray(relative_stiffness_radius, dtype=float)
    size = 1.772 * np.asarray(load_radius, dtype=float) / reach
    deflection: FloatLike = force / (reaction_modulus * reach**2) * (1.205 - 0.69 * size)
    return deflection
