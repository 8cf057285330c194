"""Which specimens to make: the next one, and a first set with its masses."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.constants import day
from scipy.special import ndtr

from earthfast.estimate import Floats
from earthfast.mixes.belief import MixState, SoilGroup, StrengthBelief
from earthfast.mixes.field_strength import StrengthFactor
from earthfast.mixes.trial import TrialScatter
from earthfast.mixes.trial_answers import DOSES, dose_for_strength

NODES, NODE_WEIGHTS = np.polynomial.hermite_e.hermegauss(21)
NODE_WEIGHTS = NODE_WEIGHTS / NODE_WEIGHTS.sum()
HALF_PERCENT = 0.005
LEANEST_TRIAL, RICHEST_TRIAL = 0.02, 0.16  # doses within the public tests


@dataclass(frozen=True, slots=True)
class DoseCosts:
    """What a dose costs and what a shortfall costs, for the whole job, in the job's currency.

    Attributes
    ----------
    binder : cost of a dose of 1 (dry soil mass times price of binder by mass).
    shortfall : cost if the strength wanted is not there.
    """

    binder: float
    shortfall: float


@dataclass(frozen=True, slots=True)
class SpecimenWorth:
    """A specimen that could be made next, and the saving expected from knowing its strength.

    Attributes
    ----------
    state : dose, age, density, soaking.
    saving : expected fall in the cost of a wrong dose, in the job's currency.
    """

    state: MixState
    saving: float


def next_specimen(
    belief: StrengthBelief,
    candidates: Sequence[MixState],
    target: float,
    factor: StrengthFactor,
    costs: DoseCosts,
    scatter: TrialScatter,
) -> tuple[SpecimenWorth, ...]:
    """Worth of each specimen that could be made next, the best first.

    Parameters
    ----------
    belief : StrengthBelief
        Belief so far.
    candidates : Sequence
        States, single figures each, in which a specimen could be crushed.
    target : float
        Strength wanted at 28 days, soaked, slenderness 1. [Pa]
    factor : StrengthFactor
        Between mean laboratory strength and the one wanted.
    costs : DoseCosts
        Of binder and of a shortfall.
    scatter : TrialScatter
        Within and between batches.

    Returns
    -------
    worths : tuple
        Candidates with their expected savings.

    Notes
    -----
    S = min_C E[k(C)] − E_y[min_C E[k(C) | y]], k(C) = binder C + shortfall P(q < q*), y the ln strength the
    specimen would show. Groups are merged into one normal by mean and covariance; the outer mean is a
    21-point Gauss-Hermite sum.

    References
    ----------
    definition, expected value of sample information [C]
    """
    worths = []
    for state in candidates:
        joint = _joint_moments(belief, state)
        spread = np.sqrt(joint.candidate_variance + scatter.specimen**2 + scatter.batch**2)
        pull = joint.covariance / spread
        now = _cost(joint.mean, joint.variance, target, factor, costs)
        after = _cost(
            joint.mean + pull * NODES[:, None],
            np.maximum(joint.variance - pull**2, 0.0),
            target,
            factor,
            costs,
        )
        worths.append(SpecimenWorth(state, float(now.min() - NODE_WEIGHTS @ after.min(axis=-1))))
    return tuple(sorted(worths, key=lambda worth: -worth.saving))


@dataclass(frozen=True, slots=True)
class _JointMoments:
    """ln strength over the doses considered, and its covariance with one candidate."""

    mean: Floats
    variance: Floats
    covariance: Floats
    candidate_variance: float


def _joint_moments(belief: StrengthBelief, state: MixState) -> _JointMoments:
    weights = belief.weights
    grid = MixState(DOSES)
    means = np.array([group.log_mean(grid) for group in belief.groups])
    variances = np.array([group.log_variance(grid) for group in belief.groups])
    rows = [(group.design(grid), group.design(state)) for group in belief.groups]
    covariances = np.array(
        [
            grid_rows @ group.covariance @ row
            for group, (grid_rows, row) in zip(belief.groups, rows, strict=True)
        ]
    )
    candidate_means = np.array([float(group.log_mean(state)) for group in belief.groups])
    candidate_variances = np.array([float(group.log_variance(state)) for group in belief.groups])
    mean, candidate_mean = weights @ means, float(weights @ candidate_means)
    gap, candidate_gap = means - mean, candidate_means - candidate_mean
    return _JointMoments(
        mean,
        weights @ (variances + gap**2),
        weights @ (covariances + gap * candidate_gap[:, None]),
        float(weights @ (candidate_variances + candidate_gap**2)),
    )


def _cost(mean: Floats, variance: Floats, target: float, factor: StrengthFactor, costs: DoseCosts) -> Floats:
    score = (mean + factor.log_median - np.log(target)) / np.sqrt(variance + factor.log_sd**2)
    return np.asarray(costs.binder * DOSES + costs.shortfall * ndtr(-score))


@dataclass(frozen=True, slots=True)
class Mould:
    """What a specimen is made in.

    Attributes
    ----------
    volume : m³.
    spare : share of mix made beyond the mould's volume.
    """

    volume: float
    spare: float


@dataclass(frozen=True, slots=True)
class PlannedSpecimen:
    """One specimen to make.

    Attributes
    ----------
    dose : fraction of dry soil mass.
    age : at which to crush it, s.
    batch : mix it comes from.
    dry_soil, binder, water : masses to mix for it, kg; the water counts what the soil already holds.
    wet_mass : to be packed into the mould, kg.
    """

    dose: float
    age: float
    batch: int
    dry_soil: float
    binder: float
    water: float
    wet_mass: float


def trial_plan(
    belief: StrengthBelief,
    target: float,
    factor: StrengthFactor,
    mix_dry_density: float,
    target_water: float,
    mould: Mould,
) -> tuple[PlannedSpecimen, ...]:
    """First set of specimens for a soil, with the masses for each.

    Parameters
    ----------
    belief : StrengthBelief
        Belief before trials.
    target : float
        Strength wanted at 28 days, soaked, slenderness 1. [Pa]
    factor : StrengthFactor
        Between mean laboratory strength and the one wanted.
    mix_dry_density : float
        Dry density to pack to, soil and binder. [kg/m³]
    target_water : float
        Water as a fraction of all dry solids. [-]
    mould : Mould
        What they are made in.

    Returns
    -------
    specimens : tuple
        Two mixes at each of two doses, one crushed at 7 and one at 28 days from each; a third dose where
        sand or fat clay is likely.

    Notes
    -----
    Doses are 0.75 and 1.25 times the dose that reaches the target with a chance of one half, in steps of
    0.5 %. Two mixes beat two specimens of one mix, because mixes differ more than specimens do. Masses
    follow from ρ V = ms (1 + c).

    References
    ----------
    earthfast_proposal, two doses, two mixes, two ages [P]
    sroh, at least three binder contents for a class [S]
    """
    middle = dose_for_strength(belief, target, 0.5, 28.0 * day, factor).dose
    doubtful = sum(
        group.weight for group in belief.groups if group.group in {SoilGroup.CLEAN_SAND, SoilGroup.FAT_CLAY}
    )
    shares = (0.7, 1.0, 1.4) if doubtful > 0.3 else (0.75, 1.25)
    doses = [
        float(np.clip(HALF_PERCENT * round(share * middle / HALF_PERCENT), LEANEST_TRIAL, RICHEST_TRIAL))
        for share in shares
    ]
    planned = []
    for number, dose in enumerate(sorted(set(doses))):
        solids = mix_dry_density * mould.volume
        soil = solids / (1.0 + dose) * (1.0 + mould.spare)
        for batch in (2 * number + 1, 2 * number + 2):
            planned += [
                PlannedSpecimen(
                    dose,
                    age,
                    batch,
                    soil,
                    dose * soil,
                    target_water * (1.0 + dose) * soil,
                    solids * (1.0 + target_water),
                )
                for age in (7.0 * day, 28.0 * day)
            ]
    return tuple(planned)
