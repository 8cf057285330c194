"""From a crushed specimen to the strength of the material."""

from __future__ import annotations

import numpy as np
from scipy.constants import g as standard_gravity

from earthfast.estimate import FloatLike, Floats

SLENDER_SHARE = 0.75  # strength at slenderness 2 over slenderness 1. S: sroh, class pairs 1.5/2 to 9/12
LUMP_LOG_SD = 0.35  # P: doubt of a lump crushed between uneven faces


def crushing_strength(load: FloatLike, area: FloatLike) -> FloatLike:
    """Crushing strength of a cube, cylinder, core or squared lump.

    Parameters
    ----------
    load : array-like
        Greatest load carried. [N]
    area : array-like
        Area that carries it. [m²]

    Returns
    -------
    strength : array-like
        Unconfined compressive strength at the specimen's own slenderness. [Pa]

    Notes
    -----
    q = P / A, with P and A in the order of the arguments. Bring it to slenderness 1 with `strength_as_cube`.

    References
    ----------
    definition, unconfined compressive strength [C]
    """
    return load / area


def round_area(diameter: FloatLike) -> FloatLike:
    """Area of a round specimen.

    Parameters
    ----------
    diameter : array-like
        Diameter. [m]

    Returns
    -------
    area : array-like
        Area of its face. [m²]

    Notes
    -----
    A = π D² / 4.

    References
    ----------
    definition, geometry [C]
    """
    return np.pi * diameter**2 / 4.0


def lump_area(upper_face: FloatLike, lower_face: FloatLike) -> Floats:
    """Area to use for an irregular lump crushed between two trimmed faces.

    Parameters
    ----------
    upper_face : array-like
        Area of the upper face, traced on squared paper. [m²]
    lower_face : array-like
        Area of the lower face. [m²]

    Returns
    -------
    area : array-like
        Area that carries the load. [m²]

    Notes
    -----
    A = sqrt(A1 A2). Give such a specimen a doubt of 0.35 in ln strength: a lump tells whether, not how much.

    References
    ----------
    earthfast_proposal, mean of two faces and its doubt [P]
    """
    return np.asarray(np.sqrt(np.asarray(upper_face) * np.asarray(lower_face)))


def splitting_strength(load: FloatLike, length: FloatLike, diameter: FloatLike) -> FloatLike:
    """Tensile strength of a cylinder split along its length.

    Parameters
    ----------
    load : array-like
        Greatest load carried. [N]
    length : array-like
        Length of the cylinder. [m]
    diameter : array-like
        Diameter. [m]

    Returns
    -------
    strength : array-like
        Splitting tensile strength. [Pa]

    Notes
    -----
    f = 2 P / (π L D), with P, L and D in the order of the arguments. About 1/10 to 1/7 of crushing strength
    (from memory).

    References
    ----------
    definition, elastic disc under two line loads [C]
    """
    return 2.0 * load / (np.pi * length * diameter)


def rupture_strength_centre(
    load: FloatLike, span: FloatLike, width: FloatLike, height: FloatLike
) -> FloatLike:
    """Flexural strength of a beam loaded at the middle of its span.

    Parameters
    ----------
    load : array-like
        Greatest load carried. [N]
    span : array-like
        Distance between supports. [m]
    width : array-like
        Width of the beam. [m]
    height : array-like
        Height of the beam. [m]

    Returns
    -------
    strength : array-like
        Modulus of rupture. [Pa]

    Notes
    -----
    f = 3 P L / (2 b d²), with P, L, b and d in the order of the arguments.

    References
    ----------
    definition, bending of a beam [C]
    """
    return 1.5 * load * span / (width * height**2)


def rupture_strength_thirds(
    load: FloatLike, span: FloatLike, width: FloatLike, height: FloatLike
) -> FloatLike:
    """Flexural strength of a beam loaded at the thirds of its span.

    Parameters
    ----------
    load : array-like
        Greatest load carried, both points together. [N]
    span : array-like
        Distance between supports. [m]
    width : array-like
        Width of the beam. [m]
    height : array-like
        Height of the beam. [m]

    Returns
    -------
    strength : array-like
        Modulus of rupture. [Pa]

    Notes
    -----
    f = P L / (b d²), with P, L, b and d in the order of the arguments.

    References
    ----------
    definition, bending of a beam [C]
    """
    return load * span / (width * height**2)


