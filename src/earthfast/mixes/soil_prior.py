"""Strength of treated soil before any specimen is made, from public tests on other soils."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from earthfast.estimate import FloatLike, Floats
from earthfast.mixes.belief import LEVEL, GroupBelief, SoilGroup, StrengthBelief
from earthfast.sources import Table, read_table

POOLING_WEIGHT = 4.0  # degrees of freedom lent to a group's own spread by the spread of all groups. P
AGE_EXPONENT_MEAN, AGE_EXPONENT_SD = 0.19, 0.06  # C: 14 public pairs of 7 and 28 days; 0.18 to 0.25 elsewhere
DENSITY_EXPONENT_MEAN, DENSITY_EXPONENT_SD = 5.5, 1.5  # C: fits of 4.6, 4.9, 6.2 and 9.7
UNSOAKED_GAIN_MEAN, UNSOAKED_GAIN_SD = 0.22, 0.18  # C: 12 public pairs soaked and not, mean 0.80, worst 0.53
ORGANIC_START, ORGANIC_SCALE, ORGANIC_LOSS = 0.01, 0.02, 1.5  # P, see organic_log_loss
LIME_FIRST_SD = 0.5  # P


@dataclass(frozen=True, slots=True)
class PriorRow:
    """Prior of one soil group.

    Attributes
    ----------
    group : soil group.
    soils : soils behind it.
    median_28d_pa : soaked, slenderness 1, at the reference dose.
    log_sd : between soils, with the doubt about the group's mean in it.
    exponent_mean, exponent_sd : of dose.
    reference_dose, threshold_dose : fractions of dry soil mass.
    """

    group: str
    soils: int
    median_28d_pa: float
    log_sd: float
    exponent_mean: float
    exponent_sd: float
    reference_dose: float
    threshold_dose: float


@dataclass(frozen=True, slots=True)
class Spread:
    """Mean over the soils of a group and the standard deviation for a new soil of it."""

    mean: float
    sd: float


def spread_for_new_soil(values: Floats, pooled_sd: float) -> Spread:
    """Mean and standard deviation with which to meet a new soil of a group, from the few already tested.

    Parameters
    ----------
    values : array-like
        One figure a soil: ln strength at the reference dose, or the dose exponent. [-]
    pooled_sd : float
        Standard deviation within groups, all groups together. [-]

    Returns
    -------
    spread : Spread
        Mean of the values, and standard deviation for a new soil.

    Notes
    -----
    s² = ((n − 1) s_own² + 4 s_pool²) / (n + 3), then times (1 + 1/n) for the doubt about the mean of n
    soils. Three soils that happen to agree do not make a fourth certain; the weight 4 is ours.

    References
    ----------
    definition, variance of a new member of a normal group [C]
    earthfast_proposal, weight of the pooled spread [P]
    """
    count = len(values)
    mean = float(np.mean(values))
    squares = float(np.sum((values - mean) ** 2)) + POOLING_WEIGHT * pooled_sd**2
    return Spread(mean, float(np.sqrt(squares / (count - 1 + POOLING_WEIGHT) * (1.0 + 1.0 / count))))


def prior_table() -> Table[PriorRow]:
    """Prior strength and dose exponent of each soil group.

    Returns
    -------
    table : Table
        One row a group.

    Notes
    -----
    q(C) by group at 28 days, soaked, slenderness 1; computed with `spread_for_new_soil` from public rows,
    28-day level as 1.302 times the 7-day one.

    References
    ----------
    gajurel_2021, appendix C, 13 soils [C]
    """
    return read_table("treated_soil_priors", PriorRow)


def strength_prior(weights: Mapping[SoilGroup, float]) -> StrengthBelief:
    """Belief about the strength of a treated soil before any specimen of it.

    Parameters
    ----------
    weights : Mapping
        Chance of each soil group; they are scaled to add to 1, groups left out count 0.

    Returns
    -------
    belief : StrengthBelief
        One normal a group over level, exponents of dose, age and density, and unsoaked gain.

    Notes
    -----
    ln q = a + b ln(C/Cr) + d ln(t/28 d) + n ln(ρ/ρ0) + u, with a, b by group, d = 0.19 ± 0.06, n = 5.5 ±
    1.5, u = 0.22 ± 0.18 when unsoaked. For a clean sand ln((1 − C0/C)/(1 − C0/Cr)) is added, a straight
    line from a threshold dose C0. Good for cement of 1 to 16 %, 7 to 90 days, soils low in organic matter.

    References
    ----------
    gajurel_2021, appendix C, 13 soils [C]
    tabarsa_2021, density and age [C]
    castaneda_lopez_2023, density and age [C]
    """
    total = sum(weights.values())
    if total <= 0.0 or min(weights.values()) < 0.0:
        raise ValueError("soil group weights must be 0 or more and not all 0")
    rows = {SoilGroup(row.group): row for row in prior_table().rows}
    return StrengthBelief(
        tuple(
            group_belief(rows[SoilGroup(group)], weight / total)
            for group, weight in weights.items()
            if weight > 0.0
        )
    )


def group_belief(row: PriorRow, weight: float) -> GroupBelief:
    """One component of the prior from its row."""
    level = float(np.log(row.median_28d_pa))
    means = [level, row.exponent_mean, AGE_EXPONENT_MEAN, DENSITY_EXPONENT_MEAN, UNSOAKED_GAIN_MEAN]
    sds = [row.log_sd, row.exponent_sd, AGE_EXPONENT_SD, DENSITY_EXPONENT_SD, UNSOAKED_GAIN_SD]
    return GroupBelief(
        SoilGroup(row.group),
        weight,
        np.array(means),
        np.diag(np.square(sds)),
        row.reference_dose,
        row.threshold_dose,
    )


def organic_log_loss(organic_content: FloatLike) -> FloatLike:
    """Loss of ln strength that organic matter in the soil is expected to bring.

    Parameters
    ----------
    organic_content : array-like
        Organic matter as a fraction of dry soil mass. [-]

    Returns
    -------
    log_loss : array-like
        Amount by which ln strength falls; 0 up to 1 % organic matter. [-]

    Notes
    -----
    L = 1.5 (1 − exp(−(o − 0.01)/0.02)) for o > 0.01. Shaped to topsoils of 2 to 5 % organic matter at a
    third of the strength of soils with none (lime), and to an acid organic silt of 12.8 % at about a fifth.
    The kind of organic matter counts as much as its amount, so half the loss is carried as doubt; a trial
    tells.

    References
    ----------
    gajurel_2021, seven topsoils with lime [S]
    tabarsa_2021, organic silt [S]
    earthfast_proposal, shape of the curve [P]
    """
    excess = np.maximum(np.asarray(organic_content, dtype=np.float64) - ORGANIC_START, 0.0)
    return ORGANIC_LOSS * (1.0 - np.exp(-excess / ORGANIC_SCALE))


def with_organic_matter(belief: StrengthBelief, organic_content: float) -> StrengthBelief:
    """Belief lowered and widened for organic matter in the soil.

    Parameters
    ----------
    belief : StrengthBelief
        Belief for a soil low in organic matter.
    organic_content : float
        Organic matter as a fraction of dry soil mass. [-]

    Returns
    -------
    belief : StrengthBelief
        Level lower by `organic_log_loss`, with half of that added as standard deviation.

    Notes
    -----
    a' = a − L, s'² = s² + (L/2)².

    References
    ----------
    earthfast_proposal, half the loss as doubt [P]
    """
    loss = float(organic_log_loss(organic_content))
    return StrengthBelief(
        tuple(_shifted(group, -loss, (0.5 * loss) ** 2) for group in belief.groups), belief.highest_dose
    )


def with_lime_first(belief: StrengthBelief) -> StrengthBelief:
    """Belief for a plastic soil that lime has made crumbly before the cement goes in.

    Parameters
    ----------
    belief : StrengthBelief
        Belief for cement alone.

    Returns
    -------
    belief : StrengthBelief
        Fat clay moved half way, in ln strength, to a lean clay; other groups unchanged.

    Notes
    -----
    a' = (a_fat + a_lean)/2 with a standard deviation of at least 0.5. Lime breaks the clay into crumbs that
    cement can reach; how far is a guess until specimens tell.

    References
    ----------
    earthfast_proposal, half way to a lean clay [P]
    """
    rows = {row.group: row for row in prior_table().rows}
    gain = 0.5 * np.log(rows[SoilGroup.LEAN].median_28d_pa / rows[SoilGroup.FAT_CLAY].median_28d_pa)
    groups = [
        _shifted(group, float(gain), max(0.0, LIME_FIRST_SD**2 - float(group.covariance[LEVEL, LEVEL])))
        if group.group == SoilGroup.FAT_CLAY
        else group
        for group in belief.groups
    ]
    return StrengthBelief(tuple(groups), belief.highest_dose)


def _shifted(group: GroupBelief, log_shift: float, added_variance: float) -> GroupBelief:
    mean, covariance = group.mean.copy(), group.covariance.copy()
    mean[LEVEL] += log_shift
    covariance[LEVEL, LEVEL] += added_variance
    return GroupBelief(
        group.group, group.weight, mean, covariance, group.reference_dose, group.threshold_dose
    )
