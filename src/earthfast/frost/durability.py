"""Will a treated layer last: sulfate, organic matter, cycles of wetting and freezing, UK bound-mixture rules."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from earthfast.estimate import FloatLike
from earthfast.frost.moisture import IMMERSED_RATIO

SULFATE_SPECIAL, SULFATE_REFUSE = 3.0e-3, 8.0e-3  # by mass of dry soil
COARSE_STRENGTH = 3.0e6  # Pa
COARSE_TENSILE_STRENGTH = 0.25e6  # Pa
FINE_HEAVE_ACCEPTED = 0.003  # m


class SulfateVerdict(StrEnum):
    """What sulfate in the soil allows."""

    ORDINARY = "ordinary treatment"
    SPECIAL = "only with a special double application"
    REFUSE = "no cement or lime"


class AashtoGroup(StrEnum):
    """Soil groups that the loss limits tell apart."""

    A_1 = "A-1"
    A_2_4 = "A-2-4"
    A_2_5 = "A-2-5"
    A_2_6 = "A-2-6"
    A_2_7 = "A-2-7"
    A_3 = "A-3"
    A_4 = "A-4"
    A_5 = "A-5"
    A_6 = "A-6"
    A_7 = "A-7"


class TreatedGrain(StrEnum):
    """Grain of a bound mixture in the UK rules."""

    COARSE = "medium or coarse"
    FINE = "fine"


@dataclass(frozen=True, slots=True)
class MixtureVerdict:
    """Whether a bound mixture meets the UK rules, and each part of it.

    Attributes
    ----------
    is_strong_enough : compressive or tensile strength; always true for fine mixtures, which go by heave.
    keeps_strength_in_water : immersed over sealed strength.
    heaves_little : test heave; always true for coarse mixtures, which go by strength.
    """

    is_strong_enough: bool
    keeps_strength_in_water: bool
    heaves_little: bool

    @property
    def passes(self) -> bool:
        """All parts hold."""
        return self.is_strong_enough and self.keeps_strength_in_water and self.heaves_little


_LOSS_LIMIT = {
    AashtoGroup.A_1: 0.14,
    AashtoGroup.A_3: 0.14,
    AashtoGroup.A_2_4: 0.14,
    AashtoGroup.A_2_5: 0.14,
    AashtoGroup.A_2_6: 0.10,
    AashtoGroup.A_2_7: 0.10,
    AashtoGroup.A_4: 0.10,
    AashtoGroup.A_5: 0.10,
    AashtoGroup.A_6: 0.07,
    AashtoGroup.A_7: 0.07,
}


def sulfate_verdict(sulfate: float) -> SulfateVerdict:
    """What soluble sulfate in the soil allows.

    Parameters
    ----------
    sulfate : float
        Soluble sulfate by mass of dry soil. [-]

    Returns
    -------
    verdict : SulfateVerdict
        Ordinary, special or refuse. [-]

    Notes
    -----
    Below 3000 ppm ordinary; to 8000 ppm only with a special double application; above no cement or lime,
    since ettringite would swell. UK practice often stops at about 1 percent total potential sulfate.

    References
    ----------
    texas_sulfate_practice_2021, 3000 and 8000 ppm [S]
    from_memory, ordinary below 3000 ppm [M]
    """
    if sulfate < SULFATE_SPECIAL:
        return SulfateVerdict.ORDINARY
    return SulfateVerdict.SPECIAL if sulfate <= SULFATE_REFUSE else SulfateVerdict.REFUSE


def is_organic_suspect(organic_content: FloatLike) -> np.typing.NDArray[np.bool_]:
    """Whether organic matter may keep a binder from setting.

    Parameters
    ----------
    organic_content : array-like
        Organic matter by mass of dry soil. [-]

    Returns
    -------
    is_suspect : ndarray of bool
        True above 1 percent. [-]

    Notes
    -----
    Suspect from 1 to 2 percent up: make a trial before trusting any dose.

    References
    ----------
    from_memory, organic matter [M]
    """
    return np.asarray(np.asarray(organic_content, float) > 0.01)


def loss_limit(group: AashtoGroup) -> float:
    """Mass that a treated soil may lose in twelve cycles of wetting and drying or freezing and thawing.

    Parameters
    ----------
    group : AashtoGroup
        Soil group before treatment. [-]

    Returns
    -------
    loss : float
        Loss by mass. [-]

    Notes
    -----
    14 percent for A-1, A-3, A-2-4, A-2-5; 10 for A-2-6, A-2-7, A-4, A-5; 7 for A-6, A-7. Airfield
    practice asks more: granular 11 or 8, silt 8, clay 6 percent.

    References
    ----------
    pca_soil_cement, loss limits, recalled [M]
    crrel_sr_97_13, 14 percent for cement-treated layers [S]
    """
    return _LOSS_LIMIT[AashtoGroup(group)]


def bound_mixture_uk(
    grain: TreatedGrain,
    strength: float,
    tensile_strength: float,
    immersed_ratio: float,
    test_heave: float,
) -> MixtureVerdict:
    """UK frost and water rules for a hydraulically bound mixture.

    Parameters
    ----------
    grain : TreatedGrain
        Medium or coarse, or fine. [-]
    strength : float
        Compressive strength. [Pa]
    tensile_strength : float
        Indirect tensile strength; 0 if not tested. [Pa]
    immersed_ratio : float
        Immersed over sealed strength. [-]
    test_heave : float
        Heave in the standard test; 0 if not tested. [m]

    Returns
    -------
    verdict : MixtureVerdict
        Each part of the rules. [-]

    Notes
    -----
    All: immersed ratio above 0.8 (0.8 itself passes here). Medium and coarse: compressive strength above
    3 MPa, or tensile above 0.20 to 0.25 MPa (0.25 here). Fine, of about 1 MPa: aim at no heave, accept 2
    to 3 mm (3 here).

    References
    ----------
    uk_bound_mixture_frost_note, rules by grain [S]
    """
    coarse = grain == TreatedGrain.COARSE
    strong = strength > COARSE_STRENGTH or tensile_strength > COARSE_TENSILE_STRENGTH
    return MixtureVerdict(
        is_strong_enough=strong or not coarse,
        keeps_strength_in_water=immersed_ratio >= IMMERSED_RATIO,
        heaves_little=coarse or test_heave <= FINE_HEAVE_ACCEPTED,
    )
