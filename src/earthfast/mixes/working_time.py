"""The clock from water meeting binder to the end of rolling."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from scipy.constants import hour

from earthfast.estimate import FloatLike, Floats
from earthfast.sources import read_table

DATUM = 3.0  # °C. S: sroh, appendix A10.2.28


class SettingBinder(StrEnum):
    """Binders by how fast they set in damp soil."""

    CEMENT = "cement"
    LIME_AND_SLAG = "lime and slag"
    LIME_AND_ASH = "lime and siliceous fly ash"
    LIME = "lime alone"
    SLAG = "slag alone"


@dataclass(frozen=True, slots=True)
class WorkingLimitRow:
    """Limit for one binder."""

    binder: str
    limit_kelvin_hours: float


@dataclass(frozen=True, slots=True)
class WorkingWindow:
    """How long the mix may be worked, by the two readings of the rule.

    Attributes
    ----------
    by_temperature : limit on air temperature times time, s.
    above_datum : limit on the excess over 3 °C times time, s.
    """

    by_temperature: Floats
    above_datum: Floats

    @property
    def advised(self) -> Floats:
        """The shorter of the two, s."""
        return np.minimum(self.by_temperature, self.above_datum)


def working_limit(binder: SettingBinder) -> float:
    """Limit of air temperature times time for a binder.

    Parameters
    ----------
    binder : SettingBinder
        What sets the pace.

    Returns
    -------
    limit : float
        Temperature times time. [K·s]

    Notes
    -----
    Σ T Δt <= L, with L = 35 K·h for any mix with cement, up to 3000 K·h for slag alone.

    References
    ----------
    sroh, tables A10.8 and A10.9 [S]
    """
    rows = read_table("working_time", WorkingLimitRow).rows
    limits = {row.binder: row.limit_kelvin_hours for row in rows}
    return float(limits[binder] * hour)


def working_window(limit: FloatLike, air_temperature: FloatLike) -> WorkingWindow:
    """Working time at a steady air temperature.

    Parameters
    ----------
    limit : array-like
        Limit of temperature times time, see `working_limit`. [K·s]
    air_temperature : array-like
        Air temperature. [°C]

    Returns
    -------
    window : WorkingWindow
        Both readings of the rule and the shorter one, in seconds.

    Notes
    -----
    t = L / T and t = L / (T − 3 °C), with L and T in the order of the arguments: the wording allows either,
    so the shorter is advised. Infinite at or below the datum, where binder hardly sets and work should stop
    anyway.

    References
    ----------
    sroh, appendix A10.2.28 [S]
    """
    return WorkingWindow(_steady(limit, air_temperature, 0.0), _steady(limit, air_temperature, DATUM))


def _steady(limit: FloatLike, air_temperature: FloatLike, datum: float) -> Floats:
    excess = np.maximum(np.asarray(air_temperature, dtype=np.float64) - datum, 0.0)
    with np.errstate(divide="ignore"):
        return np.asarray(limit / excess)


def working_window_through_day(
    limit: float, durations: FloatLike, air_temperatures: FloatLike
) -> WorkingWindow:
    """Working time when the air warms or cools, from temperatures step by step.

    Parameters
    ----------
    limit : float
        Limit of temperature times time, see `working_limit`. [K·s]
    durations : array-like
        Length of each step, the first starting when water meets binder. [s]
    air_temperatures : array-like
        Air temperature in each step. [°C]

    Returns
    -------
    window : WorkingWindow
        Both readings of the rule and the shorter one, in seconds from the start.

    Notes
    -----
    Σ max(T − D, 0) Δt = L, solved for the time, with D = 0 and D = 3 °C. The last temperature is taken to
    last. The source asks for steps in which the air changes by 4 °C at most.

    References
    ----------
    sroh, appendix A10.2.28 [S]
    """
    steps = np.atleast_1d(np.asarray(durations, dtype=np.float64))
    air = np.atleast_1d(np.asarray(air_temperatures, dtype=np.float64))
    return WorkingWindow(_stepped(limit, steps, air, 0.0), _stepped(limit, steps, air, DATUM))


def _stepped(limit: float, durations: Floats, air_temperatures: Floats, datum: float) -> Floats:
    excess = np.maximum(air_temperatures - datum, 0.0)
    spent = np.concatenate([[0.0], np.cumsum(excess * durations)])
    start = np.concatenate([[0.0], np.cumsum(durations)])
    step = min(int(np.searchsorted(spent, limit)), len(durations)) - 1
    if excess[step] == 0.0:
        return np.asarray(np.inf)
    return np.asarray(start[step] + (limit - spent[step]) / excess[step])


@dataclass(frozen=True, slots=True)
class TwoStageWindow:
    """Limits when one binder mellows before cement follows.

    Attributes
    ----------
    before_cement : longest wait between first binder and cement, s.
    after_cement : working time once cement is in.
    """

    before_cement: Floats
    after_cement: WorkingWindow


def two_stage_window(first: SettingBinder, air_temperature: FloatLike) -> TwoStageWindow:
    """Time limits when lime or slag goes in first and cement follows.

    Parameters
    ----------
    first : SettingBinder
        The binder mixed in first.
    air_temperature : array-like
        Air temperature, taken as steady. [°C]

    Returns
    -------
    window : TwoStageWindow
        Longest wait before cement, and working time after it, in seconds.

    Notes
    -----
    Wait t = L1 / (T − 3 °C), with L1 = 1700 K·h after lime and 850 K·h after slag or ash; then the cement
    clock of 35 K·h. Over a wait of days the excess over 3 °C is the sensible reading, so only that one is
    given for it.

    References
    ----------
    sroh, table A10.9 [S]
    """
    is_lime = first == SettingBinder.LIME
    limit = working_limit(SettingBinder.LIME if is_lime else SettingBinder.LIME_AND_ASH)
    return TwoStageWindow(
        _steady(limit, air_temperature, DATUM),
        working_window(working_limit(SettingBinder.CEMENT), air_temperature),
    )


def bay_area(
    window: FloatLike,
    fixed_time: FloatLike,
    mixing_time: FloatLike,
    compaction_time: FloatLike,
) -> FloatLike:
    """Largest bay that can be mixed and compacted within the working time.

    Parameters
    ----------
    window : array-like
        Working time. [s]
    fixed_time : array-like
        Time spent whatever the area: moving, watering, levelling. [s]
    mixing_time : array-like
        Wet mixing by area. [s/m²]
    compaction_time : array-like
        Compaction by area. [s/m²]

    Returns
    -------
    area : array-like
        Area of the bay, 0 where no time is left. [m²]

    Notes
    -----
    A = (t − f) / (m + k), with t, f, m and k in the order of the arguments. Half a bay finished beats a
    whole one lost.

    References
    ----------
    definition, time budget [C]
    """
    return np.maximum(window - fixed_time, 0.0 * window) / (mixing_time + compaction_time)
