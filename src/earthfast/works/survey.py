"""Surveys of what was built: thickness at points, gaps under a straightedge, binder used on a bay."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from earthfast.estimate import Floats


class PointVerdict(StrEnum):
    """One measured point against its limits."""

    WITHIN = "within"
    TOO_THIN = "too thin"
    TOO_THICK = "too thick"


@dataclass(frozen=True, slots=True)
class ThicknessSurvey:
    """Thickness at the points of two level surveys, m.

    Attributes
    ----------
    thickness : at each point.
    verdicts : of each point: a good mean hides a thin spot.
    mean : over the points.
    """

    thickness: Floats
    verdicts: tuple[PointVerdict, ...]
    mean: float

    @property
    def outside(self) -> Floats:
        """1 at the points outside the limits, 0 elsewhere."""
        return np.array([float(verdict is not PointVerdict.WITHIN) for verdict in self.verdicts])


def thickness_survey(
    formation: Floats, top: Floats, design: float, minus: float, plus: float
) -> ThicknessSurvey:
    """Thickness of a layer from levels taken below and above it.

    Parameters
    ----------
    formation : array
        Levels of formation. [m]
    top : array
        Levels of the finished layer at the same points. [m]
    design : float
        Thickness wanted. [m]
    minus : float
        How much thinner is allowed. [m]
    plus : float
        How much thicker is allowed. [m]

    Returns
    -------
    survey : ThicknessSurvey
        Thickness and verdict at each point, and the mean.

    Notes
    -----
    h = z₂ − z₁ at each point, judged point by point first.

    References
    ----------
    na_paver_tolerance_sheet, base thickness −13 mm to +20 mm [S]
    """
    thickness = np.asarray(top) - np.asarray(formation)
    verdicts = tuple(
        PointVerdict.TOO_THIN
        if depth < design - minus - 1e-9
        else PointVerdict.TOO_THICK
        if depth > design + plus + 1e-9
        else PointVerdict.WITHIN
        for depth in thickness
    )
    return ThicknessSurvey(thickness, verdicts, float(thickness.mean()))


@dataclass(frozen=True, slots=True)
class StraightedgeGap:
    """Largest gap under a straightedge, and how far along it lies, m."""

    gap: float
    at: float


def straightedge_gap(distance: Floats, height: Floats) -> StraightedgeGap:
    """Largest gap under a straightedge as long as the run of levels.

    Parameters
    ----------
    distance : array
        Places along the run, increasing. [m]
    height : array
        Levels at them. [m]

    Returns
    -------
    gap : StraightedgeGap
        Largest gap and where.

    Notes
    -----
    A straightedge rests on the upper convex hull of the profile; the gap is the height of the hull above it.

    References
    ----------
    definition, upper convex hull [C]
    """
    hull = _upper_hull(np.asarray(distance), np.asarray(height))
    rest = np.interp(distance, np.asarray(distance)[hull], np.asarray(height)[hull])
    gaps = rest - height
    worst = int(np.argmax(gaps))
    return StraightedgeGap(float(gaps[worst]), float(distance[worst]))


def _upper_hull(x: Floats, z: Floats) -> list[int]:
    hull: list[int] = []
    for i in range(len(x)):
        while len(hull) > 1:
            a, b = hull[-2], hull[-1]
            if (x[b] - x[a]) * (z[i] - z[a]) < (z[b] - z[a]) * (x[i] - x[a]):
                break
            hull.pop()
        hull.append(i)
    return hull


@dataclass(frozen=True, slots=True)
class Yield:
    """Binder really used on a bay: kg/m², and its error as a fraction of what was wanted."""

    areal_mass: float
    error: float


def binder_yield(bags: float, bag_mass: float, area: float, wanted_areal_mass: float) -> Yield:
    """Binder used on a bay, from the bags emptied.

    Parameters
    ----------
    bags : float
        Bags emptied, parts counted. [-]
    bag_mass : float
        Mass of one bag. [kg]
    area : float
        Area of the bay as measured. [m²]
    wanted_areal_mass : float
        Binder wanted by area. [kg/m²]

    Returns
    -------
    used : Yield
        Binder by area, and error.

    Notes
    -----
    M = n B / A; error M / M₀ − 1. Counts the mean over the bay, not its evenness: trays tell that.

    References
    ----------
    definition, mass balance [C]
    """
    areal_mass = bags * bag_mass / area
    return Yield(areal_mass, areal_mass / wanted_areal_mass - 1.0)
