"""Low, usual and high of what work takes: hours, money, carbon."""

from __future__ import annotations

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

    def times(self, count: float) -> UsualBand:
        """The band for a quantity."""
        return UsualBand(self.low * count, self.usual * count, self.high * count)

    def plus(self, other: UsualBand) -> UsualBand:
        """Both bands, their ends added."""
        return UsualBand(self.low + other.low, self.usual + other.usual, self.high + other.high)
