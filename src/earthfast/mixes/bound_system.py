"""Published systems for a bound layer: modulus, flexural strength and life that belong together."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from earthfast.estimate import FloatLike, Floats
from earthfast.mixes.bound_layer import (
    bound_modulus_aggregate_mepdg,
    bound_modulus_austroads,
    bound_modulus_lime_mepdg,
    bound_modulus_soil_cement_mepdg,
    flexural_strength_share,
)
from earthfast.mixes.fatigue import fatigue_life_austroads, fatigue_life_mepdg

CEMENT_SHARE, LIME_SHARE = 0.20, 0.25  # flexural over compressive strength
AUSTROADS_MIDDLE_RATIO = 1125.0  # middle of 1000..1250


class BoundSystem(StrEnum):
    """Published systems that give modulus, strength and life together; never mix parts of two."""

    AGGREGATE_MEPDG = "cement-treated aggregate, MEPDG"
    SOIL_CEMENT_MEPDG = "soil-cement, MEPDG"
    LIME_MEPDG = "lime-treated soil, MEPDG"
    AUSTROADS = "cemented material, Austroads"


@dataclass(frozen=True, slots=True)
class BoundResponse:
    """What a load does at the underside of a bound layer, and what the layer is.

    Attributes
    ----------
    tensile_stress : flexural stress, tension positive, Pa.
    tensile_strain : horizontal strain, tension positive.
    flexural_strength : modulus of rupture, Pa.
    modulus : modulus used for the stress and the strain, Pa.
    """

    tensile_stress: FloatLike
    tensile_strain: FloatLike
    flexural_strength: FloatLike
    modulus: FloatLike


@dataclass(frozen=True, slots=True)
class BoundRules:
    """The parts of one system: modulus from UCS, flexural share of UCS, life from response."""

    modulus: Callable[[FloatLike], Floats]
    flexural_share: float
    life: Callable[[BoundResponse], Floats]


def _life_by_stress(response: BoundResponse) -> Floats:
    return fatigue_life_mepdg(response.tensile_stress / np.asarray(response.flexural_strength))


def _life_by_strain(response: BoundResponse) -> Floats:
    return fatigue_life_austroads(response.tensile_strain, response.modulus)


def _middle_modulus_austroads(compressive_strength: FloatLike) -> Floats:
    return bound_modulus_austroads(compressive_strength, AUSTROADS_MIDDLE_RATIO)


BOUND_RULES: dict[BoundSystem, BoundRules] = {
    BoundSystem.AGGREGATE_MEPDG: BoundRules(bound_modulus_aggregate_mepdg, CEMENT_SHARE, _life_by_stress),
    BoundSystem.SOIL_CEMENT_MEPDG: BoundRules(bound_modulus_soil_cement_mepdg, CEMENT_SHARE, _life_by_stress),
    BoundSystem.LIME_MEPDG: BoundRules(bound_modulus_lime_mepdg, LIME_SHARE, _life_by_stress),
    BoundSystem.AUSTROADS: BoundRules(_middle_modulus_austroads, CEMENT_SHARE, _life_by_strain),
}


def bound_modulus(system: BoundSystem, compressive_strength: FloatLike) -> Floats:
    """Uncracked modulus of a bound layer by the rule of one system.

    Parameters
    ----------
    system : BoundSystem
        The system. [-]
    compressive_strength : array-like
        Unconfined compressive strength. [Pa]

    Returns
    -------
    modulus : array-like
        Modulus to use for stresses and strains that go into the same system's life. [Pa]

    Notes
    -----
    MEPDG: 57 000 √f psi (aggregate), 1200 q_u (soil-cement), 0.124 q_u + 9.98 ksi (lime); Austroads: 1125
    q_u, the middle of 1000 to 1250; q_u and f the compressive strength. Treated aggregate and soil-cement
    need separate rules.

    References
    ----------
    nchrp_1_37a, part 2 chapter 2 [M]
    austroads_agpt02 [M]
    """
    return BOUND_RULES[BoundSystem(system)].modulus(compressive_strength)


def bound_flexural_strength(system: BoundSystem, compressive_strength: FloatLike) -> Floats:
    """Flexural strength of a bound layer by the share of one system.

    Parameters
    ----------
    system : BoundSystem
        The system. [-]
    compressive_strength : array-like
        Unconfined compressive strength. [Pa]

    Returns
    -------
    flexural_strength : array-like
        Modulus of rupture. [Pa]

    Notes
    -----
    f = 0.20 q_u for cement, 0.25 q_u for lime, q_u the compressive strength.

    References
    ----------
    nchrp_1_37a, 20 % [M]
    lime_association_guide, 25 % [M]
    """
    return flexural_strength_share(compressive_strength, BOUND_RULES[BoundSystem(system)].flexural_share)


def bound_fatigue_life(system: BoundSystem, response: BoundResponse) -> Floats:
    """Passes to fatigue cracking of a bound layer by one system.

    Parameters
    ----------
    system : BoundSystem
        The system. [-]
    response : BoundResponse
        Stress and strain at the underside, computed with the system's own modulus. [-]

    Returns
    -------
    repetitions : array-like
        Passes to cracking. [-]

    Notes
    -----
    MEPDG by ratio of stress to flexural strength, Austroads by strain at 95 % reliability; see
    fatigue_life_mepdg and fatigue_life_austroads. Calibrated on roads with lorries.

    References
    ----------
    nchrp_1_37a, part 3 chapter 3 [M]
    austroads_agpt02 [M]
    """
    return BOUND_RULES[BoundSystem(system)].life(response)
