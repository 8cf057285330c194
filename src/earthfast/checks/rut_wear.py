"""How passes wear the ground under a base: strain that is stood so many times, and passes in thaws and of other loads."""

from __future__ import annotations

import numpy as np
from scipy.constants import day
from scipy.special import ndtr

from earthfast.estimate import FloatLike, Floats
from earthfast.ground import STRAIN_LAWS, StrainCriterion, limiting_strain

YEAR = 365.25 * day
THAW_OF_SEASON = 0.65  # 122 days after 188


def rutting_strain(repetitions: FloatLike, modulus: FloatLike, score: FloatLike, most: FloatLike) -> Floats:
    """Strain of the top of the ground that may come so many times, by where the truth lies among published limits.

    Parameters
    ----------
    repetitions : array-like
        Passes over the design life. [-]
    modulus : array-like
        Resilient modulus of the ground. [Pa]
    score : array-like
        Standard normal score of the true limit among the published ones. [-]
    most : array-like
        Strain that may never be passed. [-]

    Returns
    -------
    strain : array-like
        Vertical compressive strain per pass. [-]

    Notes
    -----
    ε = min(exp(m + z s), ε_m), m and s mean and standard deviation of ln ε over nine published criteria ε = A N^(−n) with A and n
    0.028, 0.021, 0.018 and 0.25; 0.010469 and 0.2234; 0.0093, 0.00915 and 1/7; 0.014951 and 0.2532; 0.023557 and 0.2206; and the
    Corps of Engineers' of E in psi, A = (247 + 245 log10 E) 1e-6 · 1e4^n, n = 1/(0.0658 E^0.559); N, E, z, ε_m in the order of
    the arguments. They differ 2 to 2.5 times, and are extrapolated below about 1e4 passes: hence the cap.

    References
    ----------
    ufc_3_260_03, eq. 4-5, and the other criteria of the ground's limiting strain [S]
    earthfast_proposal, equal weights, cap of 3000 to 4000 µε [P]
    """
    limits = [np.log(limiting_strain(one, repetitions, modulus)) for one in StrainCriterion]
    logs = np.stack(np.broadcast_arrays(*limits))
    middle, spread = logs.mean(axis=0), logs.std(axis=0, ddof=1)
    return np.asarray(np.minimum(np.exp(middle + np.asarray(score) * spread), most))


def strain_exponent(modulus: FloatLike) -> Floats:
    """Power of the strain with which the wear of one pass grows, the middle of the published limits.

    Parameters
    ----------
    modulus : array-like
        Resilient modulus of the ground; one of the limits uses it. [Pa]

    Returns
    -------
    exponent : array-like
        Wear of a pass goes with its strain to this power. [-]

    Notes
    -----
    m = 1/n, n the mean over nine published limits ε = A N^(−n): 0.25 three times, 0.223, 1/7 twice, 0.253, 0.221, and of the
    Corps of Engineers 1/(0.0658 E^0.559), E in psi.

    References
    ----------
    ufc_3_260_03, eq. 4-5, and the other criteria of the ground's limiting strain [S]
    earthfast_proposal, equal weights [P]
    """
    exponents = [np.asarray(STRAIN_LAWS[one](modulus).exponent) for one in StrainCriterion]
    return np.asarray(1.0 / np.mean(np.broadcast_arrays(*exponents), axis=0))


def equivalent_passes(
    repetitions: FloatLike, strain: FloatLike, worst_strain: FloatLike, exponent: FloatLike
) -> Floats:
    """Passes of the load that asks most that wear the ground as much as those of another.

    Parameters
    ----------
    repetitions : array-like
        Passes of the other over the design life. [-]
    strain : array-like
        Strain of the ground under it. [-]
    worst_strain : array-like
        Strain under the load that asks most. [-]
    exponent : array-like
        Power of the strain with which wear grows. [-]

    Returns
    -------
    passes : array-like
        Passes of the load that asks most. [-]

    Notes
    -----
    N = n (ε/ε_w)^m, with n, ε, ε_w, m in the order of the arguments: each pass uses its share of the life, and the shares add
    (Miner); whichever load is counted in.

    References
    ----------
    miner_1945, linear sum of damage [M]
    """
    ratio = np.asarray(strain) / np.asarray(worst_strain)
    return np.asarray(np.asarray(repetitions) * ratio ** np.asarray(exponent))


def passes_together(**each: FloatLike) -> Floats:
    """Passes of all loads, each counted in passes of the one that asks most.

    Parameters
    ----------
    each : array-like
        Equivalent passes of each load. [-]

    Returns
    -------
    passes : array-like
        Their sum. [-]

    Notes
    -----
    N = ΣN_i over the loads listed.

    References
    ----------
    miner_1945, linear sum of damage [M]
    """
    return np.asarray(sum(np.asarray(one) for one in each.values()))


