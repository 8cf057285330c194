"""Will a treated layer last: organic matter and UK bound-mixture rules."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from earthfast.estimate import FloatLike
from earthfast.mixes import is_immersion_accepted

COARSE_STRENGTH = 3.0e6  # Pa
COARSE_TENSILE_STRENGTH = 0.25e6  # Pa
FINE_HEAVE_ACCEPTED = 0.003  # m


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
        keeps_strength_in_water=is_immersion_accepted(immersed_ratio),
        heaves_little=coarse or test_heave <= FINE_HEAVE_ACCEPTED,
    )
