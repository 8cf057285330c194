"""Grading curves: shares between sieves, grain sizes at a share, coefficients of shape."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from earthfast.estimate import FloatLike, Floats


@dataclass(frozen=True, slots=True)
class GradingShape:
    """Shape of a grading curve.

    Attributes
    ----------
    d10, d30, d60 : sizes that 10, 30 and 60 % of the mass pass, m; nan where the curve does not reach.
    """

    d10: float
    d30: float
    d60: float

    @property
    def uniformity(self) -> float:
        """Cu = D60 / D10, -."""
        return self.d60 / self.d10

    @property
    def curvature(self) -> float:
        """Cc = D30² / (D10 D60), -."""
        return self.d30**2 / (self.d10 * self.d60)


def passing_from_retained(retained: Floats) -> Floats:
    """Share passing each sieve from the masses kept on the sieves, the pan last.

    Parameters
    ----------
    retained : array-like
        Mass kept on each sieve from the coarsest to the finest, then the pan. [kg]

    Returns
    -------
    passing : array-like
        Share passing each sieve, pan left out. [-]

    Notes
    -----
    1 - cumulative mass / total mass.

    References
    ----------
    definition, sieve analysis [C]
    """
    masses = np.asarray(retained, dtype=np.float64)
    return np.asarray(1.0 - np.cumsum(masses)[:-1] / np.sum(masses))


def share_passing(sizes: Floats, passing: Floats, size: FloatLike) -> Floats:
    """Share passing any size, read off the curve between sieves.

    Parameters
    ----------
    sizes : array-like
        Sieve sizes, in any order. [m]
    passing : array-like
        Share passing each. [-]
    size : array-like
        Size asked for. [m]

    Returns
    -------
    passing : array-like
        nan beyond the sieves, but 1 above a sieve that everything passes. [-]

    Notes
    -----
    Linear in the logarithm of size between neighbouring sieves.

    References
    ----------
    definition, interpolation on a log-size chart [C]
    """
    order = np.argsort(sizes)
    known, shares = np.asarray(sizes, dtype=np.float64)[order], np.asarray(passing, dtype=np.float64)[order]
    above = 1.0 if shares[-1] >= 1.0 - 1e-9 else np.nan
    slack = 1.0 + 1e-9
    asked = np.asarray(size, dtype=np.float64)
    asked = np.where((asked < known[0]) & (asked * slack >= known[0]), known[0], asked)
    return np.asarray(np.interp(np.log(asked), np.log(known), shares, left=np.nan, right=above))


def size_at_share(sizes: Floats, passing: Floats, share: FloatLike) -> Floats:
    """Size that a share of the mass passes.

    Parameters
    ----------
    sizes : array-like
        Sieve sizes, in any order. [m]
    passing : array-like
        Share passing each. [-]
    share : array-like
        Share asked for. [-]

    Returns
    -------
    size : array-like
        nan where the curve does not reach the share. [m]

    Notes
    -----
    Linear in the logarithm of size between neighbouring sieves; a size below the finest sieve is unknown,
    never extended. Readings off a printed chart differ from this by up to 6 %.

    References
    ----------
    definition, interpolation on a log-size chart [C]
    """
    order = np.argsort(sizes)
    known, shares = np.asarray(sizes, dtype=np.float64)[order], np.asarray(passing, dtype=np.float64)[order]
    rising = np.concatenate([[True], np.diff(shares) > 0.0])
    log_size = np.interp(np.asarray(share), shares[rising], np.log(known[rising]), left=np.nan, right=np.nan)
    return np.asarray(np.exp(log_size))


def whole_percent(share: float) -> int:
    """A share in whole percent, halves up, as soils are classed."""
    return int(np.floor(100.0 * share + 0.5 + 1e-9))


def grading_shape(sizes: Floats, passing: Floats) -> GradingShape:
    """Sizes at 10, 30 and 60 % and the coefficients of uniformity and curvature.

    Parameters
    ----------
    sizes : array-like
        Sieve sizes, in any order. [m]
    passing : array-like
        Share passing each. [-]

    Returns
    -------
    shape : GradingShape
        Sizes in m; nan where the curve does not reach.

    Notes
    -----
    Cu = D60 / D10; Cc = D30² / (D10 D60); sizes by log-linear interpolation.

    References
    ----------
    astm_d2487, coefficients of uniformity and curvature [M]
    """
    d10, d30, d60 = (float(size_at_share(sizes, passing, share)) for share in (0.10, 0.30, 0.60))
    return GradingShape(d10, d30, d60)
