"""A climate brought to frost indices that are known: the ordinary winter's, and a rare one's."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
from scipy.constants import day

from earthfast.frost import Climate, freezing_index_of_winters

SHOWN_INDEX = day  # K·s in one °C·day
WINTERS = 512
SEED = 7  # the same winters at every step of the search, so that the index moves smoothly
RARE = 0.9  # a rare winter is the coldest of ten
AMPLITUDES, SCATTERS, SHIFTS = (2.0, 26.0), (1.0, 9.0), (0.0, 5.0)
ROUNDS = 2
ROUGH = 1.0e-2


class TuningFailed(Exception):  # noqa: N818 (named for what happened)
    """An index that no climate within reach has; the reach in K·s."""

    def __init__(self, *, is_rare: bool, low: float, high: float) -> None:
        self.is_rare, self.low, self.high = is_rare, low, high
        super().__init__(f"no climate within reach has that index: {low:.3g} to {high:.3g} K·s")


def tuned_climate(
    climate: Climate, usual: float | None, rare: float | None, *, by_amplitude: bool
) -> Climate:
    """The climate with a median winter and a one-in-ten winter of the indices given, K·s.

    The ordinary index moves the amplitude of the year where only its mean is known, else the scatter of days; the
    rare one moves the shift common to a winter.
    """
    tuned = climate
    by_year = _by_amplitude if by_amplitude else _by_scatter
    span = AMPLITUDES if by_amplitude else SCATTERS
    for _ in range(ROUNDS if usual is not None and rare is not None else 1):
        if usual is not None:
            tuned = _solved(tuned, by_year, span, 0.5, usual)
        elif rare is not None and by_amplitude:
            return _solved(tuned, by_year, span, RARE, rare)
        if rare is not None:
            tuned = _solved(tuned, _by_shift, SHIFTS, RARE, rare)
    return tuned


def _by_amplitude(climate: Climate, value: float) -> Climate:
    return replace(climate, amplitude=value)


def _by_scatter(climate: Climate, value: float) -> Climate:
    return replace(climate, daily_scatter=value)


def _by_shift(climate: Climate, value: float) -> Climate:
    return replace(climate, winter_offset_sd=value)


def _solved(
    climate: Climate,
    moved: Callable[[Climate, float], Climate],
    span: tuple[float, float],
    rank: float,
    wanted: float,
) -> Climate:
    def short(value: float) -> float:
        winters = freezing_index_of_winters(moved(climate, value), WINTERS, np.random.default_rng(SEED))
        return float(np.quantile(winters, rank)) - wanted

    low, high = short(span[0]), short(span[1])
    if low > 0.0 or high < 0.0:
        raise TuningFailed(is_rare=rank == RARE, low=low + wanted, high=high + wanted)
    from scipy.optimize import brentq  # noqa: PLC0415 (a tenth of a second, only where a frost index is given)

    return moved(climate, float(brentq(short, *span, xtol=ROUGH)))
