"""What a trial says: strength with its band, the dose for a target, doubt about organic matter."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.special import ndtr

from earthfast.estimate import Caution, CautionCode, FloatLike, Floats
from earthfast.mixes.belief import (
    AGE_EXPONENT,
    LEVEL,
    GroupBelief,
    MixState,
    StrengthBelief,
)
from earthfast.mixes.field_strength import StrengthFactor, chance_of_strength
from earthfast.mixes.trial import Specimen, TrialScatter, trial_log_evidence

DOSES = np.round(np.arange(0.010, 0.2001, 0.001), 4)  # fractions of dry soil mass that are considered
BISECTIONS = 50
RETARDED_SHIFT, RETARDED_SD = -1.0, 0.4  # P: ln strength of soils with 2 to 5 % organic matter
RETARDED_AGE_SHIFT, RETARDED_AGE_SD = 0.15, 0.10  # P: slow soils gain more later


@dataclass(frozen=True, slots=True)
class StrengthBand:
    """Strength with its 5..95 % band, Pa, slenderness 1."""

    low: Floats
    median: Floats
    high: Floats


def strength_band(belief: StrengthBelief, state: MixState, factor: StrengthFactor) -> StrengthBand:
    """Strength of a mix with its band.

    Parameters
    ----------
    belief : StrengthBelief
        Prior or posterior for the soil.
    state : MixState
        Dose, age, density and soaking asked about; arrays give curves.
    factor : StrengthFactor
        Between mean laboratory strength and the one asked about.

    Returns
    -------
    band : StrengthBand
        5, 50 and 95 % quantiles.

    Notes
    -----
    Σ w Φ((ln q − m − μ)/s) = 0.05, 0.50, 0.95, solved by bisection; weights, means and variances of the
    groups.

    References
    ----------
    definition, quantiles of a normal mixture [C]
    """
    return StrengthBand(*(_quantile(belief, state, factor, level) for level in (0.05, 0.50, 0.95)))


def _quantile(belief: StrengthBelief, state: MixState, factor: StrengthFactor, level: float) -> Floats:
    means = np.array([group.log_mean(state) + factor.log_median for group in belief.groups])
    sds = np.sqrt([group.log_variance(state) + factor.log_sd**2 for group in belief.groups])
    weights = belief.weights.reshape((-1,) + (1,) * (means.ndim - 1))
    low, high = np.min(means - 8.0 * sds, axis=0), np.max(means + 8.0 * sds, axis=0)
    for _ in range(BISECTIONS):
        middle = 0.5 * (low + high)
        below = np.sum(weights * ndtr((middle - means) / sds), axis=0) < level
        low, high = np.where(below, middle, low), np.where(below, high, middle)
    return np.asarray(np.exp(0.5 * (low + high)))


@dataclass(frozen=True, slots=True)
class DoseAnswer:
    """Least dose that reaches a target with the confidence asked.

    Attributes
    ----------
    dose : fraction of dry soil mass; the highest considered where none reaches it.
    chance : chance of reaching the target at that dose.
    is_reached : whether that is the confidence asked.
    cautions : dose beyond those tried, or no dose found.
    """

    dose: float
    chance: float
    is_reached: bool
    cautions: tuple[Caution, ...]


def dose_for_strength(
    belief: StrengthBelief, target: float, confidence: float, age: float, factor: StrengthFactor
) -> DoseAnswer:
    """Least dose with which a soil reaches a strength with a given confidence.

    Parameters
    ----------
    belief : StrengthBelief
        Prior or posterior for the soil.
    target : float
        Strength wanted, soaked, slenderness 1. [Pa]
    confidence : float
        Chance wanted of reaching it. [-]
    age : float
        Age at which it is wanted. [s]
    factor : StrengthFactor
        Between mean laboratory strength and the one wanted: `field_factor` for the ground.

    Returns
    -------
    answer : DoseAnswer
        Dose, chance and cautions.

    Notes
    -----
    Least C from 1 to 20 % with P(q >= q*) >= confidence, linear between steps of 0.1 %. Beyond the highest
    dose tried the curve is a guess, and the answer carries a caution.

    References
    ----------
    definition, inversion of the chance [C]
    """
    chances = chance_of_strength(belief, MixState(DOSES, age), target, factor)
    enough = np.flatnonzero(chances >= confidence)
    if enough.size == 0:
        best = int(np.argmax(chances))
        text = "no dose up to 20 % reaches the target with the confidence asked"
        caution = Caution(CautionCode.OUTSIDE_VALIDITY, text, "dose", "earthfast_proposal")
        return DoseAnswer(float(DOSES[best]), float(chances[best]), False, (caution,))
    first = int(enough[0])
    dose = float(DOSES[first])
    if first > 0:
        pair = slice(first - 1, first + 1)
        dose = float(np.interp(confidence, chances[pair], DOSES[pair]))
    chance = float(chance_of_strength(belief, MixState(dose, age), target, factor))
    return DoseAnswer(dose, chance, True, _beyond_trials(belief, dose))


def _beyond_trials(belief: StrengthBelief, dose: float) -> tuple[Caution, ...]:
    if dose <= belief.highest_dose:
        return ()
    tried = f"the highest dose tried is {100.0 * belief.highest_dose:.1f} %"
    text = tried if belief.highest_dose > 0.0 else "no dose has been tried on this soil"
    return (Caution(CautionCode.DOSE_BEYOND_TRIALS, text, "dose", "common_practice"),)


def chance_of_retardation(
    prior: StrengthBelief, specimens: Sequence[Specimen], scatter: TrialScatter, prior_chance: float
) -> float:
    """Chance that organic matter is holding the binder back, from specimens that lag.

    Parameters
    ----------
    prior : StrengthBelief
        Belief for a soil low in organic matter.
    specimens : Sequence
        What was made and found.
    scatter : TrialScatter
        Within and between batches.
    prior_chance : float
        Chance before the specimens: about 0.1, more for dark soil or topsoil. [-]

    Returns
    -------
    chance : float
        Chance after the specimens. [-]

    Notes
    -----
    Bayes' rule between two beliefs: the prior, and the prior with ln strength lower by 1.0 ± 0.4 and an age
    exponent higher by 0.15 ± 0.10. The shift is that of topsoils with 2 to 5 % organic matter against soils
    with none.

    References
    ----------
    gajurel_2021, seven topsoils with lime [S]
    earthfast_proposal, the second belief [P]
    """
    groups = tuple(_retarded(group) for group in prior.groups)
    usual = trial_log_evidence(prior, specimens, scatter)
    slow = trial_log_evidence(StrengthBelief(groups), specimens, scatter)
    odds = prior_chance / (1.0 - prior_chance) * np.exp(slow - usual)
    return float(odds / (1.0 + odds))


def _retarded(group: GroupBelief) -> GroupBelief:
    mean, covariance = group.mean.copy(), group.covariance.copy()
    mean[LEVEL] += RETARDED_SHIFT
    mean[AGE_EXPONENT] += RETARDED_AGE_SHIFT
    covariance[LEVEL, LEVEL] += RETARDED_SD**2
    covariance[AGE_EXPONENT, AGE_EXPONENT] += RETARDED_AGE_SD**2
    return GroupBelief(
        group.group, group.weight, mean, covariance, group.reference_dose, group.threshold_dose
    )


def plan_log_sd(
    plan_doses: Floats,
    dose: FloatLike,
    level_sd: float,
    exponent_sd: float,
    specimen_log_sd: float,
) -> Floats:
    """Doubt left in the mean strength at a dose after specimens at given doses, before they are made.

    Parameters
    ----------
    plan_doses : array-like
        Dose of each specimen planned. [-]
    dose : array-like
        Dose at which the strength is wanted. [-]
    level_sd : float
        Standard deviation of ln strength at 6 % before. [-]
    exponent_sd : float
        Standard deviation of the dose exponent before. [-]
    specimen_log_sd : float
        Scatter of one specimen, each from its own mix. [-]

    Returns
    -------
    log_sd : array-like
        Standard deviation of ln mean strength after. [-]

    Notes
    -----
    v = xᵀ (P + Xᵀ X / s²)⁻¹ x, with rows (1, ln C/6 %). It depends on where specimens are made, not on what
    they will show.

    References
    ----------
    definition, conjugate normal regression [C]
    """
    planned = np.atleast_1d(np.asarray(plan_doses, dtype=np.float64))
    rows = np.stack([np.ones_like(planned), np.log(planned / 0.06)], axis=-1)
    precision = np.diag([level_sd**-2.0, exponent_sd**-2.0]) + rows.T @ rows / specimen_log_sd**2
    asked = np.log(np.asarray(dose, dtype=np.float64) / 0.06)
    wanted = np.stack([np.ones_like(asked), asked], axis=-1)
    variance = np.einsum("...i,ij,...j->...", wanted, np.linalg.inv(precision), wanted)
    return np.asarray(np.sqrt(variance))
