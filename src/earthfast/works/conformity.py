"""Strength results against the two-part rules of concrete standards."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from earthfast.estimate import Floats


@dataclass(frozen=True, slots=True)
class StrengthVerdict:
    """A set of strength results against a two-part rule, Pa.

    Attributes
    ----------
    mean, least : of the results.
    mean_wanted, least_wanted : what the rule asks for.
    conforms : both parts are met.
    """

    mean: float
    least: float
    mean_wanted: float
    least_wanted: float
    conforms: bool


def _strength_verdict(mean: float, least: float, mean_wanted: float, least_wanted: float) -> StrengthVerdict:
    conforms = mean >= mean_wanted and least >= least_wanted
    return StrengthVerdict(mean, least, mean_wanted, least_wanted, conforms)


def strength_initial(results: Floats, characteristic: float) -> StrengthVerdict:
    """First three strength results of a concrete against its class.

    Parameters
    ----------
    results : array
        Three results. [Pa]
    characteristic : float
        Characteristic strength of the class. [Pa]

    Returns
    -------
    verdict : StrengthVerdict
        Mean and least result against the rule. [Pa]

    Notes
    -----
    Mean of three >= f_ck + 4 MPa and each >= f_ck − 4 MPa. The rule is for concrete; on treated soil it is a
    habit borrowed, not a standard.

    References
    ----------
    en_206_1, table 14 [S]
    """
    if len(results) != 3:
        raise ValueError(f"the first rule takes three results, got {len(results)}")
    return _strength_verdict(
        float(results.mean()), float(results.min()), characteristic + 4.0e6, characteristic - 4.0e6
    )


def strength_continuous(results: Floats, characteristic: float, sigma: float) -> StrengthVerdict:
    """Fifteen or more strength results of a concrete against its class.

    Parameters
    ----------
    results : array
        Consecutive results. [Pa]
    characteristic : float
        Characteristic strength of the class. [Pa]
    sigma : float
        Standard deviation of the production. [Pa]

    Returns
    -------
    verdict : StrengthVerdict
        Mean and least result against the rule. [Pa]

    Notes
    -----
    Mean >= f_ck + 1.48 σ and each >= f_ck − 4 MPa.

    References
    ----------
    en_206_1, table 14 [S]
    """
    if len(results) < 15:
        raise ValueError(f"the continuous rule takes fifteen results or more, got {len(results)}")
    return _strength_verdict(
        float(results.mean()), float(results.min()), characteristic + 1.48 * sigma, characteristic - 4.0e6
    )


def keeps_sigma(sigma: float, results: Floats) -> bool:
    """Whether the scatter of the last fifteen results still agrees with the assumed one.

    Parameters
    ----------
    sigma : float
        Standard deviation in use. [Pa]
    results : array
        Last fifteen results. [Pa]

    Returns
    -------
    kept : bool
        The standard deviation in use may stay.

    Notes
    -----
    0.63 σ <= s₁₅ <= 1.37 σ.

    References
    ----------
    en_206_1, table 14 [S]
    """
    return bool(0.63 * sigma <= np.std(results, ddof=1) <= 1.37 * sigma)


def sigma_from_neighbours(results: Floats) -> float:
    """Standard deviation from the ranges of successive results, which a slow drift does not inflate.

    Parameters
    ----------
    results : array
        Results in the order they were made. [Pa]

    Returns
    -------
    sigma : float
        Standard deviation. [Pa]

    Notes
    -----
    σ = 0.886 × mean of |xᵢ₊₁ − xᵢ|.

    References
    ----------
    en_206_guidance_2001, conformity [S]
    """
    return float(0.886 * np.mean(np.abs(np.diff(results))))


def strength_in_threes(set_means: Floats, characteristic: float) -> tuple[StrengthVerdict, ...]:
    """Running groups of three set means against an older national rule.

    Parameters
    ----------
    set_means : array
        Mean of each set of three cubes, in the order they were made. [Pa]
    characteristic : float
        Characteristic strength of the class. [Pa]

    Returns
    -------
    verdicts : tuple
        One verdict a group of three successive sets.

    Notes
    -----
    Average of three means >= f_ck + 1 MPa and the lowest >= f_ck − 3 MPa.

    References
    ----------
    ts_500, worked example [S]
    """
    groups = np.lib.stride_tricks.sliding_window_view(set_means, 3)
    return tuple(
        _strength_verdict(
            float(group.mean()), float(group.min()), characteristic + 1.0e6, characteristic - 3.0e6
        )
        for group in groups
    )
