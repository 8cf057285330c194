"""The ground profile of a job: its strata, each estimated from what was observed in it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from earthfast.estimate import Caution
from earthfast.ground import (
    Bedding,
    Observation,
    Season,
    StratumEstimate,
    StratumPrior,
    estimate_stratum,
    stratum_prior,
)
from earthfast.job import Job, StratumEntry

USUAL_TOPSOIL = 0.15  # m; usually 0.10 to 0.30 m
USUAL_FORMATION = 0.30
TOPSOIL, NATURAL = "topsoil", "natural ground"


@dataclass(frozen=True, slots=True)
class Stratum:
    """One natural layer.

    Attributes
    ----------
    name : as the job calls it.
    top, bottom : depths below the ground surface, m; the lowest has no bottom.
    bedding : what it is taken for.
    observations : what was seen in it.
    prior : belief before.
    estimate : belief after.
    """

    name: str
    top: float
    bottom: float | None
    bedding: Bedding
    observations: tuple[Observation, ...]
    prior: StratumPrior
    estimate: StratumEstimate

    @property
    def is_topsoil(self) -> bool:
        """Whether it is stripped."""
        return self.bedding is Bedding.TOPSOIL


@dataclass(frozen=True, slots=True)
class GroundProfile:
    """The strata from the surface down.

    Attributes
    ----------
    strata : top to bottom.
    is_assumed : the job named no strata; topsoil was assumed.
    season : state in which the ground was looked at, as far as known.
    """

    strata: tuple[Stratum, ...]
    is_assumed: bool
    season: Season

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
        """Doubts about the observations in the strata that stay, each with its stratum."""
        return tuple(
            replace(caution, text=f"{stratum.name}: {caution.text}", where=stratum.name)
            for stratum in self.strata
            if not stratum.is_topsoil
            for caution in stratum.estimate.cautions
        )


@dataclass(frozen=True, slots=True)
class _Layer:
    name: str
    top: float
    bottom: float | None
    bedding: Bedding


def ground_profile(job: Job, count: int, generator: np.random.Generator) -> GroundProfile:
    """Estimate every stratum of a job from its observations, as ``count`` joint draws each."""
    season = job.site.season if job.site and job.site.season else Season.UNKNOWN
    rows = [entry.row() for entry in job.observations]
    layers = _layers(job.strata)
    strata = [
        _stratum(layer, _seen_in(layer, layers, rows), season, count, child)
        for layer, child in zip(layers, generator.spawn(len(layers)), strict=True)
    ]
    return GroundProfile(tuple(strata), is_assumed=not job.strata, season=season)


def _layers(entries: Sequence[StratumEntry]) -> list[_Layer]:
    if not entries:
        return [
            _Layer(TOPSOIL, 0.0, USUAL_TOPSOIL, Bedding.TOPSOIL),
            _Layer(NATURAL, USUAL_TOPSOIL, None, Bedding.NATURAL),
        ]
    return [
        _Layer(
            entry.name,
            entry.top.centre,
            entry.bottom.centre if entry.bottom else None,
            entry.taken_for or (Bedding.TOPSOIL if "topsoil" in entry.name.lower() else Bedding.NATURAL),
        )
        for entry in entries
    ]


def _seen_in(layer: _Layer, layers: Sequence[_Layer], rows: Sequence[Observation]) -> list[Observation]:
    """Observations at depths within the layer; those without a depth belong to the first that stays."""
    stays = next((one for one in layers if one.bedding is not Bedding.TOPSOIL), layers[-1])
    bottom = np.inf if layer.bottom is None else layer.bottom
    return [row for row in rows if (layer is stays if row.depth is None else layer.top <= row.depth < bottom)]


def _stratum(
    layer: _Layer, rows: list[Observation], season: Season, count: int, generator: np.random.Generator
) -> Stratum:
    formation = max(layer.top, USUAL_FORMATION)
    prior = stratum_prior(layer.bedding, season, formation)
    estimate = estimate_stratum(rows, prior, generator, count)
    return Stratum(layer.name, layer.top, layer.bottom, layer.bedding, tuple(rows), prior, estimate)
