"""Linear regression with heavy-tailed errors, a heavy-tailed prior, batch effects and bounded readings."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from scipy.special import gammaln, log_ndtr, ndtr

from earthfast.estimate import Floats

ERROR_FREEDOM = 5.0  # P: an odd specimen counts for little
PRIOR_FREEDOM = 4.0  # P: a soil unlike those seen before can speak up
SWEEPS = 200
SETTLED = 1e-8


@dataclass(frozen=True, slots=True)
class Readings:
    """Observations as rows.

    Attributes
    ----------
    design : one row an observation, one column a parameter.
    batch : number of the batch of each, from 0.
    low, high : equal for a value, apart for bounds.
    variance : of the error.
    """

    design: Floats
    batch: npt.NDArray[np.intp]
    low: Floats
    high: Floats
    variance: Floats

    @property
    def is_value(self) -> npt.NDArray[np.bool_]:
        """True where the reading is a value."""
        return np.asarray(self.low == self.high)

    @property
    def batches(self) -> int:
        """How many batches there are."""
        return int(self.batch.max()) + 1

    def summed(self, values: Floats) -> Floats:
        """Values of the readings added up by batch, one row a batch."""
        total = np.zeros((self.batches, *values.shape[1:]))
        np.add.at(total, self.batch, values)
        return total


@dataclass(frozen=True, slots=True)
class RobustFit:
    """Normal approximation of the posterior of the parameters, and a bound on the log evidence."""

    mean: Floats
    covariance: Floats
    log_evidence: float


@dataclass(frozen=True, slots=True)
class _Normal:
    """Parameters, and batch effects given them: each batch b is normal about its mean less pull_b (θ − mean).

    Attributes
    ----------
    mean, covariance : of the parameters.
    batch_mean : of the batch effects.
    pull : one row a batch, how its effect gives way to the parameters.
    batch_variance : of each batch effect once the parameters are known.
    """

    mean: Floats
    covariance: Floats
    batch_mean: Floats
    pull: Floats
    batch_variance: Floats

    def fitted(self, readings: Readings) -> Floats:
        """Mean of each fitted reading."""
        return np.asarray(readings.design @ self.mean + self.batch_mean[readings.batch])

    def spread(self, readings: Readings) -> Floats:
        """Variance of each fitted reading."""
        own = readings.design - self.pull[readings.batch]
        return _quadratic(own, self.covariance) + self.batch_variance[readings.batch]

    @property
    def batch_squares(self) -> Floats:
        """Mean square of each batch effect."""
        return self.batch_mean**2 + self.batch_variance + _quadratic(self.pull, self.covariance)

    @property
    def log_determinant(self) -> float:
        """Of the covariance of parameters and batches together."""
        return float(np.linalg.slogdet(self.covariance)[1] + np.sum(np.log(self.batch_variance)))


def _quadratic(rows: Floats, matrix: Floats) -> Floats:
    """Value of the quadratic form of a matrix at each row."""
    return np.asarray(np.sum((rows @ matrix) * rows, axis=-1))


@dataclass(frozen=True, slots=True)
class _Prior:
    """Prior of parameters (heavy-tailed) and batches (normal)."""

    mean: Floats
    precision: Floats
    batch_precision: float

    def tail(self, state: _Normal) -> float:
        return (PRIOR_FREEDOM + len(self.mean)) / (PRIOR_FREEDOM + self.square(state))

    def square(self, state: _Normal) -> float:
        gap = state.mean - self.mean
        return float(gap @ self.precision @ gap + np.sum(self.precision * state.covariance))


@dataclass(frozen=True, slots=True)
class _Sites:
    """Each reading as a normal factor: precision and precision times value."""

    precision: Floats
    shift: Floats


def robust_fit(
    readings: Readings, prior_mean: Floats, prior_covariance: Floats, batch_sd: float
) -> RobustFit:
    """Posterior of the parameters; batch effects have mean 0 and the given standard deviation.

    Batches touch each other only through the parameters, so they are eliminated one by one (a Schur complement) and the
    work grows with the readings alone.
    """
    precision = np.asarray(np.linalg.inv(prior_covariance), dtype=np.float64)
    prior = _Prior(prior_mean, precision, batch_sd**-2.0)
    value = np.where(readings.is_value, readings.low, 0.0)
    first = np.where(readings.is_value, 1.0 / readings.variance, 0.0)
    sites = _Sites(first, first * value)
    state = _combined(readings, prior, 1.0, sites)
    for _ in range(SWEEPS):
        before = state
        sites = _renewed(readings, value, state, sites)
        state = _combined(readings, prior, prior.tail(state), sites)
        moved = state.mean - before.mean, state.batch_mean - before.batch_mean
        if max(float(np.max(np.abs(one))) for one in moved) < SETTLED:
            break
    return RobustFit(state.mean, state.covariance, _log_evidence(readings, prior, value, state))


def _combined(readings: Readings, prior: _Prior, tail: float, sites: _Sites) -> _Normal:
    weighed = sites.precision[:, None] * readings.design
    batch_precision = prior.batch_precision + readings.summed(sites.precision)
    crossed, batch_shift = readings.summed(weighed), readings.summed(sites.shift)
    pull = crossed / batch_precision[:, None]
    precision = tail * prior.precision + readings.design.T @ weighed - crossed.T @ pull
    covariance = np.linalg.inv(precision)
    covariance = 0.5 * (covariance + covariance.T)
    shift = tail * prior.precision @ prior.mean + readings.design.T @ sites.shift - pull.T @ batch_shift
    mean = covariance @ shift
    return _Normal(mean, covariance, batch_shift / batch_precision - pull @ mean, pull, 1.0 / batch_precision)


def _renewed(readings: Readings, value: Floats, state: _Normal, sites: _Sites) -> _Sites:
    fitted, spread = state.fitted(readings), state.spread(readings)
    square = ((value - fitted) ** 2 + spread) / readings.variance
    tail = (ERROR_FREEDOM + 1.0) / (ERROR_FREEDOM + square)
    bounded = _bounded_sites(readings, fitted, spread, sites)
    precision = np.where(readings.is_value, tail / readings.variance, bounded.precision)
    return _Sites(precision, np.where(readings.is_value, precision * value, bounded.shift))


def _bounded_sites(readings: Readings, fitted: Floats, spread: Floats, sites: _Sites) -> _Sites:
    soft = ~readings.is_value
    cavity_precision = np.where(soft, np.maximum(1.0 / spread - sites.precision, 1e-9), 1.0)
    cavity_mean = np.where(soft, (fitted / spread - sites.shift) / cavity_precision, 0.0)
    low, high = np.where(soft, readings.low, -1.0), np.where(soft, readings.high, 1.0)
    tilted = _tilted(_Moments(cavity_mean, 1.0 / cavity_precision), low, high, readings.variance)
    precision = np.maximum(1.0 / tilted.variance - cavity_precision, 0.0)
    shift = tilted.mean / tilted.variance - cavity_mean * cavity_precision
    return _Sites(0.5 * (sites.precision + precision), 0.5 * (sites.shift + shift))  # halved steps converge


@dataclass(frozen=True, slots=True)
class _Moments:
    mean: Floats
    variance: Floats


def _tilted(cavity: _Moments, low: Floats, high: Floats, noise: Floats) -> _Moments:
    """Moments of a normal times a window softened by noise."""
    mean, variance = cavity.mean, cavity.variance
    width = np.sqrt(variance + noise)
    upper, lower = (high - mean) / width, (low - mean) / width
    flip = lower > 0.0  # keep the difference of tails accurate on the far side
    top, bottom = np.where(flip, -lower, upper), np.where(flip, -upper, lower)
    log_top = log_ndtr(top)
    log_mass = log_top + np.log1p(-np.minimum(np.exp(log_ndtr(bottom) - log_top), 1.0 - 1e-12))
    density_upper = np.exp(-0.5 * upper**2 - log_mass) / np.sqrt(2.0 * np.pi)
    density_lower = np.exp(-0.5 * lower**2 - log_mass) / np.sqrt(2.0 * np.pi)
    slope = density_lower - density_upper
    upper, lower = (np.where(np.isfinite(edge), edge, 0.0) for edge in (upper, lower))
    curve = lower * density_lower - upper * density_upper - slope**2
    return _Moments(mean + variance / width * slope, variance * (1.0 + variance / width**2 * curve))


def _log_scale_mixture(freedom: float, count: int, square: Floats | float) -> Floats:
    """Logarithm of the integral of λ^(n/2) exp(−λ S/2) over a Gamma(ν/2, ν/2)."""
    half = 0.5 * freedom
    more = half + 0.5 * count
    return np.asarray(
        gammaln(more) - gammaln(half) + half * np.log(half) - more * np.log(half + 0.5 * square)
    )


def _log_evidence(readings: Readings, prior: _Prior, value: Floats, state: _Normal) -> float:
    count, log_two_pi = len(prior.mean), np.log(2.0 * np.pi)
    fitted, spread = state.fitted(readings), state.spread(readings)
    square = ((value - fitted) ** 2 + spread) / readings.variance
    values = _log_scale_mixture(ERROR_FREEDOM, 1, square) - 0.5 * (log_two_pi + np.log(readings.variance))
    width = np.sqrt(spread + readings.variance)
    kept = ndtr((readings.high - fitted) / width) - ndtr((readings.low - fitted) / width)
    seen = np.where(readings.is_value, values, np.log(np.maximum(kept, 1e-300)))
    _, log_precision = np.linalg.slogdet(prior.precision)
    parameters = 0.5 * (log_precision - count * log_two_pi) + _log_scale_mixture(
        PRIOR_FREEDOM, count, prior.square(state)
    )
    batches = -0.5 * np.sum(
        log_two_pi - np.log(prior.batch_precision) + prior.batch_precision * state.batch_squares
    )
    size = count + readings.batches
    entropy = 0.5 * (state.log_determinant + size * (1.0 + log_two_pi))
    return float(np.sum(seen) + parameters + batches + entropy)