def slenderness_factor(slenderness: FloatLike) -> Floats:
    """Strength of a treated-soil specimen over that of one as high as it is wide.

    Parameters
    ----------
    slenderness : array-like
        Height over width or diameter. [-]

    Returns
    -------
    factor : array-like
        Ratio of strengths. [-]

    Notes
    -----
    f = 1 at slenderness 1 and 0.75 at 2, a straight line between, held beyond. Class pairs of bound
    mixtures give 0.75 throughout (1.5/2, 3/4, 6/8, 9/12); the line between is ours. Flatter than 1 reads
    high and isn't corrected.

    References
    ----------
    sroh, class pairs in A10.2.15 [S]
    earthfast_proposal, straight line between [P]
    """
    return np.asarray(np.interp(slenderness, [1.0, 2.0], [1.0, SLENDER_SHARE]))


def strength_as_cube(strength: FloatLike, slenderness: FloatLike) -> Floats:
    """Strength brought to slenderness 1, the shape in which strengths are kept here.

    Parameters
    ----------
    strength : array-like
        Strength at the specimen's own slenderness. [Pa]
    slenderness : array-like
        Height over width or diameter. [-]

    Returns
    -------
    strength : array-like
        Strength of a cube or a cylinder as high as it is wide. [Pa]

    Notes
    -----
    q1 = q / f, f from `slenderness_factor`.

    References
    ----------
    sroh, class pairs in A10.2.15 [S]
    """
    return np.asarray(strength / slenderness_factor(slenderness))


def strength_as_cylinder(strength: FloatLike, slenderness: FloatLike) -> Floats:
    """Strength brought to slenderness 2, the first figure of a class pair.

    Parameters
    ----------
    strength : array-like
        Strength at the specimen's own slenderness. [Pa]
    slenderness : array-like
        Height over width or diameter. [-]

    Returns
    -------
    strength : array-like
        Strength of a cylinder twice as high as wide. [Pa]

    Notes
    -----
    q2 = 0.75 q / f, f from `slenderness_factor`.

    References
    ----------
    sroh, class pairs in A10.2.15 [S]
    """
    return SLENDER_SHARE * strength_as_cube(strength, slenderness)


def core_factor_c42(slenderness: FloatLike) -> Floats:
    """Factor that brings a concrete core to slenderness 2; for concrete, kept for comparison.

    Parameters
    ----------
    slenderness : array-like
        Length over diameter, 1 to 2. [-]

    Returns
    -------
    factor : array-like
        Multiplies the measured strength. [-]

    Notes
    -----
    f = 0.87, 0.93, 0.96, 0.98, 1 at slenderness 1, 1.25, 1.5, 1.75, 2, straight lines between. For soil
    with binder use `slenderness_factor`.

    References
    ----------
    core_factor_table, 1.25 and 1.5 [S]
    from_memory, 1 and 1.75 [M]
    """
    return np.asarray(np.interp(slenderness, [1.0, 1.25, 1.5, 1.75, 2.0], [0.87, 0.93, 0.96, 0.98, 1.0]))


def core_size_factor(diameter: FloatLike) -> Floats:
    """Strength of a core over that of a core of 100 mm, because small cores suffer more from drilling.

    Parameters
    ----------
    diameter : array-like
        Diameter of the core. [m]

    Returns
    -------
    factor : array-like
        Ratio of strengths. [-]

    Notes
    -----
    f = 0.94 at 50 mm, 1 at 100 mm, 0.94/0.92 at 150 mm, straight lines between, held beyond. Measured on
    concrete.

    References
    ----------
    bartlett_macgregor_1994, abstract [S]
    """
    return np.asarray(np.interp(diameter, [0.05, 0.10, 0.15], [0.94, 1.0, 0.94 / 0.92]))


def lever_press_force(
    hung_mass: FloatLike,
    hung_arm: FloatLike,
    lever_mass: FloatLike,
    lever_arm: FloatLike,
    specimen_arm: FloatLike,
) -> FloatLike:
    """Force on a specimen under a lever loaded with known masses.

    Parameters
    ----------
    hung_mass : array-like
        Mass hung on the lever. [kg]
    hung_arm : array-like
        Its distance from the hinge. [m]
    lever_mass : array-like
        Mass of the lever itself. [kg]
    lever_arm : array-like
        Distance of the lever's middle of mass from the hinge. [m]
    specimen_arm : array-like
        Distance of the specimen from the hinge. [m]

    Returns
    -------
    force : array-like
        Force on the specimen. [N]

    Notes
    -----
    P = g (m a + ml al) / as, arguments in order; for a lever close to level. Bags of cement or cans of
    water serve as masses.

    References
    ----------
    definition, moments about the hinge [C]
    """
    return standard_gravity * (hung_mass * hung_arm + lever_mass * lever_arm) / specimen_arm
