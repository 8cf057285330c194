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
    design : parameters first, then one column a batch.
    low, high : equal for a value, apart for bounds.
    variance : of the error.
    """

    design: Floats
    low: Floats
    high: Floats
    variance: Floats

    @property
    def is_value(self) -> npt.NDArray[np.bool_]:
        """True where the reading is a value."""
        return np.asarray(self.low == self.high)

    def spread(self, covariance: Floats) -> Floats:
        """Variance of each fitted reading."""
        return np.asarray(np.einsum("ij,jk,ik->i", self.design, covariance, self.design))


@dataclass(frozen=True, slots=True)
class RobustFit:
    """Normal approximation of the posterior of the parameters, and a bound on the log evidence."""

    mean: Floats
    covariance: Floats
    log_evidence: float


@dataclass(frozen=True, slots=True)
class _Normal:
    mean: Floats
    covariance: Floats


@dataclass(frozen=True, slots=True)
class _Prior:
    """Prior of parameters (heavy-tailed) and batches (normal)."""

    mean: Floats
    precision: Floats
    batch_precision: float
    size: int

    def tail(self, state: _Normal) -> float:
        count = len(self.mean)
        return (PRIOR_FREEDOM + count) / (PRIOR_FREEDOM + self.square(state))

    def square(self, state: _Normal) -> float:
        gap = state.mean[: len(self.mean)] - self.mean
        within = state.covariance[: len(gap), : len(gap)]
        return float(gap @ self.precision @ gap + np.sum(self.precision * within))

    def whole(self, tail: float) -> Floats:
        count = len(self.mean)
        precision = np.zeros((self.size, self.size))
        precision[:count, :count] = tail * self.precision
        precision[range(count, self.size), range(count, self.size)] = self.batch_precision
        return precision


@dataclass(frozen=True, slots=True)
class _Sites:
    """Each reading as a normal factor: precision and precision times value."""

    precision: Floats
    shift: Floats


def robust_fit(
    readings: Readings, prior_mean: Floats, prior_covariance: Floats, batch_sd: float
) -> RobustFit:
    """Posterior of the parameters; batch effects have mean 0 and the given standard deviation."""
    size = readings.design.shape[1]
    prior = _Prior(
        prior_mean, np.asarray(np.linalg.inv(prior_covariance), dtype=np.float64), batch_sd**-2.0, size
    )
    value = np.where(readings.is_value, readings.low, 0.0)
    first = np.where(readings.is_value, 1.0 / readings.variance, 0.0)
    sites = _Sites(first, first * value)
    state = _combined(readings, prior, 1.0, sites)
    for _ in range(SWEEPS):
        before = state
        sites = _renewed(readings, value, state, sites)
        state = _combined(readings, prior, prior.tail(state), sites)
        if np.max(np.abs(state.mean - before.mean)) < SETTLED:
            break
    count = len(prior_mean)
    evidence = _log_evidence(readings, prior, value, state)
    return RobustFit(state.mean[:count], state.covariance[:count, :count], evidence)


def _combined(readings: Readings, prior: _Prior, tail: float, sites: _Sites) -> _Normal:
    whole = prior.whole(tail)
    start = np.concatenate([prior.mean, np.zeros(prior.size - len(prior.mean))])
    precision = whole + readings.design.T @ (sites.precision[:, None] * readings.design)
    covariance = np.linalg.inv(precision)
    covariance = 0.5 * (covariance + covariance.T)
    return _Normal(covariance @ (whole @ start + readings.design.T @ sites.shift), covariance)


def _renewed(readings: Readings, value: Floats, state: _Normal, sites: _Sites) -> _Sites:
    fitted, spread = readings.design @ state.mean, readings.spread(state.covariance)
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
    fitted, spread = readings.design @ state.mean, readings.spread(state.covariance)
    square = ((value - fitted) ** 2 + spread) / readings.variance
    values = _log_scale_mixture(ERROR_FREEDOM, 1, square) - 0.5 * (log_two_pi + np.log(readings.variance))
    width = np.sqrt(spread + readings.variance)
    kept = ndtr((readings.high - fitted) / width) - ndtr((readings.low - fitted) / width)
    seen = np.where(readings.is_value, values, np.log(np.maximum(kept, 1e-300)))
    _, log_precision = np.linalg.slogdet(prior.precision)
    parameters = 0.5 * (log_precision - count * log_two_pi) + _log_scale_mixture(
        PRIOR_FREEDOM, count, prior.square(state)
    )
    batch_squares = state.mean[count:] ** 2 + np.diag(state.covariance)[count:]
    batches = -0.5 * np.sum(
        log_two_pi - np.log(prior.batch_precision) + prior.batch_precision * batch_squares
    )
    _, log_determinant = np.linalg.slogdet(state.covariance)
    entropy = 0.5 * (log_determinant + prior.size * (1.0 + log_two_pi))
    return float(np.sum(seen) + parameters + batches + entropy)
