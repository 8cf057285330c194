"""Low, usual and high of what work takes: hours, money, carbon."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class UsualBand:
    """Low, usual and high hours, money before tax, or carbon in kg of CO2 equivalent.

    Of money, low..high is the 5..95 % band; of hours and carbon, the range that is published.
    """

    low: float
    usual: float
    high: float

    @property
    def swing(self) -> float:
        """Width of the band."""
        return self.high - self.low

    @classmethod
    def total(cls, bands: Iterable[UsualBand], sure: float = 0.0) -> UsualBand:
        """Sum of bands and of what is sure, their ends added."""
        low = usual = high = sure
        for band in bands:
            low, usual, high = low + band.low, usual + band.usual, high + band.high
        return cls(low, usual, high)

    def times(self, count: float) -> UsualBand:
        """The band for a quantity."""
        return UsualBand(self.low * count, self.usual * count, self.high * count)
