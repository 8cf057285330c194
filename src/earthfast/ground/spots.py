"""One spot of a stratum against the next: what the readings taken at each say of it."""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import dataclass

import numpy as np

from earthfast.estimate import Band, Floats, Numbers, band_of
from earthfast.ground.observation import Observation
from earthfast.ground.stratum import StratumEstimate, evidence_in
from earthfast.ground.stratum_draws import StratumDraws, stratum_from_latents
from earthfast.ground.stratum_prior import StratumPrior

SPOT_DRAWS = 1024
FEWEST = 2  # spots between which anything can be said


@dataclass(frozen=True, slots=True)
class SpotEstimate:
    """What is known of the ground at one spot.

    Attributes
    ----------
    name : what the place is called; None where only its coordinates were noted.
    x, y : place on the plan, m; None when not noted.
    readings : how many readings of strength were taken there.
    over_stratum : strength there over that of the stratum on the whole, -.
    cbr_now, cbr_wet : CBR there as found and in the long-term wet state, %.
    undrained_strength_wet : undrained strength there in the long-term wet state, Pa.
    weakest : chance that of all spots read it is the weakest.
    """

    name: str | None
    x: float | None
    y: float | None
    readings: int
    over_stratum: Band
    cbr_now: Band
    cbr_wet: Band
    undrained_strength_wet: Band
    weakest: float


@dataclass(frozen=True, slots=True)
class RepeatScatter:
    """How readings of one kind scatter at one and the same spot.

    Attributes
    ----------
    kind : kind of observation.
    assumed : log-standard deviation that the estimates take, -.
    seen : the same from readings repeated at their spots; None where there are none.
    repeats : readings beyond the first at their spots.
    """

    kind: str
    assumed: float
    seen: float | None
    repeats: int


def repeat_scatter(observations: Sequence[Observation], ground: StratumDraws) -> tuple[RepeatScatter, ...]:
    """How the readings of each kind of strength scatter at one spot, apart from the spread between spots.

    Parameters
    ----------
    observations : sequence of Observation
        What was observed in the stratum.
    ground : StratumDraws
        Its draws.

    Returns
    -------
    scatter : tuple of RepeatScatter
        One for each kind whose readings differ from spot to spot. [-]

    Notes
    -----
    seen = √(Σ (ln x - mean at its spot)² / Σ (n - 1)).

    References
    ----------
    definition, variance within groups [C]
    """
    found = []
    for kind, pieces in evidence_in(observations, ground).items():
        for piece in pieces:
            if isinstance(piece, Numbers) and piece.spots is not None:
                squares, repeats = piece.within()
                seen = float(np.sqrt(squares / repeats)) if repeats else None
                found.append(RepeatScatter(kind, float(np.median(piece.scatter)), seen, repeats))
    return tuple(found)


def spot_estimates(
    estimate: StratumEstimate,
    observations: Sequence[Observation],
    prior: StratumPrior,
    generator: np.random.Generator,
) -> tuple[SpotEstimate, ...]:
    """What the readings of strength say of each spot, the weakest first.

    Parameters
    ----------
    estimate : StratumEstimate
        The estimate of the whole stratum.
    observations : sequence of Observation
        What it was made from.
    prior : StratumPrior
        What was believed before.
    generator : numpy.random.Generator
        Source of all randomness.

    Returns
    -------
    spots : tuple of SpotEstimate
        One for each spot with a name or coordinates; none where fewer than two were read.

    Notes
    -----
    ln of strength at spot i is that of the stratum plus u_i, u ~ N(0, b²), b the spread from spot to spot. A reading adds
    the error e that all readings of its kind share, and its own scatter. On each draw of the stratum e is drawn from what
    the mean over all spots leaves of it, then u_i from the residuals of the readings at i: mean k r, variance b² (1 - k),
    k = b²/(b² + t²/n). So a spot with one reading is pulled towards the stratum, one with many stands for itself.

    References
    ----------
    definition, normal effects with known spreads [C]
    """
    latents = estimate.latents[:: max(1, estimate.latents.shape[0] // SPOT_DRAWS)]
    ground = stratum_from_latents(latents, prior)
    placed = {row.spot: row for row in observations if row.spot is not None}
    pieces = _spot_readings(observations, ground)
    taken = {spot for piece in pieces for spot in piece.spots}
    read = [spot for spot in placed if spot in taken]
    if len(read) < FEWEST:
        return ()
    effects = _effects(read, pieces, ground, generator)
    weakest = np.bincount(np.argmin(effects, axis=0), minlength=len(read)) / ground.count
    counts = [sum(piece.spots.count(spot) for piece in pieces) for spot in read]
    found = [
        _spot(placed[spot], counts[i], np.exp(effects[i]), ground, float(weakest[i]))
        for i, spot in enumerate(read)
    ]
    return tuple(sorted(found, key=lambda one: one.over_stratum.median))


@dataclass(frozen=True, slots=True)
class _SpotReadings:
    """Readings of one kind with the spots they were taken at."""

    readings: Numbers
    spots: tuple[Hashable, ...]


def _spot_readings(observations: Sequence[Observation], ground: StratumDraws) -> list[_SpotReadings]:
    return [
        _SpotReadings(piece, piece.spots)
        for pieces in evidence_in(observations, ground).values()
        for piece in pieces
        if isinstance(piece, Numbers) and piece.spots is not None
    ]


def _effects(
    read: Sequence[Hashable],
    pieces: Sequence[_SpotReadings],
    ground: StratumDraws,
    generator: np.random.Generator,
) -> Floats:
    """Log of strength at each spot over that of the stratum, shape (spots, draws)."""
    precision = np.tile(1.0 / ground.spot_spread**2, (len(read), 1))
    pulled = np.zeros_like(precision)
    place_of = {spot: place for place, spot in enumerate(read)}
    for piece in pieces:
        off = piece.readings.centre + _shared_error(piece.readings, generator)
        weight = np.broadcast_to(1.0 / np.asarray(piece.readings.scatter) ** 2, off.shape)
        for value, spot in zip(piece.readings.values.tolist(), piece.spots, strict=True):
            if spot in place_of:
                precision[place_of[spot]] += weight
                pulled[place_of[spot]] += weight * (value - off)
    return np.asarray(pulled / precision + generator.standard_normal(precision.shape) / np.sqrt(precision))


def _shared_error(readings: Numbers, generator: np.random.Generator) -> Floats:
    """The error that all readings of a kind share, drawn from what their mean leaves of it."""
    mean, variance = readings.pooled()
    known = readings.shared**2 / (readings.shared**2 + variance)
    drawn = generator.standard_normal(readings.centre.shape)
    return np.asarray(known * (mean - readings.centre) + np.sqrt(known * variance) * drawn)


def _spot(
    row: Observation, readings: int, over: Floats, ground: StratumDraws, weakest: float
) -> SpotEstimate:
    return SpotEstimate(
        row.place,
        row.x,
        row.y,
        readings,
        band_of(over),
        band_of(over * ground.cbr_now),
        band_of(over * ground.cbr_wet),
        band_of(over * ground.undrained_strength_wet),
        weakest,
    )
