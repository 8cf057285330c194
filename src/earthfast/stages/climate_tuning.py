"""A climate brought to what is known of its winters: the frost index of an ordinary and a rare one, the coldest week."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
from scipy.constants import day

from earthfast.frost import Climate, coldest_week_of_winters, freezing_index_of_winters

SHOWN_INDEX = day  # K·s in one °C·day
WINTERS = 512
SEED = 7  # the same winters at every step of the search, so that its figures move smoothly
RARE = 0.9  # a rare winter is the coldest of ten
AMPLITUDES, SCATTERS, SHIFTS = (2.0, 26.0), (1.0, 9.0), (0.0, 5.0)
ROUNDS = 2
ROUGH = 1.0e-2


class TuningFailed(Exception):  # noqa: N818 (named for what happened)
    """A figure of the winters that no climate within reach has; what is within, in the unit of the figure."""

    def __init__(self, *, field: str, low: float, high: float) -> None:
        self.field, self.low, self.high = field, low, high
        super().__init__(f"no climate within reach has that {field}: {low:.3g} to {high:.3g}")


@dataclass(frozen=True, slots=True)
class Wanted:
    """Figures that the winters shall have.

    Attributes
    ----------
    usual, rare : frost index of the median winter and of one in ten, K·s.
    cold_spell : mean of the coldest week of the median winter, °C.
    """

    usual: float | None = None
    rare: float | None = None
    cold_spell: float | None = None

    @property
    def count(self) -> int:
        """How many of them are known."""
        return sum(one is not None for one in (self.usual, self.rare, self.cold_spell))


def tuned_climate(climate: Climate, wanted: Wanted, *, by_amplitude: bool) -> Climate:
    """The climate with the winters wanted.

    The ordinary index moves the amplitude of the year where only its mean is known, else the scatter of days, and so does the
    coldest week; the rare index moves the shift common to a winter.
    """
    tuned = climate
    usual, rare, spell = wanted.usual, wanted.rare, wanted.cold_spell
    by_year, span = (_by_amplitude, AMPLITUDES) if by_amplitude else (_by_scatter, SCATTERS)
    for _ in range(ROUNDS if wanted.count > 1 else 1):
        if spell is not None:
            tuned = _solved(tuned, _by_scatter, SCATTERS, "cold_spell", spell)
        if usual is not None:
            tuned = _solved(tuned, by_year, span, "frost_index", usual)
        elif rare is not None and by_amplitude:
            return _solved(tuned, by_year, span, "design_frost_index", rare)
        if rare is not None:
            tuned = _solved(tuned, _by_shift, SHIFTS, "design_frost_index", rare)
    return tuned


def _by_amplitude(climate: Climate, value: float) -> Climate:
    return replace(climate, amplitude=value)


def _by_scatter(climate: Climate, value: float) -> Climate:
    return replace(climate, daily_scatter=value)


def _by_shift(climate: Climate, value: float) -> Climate:
    return replace(climate, winter_offset_sd=value)


def _figure(field: str, climate: Climate) -> float:
    """One figure of the winters of a climate, the same winters at every step of the search."""
    chance = np.random.default_rng(SEED)
    if field == "cold_spell":
        return float(np.median(coldest_week_of_winters(climate, WINTERS, chance)))
    rank = 0.5 if field == "frost_index" else RARE
    return float(np.quantile(freezing_index_of_winters(climate, WINTERS, chance), rank))


def _solved(
    climate: Climate,
    moved: Callable[[Climate, float], Climate],
    span: tuple[float, float],
    field: str,
    wanted: float,
) -> Climate:
    def over(value: float) -> float:
        return _figure(field, moved(climate, value)) - wanted

    ends = over(span[0]), over(span[1])
    if min(ends) > 0.0 or max(ends) < 0.0:
        raise TuningFailed(field=field, low=min(ends) + wanted, high=max(ends) + wanted)
    from scipy.optimize import brentq  # noqa: PLC0415 (a tenth of a second, only where a figure of winters is given)

    return moved(climate, float(brentq(over, *span, xtol=ROUGH)))
