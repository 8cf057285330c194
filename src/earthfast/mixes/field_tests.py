"""Field tests that bound the strength of a specimen without crushing it in a press."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from earthfast.mixes.belief import MixState
from earthfast.mixes.trial import Specimen

PENETROMETER_LIMIT = 0.44e6  # Pa, 4.5 kgf/cm² full scale, from memory
PENETROMETER_LOG_SD = 0.30  # P


class FieldReading(StrEnum):
    """What a simple test on a cured pat or lump showed."""

    SLAKED = "fell apart in water"
    SOFTENED = "softened in water"
    FIRM_AFTER_SOAK = "stayed firm in water"
    BROKE_ON_DROP = "broke when dropped from 1 m"
    SURVIVED_DROP = "survived a drop from 1 m"
    BRUSHED_AWAY = "a wire brush cut into it"
    BRUSH_MARKED = "a wire brush only marked it"


@dataclass(frozen=True, slots=True)
class StrengthBound:
    """Bounds on strength from a reading.

    Attributes
    ----------
    low, high : Pa; 0 and infinity for no bound.
    log_sd : how soft the bounds are, in ln.
    """

    low: float
    high: float
    log_sd: float


_BOUNDS = {
    FieldReading.SLAKED: StrengthBound(0.0, 0.15e6, 0.5),
    FieldReading.SOFTENED: StrengthBound(0.0, 0.40e6, 0.5),
    FieldReading.FIRM_AFTER_SOAK: StrengthBound(0.30e6, np.inf, 0.5),
    FieldReading.BROKE_ON_DROP: StrengthBound(0.0, 0.80e6, 0.6),
    FieldReading.SURVIVED_DROP: StrengthBound(0.50e6, np.inf, 0.6),
    FieldReading.BRUSHED_AWAY: StrengthBound(0.0, 1.5e6, 0.6),
    FieldReading.BRUSH_MARKED: StrengthBound(0.80e6, np.inf, 0.6),
}


def bound_from_reading(reading: FieldReading) -> StrengthBound:
    """Bounds on soaked strength that a simple field test gives.

    Parameters
    ----------
    reading : FieldReading
        What was seen.

    Returns
    -------
    bound : StrengthBound
        Bounds and how soft they are.

    Notes
    -----
    P(reading | q) = Φ((ln q − ln q_low)/s) or Φ((ln q_high − ln q)/s). Bounds are judgement: soaked
    untreated soil slakes, a cured pat must not soften overnight; soft by a factor of about 1.7 either way.

    References
    ----------
    common_practice, soak, drop and brush [CP]
    earthfast_proposal, bounds and softness [P]
    """
    return _BOUNDS[reading]


def bounded_specimen(state: MixState, bound: StrengthBound, batch: int) -> Specimen:
    """Specimen known only by bounds.

    Parameters
    ----------
    state : MixState
        Dose, age, relative density, soaking.
    bound : StrengthBound
        From `bound_from_reading` or our own.
    batch : int
        Number of the mix it came from.

    Returns
    -------
    specimen : Specimen
        Ready for `belief_after_trial`.

    Notes
    -----
    q_low <= q <= q_high.

    References
    ----------
    definition, a censored observation [C]
    """
    return Specimen(state, bound.low, bound.high, batch, bound.log_sd)


def penetrometer_bound(reading: float) -> StrengthBound:
    """Strength that a pocket penetrometer read off, or the bound it proves.

    Parameters
    ----------
    reading : float
        Unconfined strength read off; full scale or above counts as "at least full scale". [Pa]

    Returns
    -------
    bound : StrengthBound
        Both ends at the reading below full scale, at least full scale otherwise, and the doubt.

    Notes
    -----
    q = reading ± 0.30 in ln below full scale, q >= 0.44 MPa at full scale: nearly every bound mix is beyond
    the instrument, so a full-scale reading proves only that much.

    References
    ----------
    from_memory, full scale 4.5 kgf/cm² [M]
    earthfast_proposal, scatter of a reading [P]
    """
    if reading >= PENETROMETER_LIMIT:
        return StrengthBound(PENETROMETER_LIMIT, np.inf, PENETROMETER_LOG_SD)
    return StrengthBound(reading, reading, PENETROMETER_LOG_SD)
