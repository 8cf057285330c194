"""From laboratory belief to the strength in the ground: bias, uneven mixing, weak spots."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from scipy.special import ndtr, ndtri

from earthfast.estimate import Draws, FloatLike, Floats
from earthfast.mixes.age import REFERENCE_AGE
from earthfast.mixes.belief import DOSE_EXPONENT, LEANEST_DOSE, MixState, StrengthBelief, threshold_offset
from earthfast.sources import read_table

STRENGTH_COLUMNS = (
    "strength group",
    "strength level",
    "strength dose exponent",
    "strength age exponent",
    "strength density exponent",
    "strength field bias",
)

FIELD_MEDIAN = 0.75  # S: melancon_shah_1976, 15 mixed-in-place jobs
FIELD_LOG_SD = 0.20  # P: between jobs


class Mixing(StrEnum):
    """How soil and binder are mixed."""

    HAND = "hand tools"
    TILLER = "garden tiller"
    ROAD_MIXER = "road mixer"
    PLANT = "plant"


@dataclass(frozen=True, slots=True)
class MixingScatter:
    """Unevenness of one way of mixing.

    Attributes
    ----------
    mixing : the way.
    dose_cov : coefficient of variation of local dose, from spread and depth together.
    local_log_sd : other local scatter of ln strength: water, density, lumps.
    patch_side : side of a square patch of like dose, m.
    """

    mixing: str
    dose_cov: float
    local_log_sd: float
    patch_side: float


@dataclass(frozen=True, slots=True)
class StrengthFactor:
    """A lognormal factor between the mean laboratory strength and the one asked about.

    Attributes
    ----------
    log_median : ln of its median.
    log_sd : its standard deviation in ln.
    """

    log_median: float
    log_sd: float


@dataclass(frozen=True, slots=True)
class StrengthNormals:
    """Standard normal scores behind one set of draws, each of shape (draws,)."""

    group: Floats
    parameters: Floats
    bias: Floats


def strength_normals(draws: Draws) -> StrengthNormals:
    """Scores for `field_strength` out of a set of draws that holds the columns `STRENGTH_COLUMNS`.

    Parameters
    ----------
    draws : Draws
        Draws with those columns among theirs.

    Returns
    -------
    normals : StrengthNormals
        Group, four parameters and field bias.

    Notes
    -----
    z, one standard normal column a source of doubt: the same column serves every way, so ways are compared
    on the same soil.

    References
    ----------
    definition, common random numbers [C]
    """
    columns = [draws.normal(name) for name in STRENGTH_COLUMNS]
    return StrengthNormals(columns[0], np.stack(columns[1:-1], axis=-1), columns[-1])


def mixing_scatter(mixing: Mixing) -> MixingScatter:
    """Unevenness of a way of mixing.

    Parameters
    ----------
    mixing : Mixing
        The way.

    Returns
    -------
    scatter : MixingScatter
        COV of dose, other scatter and patch size.

    Notes
    -----
    V of dose is 0.35 by hand, 0.25 by garden tiller, 0.20 by road mixer: assumed, no published figure for
    hand or tiller mixing was found.

    References
    ----------
    earthfast_proposal, assumed scatter [P]
    """
    rows: tuple[MixingScatter, ...] = read_table("mixing_scatter", MixingScatter).rows
    return next(row for row in rows if row.mixing == mixing)


def local_log_sd(scatter: MixingScatter, dose_exponent: FloatLike, loaded_area: float) -> Floats:
    """Scatter of strength across the plan, as felt by a loaded area that averages over patches.

    Parameters
    ----------
    scatter : MixingScatter
        Unevenness of the mixing.
    dose_exponent : array-like
        Power of dose in strength. [-]
    loaded_area : float
        Area over which the load averages the layer. [m²]

    Returns
    -------
    log_sd : array-like
        Standard deviation of ln strength from place to place. [-]

    Notes
    -----
    σ = Γ sqrt((b V)² + s²), with b the dose exponent, V and s from the scatter, Γ² = min(1, patch area /
    loaded area), the variance function of independent patches.

    References
    ----------
    definition, variance of a mean of independent patches [C]
    earthfast_proposal, patches [P]
    """
    reduction = np.sqrt(min(1.0, scatter.patch_side**2 / loaded_area))
    return np.asarray(
        reduction * np.hypot(np.asarray(dose_exponent) * scatter.dose_cov, scatter.local_log_sd)
    )


@dataclass(frozen=True, slots=True)
class FieldPlace:
    """How the layer is mixed and which of its spots are judged.

    Attributes
    ----------
    scatter : unevenness of the mixing.
    loaded_area : area over which a load averages the layer, m².
    weak_share : share of the plan allowed to be weaker than the strength given; 0.5 gives the typical spot.
    relative_density : density over that usual on site, 1 unless measured.
    """

    scatter: MixingScatter
    loaded_area: float
    weak_share: float
    relative_density: FloatLike = 1.0


def field_factor(place: FieldPlace, dose_exponent: float) -> StrengthFactor:
    """Factor from the mean laboratory strength of a soil to the strength of its weak spots on site.

    Parameters
    ----------
    place : FieldPlace
        Mixing, loaded area and share of weak spots.
    dose_exponent : float
        Power of dose in strength. [-]

    Returns
    -------
    factor : StrengthFactor
        Median and scatter in ln.

    Notes
    -----
    ln f = ln 0.75 − z(1 − w) σ ± 0.20, with w the weak share and σ from `local_log_sd`. The 0.75 holds the
    usual shortfall of density.

    References
    ----------
    melancon_shah_1976, field over design strength, 15 projects [S]
    earthfast_proposal, scatter between jobs and weak share [P]
    """
    sigma = float(local_log_sd(place.scatter, dose_exponent, place.loaded_area))
    return StrengthFactor(float(np.log(FIELD_MEDIAN) - ndtri(1.0 - place.weak_share) * sigma), FIELD_LOG_SD)


def field_strength(
    belief: StrengthBelief, dose: FloatLike, age: FloatLike, place: FieldPlace, normals: StrengthNormals
) -> Floats:
    """Draws of soaked strength in the ground, at the weak spots that a loaded area can feel.

    Parameters
    ----------
    belief : StrengthBelief
        Prior or posterior for the soil.
    dose : array-like
        Cement as a fraction of dry soil mass; shape (ways, 1) gives (ways, draws). [-]
    age : array-like
        Age at 20 °C, 28 days unless the load comes sooner. [s]
    place : FieldPlace
        Mixing, loaded area, weak share, density.
    normals : StrengthNormals
        Scores from `strength_normals`.

    Returns
    -------
    strength : array-like
        Crushing strength, soaked, slenderness 1. [Pa]

    Notes
    -----
    ln q = a + b ln(C/Cr) + d ln(t/28 d) + n ln(ρ/ρ0) + ln(0.75) + 0.20 z − z(1 − w) σ(b), parameters drawn
    from the group that the first score picks; C the dose, Cr and ρ0 the group's own,
    σ the scatter of mixing by hand. No binder gives 0. Same law before and after trials; only the belief changes.

    References
    ----------
    gajurel_2021, appendix C, prior [C]
    melancon_shah_1976, field over design strength [S]
    earthfast_proposal, weak spots [P]
    """
    drawn = _drawn(belief, normals)
    sigma = local_log_sd(place.scatter, drawn.dose_exponent, place.loaded_area)
    log_strength = (
        drawn.log_strength(dose, age)
        + drawn.density_exponent * np.log(place.relative_density)
        + np.log(FIELD_MEDIAN)
        + FIELD_LOG_SD * normals.bias
        - ndtri(1.0 - place.weak_share) * sigma
    )
    return np.where(np.asarray(dose) > 0.0, np.exp(log_strength), 0.0)


def laboratory_strength(
    belief: StrengthBelief, dose: FloatLike, age: FloatLike, normals: StrengthNormals
) -> Floats:
    """Draws of mean soaked strength of well compacted specimens of a soil.

    Parameters
    ----------
    belief : StrengthBelief
        Prior or posterior for the soil.
    dose : array-like
        Cement as a fraction of dry soil mass; shape (doses, 1) gives (doses, draws). [-]
    age : array-like
        Age at 20 °C. [s]
    normals : StrengthNormals
        Scores from `strength_normals`.

    Returns
    -------
    strength : array-like
        Crushing strength, soaked, slenderness 1. [Pa]

    Notes
    -----
    ln q = a + b ln(C/Cr) + d ln(t/28 d), parameters drawn from the group that the first score picks: the same soils as
    those of `field_strength` on the same scores.

    References
    ----------
    gajurel_2021, appendix C, prior [C]
    """
    return np.asarray(np.exp(_drawn(belief, normals).log_strength(dose, age)))


@dataclass(frozen=True, slots=True)
class _Drawn:
    """Parameters of the soil on every draw."""

    level: Floats
    dose_exponent: Floats
    age_exponent: Floats
    density_exponent: Floats
    reference_dose: Floats
    threshold_dose: Floats

    def log_strength(self, dose: FloatLike, age: FloatLike) -> Floats:
        return np.asarray(
            self.level
            + self.dose_exponent * np.log(np.maximum(dose, LEANEST_DOSE) / self.reference_dose)
            + threshold_offset(dose, self.reference_dose, self.threshold_dose)
            + self.age_exponent * np.log(np.asarray(age) / REFERENCE_AGE)
        )


def _drawn(belief: StrengthBelief, normals: StrengthNormals) -> _Drawn:
    pick = np.searchsorted(np.cumsum(belief.weights)[:-1], ndtr(normals.group), side="right")
    theta = np.empty_like(normals.parameters)
    for index, group in enumerate(belief.groups):
        chosen = pick == index
        root = np.linalg.cholesky(group.covariance[:4, :4])
        theta[chosen] = group.mean[:4] + normals.parameters[chosen] @ root.T
    reference = np.array([group.reference_dose for group in belief.groups])[pick]
    threshold = np.array([group.threshold_dose for group in belief.groups])[pick]
    level, dose_exponent, age_exponent, density_exponent = theta.T
    return _Drawn(level, dose_exponent, age_exponent, density_exponent, reference, threshold)


def chance_of_strength(
    belief: StrengthBelief, state: MixState, target: FloatLike, factor: StrengthFactor
) -> Floats:
    """Chance that a mix reaches a strength, in closed form.

    Parameters
    ----------
    belief : StrengthBelief
        Prior or posterior for the soil.
    state : MixState
        Dose, age, density and soaking asked about.
    target : array-like
        Strength wanted, slenderness 1. [Pa]
    factor : StrengthFactor
        Between mean laboratory strength and the one asked about: 0 and 0 for the mean itself, 0 and the
        specimen scatter for one specimen, `field_factor` for the ground.

    Returns
    -------
    chance : array-like
        Probability of reaching the target. [-]

    Notes
    -----
    P = Σ w Φ((m + μ − ln q*) / sqrt(v + s²)), w, m, v the weight, mean and variance of each group, μ, s the
    factor.

    References
    ----------
    definition, normal distribution of ln strength [C]
    """
    chances = [
        group.weight
        * ndtr(
            (group.log_mean(state) + factor.log_median - np.log(target))
            / np.sqrt(group.log_variance(state) + factor.log_sd**2)
        )
        for group in belief.groups
    ]
    return np.asarray(np.sum(chances, axis=0))


def mean_dose_exponent(belief: StrengthBelief) -> float:
    """Dose exponent over all groups.

    Parameters
    ----------
    belief : StrengthBelief
        Prior or posterior for the soil.

    Returns
    -------
    exponent : float
        Weighted mean power of dose. [-]

    Notes
    -----
    b = Σ w b, weights and exponents of the groups.

    References
    ----------
    definition, mean of a mixture [C]
    """
    return float(sum(group.weight * group.mean[DOSE_EXPONENT] for group in belief.groups))


def lab_median_for_field(
    field_target: FloatLike, probability: FloatLike, field_ratio: FloatLike, log_sd: FloatLike
) -> FloatLike:
    """Median laboratory strength to aim at for a strength in the ground.

    Parameters
    ----------
    field_target : array-like
        Strength wanted in the ground. [Pa]
    probability : array-like
        Share of spots that shall reach it. [-]
    field_ratio : array-like
        Median field strength over laboratory strength. [-]
    log_sd : array-like
        Standard deviation of ln strength, model and field together. [-]

    Returns
    -------
    strength : array-like
        Median laboratory strength. [Pa]

    Notes
    -----
    q = q* / r exp(z(P) s), with q*, P, r and s in the order of the arguments; s = sqrt(s_model² + s_field²).

    References
    ----------
    melancon_shah_1976, field ratio 0.75 [S]
    from_memory, field scatter of 0.2 to 0.6 [M]
    """
    return field_target / field_ratio * np.exp(ndtri(probability) * log_sd)
