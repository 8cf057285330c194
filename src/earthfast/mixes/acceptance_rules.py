"""Published rules for accepting a mix or a compacted layer."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.special import ndtri, stdtrit

from earthfast.estimate import FloatLike, Floats

SINGLE_SHARE = 0.67  # S: sroh, A10.2.15
HIGHEST_MEAN = 9.0e6  # Pa, class C9/12 at slenderness 2. S: same


@dataclass(frozen=True, slots=True)
class SetVerdict:
    """Whether a set of specimens meets a class, and the figures behind it.

    Attributes
    ----------
    mean : Pa.
    lowest : Pa.
    single_floor : least strength allowed for one specimen, Pa.
    is_accepted : verdict.
    """

    mean: float
    lowest: float
    single_floor: float
    is_accepted: bool


def set_verdict(strengths: Floats, class_strength: float) -> SetVerdict:
    """Whether a set of specimens meets a strength class by the UK rule for bound mixtures.

    Parameters
    ----------
    strengths : array-like
        Strengths of three specimens or more, slenderness 2. [Pa]
    class_strength : float
        First figure of the class. [Pa]

    Returns
    -------
    verdict : SetVerdict
        Mean, lowest, floor and verdict.

    Notes
    -----
    Accepted if n >= 3, mean > class, lowest >= 0.67 class, mean <= 9 MPa. The cap is against wide shrinkage
    cracks.

    References
    ----------
    sroh, A10.2.15 [S]
    """
    mean, lowest = float(np.mean(strengths)), float(np.min(strengths))
    floor = SINGLE_SHARE * class_strength
    is_accepted = (
        np.size(strengths) >= 3 and mean > class_strength and lowest >= floor and mean <= HIGHEST_MEAN
    )
    return SetVerdict(mean, lowest, floor, bool(is_accepted))


def retained_strength(immersed: FloatLike, sealed: FloatLike) -> FloatLike:
    """Share of strength kept after immersion; 0.80 or more is wanted.

    Parameters
    ----------
    immersed : array-like
        Strength after immersion. [Pa]
    sealed : array-like
        Strength of like specimens kept sealed. [Pa]

    Returns
    -------
    ratio : array-like
        Share kept. [-]

    Notes
    -----
    r = q_immersed / q_sealed; accepted at 0.80 with no cracks and no swelling.

    References
    ----------
    sroh, A10.2.14 [S]
    """
    return immersed / sealed


def is_immersion_accepted(ratio: float) -> bool:
    """Whether the share of strength kept after immersion is enough.

    Parameters
    ----------
    ratio : float
        From `retained_strength`. [-]

    Returns
    -------
    is_accepted : bool
        True at 0.80 and above.

    Notes
    -----
    r >= 0.80.

    References
    ----------
    sroh, A10.2.14 [S]
    """
    return ratio >= 0.80


def compaction_ratio(wet_densities: Floats, nominal_wet_density: float) -> float:
    """Mean wet density in place over the nominal one; 0.95 or more over five positions is wanted.

    Parameters
    ----------
    wet_densities : array-like
        Wet densities in place. [kg/m³]
    nominal_wet_density : float
        Wet density from the mix design. [kg/m³]

    Returns
    -------
    ratio : float
        Mean over nominal. [-]

    Notes
    -----
    r = mean(ρ) / ρ_nominal, accepted at 0.95 from five positions read within 2 hours.

    References
    ----------
    sroh, notes on bound mixtures [S]
    """
    return float(np.mean(wet_densities)) / nominal_wet_density


def is_frost_resistant(class_strength: float, mean_heave: float) -> bool:
    """Whether a bound mixture counts as not frost-susceptible by the UK rule.

    Parameters
    ----------
    class_strength : float
        First figure of its class. [Pa]
    mean_heave : float
        Mean heave in the frost test; infinity if not tested. [m]

    Returns
    -------
    is_resistant : bool
        True by either route.

    Notes
    -----
    q >= 3 MPa (C3/4), or heave <= 15 mm.

    References
    ----------
    sroh, A10.2.16 [S]
    """
    return class_strength >= 3.0e6 or mean_heave <= 0.015


def fractile_factor(count: int, is_scatter_known: bool) -> float:
    """Standard deviations below the mean of a few results at which the 5 % fractile is put.

    Parameters
    ----------
    count : int
        Number of results. [-]
    is_scatter_known : bool
        True if the scatter comes from long experience, False if from these results.

    Returns
    -------
    factor : float
        k in x_k = mean (1 − k V). [-]

    Notes
    -----
    k = t(0.95, n − 1) sqrt(1 + 1/n) with unknown scatter, 1.645 sqrt(1 + 1/n) with known. Three results
    cost 3.37.

    References
    ----------
    en_1990, annex D, form from memory [M]
    """
    score = ndtri(0.95) if is_scatter_known else stdtrit(count - 1, 0.95)
    return float(score * np.sqrt(1.0 + 1.0 / count))
