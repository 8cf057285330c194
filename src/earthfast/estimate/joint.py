"""Draws summed up: median and the 5..95 % band, chances of classes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from earthfast.estimate.arrays import Floats, quantiles
from earthfast.estimate.quantity import BAND_HIGH, BAND_LOW, Z_BAND


@dataclass(frozen=True, slots=True)
class Band:
    """Median of a property and its 5..95 % band, in the property's SI unit."""

    low: float
    median: float
    high: float

    @property
    def log_sd(self) -> float:
        """Log-standard deviation of a lognormal with this band (all three above 0)."""
        return float(np.log(self.high / self.low) / (2.0 * Z_BAND))


def band_of(draws: Floats) -> Band:
    """Median and 5..95 % band of equal-weight draws."""
    return Band(*quantiles(draws, (BAND_LOW, 0.5, BAND_HIGH)))


@dataclass(frozen=True, slots=True)
class Chance:
    """Chance that something carries this name."""

    name: str
    probability: float


def chances_of(
    names: Sequence[str], members: np.ndarray[tuple[int], np.dtype[np.intp]]
) -> tuple[Chance, ...]:
    """Chances of named classes from the class index of each equal-weight draw, likeliest first."""
    shares = np.bincount(members, minlength=len(names)) / members.size
    order = np.argsort(-shares, kind="stable")
    return tuple(Chance(names[i], float(shares[i])) for i in order if shares[i] > 0.0)
