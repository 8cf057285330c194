"""Links between index properties, strength and CBR."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from earthfast.estimate import FloatLike, Floats

KILOPASCAL = 1.0e3
KILONEWTON = 1.0e3


def undrained_strength_from_liquidity(liquidity_index: FloatLike) -> Floats:
    """Undrained strength of remoulded fine soil from how wet it is.

    Parameters
    ----------
    liquidity_index : array-like
        0 at the plastic limit, 1 at the liquid limit. [-]

    Returns
    -------
    undrained_strength : array-like
        [Pa]

    Notes
    -----
    cu = 1.7 kPa × 35^(1 - LI), for 0.2 < LI < 1.1. It gives about 60 kPa at the plastic limit, where older
    rules say 110 to 170 kPa: a spread of two to three.

    References
    ----------
    vardanega_haigh_2014, strength ratio 35 from 641 fall-cone tests [S]
    from_memory, the form and 1.7 kPa [M]
    """
    return np.asarray(1.7 * KILOPASCAL * 35.0 ** (1.0 - np.asarray(liquidity_index, dtype=np.float64)))


def cbr_from_weighted_plasticity(fines: FloatLike, plasticity_index: FloatLike) -> Floats:
    """CBR of a soil with plastic fines from fines and plasticity index alone.

    Parameters
    ----------
    fines : array-like
        Share finer than 0.075 mm. [-]
    plasticity_index : array-like
        Plasticity index as a fraction. [-]

    Returns
    -------
    cbr : array-like
        In percent by definition. [-]

    Notes
    -----
    CBR = 75 / (1 + 0.728 wPI), wPI = fines (fraction) × PI (percent). Against the equilibrium table it may
    differ by a factor of two: a log-standard deviation of 0.55 is proposed.

    References
    ----------
    from_memory, default relation of the US design guide [M]
    """
    weighted = np.asarray(fines) * 100.0 * np.asarray(plasticity_index)
    return np.asarray(75.0 / (1.0 + 0.728 * weighted))


@dataclass(frozen=True, slots=True)
class CbrRecord:
    """CBR from a load record, in percent by definition.

    Attributes
    ----------
    at_2_5_mm, at_5_mm : from the load at each penetration.
    cbr : the larger of the two.
    reported : rounded to 1 up to 30 and to 5 above.
    """

    at_2_5_mm: Floats
    at_5_mm: Floats
    cbr: Floats
    reported: Floats


def cbr_from_loads(
    load_at_2_5_mm: FloatLike,
    load_at_5_mm: FloatLike,
    standard_at_2_5_mm: float = 13.02e3,
    standard_at_5_mm: float = 19.9e3,
) -> CbrRecord:
    """CBR from the plunger loads at 2.5 and 5.0 mm.

    Parameters
    ----------
    load_at_2_5_mm : array-like
        Load at 2.5 mm penetration. [N]
    load_at_5_mm : array-like
        Load at 5.0 mm penetration. [N]
    standard_at_2_5_mm : float
        Standard load at 2.5 mm; British practice 13.2 kN. [N]
    standard_at_5_mm : float
        Standard load at 5.0 mm; British practice 20.0 kN. [N]

    Returns
    -------
    record : CbrRecord
        In percent by definition.

    Notes
    -----
    CBR = 100 load / standard load, the larger of the two penetrations; reported to the nearest 1 up to 30 and
    to the nearest 5 above.

    References
    ----------
    rogers_highway_engineering, worked CBR example [S]
    from_memory, British standard loads [M]
    """
    first = 100.0 * np.asarray(load_at_2_5_mm, dtype=np.float64) / standard_at_2_5_mm
    second = 100.0 * np.asarray(load_at_5_mm, dtype=np.float64) / standard_at_5_mm
    larger = np.maximum(first, second)
    step = np.where(larger > 30.0, 5.0, 1.0)
    return CbrRecord(first, second, larger, np.asarray(step * np.floor(larger / step + 0.5)))


def layered_cbr(thicknesses: Floats, cbrs: Floats) -> Floats:
    """One CBR for layered ground, as a road on it would feel.

    Parameters
    ----------
    thicknesses : array-like
        Thickness of each layer down to 1 m below formation, layers last. [m]
    cbrs : array-like
        CBR of each layer, in percent by definition, layers last. [-]

    Returns
    -------
    cbr : array-like
        In percent by definition. [-]

    Notes
    -----
    CBR = (Σ h CBR^(1/3) / Σ h)³ over the top metre.

    References
    ----------
    from_memory, cube-root weighting of Australian and Japanese practice [M]
    """
    depth = np.asarray(thicknesses, dtype=np.float64)
    root = np.sum(depth * np.cbrt(np.asarray(cbrs)), axis=-1) / np.sum(depth, axis=-1)
    return np.asarray(root**3)


def strength_from_unconfined(unconfined_strength: FloatLike) -> Floats:
    """Undrained strength from unconfined compressive strength or a pocket penetrometer's reading.

    Parameters
    ----------
    unconfined_strength : array-like
        Unconfined compressive strength, what a pocket penetrometer's scale reads. [Pa]

    Returns
    -------
    undrained_strength : array-like
        [Pa]

    Notes
    -----
    cu = qu / 2. Taking the reading for cu doubles the answer.

    References
    ----------
    tm_5_818_1, unconfined strength [S]
    """
    return np.asarray(0.5 * np.asarray(unconfined_strength))
