"""The ground profile of a job: its strata, each estimated from what was observed in it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache

import numpy as np

from earthfast.estimate import Caution, CautionCode, lognormal
from earthfast.ground import (
    Bedding,
    Observation,
    Season,
    StratumEstimate,
    StratumPrior,
    estimate_stratum,
    observations_within,
    stratum_prior,
)
from earthfast.ground.observations.strength import ConePenetrometer
from earthfast.job import Job, Site, StratumEntry
from earthfast.stages.soundings import CommonBoundary, SoundingsTogether, soundings_together

USUAL_TOPSOIL = 0.15  # m; usually 0.10 to 0.30 m
USUAL_FORMATION = 0.30
SOFT, FELT = 2.0, 1.0  # CBR in % below which, and depth in m above which, ground is too soft to build on
LEAST_WATER, STATED_WATER = 0.02, 0.15  # m, and log-sd of a winter water level stated as one figure
TOPSOIL, NATURAL = "topsoil", "natural ground"
DIVIDED = {
    1: (NATURAL,),
    2: ("upper ground", "lower ground"),
    3: ("upper ground", "middle ground", "lower ground"),
}


@dataclass(frozen=True)
class Stratum:
    """One natural layer.

    Attributes
    ----------
    name : as the job calls it.
    top, bottom : depths below the ground surface, m; the lowest has no bottom.
    boundary : the boundary at its top, where the cone soundings found it.
    bedding : what it is taken for.
    observations : what was seen in it.
    prior : belief before.
    count : number of joint draws to estimate it by.
    seed : source of their randomness.
    """

    name: str
    top: float
    bottom: float | None
    boundary: CommonBoundary | None
    bedding: Bedding
    observations: tuple[Observation, ...]
    prior: StratumPrior
    count: int
    seed: np.random.SeedSequence

    @cached_property
    def estimate(self) -> StratumEstimate:
        """Belief after, worked out when it is first asked for: nothing stands on what is stripped."""
        return _estimated(self.observations, self.prior, self.count, self.seed.entropy, self.seed.spawn_key)

    @property
    def is_topsoil(self) -> bool:
        """Whether it is stripped."""
        return self.bedding is Bedding.TOPSOIL


@lru_cache(maxsize=64)  # the stages after Look go on from the ground that it found
def _estimated(
    observations: tuple[Observation, ...],
    prior: StratumPrior,
    count: int,
    entropy: int | Sequence[int] | None,
    spawn_key: tuple[int, ...],
) -> StratumEstimate:
    seed = np.random.SeedSequence(entropy, spawn_key=spawn_key)
    return estimate_stratum(observations, prior, np.random.default_rng(seed), count)


@dataclass(frozen=True, slots=True)
class GroundProfile:
    """The strata from the surface down.

    Attributes
    ----------
    strata : top to bottom.
    is_assumed : the job named no strata; topsoil was assumed.
    season : state in which the ground was looked at, as far as known.
    soundings : what the cone soundings say together of the strata, where the job leaves that to them.
    """

    strata: tuple[Stratum, ...]
    is_assumed: bool
    season: Season
    soundings: SoundingsTogether | None

    @property
    def topsoil(self) -> float:
        """Depth of topsoil to strip, m."""
        return max((s.bottom or 0.0 for s in self.strata if s.is_topsoil), default=0.0)

    @property
    def bearing_stratum(self) -> Stratum:
        """The uppermost stratum that is not stripped."""
        return next((s for s in self.strata if not s.is_topsoil), self.strata[-1])

    @property
    def cautions(self) -> tuple[Caution, ...]:
        """Doubts about the strata that stay and what was observed in them, each with its stratum."""
        kept = [stratum for stratum in self.strata if not stratum.is_topsoil]
        doubts = tuple(
            replace(caution, text=f"{stratum.name}: {caution.text}", where=stratum.name)
            for stratum in kept
            for caution in stratum.estimate.cautions
        )
        return (*doubts, *map(_softness, self.soft_strata))

    @property
    def soft_strata(self) -> tuple[Stratum, ...]:
        """Strata that stay, near the surface and too soft to be built on as they lie."""
        return tuple(
            stratum
            for stratum in self.strata
            if not stratum.is_topsoil and stratum.top < FELT and _cbr(stratum) < SOFT
        )


def _cbr(stratum: Stratum) -> float:
    """As found, %."""
    return float(np.median(stratum.estimate.draws.cbr_now))


def _softness(stratum: Stratum) -> Caution:
    text = (
        f"{stratum.name}: CBR about {_cbr(stratum):.2g} %, too soft to be built on as it lies: plates, tillers and lorries "
        "sink, and stone on it does not compact. Ask a licensed engineer; a first layer to work from, on fabric, is theirs "
        "to design"
    )
    return Caution(CautionCode.STOP_AND_ASK, text, where=stratum.name, source="common practice")


@dataclass(frozen=True, slots=True)
class _Layer:
    name: str
    top: float
    bottom: float | None
    bedding: Bedding
    boundary: CommonBoundary | None = None


def ground_profile(job: Job, count: int, seed: np.random.SeedSequence) -> GroundProfile:
    """The strata of a job with what was observed in each, to be estimated as ``count`` joint draws."""
    season = job.site.season if job.site and job.site.season else Season.UNKNOWN
    rows = [entry.row() for entry in job.observations]
    layers = _layers(job.strata)
    soundings = _soundings(layers, job.strata, rows)
    if soundings:
        layers = _divided(layers, soundings)
    strata = [
        _stratum(layer, _seen_in(layer, layers, rows), _prior(layer, season, job.site), count, child)
        for layer, child in zip(layers, seed.spawn(len(layers)), strict=True)
    ]
    return GroundProfile(tuple(strata), not job.strata, season, soundings)


def _layers(entries: Sequence[StratumEntry]) -> list[_Layer]:
    if not entries:
        return [
            _Layer(TOPSOIL, 0.0, USUAL_TOPSOIL, Bedding.TOPSOIL),
            _Layer(NATURAL, USUAL_TOPSOIL, None, Bedding.NATURAL),
        ]
    layers = [
        _Layer(
            entry.name,
            entry.top.centre,
            entry.bottom.centre if entry.bottom else None,
            entry.taken_for or (Bedding.TOPSOIL if "topsoil" in entry.name.lower() else Bedding.NATURAL),
        )
        for entry in entries
    ]
    deepest = layers[-1]
    if deepest.bedding is Bedding.TOPSOIL and deepest.bottom is not None:
        layers.append(_Layer(NATURAL, deepest.bottom, None, Bedding.NATURAL))
    return layers


def _soundings(
    layers: Sequence[_Layer], entries: Sequence[StratumEntry], rows: Sequence[Observation]
) -> SoundingsTogether | None:
    """The soundings read together where the job names no stratum below the topsoil."""
    cones = [row for row in rows if isinstance(row, ConePenetrometer)]
    named = len(entries) == len(layers)
    return None if named or not cones else soundings_together(cones, layers[-1].top)


def _divided(layers: Sequence[_Layer], soundings: SoundingsTogether) -> list[_Layer]:
    """The ground below the topsoil divided at the boundaries that the soundings share."""
    whole = layers[-1]
    found: tuple[CommonBoundary | None, ...] = (None, *soundings.boundaries)
    tops = [whole.top, *(one.depth.median for one in soundings.boundaries)]
    bottoms = [*tops[1:], whole.bottom]
    names = DIVIDED[len(tops)]
    parts = [
        _Layer(name, top, bottom, whole.bedding, boundary)
        for name, top, bottom, boundary in zip(names, tops, bottoms, found, strict=True)
    ]
    return [*layers[:-1], *parts]


def _seen_in(layer: _Layer, layers: Sequence[_Layer], rows: Sequence[Observation]) -> tuple[Observation, ...]:
    """Observations at depths within the layer; those without a depth belong to the first that stays."""
    stays = next((one for one in layers if one.bedding is not Bedding.TOPSOIL), layers[-1])
    bottom = np.inf if layer.bottom is None else layer.bottom
    return observations_within(rows, layer.top, bottom, takes_unplaced=layer is stays)


def _prior(layer: _Layer, season: Season, site: Site | None) -> StratumPrior:
    """Belief about a layer before anything was observed in it: its kind, and what the job says of water and formation."""
    prior = stratum_prior(layer.bedding, season, max(layer.top, USUAL_FORMATION))
    if site and site.formation_care:
        prior = replace(prior, protection=site.formation_care)
    water = site.winter_water_depth if site else None
    if water is None:
        return prior
    stated = water.estimate() if water.is_range else lognormal(max(water.centre, LEAST_WATER), STATED_WATER)
    return replace(prior, winter_water_depth=stated)


def _stratum(
    layer: _Layer,
    rows: tuple[Observation, ...],
    prior: StratumPrior,
    count: int,
    seed: np.random.SeedSequence,
) -> Stratum:
    return Stratum(
        layer.name, layer.top, layer.bottom, layer.boundary, layer.bedding, rows, prior, count, seed
    )
