"""A slab on a bed of springs: how far it spreads a load, and a load far from its edges."""

from __future__ import annotations

import numpy as np

from earthfast.estimate import FloatLike

_EULER = 0.5772156649015329


def radius_of_relative_stiffness(
    thickness: FloatLike, modulus: FloatLike, poisson_ratio: FloatLike, reaction_modulus: FloatLike
) -> FloatLike:
    """Length over which a slab on springs spreads a load.

    Parameters
    ----------
    thickness : array-like
        Slab thickness. [m]
    modulus : array-like
        Young's modulus of the slab. [Pa]
    poisson_ratio : array-like
        Poisson's ratio of the slab. [-]
    reaction_modulus : array-like
        Pressure of the ground per unit settlement. [Pa/m]

    Returns
    -------
    radius : array-like
        Radius of relative stiffness. [m]

    Notes
    -----
    ℓ = [E h³ / (12 (1 − ν²) k)]^(1/4), with h, E, ν, k in the order of the arguments.

    References
    ----------
    westergaard_1926, radius of relative stiffness [M]
    """
    rigidity = modulus * np.power(thickness, 3.0) / (12.0 * (1.0 - np.square(poisson_ratio)))
    return np.power(rigidity / reaction_modulus, 0.25)


def equivalent_contact_radius(load_radius: FloatLike, thickness: FloatLike) -> FloatLike:
    """Contact radius that makes plate theory give the stress of a thick plate under a small load.

    Parameters
    ----------
    load_radius : array-like
        Radius of the loaded circle. [m]
    thickness : array-like
        Slab thickness. [m]

    Returns
    -------
    radius : array-like
        Radius to use in the interior stress. [m]

    Notes
    -----
    b = √(1.6 a² + h²) − 0.675 h where a < 1.724 h, else a.

    References
    ----------
    westergaard_1926, special theory [M]
    """
    a, h = np.asarray(load_radius, dtype=float), np.asarray(thickness, dtype=float)
    return np.where(a < 1.724 * h, np.sqrt(1.6 * a**2 + h**2) - 0.675 * h, a)


def slab_interior_stress(
    force: FloatLike,
    contact_radius: FloatLike,
    thickness: FloatLike,
    poisson_ratio: FloatLike,
    relative_stiffness_radius: FloatLike,
) -> FloatLike:
    """Flexural stress under a circular load far from any edge of a slab on springs.

    Parameters
    ----------
    force : array-like
        Load. [N]
    contact_radius : array-like
        Equivalent radius (special theory) or the load's own (ordinary theory). [m]
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
    σ = 3(1 + ν) P / (2π h²) [ln(ℓ / b) + 0.6159], with P, b, h, ν, ℓ in the order of the arguments;
    0.6159 = ln 2 + 1/2 − 0.5772. For loads about ℓ or more from every edge.

    References
    ----------
    ioannides_thompson_barenberg_1985, interior load, as quoted in a thesis appendix [S]
    """
    spread = (
        np.log(relative_stiffness_radius / np.asarray(contact_radius, dtype=float))
        + np.log(2.0)
        + 0.5
        - _EULER
    )
    stress: FloatLike = (
        3.0
        * (1.0 + np.asarray(poisson_ratio, dtype=float))
        * force
        / (2.0 * np.pi * np.square(thickness))
        * spread
    )
    return stress


def slab_interior_stress_supplement(
    force: FloatLike,
    load_radius: FloatLike,
    thickness: FloatLike,
    poisson_ratio: FloatLike,
    relative_stiffness_radius: FloatLike,
) -> FloatLike:
    """Second term of the interior flexural stress, for a load that is not small beside the slab's reach.

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
        To be added to the interior stress of ordinary theory. [Pa]

    Notes
    -----
    Δσ = 3(1 + ν) P / (64 h²) (a / ℓ)², with P, a, h, ν, ℓ in the order of the arguments.

    References
    ----------
    ioannides_thompson_barenberg_1985, interior load, as quoted in a thesis appendix [S]
    """
    size = np.square(load_radius / np.asarray(relative_stiffness_radius, dtype=float))
    return 3.0 * (1.0 + np.asarray(poisson_ratio, dtype=float)) * force / (64.0 * np.square(thickness)) * size


def slab_interior_deflection(
    force: FloatLike,
    load_radius: FloatLike,
    reaction_modulus: FloatLike,
    relative_stiffness_radius: FloatLike,
) -> FloatLike:
    """Deflection under a circular load far from any edge of a slab on springs.

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
    w = P / (8 k ℓ²){1 + (1 / 2π)[ln(a / 2ℓ) − 0.673](a / ℓ)²}, with P, a, k, ℓ in the order of the arguments.

    References
    ----------
    ioannides_thompson_barenberg_1985, interior load, as quoted in a thesis appendix [S]
    """
    reach = np.asarray(relative_stiffness_radius, dtype=float)
    size = np.asarray(load_radius, dtype=float) / reach
    shape = 1.0 + (np.log(0.5 * size) - 0.673) * size**2 / (2.0 * np.pi)
    deflection: FloatLike = force / (8.0 * reaction_modulus * reach**2) * shape
    return deflection