def spring_share_of_year(season: FloatLike, share_frozen: FloatLike) -> Floats:
    """Share of the year for which the ground under a base is thawing and weak, on average over the winters.

    Parameters
    ----------
    season : array-like
        Length of the freezing season of a cold winter. [s]
    share_frozen : array-like
        Share of winters in which frost reaches the ground under the base. [-]

    Returns
    -------
    share : array-like
        Share of the year. [-]

    Notes
    -----
    s = 0.65 p t/year, t and p in the order of the arguments, the year 365.25 days: an evaluation example has four months of thaw
    weakening after a season of 188 days. Every thaw is taken as long as that of the coldest winter, which errs towards more.

    References
    ----------
    ufc_3_260_03, evaluation example [S]
    earthfast_proposal, in proportion to the season [P]
    """
    return np.asarray(THAW_OF_SEASON * np.asarray(share_frozen) * np.asarray(season) / YEAR)


def damage_weighted_passes(
    repetitions: FloatLike,
    spring_share: FloatLike,
    spring_strain: FloatLike,
    strain: FloatLike,
    exponent: FloatLike,
) -> Floats:
    """Passes in the wet state that wear as much as all passes of the year, those in spring weighed by their wear.

    Parameters
    ----------
    repetitions : array-like
        Passes over the design life, spread evenly over the year. [-]
    spring_share : array-like
        Share of the year in which the ground is thawing. [-]
    spring_strain : array-like
        Strain of the ground at a pass in spring. [-]
    strain : array-like
        Strain in the wet state. [-]
    exponent : array-like
        Power of the strain with which wear grows. [-]

    Returns
    -------
    repetitions : array-like
        Equivalent passes. [-]

    Notes
    -----
    N' = N (1 + s (max(ε_s/ε, 1)^m − 1)), N, s, ε_s, ε, m in the order of the arguments: each pass uses its share of the life, and
    the shares add (Miner). One study found springs 1.5 to 3 times as damaging as the mean of the year.

    References
    ----------
    miner_1945, linear sum of damage [M]
    """
    ratio = np.maximum(np.asarray(spring_strain) / np.asarray(strain), 1.0)
    return np.asarray(
        np.asarray(repetitions) * (1.0 + np.asarray(spring_share) * (ratio ** np.asarray(exponent) - 1.0))
    )


def passes_in_worst_thaw(repetitions: FloatLike, years: FloatLike, season: FloatLike) -> Floats:
    """Passes to be expected in the thaw after the coldest winter of the design life.

    Parameters
    ----------
    repetitions : array-like
        Passes over the design life, spread evenly over the year. [-]
    years : array-like
        Design life. [years]
    season : array-like
        Length of the freezing season of a cold winter. [s]

    Returns
    -------
    passes : array-like
        Passes in that one thaw. [-]

    Notes
    -----
    n = 0.65 N t/(L year), N, L, t in the order of the arguments, the year 365.25 days: an evaluation example has four months of
    thaw weakening after a season of 188 days.

    References
    ----------
    ufc_3_260_03, evaluation example [S]
    earthfast_proposal, in proportion to the season [P]
    """
    yearly = np.asarray(repetitions) / np.asarray(years)
    return np.asarray(THAW_OF_SEASON * yearly * np.asarray(season) / YEAR)


def worst_strain_met(score: FloatLike, **each: FloatLike) -> Floats:
    """Largest strain that comes in the thaw after the coldest winter.

    Parameters
    ----------
    score : array-like
        Standard normal score of what comes. [-]
    each : array-like
        Of every load in turn its strain in that thaw and the passes of it to be expected there. [-]

    Returns
    -------
    strain : array-like
        The largest of the strains that come; 0 where nothing comes. [-]

    Notes
    -----
    The largest ε_i for which Φ(z) < 1 − exp(−Σn_j), the sum over all loads that strain no less, n_j the passes of each to be
    expected: loads come at any time and by themselves, so that none of those comes with the chance exp(−Σn_j). A strain that may
    never be passed may not be passed in the worst spring either.

    References
    ----------
    definition, chance of no event of Poisson processes [C]
    earthfast_proposal, the cap holds in spring too [P]
    """
    scores, *values = np.broadcast_arrays(score, *each.values())
    strains, passes = np.stack(values[::2]), np.stack(values[1::2])
    order = np.argsort(-strains, axis=0)
    falling = np.take_along_axis(strains, order, axis=0)
    expected = np.cumsum(np.take_along_axis(passes, order, axis=0), axis=0)
    comes = ndtr(scores) < -np.expm1(-expected)
    return np.asarray(np.where(comes, falling, 0.0).max(axis=0))
