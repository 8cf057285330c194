"""Specimens turned into belief: Bayesian regression on ln strength, robust to an odd specimen."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

import numpy as np
from scipy.special import logsumexp

from earthfast.estimate import Floats
from earthfast.mixes.belief import GroupBelief, MixState, StrengthBelief
from earthfast.mixes.robust_regression import Readings, RobustFit, robust_fit


class Workmanship(StrEnum):
    """Who makes and crushes the specimens."""

    LABORATORY = "laboratory"
    CAREFUL = "careful"
    AMATEUR = "amateur"


@dataclass(frozen=True, slots=True)
class TrialScatter:
    """Scatter of ln strength: between specimens of one mix, and between mixes.

    Attributes
    ----------
    specimen : within a batch.
    batch : from batch to batch.
    """

    specimen: float
    batch: float


# Specimen C: 0.06 rms of triplicates, 0.09 about a soil's line; batch C: 0.12 to 0.20; steps between P.
_SCATTER = {
    Workmanship.LABORATORY: TrialScatter(0.10, 0.12),
    Workmanship.CAREFUL: TrialScatter(0.13, 0.15),
    Workmanship.AMATEUR: TrialScatter(0.20, 0.20),
}


@dataclass(frozen=True, slots=True)
class Specimen:
    """One specimen: what it was made of, how it was kept, and what was seen.

    Attributes
    ----------
    state : dose, age, relative density, soaking.
    strength_low, strength_high : Pa, slenderness 1; equal when it was crushed, apart when a field test only
        bounds it (0 and
        infinity for no bound).
    log_sd : scatter of the reading itself beyond that of specimens, in ln.
    batch : number of the mix it came from.
    """

    state: MixState
    strength_low: float
    strength_high: float
    batch: int
    log_sd: float = 0.0

    @property
    def is_crushed(self) -> bool:
        """Whether it has a strength rather than bounds."""
        return self.strength_low == self.strength_high


def crushed(state: MixState, strength: float, batch: int, log_sd: float = 0.0) -> Specimen:
    """Specimen that was crushed.

    Parameters
    ----------
    state : MixState
        Dose, age, relative density, soaking.
    strength : float
        Crushing strength brought to slenderness 1. [Pa]
    batch : int
        Number of the mix it came from.
    log_sd : float
        Doubt in the reading beyond the scatter of specimens, in ln: 0 for a press, more for a lump. [-]

    Returns
    -------
    specimen : Specimen
        Ready for `belief_after_trial`.

    Notes
    -----
    q = q_low = q_high.

    References
    ----------
    definition, an uncensored observation [C]
    """
    if strength <= 0.0:
        raise ValueError("a crushed specimen needs a strength above 0; a slaked one is a bound")
    return Specimen(state, strength, strength, batch, log_sd)


def trial_scatter(workmanship: Workmanship) -> TrialScatter:
    """Scatter of specimens and batches by who makes them.

    Parameters
    ----------
    workmanship : Workmanship
        Laboratory, careful or amateur.

    Returns
    -------
    scatter : TrialScatter
        In ln strength.

    Notes
    -----
    s = 0.10, 0.13, 0.20 within and 0.12, 0.15, 0.20 between batches.

    References
    ----------
    castaneda_lopez_2023, triplicates and mixing days [C]
    earthfast_proposal, steps between laboratory and amateur [P]
    """
    return _SCATTER[workmanship]


@dataclass(frozen=True, slots=True)
class GaussianUpdate:
    """A normal belief after observations.

    Attributes
    ----------
    mean, covariance : of the parameters.
    log_evidence : ln of the density of the observations under the belief before.
    """

    mean: Floats
    covariance: Floats
    log_evidence: float


def gaussian_update(
    prior_mean: Floats, prior_covariance: Floats, design: Floats, observed: Floats, noise_covariance: Floats
) -> GaussianUpdate:
    """Belief about the parameters of a straight-line model after observations, in closed form.

    Parameters
    ----------
    prior_mean : array-like
        Mean of the parameters before. [-]
    prior_covariance : array-like
        Covariance of the parameters before. [-]
    design : array-like
        One row an observation, one column a parameter. [-]
    observed : array-like
        Observations. [-]
    noise_covariance : array-like
        Covariance of the observation errors. [-]

    Returns
    -------
    update : GaussianUpdate
        Mean, covariance and log evidence.

    Notes
    -----
    m' = m + K (y − X m), C' = C − K X C, K = C Xᵀ (X C Xᵀ + R)⁻¹, with m, C, X, y and R in the order of the
    arguments.

    References
    ----------
    definition, conjugate normal regression [C]
    """
    residual = observed - design @ prior_mean
    total = design @ prior_covariance @ design.T + noise_covariance
    gain = np.linalg.solve(total, design @ prior_covariance).T
    covariance = prior_covariance - gain @ design @ prior_covariance
    _, log_determinant = np.linalg.slogdet(2.0 * np.pi * total)
    evidence = -0.5 * (residual @ np.linalg.solve(total, residual) + log_determinant)
    return GaussianUpdate(prior_mean + gain @ residual, 0.5 * (covariance + covariance.T), float(evidence))


def belief_after_trial(
    prior: StrengthBelief, specimens: Sequence[Specimen], scatter: TrialScatter
) -> StrengthBelief:
    """Belief about the soil after its specimens.

    Parameters
    ----------
    prior : StrengthBelief
        Belief before.
    specimens : Sequence
        Crushed specimens and field tests, in any order and number.
    scatter : TrialScatter
        Within and between batches.

    Returns
    -------
    belief : StrengthBelief
        Same form as the prior; weights of soil groups move too.

    Notes
    -----
    y = X θ + batch + e in ln strength. e is Student-t with 5 degrees of freedom, so that an odd specimen
    counts for little; θ is Student-t with 4 about the belief before, so that a soil unlike those seen
    before can speak up. Bounds are probit likelihoods. Solved as scale mixtures by mean-field iteration and
    expectation propagation, batch effects integrated out; weights are multiplied by the evidence of each
    group. A general sampler agrees.

    References
    ----------
    definition, Bayes' rule [C]
    earthfast_proposal, degrees of freedom [P]
    """
    if not specimens:
        return prior
    fitted = [_group_after(group, specimens, scatter) for group in prior.groups]
    log_weights = np.log(prior.weights) + np.array([fit.log_evidence for fit in fitted])
    weights = np.exp(log_weights - log_weights.max())
    weights /= weights.sum()
    groups = [
        replace(group, weight=float(weight), mean=fit.mean, covariance=fit.covariance)
        for group, fit, weight in zip(prior.groups, fitted, weights, strict=True)
    ]
    highest = max(float(np.max(specimen.state.dose)) for specimen in specimens)
    return StrengthBelief(tuple(groups), max(prior.highest_dose, highest))


def trial_log_evidence(prior: StrengthBelief, specimens: Sequence[Specimen], scatter: TrialScatter) -> float:
    """How likely a set of specimens was under a belief, in logarithm.

    Parameters
    ----------
    prior : StrengthBelief
        Belief before.
    specimens : Sequence
        What was made and found.
    scatter : TrialScatter
        Within and between batches.

    Returns
    -------
    log_evidence : float
        Logarithm of the evidence. [-]

    Notes
    -----
    ln Σ w exp(E), w the weights of the soil groups and E the mean-field bound on the evidence of each.

    References
    ----------
    definition, evidence of a mixture [C]
    """
    evidence = [_group_after(group, specimens, scatter).log_evidence for group in prior.groups]
    return float(logsumexp(evidence, b=prior.weights))


def _readings(group: GroupBelief, specimens: Sequence[Specimen], scatter: TrialScatter) -> Readings:
    together = MixState(
        *(
            np.array([getattr(specimen.state, name) for specimen in specimens], dtype=np.float64)
            for name in ("dose", "age", "relative_density", "unsoaked")
        )
    )
    _, batch = np.unique([specimen.batch for specimen in specimens], return_inverse=True)
    offsets = group.offset(together.dose)
    with np.errstate(divide="ignore"):
        low = np.log([specimen.strength_low for specimen in specimens]) - offsets
        high = np.log([specimen.strength_high for specimen in specimens]) - offsets
    noise = np.hypot(scatter.specimen, [specimen.log_sd for specimen in specimens])
    return Readings(group.design(together), batch, low, high, noise**2)


def _group_after(group: GroupBelief, specimens: Sequence[Specimen], scatter: TrialScatter) -> RobustFit:
    return robust_fit(_readings(group, specimens, scatter), group.mean, group.covariance, scatter.batch)
