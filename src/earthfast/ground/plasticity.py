"""The plasticity chart: its lines, its classes, and limits from readings."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from earthfast.estimate import FloatLike, Floats


def a_line(liquid_limit: FloatLike) -> Floats:
    """Plasticity index on the line that parts clays from silts.

    Parameters
    ----------
    liquid_limit : array-like
        Liquid limit as a fraction. [-]

    Returns
    -------
    plasticity_index : array-like
        [-]

    Notes
    -----
    PI = 0.73 (LL - 0.20). Below LL = 0.20 the line has no meaning.

    References
    ----------
    astm_d2487, A-line as taught in university notes [S]
    """
    return np.asarray(0.73 * (np.asarray(liquid_limit) - 0.20))


def u_line(liquid_limit: FloatLike) -> Floats:
    """Plasticity index above which no natural soil plots.

    Parameters
    ----------
    liquid_limit : array-like
        Liquid limit as a fraction. [-]

    Returns
    -------
    plasticity_index : array-like
        [-]

    Notes
    -----
    PI = 0.9 (LL - 0.08). A point above it is a data error, not a soil.

    References
    ----------
    astm_d2487, U-line as taught in university notes [S]
    """
    return np.asarray(0.9 * (np.asarray(liquid_limit) - 0.08))


class PlasticityBand(StrEnum):
    """European bands of plasticity by liquid limit."""

    LOW = "L"
    INTERMEDIATE = "I"
    HIGH = "H"
    VERY_HIGH = "V"
    EXTREMELY_HIGH = "E"


BAND_LIMITS = (0.35, 0.50, 0.70, 0.90)


def plasticity_class(liquid_limit: float, plasticity_index: float) -> str:
    """European letter pair for the fine part: C or M by the A-line, then the band by liquid limit.

    Parameters
    ----------
    liquid_limit : float
        Liquid limit as a fraction. [-]
    plasticity_index : float
        Plasticity index as a fraction. [-]

    Returns
    -------
    letters : str
        Such as CI or MV.

    Notes
    -----
    L below 35 %, I 35 to 50, H 50 to 70, V 70 to 90, E above 90; C on or above the A-line, M below it.

    References
    ----------
    bs_5930, bands of plasticity [S]
    from_memory, band V [M]
    """
    letter = "C" if _percent(plasticity_index) >= _percent(float(a_line(liquid_limit))) else "M"
    band = int(np.searchsorted(BAND_LIMITS, round(liquid_limit, 9), side="right"))
    return f"{letter}{list(PlasticityBand)[band]}"


def _percent(fraction: float) -> float:
    return round(100.0 * fraction, 6)


@dataclass(frozen=True, slots=True)
class FlowCurve:
    """Line through liquid-limit readings: water content falls by `slope` for each unit of ln blows, -."""

    slope: float
    intercept: float
    liquid_limit: float


def flow_curve(blows: Floats, water: Floats) -> FlowCurve:
    """Liquid limit from readings of the cup, by the line of water content against the log of blows.

    Parameters
    ----------
    blows : array-like
        Blows to close the groove. [-]
    water : array-like
        Water content of each reading as a fraction. [-]

    Returns
    -------
    curve : FlowCurve
        Slope, intercept and liquid limit, all as fractions.

    Notes
    -----
    w = a + b ln N by least squares; LL = a + b ln 25.

    References
    ----------
    umaine_soil_mechanics, liquid-limit example [S]
    """
    slope, intercept = np.polyfit(np.log(blows), water, 1)
    return FlowCurve(float(slope), float(intercept), float(intercept + slope * np.log(25.0)))


def water_content_from_tins(wet: FloatLike, dry: FloatLike, tin: FloatLike) -> Floats:
    """Water content from weighings of tins before and after drying.

    Parameters
    ----------
    wet : array-like
        Mass of tin and moist soil. [kg]
    dry : array-like
        Mass of tin and dried soil. [kg]
    tin : array-like
        Mass of the tin. [kg]

    Returns
    -------
    water_content : array-like
        Mass of water over mass of dry soil. [-]

    Notes
    -----
    w = (wet - dry) / (dry - tin). The mean of several threads at the point of crumbling is the plastic limit.

    References
    ----------
    definition, water content by dry mass [C]
    """
    return np.asarray((np.asarray(wet) - np.asarray(dry)) / (np.asarray(dry) - np.asarray(tin)))


def liquidity_index(water_content: FloatLike, liquid_limit: FloatLike, plastic_limit: FloatLike) -> Floats:
    """Where the water content stands between the plastic and the liquid limit.

    Parameters
    ----------
    water_content : array-like
        Water content as a fraction. [-]
    liquid_limit : array-like
        Liquid limit as a fraction. [-]
    plastic_limit : array-like
        Plastic limit as a fraction. [-]

    Returns
    -------
    liquidity_index : array-like
        0 at the plastic limit, 1 at the liquid limit. [-]

    Notes
    -----
    LI = (w - PL) / (LL - PL).

    References
    ----------
    definition, liquidity index [C]
    """
    limit = np.asarray(plastic_limit)
    return np.asarray((np.asarray(water_content) - limit) / (np.asarray(liquid_limit) - limit))


def activity(plasticity_index: FloatLike, clay: FloatLike) -> Floats:
    """Plasticity index for each unit of clay share, a sign of the clay mineral.

    Parameters
    ----------
    plasticity_index : array-like
        Plasticity index as a fraction. [-]
    clay : array-like
        Share finer than 2 µm. [-]

    Returns
    -------
    activity : array-like
        [-]

    Notes
    -----
    A = PI / clay. 0.75 to 1.25 is normal; montmorillonite 1.5 to 7, illite 0.5 to 1.3, kaolinite 0.3 to 0.5.

    References
    ----------
    definition, activity [C]
    """
    return np.asarray(np.asarray(plasticity_index) / np.asarray(clay))
