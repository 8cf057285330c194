"""Which specimens to make: the next one, and a first set with its masses."""

from __future__ import annotations

from collections.abc import Callable, Sequence
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
DOUBTFUL = 0.3  # P: chance of sand or fat clay from which a third dose is worth making
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
    spare : share of mix made beyond the moulds' volume.
    least_soil : dry soil of the smallest mix that can be weighed and mixed well, kg.
    """

    volume: float
    spare: float
    least_soil: float = 0.0


@dataclass(frozen=True, slots=True)
class PlannedMix:
    """One mix to make, and the specimens to mould from it.

    Attributes
    ----------
    dose : fraction of dry soil mass.
    batch : its number.
    ages : at which to crush its specimens, one each, s.
    dry_soil, lime, binder, water : masses to mix, kg; the water counts what the soil already holds.
    packed : moist mix to pack into each mould, kg.
    """

    dose: float
    batch: int
    ages: tuple[float, ...]
    dry_soil: float
    lime: float
    binder: float
    water: float
    packed: float


@dataclass(frozen=True, slots=True)
class MixRecipe:
    """How specimens are mixed and packed.

    Attributes
    ----------
    dry_density : of soil, lime and binder together, kg/m³.
    water : as a fraction of all dry solids.
    lime_dose : lime mixed in before, as a fraction of dry soil mass.
    """

    dry_density: float
    water: float
    lime_dose: float = 0.0


def plan_doses(
    belief: StrengthBelief, target: float, confidence: float, factor: StrengthFactor, built: float = 0.0
) -> tuple[float, ...]:
    """Doses of a first set of specimens: from below the likely need to above the one that would be built.

    Parameters
    ----------
    belief : StrengthBelief
        Belief before trials.
    target : float
        Strength wanted at 28 days, soaked, slenderness 1. [Pa]
    confidence : float
        Chance wanted of reaching it. [-]
    factor : StrengthFactor
        Between mean laboratory strength and the one wanted.
    built : float
        Dose that would be built as things are known; 0 where none is. [-]

    Returns
    -------
    doses : tuple
        Two or three doses, leanest first, in steps of 0.5 %, within 2 to 16 %.

    Notes
    -----
    C1 = 0.75 C(1/2), C2 = max(1.25 C(1/2), C(p), Cb), C(p) the least dose that reaches the target with chance p, Cb
    the dose built; C2 is rounded up, so that the dose built need not be extrapolated. A third at sqrt(C1 C2) where
    C2 > 2 C1, or where sand or fat clay is likely, whose curve may bend.

    References
    ----------
    earthfast_proposal, doses about the need [P]
    sroh, at least three binder contents for a class [S]
    """
    even, sure = (
        dose_for_strength(belief, target, chance, 28.0 * day, factor).dose for chance in (0.5, confidence)
    )
    lean, rich = _half_percent(0.75 * even, np.floor), _half_percent(max(1.25 * even, sure, built), np.ceil)
    doubtful = sum(
        group.weight for group in belief.groups if group.group in {SoilGroup.CLEAN_SAND, SoilGroup.FAT_CLAY}
    )
    between = (float(np.sqrt(lean * rich)),) if rich > 2.0 * lean or doubtful > DOUBTFUL else ()
    return tuple(sorted({lean, *(_half_percent(one, np.round) for one in between), rich}))


def _half_percent(dose: float, rounded: Callable[[float], float]) -> float:
    whole = HALF_PERCENT * float(rounded(round(dose / HALF_PERCENT, 6)))
    return round(float(np.clip(whole, LEANEST_TRIAL, RICHEST_TRIAL)), 4)


def ages_within(time: float) -> tuple[float, ...]:
    """Ages at which to break the specimens of a mix when the dose has to be known after a time.

    Parameters
    ----------
    time : float
        Time from moulding to the answer. [s]

    Returns
    -------
    ages : tuple
        Two ages, the earlier first; twice the same where the time is short. [s]

    Notes
    -----
    t2 = min(t, 28 d) in whole days, at least one; t1 = 7 d where t2 is 14 d or more, else t2: two ages closer together
    tell little of growth, and below 7 d the law of growth is not known.

    References
    ----------
    earthfast_proposal, ages of a first set [P]
    """
    late = float(np.clip(np.floor(time / day), 1.0, 28.0)) * day
    return (7.0 * day if late >= 14.0 * day else late, late)


def trial_plan(
    doses: Sequence[float], recipe: MixRecipe, mould: Mould, ages: tuple[float, ...]
) -> tuple[PlannedMix, ...]:
    """First set of specimens for a soil, mix by mix, with the masses of each.

    Parameters
    ----------
    doses : Sequence
        Doses from `plan_doses`, leanest first. [-]
    recipe : MixRecipe
        Dry density, water and lime.
    mould : Mould
        What they are made in.
    ages : tuple
        Ages at which to crush the specimens of a mix, one each. [s]

    Returns
    -------
    mixes : tuple
        Two mixes at the leanest and the richest dose, one at a dose between.

    Notes
    -----
    Two mixes beat two specimens of one mix, because mixes differ more than specimens do, and the ends of the line
    tell more about it than its middle. Masses follow from ρ V = ms (1 + l + c), l and c the doses of lime and cement.

    References
    ----------
    earthfast_proposal, two mixes at the ends, two ages [P]
    """
    solids = recipe.dry_density * mould.volume
    chosen = [dose for dose in doses for _ in range(2 if dose in (doses[0], doses[-1]) else 1)]
    planned = []
    for batch, dose in enumerate(chosen, start=1):
        share = 1.0 + recipe.lime_dose + dose
        soil = max(len(ages) * solids / share * (1.0 + mould.spare), mould.least_soil)
        planned.append(
            PlannedMix(
                dose=dose,
                batch=batch,
                ages=ages,
                dry_soil=soil,
                lime=recipe.lime_dose * soil,
                binder=dose * soil,
                water=recipe.water * share * soil,
                packed=solids * (1.0 + recipe.water),
            )
        )
    return tuple(planned)
