"""Whether the bands hold what they promise: ground drawn, observed and estimated again, many times."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from earthfast.estimate import Evidence, Floats, Numbers, band_of, bridge, prior_latents
from earthfast.ground.observation import OBSERVATION_KINDS, Observation
from earthfast.ground.stratum import Property, evidence_in, no_evidence
from earthfast.ground.stratum_draws import LATENTS, StratumDraws, stratum_from_latents
from earthfast.ground.stratum_prior import StratumPrior


@dataclass(frozen=True, slots=True)
class CoverageRow:
    """How often the 5..95 % band of one property held the truth.

    Attributes
    ----------
    property : which property.
    covered : share of the studies in which it did, -.
    below, above : shares in which the truth lay below or above the band, -.
    """

    property: Property
    covered: float
    below: float
    above: float


def coverage_study(
    kinds: Sequence[str], prior: StratumPrior, studies: int, generator: np.random.Generator, count: int = 512
) -> tuple[CoverageRow, ...]:
    """How often the bands hold the truth when ground is drawn from the prior and observed.

    Parameters
    ----------
    kinds : sequence of str
        Kinds of observation made each time; name one twice to make it twice.
    prior : StratumPrior
        What the ground is drawn from, and what is believed before.
    studies : int
        Number of grounds drawn, a power of two. [-]
    generator : numpy.random.Generator
        Source of all randomness.
    count : int
        Draws of each estimate, a power of two. [-]

    Returns
    -------
    rows : tuple of CoverageRow

    Notes
    -----
    Each time one ground is drawn, its readings and answers are simulated with their scatter, their shared
    error and their lapses, and the bands are estimated. If they are honest, 90 % of them hold the truth. The
    grounds are drawn evenly over the prior (Sobol points), which leaves less to luck than plain draws.

    References
    ----------
    definition, calibration of probability bands [C]
    """
    examples = [OBSERVATION_KINDS[kind].example for kind in kinds]
    truths = stratum_from_latents(prior_latents(studies, len(LATENTS), generator), prior)
    lows, highs = np.empty((2, len(Property), studies))
    for study in range(studies):
        seen = [piece.simulated(study, generator) for piece in _pieces(examples, truths)]
        after = _estimated(examples, seen, prior, generator, count)
        for row, name in enumerate(Property):
            band = band_of(getattr(after, name))
            lows[row, study], highs[row, study] = band.low, band.high
    return tuple(_row(name, getattr(truths, name), lows[i], highs[i]) for i, name in enumerate(Property))


def _pieces(examples: Sequence[Observation], ground: StratumDraws) -> list[Evidence]:
    return [piece for pieces in evidence_in(examples, ground).values() for piece in pieces]


def _estimated(
    examples: Sequence[Observation],
    seen: Sequence[Evidence],
    prior: StratumPrior,
    generator: np.random.Generator,
    count: int,
) -> StratumDraws:
    def target(latents: Floats) -> Floats:
        total = np.zeros(latents.shape[0])
        pieces = _pieces(examples, stratum_from_latents(latents, prior))
        for piece, observed in zip(pieces, seen, strict=True):
            total = total + _as_seen(piece, observed).log_likelihood()
        return total

    start = prior_latents(count, len(LATENTS), generator)
    return stratum_from_latents(bridge(start, no_evidence, target, generator).latents, prior)


def _as_seen(piece: Evidence, observed: Evidence) -> Evidence:
    """The piece's likelihood over these draws, with what was observed put in."""
    if isinstance(piece, Numbers) and isinstance(observed, Numbers):
        return replace(piece, values=observed.values)
    if isinstance(piece, Numbers) or isinstance(observed, Numbers):
        raise TypeError("a reading cannot stand for an answer")
    return replace(piece, chosen=observed.chosen)


def _row(name: Property, truth: Floats, low: Floats, high: Floats) -> CoverageRow:
    below, above = float(np.mean(truth < low)), float(np.mean(truth > high))
    return CoverageRow(name, 1.0 - below - above, below, above)
