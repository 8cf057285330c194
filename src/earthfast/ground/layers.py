"""Layers read off a cone sounding."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from scipy.special import logsumexp

from earthfast.estimate import Band, Floats
from earthfast.ground.cone import CONE_EQUATIONS, ConeEquation

THINNEST = 0.075  # m; P
WORTH_CUTTING = 0.5  # one layer more must leave less than this share of the error; P
MOST_LAYERS = 8
SMALLEST_STEP = 1.0e-4  # m a blow; a stone, not a soil


@dataclass(frozen=True, slots=True)
class ConeLayer:
    """One layer of a sounding.

    Attributes
    ----------
    top, bottom : depths, m.
    penetration : depth over blows within it, m a blow.
    cbr : by the equation chosen, in percent by definition.
    scatter : log-standard deviation of penetration within it, -.
    """

    top: float
    bottom: float
    penetration: float
    cbr: float
    scatter: float


@dataclass(frozen=True, slots=True)
class ConeLayers:
    """Layers of one sounding.

    Attributes
    ----------
    layers : from the top down.
    boundaries : depth of each boundary with its 5..95 % band, m.
    errors : squared error left with 1, 2, 3 ... layers, in depth (mm) times ln².
    gradient : change of ln penetration per metre where the ground changes steadily and is left whole, 1/m;
        0 otherwise.
    """

    layers: tuple[ConeLayer, ...]
    boundaries: tuple[Band, ...]
    errors: tuple[float, ...]
    gradient: float


Places = np.ndarray[tuple[int, ...], np.dtype[np.intp]]


class _Sounding:
    """Sets of a sounding with running sums, so that the error of any run of sets costs nothing."""

    def __init__(self, blows: Floats, depths: Floats, start: float) -> None:
        self.blows = np.asarray(blows, dtype=np.float64)
        self.edges = np.concatenate([[start], np.asarray(depths, dtype=np.float64)])
        self.lengths = np.diff(self.edges)
        if self.blows.size != self.lengths.size:
            raise ValueError("give one depth for each set of blows")
        if np.any(self.lengths < 0.0) or np.any(self.blows <= 0.0):
            raise ValueError("depths must go down and every set needs a blow")
        self.log_steps = np.log(np.maximum(self.lengths / self.blows, SMALLEST_STEP))
        moments = [self.lengths * self.log_steps**power for power in (0, 1, 2)]
        self.sums = np.vstack([np.concatenate([[0.0], np.cumsum(moment)]) for moment in moments])

    def error(self, first: Places, last: Places) -> Floats:
        """Squared error, in m times ln², of the sets from edge `first` to edge `last` about their mean."""
        weight, total, square = self.sums[:, last] - self.sums[:, first]
        return np.asarray(np.maximum(square - total**2 / np.maximum(weight, 1e-12), 0.0))


def cone_layers(
    blows: Floats, depths: Floats, start: float = 0.0, equation: ConeEquation = ConeEquation.TRL
) -> ConeLayers:
    """Layers of a cone sounding, cut where the penetration changes.

    Parameters
    ----------
    blows : array-like
        Blows of each set. [-]
    depths : array-like
        Depth of the tip after each set. [m]
    start : float
        Depth of the tip before the first blow. [m]
    equation : ConeEquation
        Equation from penetration to CBR.

    Returns
    -------
    layers : ConeLayers
        Depths in m, with 5..95 % bands of the boundaries.

    Notes
    -----
    The logarithm of penetration a blow, weighted by depth, is cut into K layers of constant value with the
    least squared error, each 75 mm thick or more; K grows while one layer more leaves less than half of the
    error, or two more leave less than a quarter: a crust is found by both its faces or not at all. Where a
    straight line in depth leaves no more error than the layers, ground changes steadily and is left whole.
    Boundary bands come from the error with the boundary elsewhere, p ∝ error^(-sets/2).

    References
    ----------
    earthfast_proposal, optimal partition and its stop rule [P]
    """
    sounding = _Sounding(blows, depths, start)
    cuts, errors = _partitions(sounding)
    chosen = _worth_cutting(errors)
    slope, line_error = _line(sounding)
    steady = chosen > 1 and line_error <= errors[chosen - 1]
    edges = cuts[0 if steady else chosen - 1]
    return ConeLayers(
        layers=tuple(_layer(sounding, first, last, equation) for first, last in pairwise(edges)),
        boundaries=tuple(_boundary(sounding, edges, place) for place in range(1, len(edges) - 1)),
        errors=tuple(1.0e3 * error for error in errors),
        gradient=slope if steady else 0.0,
    )


def _worth_cutting(errors: list[float]) -> int:
    """How many layers are worth cutting, from the error left with 1, 2, 3 ..."""
    chosen = 1
    while chosen < len(errors):
        more = (1, 2) if chosen + 1 < len(errors) else (1,)
        won = [k for k in more if errors[chosen + k - 1] < WORTH_CUTTING**k * errors[chosen - 1]]
        if not won:
            break
        chosen += won[0]
    return chosen


def _partitions(sounding: _Sounding) -> tuple[list[list[int]], list[float]]:
    """Best edges and error for 1, 2, ... layers, as far as layers of the least thickness fit."""
    count = sounding.edges.size
    first, last = np.meshgrid(np.arange(count), np.arange(count), indexing="ij")
    thickness = sounding.edges[last] - sounding.edges[first]
    cost = np.where(thickness >= THINNEST - 1e-9, sounding.error(first, last), np.inf)
    best, back = [cost[0].copy()], [np.zeros(count, dtype=np.intp)]
    if not np.isfinite(best[0][-1]):  # thinner than the thinnest layer: it is one layer all the same
        return [[0, count - 1]], [float(sounding.error(np.array(0), np.array(count - 1)))]
    for _ in range(MOST_LAYERS - 1):
        total = best[-1][:, None] + cost
        back.append(np.argmin(total, axis=0))
        best.append(np.min(total, axis=0))
    errors = [float(row[-1]) for row in best if np.isfinite(row[-1])]
    cuts = []
    for layers in range(1, len(errors) + 1):
        edges = [count - 1]
        for level in range(layers - 1, 0, -1):
            edges.append(int(back[level][edges[-1]]))
        cuts.append([0, *reversed(edges)])
    return cuts, errors


def _line(sounding: _Sounding) -> tuple[float, float]:
    """Slope of ln penetration with depth, and the error about that line."""
    middle = 0.5 * (sounding.edges[1:] + sounding.edges[:-1])
    weights = sounding.lengths / np.sum(sounding.lengths)
    across = middle - np.sum(weights * middle)
    rise = sounding.log_steps - np.sum(weights * sounding.log_steps)
    slope = float(np.sum(weights * across * rise) / max(np.sum(weights * across**2), 1e-12))
    return slope, float(np.sum(sounding.lengths * (rise - slope * across) ** 2))


def _layer(sounding: _Sounding, first: int, last: int, equation: ConeEquation) -> ConeLayer:
    top, bottom = float(sounding.edges[first]), float(sounding.edges[last])
    penetration = max((bottom - top) / float(np.sum(sounding.blows[first:last])), SMALLEST_STEP)
    variance = float(sounding.error(np.array(first), np.array(last))) / max(bottom - top, 1e-12)
    cbr = float(CONE_EQUATIONS[ConeEquation(equation)](penetration))
    return ConeLayer(top, bottom, penetration, cbr, float(np.sqrt(variance)))


def _boundary(sounding: _Sounding, edges: list[int], place: int) -> Band:
    above, below = edges[place - 1], edges[place + 1]
    places = np.arange(above + 1, below)
    error = sounding.error(np.full_like(places, above), places)
    error = error + sounding.error(places, np.full_like(places, below))
    log_weight = -0.5 * (below - above) * np.log(error + 1e-12)
    weights = np.exp(log_weight - logsumexp(log_weight))
    # a cut lies somewhere within half a set of the edge it is found at
    half = 0.5 * np.minimum(sounding.lengths[places - 1], sounding.lengths[places])
    rising = np.cumsum(weights)
    low, high = int(np.searchsorted(rising, 0.05)), int(np.searchsorted(rising, 0.95))
    high = min(high, places.size - 1)
    depth = sounding.edges[places]
    return Band(
        float(depth[low] - half[low]), float(sounding.edges[edges[place]]), float(depth[high] + half[high])
    )
