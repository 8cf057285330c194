"""A quantity with its uncertainty."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from scipy.special import ndtri

from earthfast.estimate.arrays import FloatLike, Floats

BAND_LOW, BAND_HIGH = 0.05, 0.95  # the band shown everywhere is 5..95 %
Z_BAND = float(ndtri(BAND_HIGH))


class Family(StrEnum):
    """How the uncertainty of an estimate is described."""

    EXACT = "exact"
    NORMAL = "normal"
    LOGNORMAL = "lognormal"


@dataclass(frozen=True, slots=True)
class Estimate:
    """A quantity known to lie around a centre.

    Attributes
    ----------
    centre : median (lognormal) or mean (normal), in the quantity's SI unit.
    spread : log-standard deviation (lognormal) or standard deviation (normal); 0 when exact.
    family : which of the two.
    """

    centre: float
    spread: float = 0.0
    family: Family = Family.EXACT

    def __post_init__(self) -> None:
        if not (np.isfinite(self.centre) and np.isfinite(self.spread) and self.spread >= 0.0):
            raise ValueError(f"an estimate needs a finite centre and a spread of 0 or more, got {self}")
        if self.family is Family.LOGNORMAL and self.centre <= 0.0:
            raise ValueError(f"a lognormal estimate needs a centre above 0, got {self.centre}")

    def at_normal(self, normal: FloatLike) -> Floats:
        """Values of the quantity at standard normal scores."""
        scores = np.asarray(normal, dtype=np.float64)
        if self.family is Family.LOGNORMAL:
            return np.asarray(self.centre * np.exp(self.spread * scores))
        return np.asarray(self.centre + self.spread * scores)

    def quantile(self, probability: FloatLike) -> Floats:
        """Value not exceeded with the given probability (0..1)."""
        return self.at_normal(ndtri(np.asarray(probability, dtype=np.float64)))

    @property
    def low(self) -> float:
        """Lower end of the 5..95 % band."""
        return float(self.quantile(BAND_LOW))

    @property
    def high(self) -> float:
        """Upper end of the 5..95 % band."""
        return float(self.quantile(BAND_HIGH))


def exact(centre: float) -> Estimate:
    """Estimate with no uncertainty."""
    return Estimate(centre)


def normal(mean: float, sd: float) -> Estimate:
    """Estimate with normal scatter about its mean."""
    return Estimate(mean, sd, Family.NORMAL)


def lognormal(median: float, log_sd: float) -> Estimate:
    """Estimate with lognormal scatter about its median."""
    return Estimate(median, log_sd, Family.LOGNORMAL)


def lognormal_from_band(low: float, high: float) -> Estimate:
    """Lognormal estimate whose 5..95 % band is low..high (both above 0)."""
    return lognormal(float(np.sqrt(low * high)), float(np.log(high / low) / (2.0 * Z_BAND)))


def normal_from_band(low: float, high: float) -> Estimate:
    """Normal estimate whose 5..95 % band is low..high."""
    return normal((low + high) / 2.0, (high - low) / (2.0 * Z_BAND))
