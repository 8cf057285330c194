"""One stratum estimated from everything observed in it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from scipy.special import logsumexp

from earthfast.estimate import (
    Band,
    Caution,
    Chance,
    Evidence,
    Floats,
    band_of,
    bridge,
    prior_latents,
)
from earthfast.ground import observations as _registered  # noqa: F401 (importing registers the kinds)
from earthfast.ground.draw_classes import aashto_chances, iso_chances, uscs_chances
from earthfast.ground.impossible import observation_cautions
from earthfast.ground.observation import OBSERVATION_KINDS, Observation, kind_of
from earthfast.ground.stratum_draws import LATENTS, StratumDraws, stratum_from_latents
from earthfast.ground.stratum_prior import StratumPrior

DRAWS = 2048
SHARE_DRAWS = 1024


class Property(StrEnum):
    """Properties of a stratum that are reported, named as in StratumDraws."""

    CLAY = "clay"
    SILT = "silt"
    SAND = "sand"
    STONES = "stones"
    FINES = "fines"
    PLASTICITY_INDEX = "plasticity_index"
    LIQUID_LIMIT = "liquid_limit"
    PLASTIC_LIMIT = "plastic_limit"
    ORGANIC_CONTENT = "organic_content"
    SULFATE = "sulfate"
    WINTER_WATER_DEPTH = "winter_water_depth"
    WATER_CONTENT = "water_content"
    OPTIMUM_WATER = "optimum_water"
    LIQUIDITY_INDEX = "liquidity_index"
    DRY_DENSITY = "dry_density"
    SATURATION = "saturation"
    CBR_WET = "cbr_wet"
    CBR_NOW = "cbr_now"
    UNDRAINED_STRENGTH = "undrained_strength"
    UNDRAINED_STRENGTH_WET = "undrained_strength_wet"
    STIFFNESS = "stiffness"
    SPOT_SPREAD = "spot_spread"


MOVED = (
    Property.CBR_WET,
    Property.CBR_NOW,
    Property.UNDRAINED_STRENGTH,
    Property.UNDRAINED_STRENGTH_WET,
    Property.STIFFNESS,
    Property.SPOT_SPREAD,
    Property.WATER_CONTENT,
    Property.OPTIMUM_WATER,
    Property.DRY_DENSITY,
    Property.FINES,
    Property.CLAY,
    Property.PLASTICITY_INDEX,
    Property.LIQUID_LIMIT,
    Property.ORGANIC_CONTENT,
    Property.SULFATE,
    Property.WINTER_WATER_DEPTH,
)


@dataclass(frozen=True, slots=True)
class Movement:
    """What leaving out one kind of observation does to one property.

    Attributes
    ----------
    property : which property.
    shift : log of the median with it over the median without it.
    narrowing : log-spread of the 5..95 % band without it over the spread with it; above 1 it helped.
    """

    property: Property
    shift: float
    narrowing: float


@dataclass(frozen=True, slots=True)
class Contribution:
    """What one kind of observation moved."""

    kind: str
    count: int
    movements: tuple[Movement, ...]


@dataclass(frozen=True, slots=True)
class StratumEstimate:
    """What is known of a stratum after its observations.

    Attributes
    ----------
    draws : joint draws of all properties, correlations kept.
    bands : median and 5..95 % band of each property.
    uscs, aashto, iso : chances of the groups of each system, likeliest first.
    cautions : impossible data, contradictions, doubts.
    log_evidence : log probability of the observations under the prior.
    agreement : log of how much likelier the observations are together than apart; well below 0 means
        that they contradict.
    latents : the standard normals behind the draws, for carrying on from here.
    """

    draws: StratumDraws
    bands: dict[Property, Band]
    uscs: tuple[Chance, ...]
    aashto: tuple[Chance, ...]
    iso: tuple[Chance, ...]
    cautions: tuple[Caution, ...]
    log_evidence: float
    agreement: float
    latents: Floats


def evidence_in(rows: Sequence[Observation], ground: StratumDraws) -> dict[str, tuple[Evidence, ...]]:
    """Likelihood pieces of observations, by kind."""
    by_kind: dict[str, list[Observation]] = {}
    for row in rows:
        by_kind.setdefault(kind_of(row).kind, []).append(row)
    return {kind: OBSERVATION_KINDS[kind].says(found, ground) for kind, found in by_kind.items()}


def _log_likelihood(pieces: Sequence[Evidence], count: int) -> Floats:
    total = np.zeros(count)
    for piece in pieces:
        total = total + piece.log_likelihood()
    return total


class _Likelihood:
    """Log-likelihood of some observations as a function of the latents."""

    def __init__(self, rows: Sequence[Observation], prior: StratumPrior) -> None:
        self.rows, self.prior = rows, prior

    def __call__(self, latents: Floats) -> Floats:
        if not self.rows:
            return np.zeros(latents.shape[0])
        ground = stratum_from_latents(latents, self.prior)
        pieces = [piece for kind in evidence_in(self.rows, ground).values() for piece in kind]
        return _log_likelihood(pieces, latents.shape[0])


def no_evidence(latents: Floats) -> Floats:
    """The log-likelihood of knowing nothing yet."""
    return np.zeros(latents.shape[0])


def estimate_stratum(
    observations: Sequence[Observation],
    prior: StratumPrior,
    generator: np.random.Generator,
    count: int = DRAWS,
) -> StratumEstimate:
    """Everything the observations of one stratum say together, as joint draws with their bands.

    Parameters
    ----------
    observations : sequence of Observation
        All that was observed in the stratum, of any kinds.
    prior : StratumPrior
        What is believed before.
    generator : numpy.random.Generator
        Source of all randomness; the same state gives the same draws.
    count : int
        Number of draws, a power of two. [-]

    Returns
    -------
    estimate : StratumEstimate

    Notes
    -----
    p(ground | observations) ∝ p(ground) Π p(observations of a kind | ground). The ground is a set of
    correlated properties made from independent standard normals. Readings of one kind share the error of
    their correlation, which does not shrink with their number; their scatter does. Draws are carried from
    prior to posterior in steps (tempering, resampling, Metropolis moves), so that strong evidence does not
    leave too few of them.

    References
    ----------
    earthfast_proposal, likelihoods and prior; statuses stand with each observation [P]
    """
    start = prior_latents(count, len(LATENTS), generator)
    posterior = bridge(start, no_evidence, _Likelihood(observations, prior), generator)
    ground = stratum_from_latents(posterior.latents, prior)
    agreement = posterior.log_evidence - _log_evidence_apart(observations, prior, start)
    return StratumEstimate(
        draws=ground,
        bands={name: band_of(getattr(ground, name)) for name in Property},
        uscs=uscs_chances(ground),
        aashto=aashto_chances(ground),
        iso=iso_chances(ground),
        cautions=observation_cautions(observations, ground, prior, agreement),
        log_evidence=posterior.log_evidence,
        agreement=agreement,
        latents=posterior.latents,
    )


def _log_evidence_apart(rows: Sequence[Observation], prior: StratumPrior, start: Floats) -> float:
    ground = stratum_from_latents(start, prior)
    count = start.shape[0]
    return sum(
        float(logsumexp(_log_likelihood(pieces, count)) - np.log(count))
        for pieces in evidence_in(rows, ground).values()
    )


def contributions(
    estimate: StratumEstimate,
    observations: Sequence[Observation],
    prior: StratumPrior,
    generator: np.random.Generator,
) -> tuple[Contribution, ...]:
    """What each kind of observation moved, by leaving it out.

    Parameters
    ----------
    estimate : StratumEstimate
        The estimate with all observations.
    observations : sequence of Observation
        The same observations.
    prior : StratumPrior
        The same prior.
    generator : numpy.random.Generator
        Source of all randomness.

    Returns
    -------
    contributions : tuple of Contribution
        In order of what each moved the long-term wet CBR and its width, largest first.

    Notes
    -----
    For each kind the draws are carried back to the state of knowledge without it. shift = ln(median with /
    median without); narrowing = (log-width of the band without) / (log-width with).

    References
    ----------
    earthfast_proposal, leave-one-kind-out [P]
    """
    kinds = sorted({kind_of(row).kind for row in observations})
    everything = _Likelihood(observations, prior)
    # neighbours stem from one ancestor, so every n-th draw stands for all; shares need no more
    latents = estimate.latents[:: max(1, estimate.latents.shape[0] // SHARE_DRAWS)]
    with_all = stratum_from_latents(latents, prior)
    found = []
    for kind in kinds:
        others = [row for row in observations if kind_of(row).kind != kind]
        without = bridge(latents, everything, _Likelihood(others, prior), generator)
        ground = stratum_from_latents(without.latents, prior)
        movements = tuple(_movement(name, with_all, ground) for name in MOVED)
        found.append(Contribution(kind, len(observations) - len(others), movements))
    return tuple(sorted(found, key=_weight_of, reverse=True))


def _movement(name: Property, with_it: StratumDraws, without: StratumDraws) -> Movement:
    with_band, without_band = band_of(getattr(with_it, name)), band_of(getattr(without, name))
    floor = 1e-6
    shift = np.log(max(with_band.median, floor) / max(without_band.median, floor))
    widths = [
        np.log(max(band.high, 2.0 * floor) / max(band.low, floor)) for band in (with_band, without_band)
    ]
    return Movement(name, float(shift), float(widths[1] / max(widths[0], floor)))


def _weight_of(contribution: Contribution) -> float:
    first = contribution.movements[0]
    return abs(first.shift) + abs(float(np.log(first.narrowing)))
