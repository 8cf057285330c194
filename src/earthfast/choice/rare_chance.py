"""Chances too small to count, by subset simulation.

It asks one function of independent standard normal variables, the room, below 0 where it fails.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from earthfast.estimate import Floats

Room = Callable[[Floats], Floats]

LEVEL_CHANCE = 0.1  # share of samples kept at each level
CHAIN_STEPS = 10
MOST_LEVELS = 12
WANTED_ACCEPTANCE = 0.44
FIRST_STEP, STEP_LOW, STEP_HIGH = 0.6, 0.05, 1.0


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
