"""Chances too small to count: subset simulation, importance sampling and the first-order method.

All three ask one function of independent standard normal variables, the room, below 0 where it fails.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from scipy.special import ndtr

from earthfast.estimate import Floats

Room = Callable[[Floats], Floats]

LEVEL_CHANCE = 0.1  # share of samples kept at each level
CHAIN_STEPS = 10
MOST_LEVELS = 12
WANTED_ACCEPTANCE = 0.44
FIRST_STEP, STEP_LOW, STEP_HIGH = 0.6, 0.05, 1.0
DIFFERENCE = 1e-4
MOST_STEPS = 60
CLOSE = 1e-6


@dataclass(frozen=True, slots=True)
class RareChance:
    """A chance with its uncertainty.

    Attributes
    ----------
    chance : chance of failure.
    variation : coefficient of variation of that estimate.
    evaluations : how often the room was asked.
    """

    chance: float
    variation: float
    evaluations: int


@dataclass(frozen=True, slots=True)
class DesignPoint:
    """The likeliest way to fail.

    Attributes
    ----------
    point : standard normal scores of the variables there.
    index : its distance from the middle, negative where the middle itself fails.
    """

    point: Floats
    index: float

    @property
    def chance(self) -> float:
        """Chance of failure to first order."""
        return float(ndtr(-self.index))

    @property
    def shares(self) -> Floats:
        """Share of each variable in the failure, summing to 1."""
        square = np.square(self.point)
        return np.asarray(square / max(float(square.sum()), CLOSE**2))


def design_point(room: Room, dimension: int) -> DesignPoint:
    """Find the likeliest failure by steps along the gradient, for a smooth room.

    Notes
    -----
    Each step goes to the foot of the perpendicular from the middle onto the linearised limit, u ← α (α·u + g/|∇g|) with
    α = −∇g/|∇g|, halved while the sum of distance and what is left of the room does not fall.

    References
    ----------
    hasofer_lind_1974, distance to the limit [M]
    rackwitz_fiessler_1978, iteration [M]
    """
    point = np.zeros(dimension)
    middle = float(room(point[None])[0])
    weight = 10.0
    for _ in range(MOST_STEPS):
        value, gradient = _gradient(room, point)
        steepness = max(float(np.linalg.norm(gradient)), CLOSE)
        towards = -gradient / steepness
        target = towards * (towards @ point + value / steepness)
        weight = max(weight, 2.0 * float(np.linalg.norm(target)) / steepness)
        moved = _stepped(room, point, target - point, weight)
        if np.linalg.norm(moved - point) < CLOSE * max(1.0, float(np.linalg.norm(point))):
            break
        point = moved
    index = float(np.linalg.norm(point))
    return DesignPoint(point, index if middle > 0.0 else -index)


def _gradient(room: Room, point: Floats) -> tuple[float, Floats]:
    steps = DIFFERENCE * np.eye(point.size)
    values = room(np.concatenate([point[None], point + steps, point - steps]))
    up, down = values[1 : 1 + point.size], values[1 + point.size :]
    return float(values[0]), np.asarray((up - down) / (2.0 * DIFFERENCE))


def _stepped(room: Room, point: Floats, step: Floats, weight: float) -> Floats:
    """The longest of ever halved steps that lowers the merit, or the shortest."""
    lengths = 0.5 ** np.arange(8)
    tried = point + lengths[:, None] * step
    merits = 0.5 * np.square(tried).sum(axis=1) + weight * np.abs(room(tried))
    now = 0.5 * point @ point + weight * abs(float(room(point[None])[0]))
    better = np.flatnonzero(merits < now)
    return np.asarray(tried[better[0] if better.size else -1])


def importance_chance(room: Room, centre: Floats, count: int, generator: np.random.Generator) -> RareChance:
    """Chance of failure from samples about a point near the likeliest failure.

    Notes
    -----
    P = mean of w over failing samples u = c + ξ, w = exp(−c·u + ½ c·c), c the centre: unbiased whatever the centre, with small
    scatter where c is the design point of one failure region.

    References
    ----------
    definition, change of measure [C]
    """
    samples = centre + generator.standard_normal((count, centre.size))
    failing = room(samples) < 0.0
    weights = np.where(failing, np.exp(-samples @ centre + 0.5 * centre @ centre), 0.0)
    chance = float(weights.mean())
    error = float(weights.std() / np.sqrt(count))
    return RareChance(chance, error / chance if chance > 0.0 else np.inf, count)


def subset_chance(room: Room, dimension: int, count: int, generator: np.random.Generator) -> RareChance:
    """Chance of failure as a product of larger ones, each the chance to come a step nearer to failing.

    Notes
    -----
    P = 0.1^k n_f/n over k levels: at each the tenth of samples nearest to failing starts Markov chains that keep to the last
    level, u' = √(1 − s²) u + s ξ, s set for 44 % of steps taken. The coefficient of variation adds those of the levels,
    δ² = (1 − p)/(p n) (1 + γ), γ from the correlation along the chains; bias is of the same order.

    References
    ----------
    au_beck_2001, subset simulation [M]
    papaioannou_2015, chains by conditional sampling [M]
    """
    samples = generator.standard_normal((count, dimension))
    rooms = room(samples)
    chance, variance, evaluations = 1.0, 0.0, count
    chains: Floats | None = None
    for _ in range(MOST_LEVELS):
        level = float(np.quantile(rooms, LEVEL_CHANCE))
        is_last = level <= 0.0
        inside = rooms < 0.0 if is_last else rooms <= level
        share = float(inside.mean())
        chance *= share
        variance += (1.0 - share) / (share * count) * (1.0 + _correlation(inside, chains, share))
        if is_last:
            return RareChance(chance, float(np.sqrt(variance)), evaluations)
        seeds = samples[inside][: int(LEVEL_CHANCE * count)]
        samples, rooms = _chains(room, seeds, rooms[inside][: len(seeds)], level, generator)
        chains = rooms
        evaluations += count
        rooms, samples = rooms.ravel(), samples.reshape(-1, dimension)
    return RareChance(0.0, np.inf, evaluations)


def _chains(
    room: Room, seeds: Floats, rooms: Floats, level: float, generator: np.random.Generator
) -> tuple[Floats, Floats]:
    """Chains from seeds within a level, (chains, steps, ...)."""
    kept, values = [seeds], [rooms]
    step = FIRST_STEP
    for turn in range(1, CHAIN_STEPS):
        here, value = kept[-1], values[-1]
        tried = np.sqrt(1.0 - step**2) * here + step * generator.standard_normal(here.shape)
        found = room(tried)
        taken = found <= level
        kept.append(np.where(taken[:, None], tried, here))
        values.append(np.where(taken, found, value))
        step *= float(np.exp((taken.mean() - WANTED_ACCEPTANCE) / np.sqrt(turn)))
        step = float(np.clip(step, STEP_LOW, STEP_HIGH))
    return np.stack(kept, axis=1), np.stack(values, axis=1)


def _correlation(
    inside: np.ndarray[tuple[int], np.dtype[np.bool_]], chains: Floats | None, share: float
) -> float:
    """How much the correlation along chains adds to the variance of a share."""
    if chains is None or share in {0.0, 1.0}:
        return 0.0
    along = inside.reshape(chains.shape).astype(np.float64) - share
    length = along.shape[1]
    variance = share * (1.0 - share)
    lags = [float((along[:, lag:] * along[:, :-lag]).mean()) / variance for lag in range(1, length)]
    return max(0.0, 2.0 * float(sum((1.0 - lag / length) * r for lag, r in enumerate(lags, start=1))))
