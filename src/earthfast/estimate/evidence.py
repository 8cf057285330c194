"""Evidence put together: likelihoods of readings and answers, and draws from what they leave possible."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from dataclasses import dataclass, replace

import numpy as np
from scipy.special import logsumexp, ndtr

from earthfast.estimate.arrays import FloatLike, Floats
from earthfast.estimate.sampling import Draws

SAME_HAND = 0.5  # how alike repeated answers of one kind are; P: one person, one habit
LAPSE = 0.01  # chance that an answer has nothing to do with the ground; P


@dataclass(frozen=True, slots=True)
class Numbers:
    """Readings of one kind, all aimed at the same property.

    Attributes
    ----------
    values : the readings on the scale they scatter on, shape (readings,).
    centre : what a reading without error would say for each draw, shape (draws,).
    scatter : standard deviation of a single reading about its like at one spot; more readings wear it down.
    shared : standard deviation of the error all readings have together; more readings do not.
    between : standard deviation of the ground from spot to spot; only more spots wear it down.
    spots : at which spot each reading was taken; None where each was taken at a spot of its own.
    """

    values: Floats
    centre: Floats
    scatter: FloatLike
    shared: float
    between: FloatLike = 0.0
    spots: tuple[Hashable, ...] | None = None

    def log_likelihood(self) -> Floats:
        """Log density of the readings at each draw, shape (draws,), shared error and spots integrated out."""
        scatter, between = (np.asarray(one, dtype=np.float64) ** 2 for one in (self.scatter, self.between))
        pooled = _pooled(self.values, self.spots, scatter, between)
        variance_of_mean = pooled.variance + self.shared**2
        density = -0.5 * (pooled.squares + pooled.logs - np.log(pooled.variance))
        off = pooled.mean - self.centre
        return np.asarray(density - 0.5 * np.log(variance_of_mean) - 0.5 * off**2 / variance_of_mean)

    def pooled(self) -> tuple[Floats, Floats]:
        """Mean over spots and readings by their worth, and the variance that scatter and spots leave it."""
        scatter, between = (np.asarray(one, dtype=np.float64) ** 2 for one in (self.scatter, self.between))
        pooled = _pooled(self.values, self.spots, scatter, between)
        return pooled.mean, pooled.variance

    def within(self) -> tuple[float, int]:
        """Squares of the readings about the mean at their spot, and how many readings beyond the first there are."""
        spots = _at_spots(self.values - np.mean(self.values), self.spots)
        return spots.squares, self.values.size - spots.sizes.size

    def simulated(self, truth: int, generator: np.random.Generator) -> Numbers:
        """The same readings taken on ground that is the draw `truth`."""

        def at(one: FloatLike) -> float:
            return float(np.broadcast_to(np.asarray(one, dtype=np.float64), self.centre.shape)[truth])

        count = self.values.size
        own = at(self.scatter) * generator.standard_normal(count)
        common = self.shared * generator.standard_normal()
        spots = range(count) if self.spots is None else self.spots
        levels = {spot: at(self.between) * generator.standard_normal() for spot in dict.fromkeys(spots)}
        here = np.array([levels[spot] for spot in spots])
        return replace(self, values=self.centre[truth] + common + here + own)


@dataclass(frozen=True, slots=True)
class _Pooled:
    """Readings summed up: weighted mean, its variance, squares left about it, and logs of all variances."""

    mean: Floats
    variance: Floats
    squares: Floats
    logs: Floats


@dataclass(frozen=True, slots=True)
class _AtSpots:
    """Readings spot by spot: how many, their means, and squares about those."""

    sizes: Floats
    means: Floats
    squares: float


def _at_spots(off: Floats, spots: tuple[Hashable, ...] | None) -> _AtSpots:
    if spots is None or len(set(spots)) == len(spots):
        return _AtSpots(np.ones(off.size), off, 0.0)
    place_of: dict[Hashable, int] = {}
    places = np.array([place_of.setdefault(spot, len(place_of)) for spot in spots])
    sizes = np.bincount(places).astype(np.float64)
    means = np.bincount(places, weights=off) / sizes
    return _AtSpots(sizes, means, float(np.sum((off - means[places]) ** 2)))


def _pooled(values: Floats, spots: tuple[Hashable, ...] | None, scatter: Floats, between: Floats) -> _Pooled:
    """Readings under independent scatter and spot effects of these variances, either one a draw or one for all."""
    middle = float(np.mean(values))  # taken off first, so that squares do not cancel
    at_spots = _at_spots(values - middle, spots)
    repeats = values.size - at_spots.sizes.size
    squares = at_spots.squares / scatter if repeats else np.zeros(())
    logs = repeats * np.log(scatter) if repeats else np.zeros(())
    weight, weighed = np.zeros(()), np.zeros(())
    for size in np.unique(at_spots.sizes).tolist():
        means = at_spots.means[at_spots.sizes == size]
        variance = between + scatter / size
        weight = weight + means.size / variance
        weighed = weighed + np.sum(means) / variance
        squares = squares + np.sum(means**2) / variance
        logs = logs + means.size * np.log(variance)
    mean = weighed / weight
    return _Pooled(middle + mean, 1.0 / weight, squares - weight * mean**2, logs)


@dataclass(frozen=True, slots=True)
class Answers:
    """Answers of one kind to one question with a closed list of choices.

    Attributes
    ----------
    probabilities : chance of each choice for each draw, shape (choices, draws).
    chosen : index of the choice made, one for each time the question was asked.
    """

    probabilities: Floats
    chosen: tuple[int, ...]

    def log_likelihood(self) -> Floats:
        """Log probability of the answers at each draw; answers alike count as fewer than they are."""
        choices = self.probabilities.shape[0]
        steady = (1.0 - LAPSE) * self.probabilities + LAPSE / choices
        count = len(self.chosen)
        independent = count / (1.0 + (count - 1) * SAME_HAND)
        return np.asarray(independent * np.mean(np.log(steady[list(self.chosen)]), axis=0))

    def simulated(self, truth: int, generator: np.random.Generator) -> Answers:
        """The same question answered on ground that is the draw `truth`."""
        chances = (1.0 - LAPSE) * self.probabilities[:, truth] + LAPSE / self.probabilities.shape[0]
        chosen = generator.choice(chances.size, size=len(self.chosen), p=chances / chances.sum())
        return Answers(self.probabilities, tuple(int(choice) for choice in chosen))


Evidence = Numbers | Answers


def ordered_choices(centre: Floats, limits: tuple[float, ...], blur: FloatLike) -> Floats:
    """Chance of each band of an ordered scale when the property is judged with a normal error.

    `limits` are the boundaries between neighbouring bands; returns shape (bands, draws).
    """
    below = ndtr((np.asarray(limits)[:, None] - np.asarray(centre)[None, :]) / np.asarray(blur))
    edges = np.vstack([np.zeros_like(below[:1]), below, np.ones_like(below[:1])])
    return np.diff(edges, axis=0)


LogLikelihood = Callable[[Floats], Floats]

KEEP = 0.5  # a step of the bridge keeps this share of the draws effective
MOVES, LAST_MOVES = 4, 12  # moves after each step, and after the last, so that copies part again
STEP = 0.6  # share of fresh normal in a move


def prior_latents(count: int, dimensions: int, generator: np.random.Generator) -> Floats:
    """Scrambled Sobol draws of independent standard normals, shape (count, dimensions)."""
    names = [str(i) for i in range(dimensions)]
    draws = Draws(names, count, generator)
    return np.column_stack([draws.normal(name) for name in names])


@dataclass(frozen=True, slots=True)
class Posterior:
    """Equal-weight draws of the standard normal latents after the evidence.

    Attributes
    ----------
    latents : shape (draws, dimensions).
    log_evidence : log of the probability of all readings and answers under the prior.
    steps : number of steps the bridge from prior to posterior took.
    """

    latents: Floats
    log_evidence: float
    steps: int


def bridge(
    latents: Floats,
    start: LogLikelihood,
    target: LogLikelihood,
    generator: np.random.Generator,
) -> Posterior:
    """Carry draws from one state of knowledge to another.

    The draws follow standard normal times `start`; they end following standard normal times `target`.
    The way between is cut into steps small enough that half of the draws stay effective; after each,
    draws are resampled systematically and moved by autoregressive steps about their own mean and
    covariance, accepted by the Metropolis rule, so strong evidence does not leave a handful of draws.
    """
    here, there = start(latents), target(latents)
    reached, log_evidence, steps = 0.0, 0.0, 0
    while reached < 1.0:
        step = _longest_step(there - here, 1.0 - reached)
        reached = 1.0 if 1.0 - reached - step < 1e-12 else reached + step
        log_weights = step * (there - here)
        log_evidence += float(logsumexp(log_weights) - np.log(log_weights.size))
        weights = np.exp(log_weights - logsumexp(log_weights))
        kept = systematic(weights, generator)
        latents, here, there = latents[kept], here[kept], there[kept]
        latents, here, there = _move(latents, here, there, reached, start, target, generator)
        steps += 1
    return Posterior(latents, log_evidence, steps)


def _longest_step(log_ratio: Floats, remaining: float) -> float:
    shifted = log_ratio - log_ratio.max()

    def effective_share(step: float) -> float:
        weights = np.exp(step * shifted)
        return float(weights.sum() ** 2 / (weights @ weights) / weights.size)

    if effective_share(remaining) >= KEEP:
        return remaining
    low, high = 0.0, remaining
    for _ in range(30):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if effective_share(middle) >= KEEP else (low, middle)
    return max(low, 1e-9)


def systematic(weights: Floats, generator: np.random.Generator) -> np.ndarray[tuple[int], np.dtype[np.intp]]:
    """Indices of a systematic resample with these weights (summing to 1)."""
    count = weights.size
    marks = (generator.random() + np.arange(count)) / count
    return np.minimum(np.searchsorted(np.cumsum(weights), marks), count - 1)


def _move(
    latents: Floats,
    here: Floats,
    there: Floats,
    reached: float,
    start: LogLikelihood,
    target: LogLikelihood,
    generator: np.random.Generator,
) -> tuple[Floats, Floats, Floats]:
    count, dimensions = latents.shape
    mean = latents.mean(axis=0)
    covariance = np.atleast_2d(np.cov(latents, rowvar=False)) + 1e-6 * np.eye(dimensions)
    factor = np.linalg.cholesky(covariance)
    scores = np.linalg.solve(factor, (latents - mean).T).T  # standard normal under the fitted normal

    def surplus(of_scores: Floats, z: Floats) -> Floats:  # log of (standard normal / fitted normal)
        return np.asarray(0.5 * (np.einsum("ij,ij->i", of_scores, of_scores) - np.einsum("ij,ij->i", z, z)))

    current = surplus(scores, latents) + (1.0 - reached) * here + reached * there
    step = STEP
    for _ in range(MOVES if reached < 1.0 else LAST_MOVES):
        moved = np.sqrt(1.0 - step**2) * scores + step * generator.standard_normal((count, dimensions))
        proposal = mean + moved @ factor.T
        new_here, new_there = start(proposal), target(proposal)
        new = surplus(moved, proposal) + (1.0 - reached) * new_here + reached * new_there
        taken = np.log(generator.random(count)) < new - current
        latents, scores = (np.where(taken[:, None], *pair) for pair in ((proposal, latents), (moved, scores)))
        here, there = np.where(taken, new_here, here), np.where(taken, new_there, there)
        current = np.where(taken, new, current)
        step = min(0.95, max(0.1, step * (1.4 if taken.mean() > 0.35 else 0.6)))
    return latents, here, there
