"""Dynamic cone penetrometer: from millimetres a blow to CBR, by each published equation."""

from __future__ import annotations

from collections.abc import Callable
from enum import StrEnum

import numpy as np

from earthfast.estimate import FloatLike, Floats

MILLIMETRE = 1.0e-3


def cbr_from_cone_trl(penetration: FloatLike) -> Floats:
    """CBR from the penetration of a 60° dynamic cone, the form used in British practice.

    Parameters
    ----------
    penetration : array-like
        Penetration per blow of the 8 kg hammer falling 575 mm. [m]

    Returns
    -------
    cbr : array-like
        In percent by definition. [-]

    Notes
    -----
    log10 CBR = 2.48 - 1.057 log10 D, D in mm a blow. 20 mm cone. Repeats scatter by up to 30 %.

    References
    ----------
    trl_dcp, relation for the 60° cone as quoted in several papers [S]
    """
    return _power(penetration, 2.48, -1.057)


def cbr_from_cone_kleyn(penetration: FloatLike) -> Floats:
    """CBR from the penetration of a 60° dynamic cone, South African form.

    Parameters
    ----------
    penetration : array-like
        Penetration per blow of the 8 kg hammer falling 575 mm. [m]

    Returns
    -------
    cbr : array-like
        In percent by definition. [-]

    Notes
    -----
    log10 CBR = 2.632 - 1.28 log10 D, D in mm a blow.

    References
    ----------
    kleyn_van_heerden, relation for the 60° cone as quoted in several papers [S]
    """
    return _power(penetration, 2.632, -1.28)


def cbr_from_cone_30_degrees(penetration: FloatLike) -> Floats:
    """CBR from the penetration of a 30° dynamic cone.

    Parameters
    ----------
    penetration : array-like
        Penetration per blow of the 8 kg hammer falling 575 mm. [m]

    Returns
    -------
    cbr : array-like
        In percent by definition. [-]

    Notes
    -----
    log10 CBR = 2.503 - 1.15 log10 D, D in mm a blow. For the sharper cone only.

    References
    ----------
    dcp_equations_review, relation for the 30° cone [S]
    """
    return _power(penetration, 2.503, -1.15)


def cbr_from_cone_steep(penetration: FloatLike) -> Floats:
    """CBR from the penetration of a 60° dynamic cone, the steepest of the published lines.

    Parameters
    ----------
    penetration : array-like
        Penetration per blow of the 8 kg hammer falling 575 mm. [m]

    Returns
    -------
    cbr : array-like
        In percent by definition. [-]

    Notes
    -----
    log10 CBR = 2.8135 - 1.313 log10 D, D in mm a blow.

    References
    ----------
    dcp_equations_review, further relation for the 60° cone [S]
    """
    return _power(penetration, 2.8135, -1.313)


def cbr_from_cone_curved(penetration: FloatLike) -> Floats:
    """CBR from the penetration of a dynamic cone, by a curve in the logarithm.

    Parameters
    ----------
    penetration : array-like
        Penetration per blow of the 8 kg hammer falling 575 mm; 1 mm or more. [m]

    Returns
    -------
    cbr : array-like
        In percent by definition. [-]

    Notes
    -----
    log10 CBR = 2.20 - 0.71 (log10 D)^1.5, D in mm a blow. Below 1 mm a blow the power has no meaning
    and D is taken as 1 mm.

    References
    ----------
    dcp_equations_review, curved relation [S]
    """
    log_d = np.log10(np.maximum(np.asarray(penetration) / MILLIMETRE, 1.0))
    return np.asarray(10.0 ** (2.20 - 0.71 * log_d**1.5))


def cbr_from_cone_astm(penetration: FloatLike) -> Floats:
    """CBR from the penetration of a 60° dynamic cone, American form for most soils.

    Parameters
    ----------
    penetration : array-like
        Penetration per blow of the 8 kg hammer falling 575 mm. [m]

    Returns
    -------
    cbr : array-like
        In percent by definition. [-]

    Notes
    -----
    CBR = 292 / D^1.12, D in mm a blow. Not for fat clay, nor for lean clay with CBR below 10.

    References
    ----------
    astm_d6951, equation for soils other than CH and weak CL [M]
    """
    return np.asarray(292.0 / (np.asarray(penetration) / MILLIMETRE) ** 1.12)


def cbr_from_cone_lean_clay(penetration: FloatLike) -> Floats:
    """CBR from the penetration of a 60° dynamic cone in weak lean clay, American form.

    Parameters
    ----------
    penetration : array-like
        Penetration per blow of the 8 kg hammer falling 575 mm. [m]

    Returns
    -------
    cbr : array-like
        In percent by definition. [-]

    Notes
    -----
    CBR = 1 / (0.017019 D)^2, D in mm a blow. For lean clay (CL) with CBR below 10 only.

    References
    ----------
    astm_d6951, equation for CL with CBR below 10 [M]
    """
    return np.asarray(1.0 / (0.017019 * np.asarray(penetration) / MILLIMETRE) ** 2)


def cbr_from_cone_fat_clay(penetration: FloatLike) -> Floats:
    """CBR from the penetration of a 60° dynamic cone in fat clay, American form.

    Parameters
    ----------
    penetration : array-like
        Penetration per blow of the 8 kg hammer falling 575 mm. [m]

    Returns
    -------
    cbr : array-like
        In percent by definition. [-]

    Notes
    -----
    CBR = 1 / (0.002871 D), D in mm a blow. For fat clay (CH) only.

    References
    ----------
    astm_d6951, equation for CH [M]
    """
    return np.asarray(1.0 / (0.002871 * np.asarray(penetration) / MILLIMETRE))


def _power(penetration: FloatLike, intercept: float, slope: float) -> Floats:
    return np.asarray(10.0**intercept * (np.asarray(penetration) / MILLIMETRE) ** slope)


class ConeEquation(StrEnum):
    """The published equations from cone penetration to CBR."""

    TRL = "trl"
    KLEYN = "kleyn"
    CONE_30 = "30 degree cone"
    STEEP = "steep"
    CURVED = "curved"
    ASTM = "astm"
    ASTM_LEAN_CLAY = "astm lean clay"
    ASTM_FAT_CLAY = "astm fat clay"


CONE_EQUATIONS: dict[ConeEquation, Callable[[FloatLike], Floats]] = {
    ConeEquation.TRL: cbr_from_cone_trl,
    ConeEquation.KLEYN: cbr_from_cone_kleyn,
    ConeEquation.CONE_30: cbr_from_cone_30_degrees,
    ConeEquation.STEEP: cbr_from_cone_steep,
    ConeEquation.CURVED: cbr_from_cone_curved,
    ConeEquation.ASTM: cbr_from_cone_astm,
    ConeEquation.ASTM_LEAN_CLAY: cbr_from_cone_lean_clay,
    ConeEquation.ASTM_FAT_CLAY: cbr_from_cone_fat_clay,
}

LIGHT_HAMMER_FACTOR = 2.0  # the 4.6 kg hammer goes half as far a blow; M
