"""Partial factors of EN 1997-1, for the secondary figure beside a chance of failure."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from earthfast.estimate import FloatLike, Floats


class DesignCombination(StrEnum):
    """The two combinations of Design Approach 1."""

    ON_LOADS = "Design Approach 1, combination 1"
    ON_STRENGTH = "Design Approach 1, combination 2"


@dataclass(frozen=True, slots=True)
class PartialFactors:
    """Factors that multiply loads and divide strengths.

    Attributes
    ----------
    permanent : on permanent loads.
    variable : on variable loads.
    friction : on the tangent of the friction angle.
    cohesion : on effective cohesion.
    undrained_strength : on undrained shear strength.
    """

    permanent: float
    variable: float
    friction: float
    cohesion: float
    undrained_strength: float


PARTIAL_FACTORS: dict[DesignCombination, PartialFactors] = {
    DesignCombination.ON_LOADS: PartialFactors(1.35, 1.5, 1.0, 1.0, 1.0),
    DesignCombination.ON_STRENGTH: PartialFactors(1.0, 1.3, 1.25, 1.25, 1.4),
}


def partial_factors(combination: DesignCombination) -> PartialFactors:
    """Partial factors of one combination of Design Approach 1.

    Parameters
    ----------
    combination : DesignCombination
        Which of the two. [-]

    Returns
    -------
    factors : PartialFactors
        Factors on loads and strengths. [-]

    Notes
    -----
    Combination 1: 1.35 permanent, 1.5 variable, strengths 1. Combination 2: 1 and 1.3; 1.25 on tan φ and
    cohesion, 1.4 on undrained strength. National annexes change them.

    References
    ----------
    en_1997_1, Annex A [M]
    """
    return PARTIAL_FACTORS[DesignCombination(combination)]


def design_friction_angle(friction_angle: FloatLike, partial_factor: FloatLike) -> Floats:
    """Friction angle after a partial factor on its tangent.

    Parameters
    ----------
    friction_angle : array-like
        Characteristic friction angle. [deg]
    partial_factor : array-like
        Partial factor, 1.25 in the second combination of Design Approach 1. [-]

    Returns
    -------
    friction_angle : array-like
        Design friction angle. [deg]

    Notes
    -----
    tan φ_d = tan φ_k / γ_φ, with φ_k the characteristic angle and γ_φ the partial factor.

    References
    ----------
    en_1997_1, 2.4.6.2 [M]
    """
    tangent = np.tan(np.deg2rad(np.asarray(friction_angle, dtype=np.float64)))
    return np.asarray(np.rad2deg(np.arctan(tangent / partial_factor)))
