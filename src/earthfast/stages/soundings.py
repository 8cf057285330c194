"""Cone soundings put together: boundaries that most of them meet divide the ground into strata."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from earthfast.estimate import Band
from earthfast.estimate.quantity import Z_BAND
from earthfast.ground import ConeEquation, ConeLayers, cone_layers
from earthfast.ground.observations.strength import ConePenetrometer

REACH = 0.15  # m above and below, within which boundaries of different soundings count as one; P
THINNEST = 0.15  # m; thinner than this is no stratum of its own; P
LEAST_STEP = 0.25  # change of ln penetration that makes a boundary: a quarter more blows or fewer; P
MOST_BOUNDARIES = 2
MOST = 0.5  # a boundary is common when more than this share of the soundings meet it


@dataclass(frozen=True, slots=True)
class CommonBoundary:
    """A boundary that most soundings meet.

    Attributes
    ----------
    depth : median over the soundings with its 5..95 % band, from place to place and in reading, m.
    met, passed : how many soundings meet it, and how many go deep enough to.
    softer_below : whether the cone goes in more easily below it.
    """

    depth: Band
    met: int
    passed: int
    softer_below: bool

    @property
    def words(self) -> str:
        """Why it is believed."""
        turns = "softer" if self.softer_below else "firmer"
        if self.passed == 1:
            return f"the cone sounding turns {turns} there"
        return f"{self.met} of {self.passed} cone soundings turn {turns} there"


@dataclass(frozen=True, slots=True)
class SoundingsTogether:
    """What the soundings of a place say about its strata.

    Attributes
    ----------
    count : number of soundings.
    boundaries : from the top down; none where the ground is taken as one stratum.
    because : why it is divided, or why it is not, in a sentence.
    """

    count: int
    boundaries: tuple[CommonBoundary, ...]
    because: str


@dataclass(frozen=True, slots=True)
class _Met:
    """A boundary in one sounding: which one, its depth and reading error, m, and the step in ln penetration."""

    sounding: int
    depth: float
    error: float
    step: float


@dataclass(frozen=True, slots=True)
class _Span:
    """Depths between which a sounding could show a boundary, m."""

    top: float
    bottom: float


def soundings_together(soundings: Sequence[ConePenetrometer], below: float) -> SoundingsTogether:
    """Boundaries that most soundings meet below a depth, such as the underside of topsoil, m."""
    layered = [layers_of(sounding) for sounding in soundings]
    spans = [
        _Span(max(one.layers[0].top, below) + THINNEST, one.layers[-1].bottom - THINNEST) for one in layered
    ]
    met = [
        found
        for place, one in enumerate(layered)
        for found in _met_in(place, one)
        if found.depth >= below + THINNEST and abs(found.step) >= LEAST_STEP
    ]
    boundaries: list[CommonBoundary] = []
    left = met
    while len(boundaries) < MOST_BOUNDARIES:
        common = _most_common(left, spans)
        if common is None:
            break
        boundaries.append(common)
        left = [one for one in left if abs(one.depth - common.depth.median) > REACH]
    boundaries.sort(key=lambda one: one.depth.median)
    return SoundingsTogether(len(soundings), tuple(boundaries), _because(boundaries, met, layered))


def layers_of(sounding: ConePenetrometer) -> ConeLayers:
    """Layers of one sounding, cut where its penetration changes."""
    blows, depths = np.array(sounding.blows, dtype=np.float64), np.array(sounding.depths)
    return cone_layers(blows, depths, sounding.start, ConeEquation(sounding.equation))


def _met_in(place: int, layered: ConeLayers) -> list[_Met]:
    steps = [
        float(np.log(lower.penetration / upper.penetration)) for upper, lower in pairwise(layered.layers)
    ]
    return [
        _Met(place, band.median, (band.high - band.low) / (2.0 * Z_BAND), step)
        for band, step in zip(layered.boundaries, steps, strict=True)
    ]


def _most_common(met: Sequence[_Met], spans: Sequence[_Span]) -> CommonBoundary | None:
    """The boundary met by the largest share of the soundings that pass it, if that is most of them."""
    depths = np.array([one.depth for one in met])
    softer = np.array([one.step > 0.0 for one in met], dtype=np.bool_)
    whose = np.array([one.sounding for one in met])
    tops, bottoms = np.array([span.top for span in spans]), np.array([span.bottom for span in spans])
    best: tuple[float, float] = (MOST, 0.0)
    found = None
    for centre in np.unique(np.round(depths, 2)):
        for turns in (True, False):
            near = np.flatnonzero((np.abs(depths - centre) <= REACH) & (softer == turns))
            meeting = set(whose[near].tolist())
            passes = (tops <= centre + REACH) & (centre - REACH <= bottoms)
            passing = set(np.flatnonzero(passes).tolist()) | meeting
            closeness = -float(np.mean(np.abs(depths[near] - centre))) if near.size else 0.0
            share = (len(meeting) / max(len(passing), 1), closeness)
            enough = len(passing) > MOST * len(spans)
            if enough and share[0] > MOST and (found is None or share > best):
                best = share
                found = CommonBoundary(
                    _depth_of([met[int(i)] for i in near], float(centre)), len(meeting), len(passing), turns
                )
    return found


def _depth_of(met: Sequence[_Met], centre: float) -> Band:
    """Median over the soundings, with the spread from place to place and the reading error together."""
    nearest: dict[int, _Met] = {}
    for one in met:
        known = nearest.get(one.sounding)
        if known is None or abs(one.depth - centre) < abs(known.depth - centre):
            nearest[one.sounding] = one
    depths = np.array([one.depth for one in nearest.values()])
    reading = float(np.mean([one.error**2 for one in nearest.values()]))
    half = Z_BAND * float(np.sqrt(np.var(depths) + reading))
    middle = float(np.median(depths))
    return Band(middle - half, middle, middle + half)


def _because(boundaries: Sequence[CommonBoundary], met: Sequence[_Met], layered: Sequence[ConeLayers]) -> str:
    if boundaries:
        return "; ".join(one.words for one in boundaries)
    if not met:
        steady = sum(one.gradient != 0.0 for one in layered)
        alike = "the cone soundings show no layers: one stratum"
        return f"{alike}; in {steady} of {len(layered)} the ground changes steadily" if steady else alike
    showing = len({one.sounding for one in met})
    return f"{showing} of {len(layered)} cone soundings show layers, but most do not agree at what depth: one stratum"
