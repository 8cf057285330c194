"""Figures for people and trees: vibration, noise, lifting, roots. They inform; they clear nothing."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from scipy.constants import hour

from earthfast.estimate import Floats
from earthfast.ground import tree_protection_radius

WORKING_DAY = 8.0 * hour
VIBRATION_ACTION, VIBRATION_LIMIT = 2.5, 5.0  # m/s², A(8). S: eu_vibration_2002
POINTS_AT_ACTION = 100.0
NOISE_LOWER, NOISE_UPPER, NOISE_LIMIT = 80.0, 85.0, 87.0  # dB(A). S: uk_noise_2005
ROOT_AREA_CAP = 707.0  # m²
LIFT_FIGURE = 25.0  # kg, close to the body at waist height. M
RUN_OFF_PH = 8.5
PERMITTED_IMPERMEABLE = 5.0  # m²


class ExposureVerdict(StrEnum):
    """Where an exposure stands between the values of the law; national rules may be stricter."""

    BELOW_ACTION = "below the action value"
    ABOVE_ACTION = "above the action value, below the limit"
    ABOVE_LIMIT = "above the limit"


@dataclass(frozen=True, slots=True)
class VibrationDay:
    """Hand-arm vibration of one person's day.

    Attributes
    ----------
    daily : A(8), m/s².
    points : exposure points; 100 at the action value, 400 at the limit.
    verdict : where it stands.
    """

    daily: float
    points: float
    verdict: ExposureVerdict


def vibration_day(acceleration: Floats, duration: Floats) -> VibrationDay:
    """Hand-arm vibration of a day with one or more machines.

    Parameters
    ----------
    acceleration : array
        Vibration of each machine at the grip, weighted. [m/s²]
    duration : array
        Time with a hand on each. [s]

    Returns
    -------
    day : VibrationDay
        A(8), points and verdict.

    Notes
    -----
    A(8) = sqrt(Σ aᵢ² tᵢ / 8 h); points 100 (A(8) / 2.5 m/s²)², which is 2 a² t with t in hours. Printed cards
    are rounded, some of them downwards.

    References
    ----------
    eu_vibration_2002, daily exposure, action and limit values [S]
    """
    squares = np.sum(np.square(np.atleast_1d(acceleration)) * np.atleast_1d(duration))
    daily = float(np.sqrt(squares / WORKING_DAY))
    points = POINTS_AT_ACTION * (daily / VIBRATION_ACTION) ** 2
    return VibrationDay(daily, points, _verdict(daily, VIBRATION_ACTION, VIBRATION_LIMIT))


def vibration_time(acceleration: float, daily: float) -> float:
    """Time with one machine until a daily exposure is reached.

    Parameters
    ----------
    acceleration : float
        Vibration at the grip, weighted. [m/s²]
    daily : float
        Daily exposure A(8), such as the action value. [m/s²]

    Returns
    -------
    time : float
        Time with a hand on the machine. [s]

    Notes
    -----
    t = 8 h (A(8) / a)².

    References
    ----------
    eu_vibration_2002, daily exposure [S]
    """
    return WORKING_DAY * (daily / acceleration) ** 2


@dataclass(frozen=True, slots=True)
class NoiseDay:
    """Noise of one person's day.

    Attributes
    ----------
    partial : of each machine, spread over 8 h, dB(A).
    daily : personal daily exposure, dB(A).
    verdict : where it stands; above the upper action value protection is compulsory, quieter plant first.
    """

    partial: Floats
    daily: float
    verdict: ExposureVerdict


def noise_day(level: Floats, duration: Floats) -> NoiseDay:
    """Daily noise exposure from one or more machines.

    Parameters
    ----------
    level : array
        Level at the ear beside each machine, dB(A). [-]
    duration : array
        Time beside each. [s]

    Returns
    -------
    day : NoiseDay
        Partial and daily exposures, dB(A), and verdict against 85 and 87 dB(A).

    Notes
    -----
    Lᵢ = level + 10 log10(tᵢ / 8 h); L = 10 log10 Σ 10^(Lᵢ/10).

    References
    ----------
    uk_noise_2005, exposure values [S]
    """
    partial = np.atleast_1d(level) + 10.0 * np.log10(np.atleast_1d(duration) / WORKING_DAY)
    daily = float(10.0 * np.log10(np.sum(10.0 ** (partial / 10.0))))
    return NoiseDay(partial, daily, _verdict(daily, NOISE_UPPER, NOISE_LIMIT))


def _verdict(value: float, action: float, limit: float) -> ExposureVerdict:
    if value >= limit:
        return ExposureVerdict.ABOVE_LIMIT
    return ExposureVerdict.ABOVE_ACTION if value >= action else ExposureVerdict.BELOW_ACTION


def lifting_figure(lifts_per_minute: float) -> float:
    """Guideline mass for one person at a lifting pace.

    Parameters
    ----------
    lifts_per_minute : float
        Lifts in a minute. [-]

    Returns
    -------
    mass : float
        Figure for lifts close to the body at waist height. [kg]

    Notes
    -----
    25 kg up to 30 lifts an hour, then 30 % less from 1 to 2 lifts a minute, 50 % less to 8, 80 % less above
    12; between the published steps the stricter one is taken. Twisting takes 10 to 20 % more off. The figure
    for women is 16 kg.

    References
    ----------
    manual_handling_guidance, reductions [S]
    from_memory, 25 and 16 kg [M]
    """
    if lifts_per_minute <= 0.5:
        return LIFT_FIGURE
    steps = ((2.0, 0.3), (8.0, 0.5), (np.inf, 0.8))
    reduction = next(cut for fastest, cut in steps if lifts_per_minute <= fastest)
    return LIFT_FIGURE * (1.0 - reduction)


@dataclass(frozen=True, slots=True)
class RootZone:
    """Ground round a tree in which nobody digs, tills, or spreads lime or cement.

    Attributes
    ----------
    stem : stem diameter it goes by, m.
    radius : of a circle, m.
    area : m².
    """

    stem: float
    radius: float
    area: float


def root_zone(stem_diameters: Floats) -> RootZone:
    """Root protection area of a tree.

    Parameters
    ----------
    stem_diameters : array
        Diameter of each stem 1.5 m above ground. [m]

    Returns
    -------
    zone : RootZone
        Combined stem, radius and area.

    Notes
    -----
    r = 12 D, capped at 15 m and 707 m². D is the stem, or sqrt(Σ dᵢ²) of two to five; of more stems
    sqrt(n) times their mean.

    References
    ----------
    bs_5837, root protection areas, as reprinted [S]
    from_memory, more than five stems [M]
    """
    stems = np.atleast_1d(stem_diameters)
    few = len(stems) <= 5
    stem = float(np.sqrt(np.sum(stems**2)) if few else np.sqrt(len(stems)) * stems.mean())
    radius = float(tree_protection_radius(stem))
    return RootZone(stem, radius, min(float(np.pi * radius**2), ROOT_AREA_CAP))


def front_garden_needs_permission(impermeable_area: float, permeable: bool, drains_within_plot: bool) -> bool:
    """Whether paving a front garden in England needs permission.

    Parameters
    ----------
    impermeable_area : float
        Area of hard surface. [m²]
    permeable : bool
        Water passes through the surface and its base; a base bound with cement lets none through.
    drains_within_plot : bool
        Water runs to a bed or lawn large enough to take it.

    Returns
    -------
    needed : bool
        Permission is needed; ask the planning authority in any doubt.

    Notes
    -----
    Over 5 m², impermeable, and draining off the plot.

    References
    ----------
    england_front_gardens_2008, order and guidance [S]
    """
    return impermeable_area > PERMITTED_IMPERMEABLE and not permeable and not drains_within_plot
