"""Where a strength stands among known bound materials, and how much brushing loss is allowed."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np
from scipy.constants import day

from earthfast.mixes.age import age_factor_power
from earthfast.mixes.specimen import SLENDER_SHARE
from earthfast.sources import Table, read_table

AGE_EXPONENT = 0.19  # C: soil and cement, 7 to 28 days
STATED_MODULUS = 400.0e6, 600.0e6  # Pa, S: irc_37 in secondary transcription


@dataclass(frozen=True, slots=True)
class Rung:
    """One known material.

    Attributes
    ----------
    rung : its name.
    low, high : crushing strength, Pa.
    age_days : age at which it is told.
    shape : cube, cylinder (slenderness 2) or as made locally.
    source, status : where it comes from.
    """

    rung: str
    low: float
    high: float
    age_days: float
    shape: str
    source: str
    status: str


def strength_ladder() -> Table[Rung]:
    """Known bound materials by strength.

    Returns
    -------
    table : Table
        One rung a material.

    Notes
    -----
    q from the documents named in each row, at the age and shape they use.

    References
    ----------
    austroads_ap_r434, table 3 [S]
    sroh, A10 [S]
    ufc_3_260_02, table 7-1 [S]
    irc_37, cementitious subbase [S]
    crrel_sr_97_13, econocrete [S]
    """
    return read_table("strength_ladder", Rung)


def rungs_reached(strength_28d: float) -> tuple[Rung, ...]:
    """Known materials among which a treated soil stands.

    Parameters
    ----------
    strength_28d : float
        Crushing strength at 28 days, soaked, slenderness 1. [Pa]

    Returns
    -------
    rungs : tuple
        Materials whose band holds the strength, each at its own age and shape.

    Notes
    -----
    q' = q (t/28 d)^0.19 at the rung's age, times 0.75 where it is told by cylinders of slenderness 2; a
    rung counts when low <= q' < high.

    References
    ----------
    gajurel_2021, growth from 7 to 28 days [C]
    sroh, class pairs [S]
    """
    return tuple(
        rung for rung in strength_ladder().rows if rung.low <= _as_told(strength_28d, rung) < rung.high
    )


def _as_told(strength_28d: float, rung: Rung) -> float:
    share = SLENDER_SHARE if rung.shape == "cylinder" else 1.0
    return float(strength_28d * share * age_factor_power(rung.age_days * day, AGE_EXPONENT))


class BoundGroup(StrEnum):
    """How far a treated layer is bound."""

    MODIFIED = "modified"
    LIGHTLY_BOUND = "lightly bound"
    HEAVILY_BOUND = "heavily bound"


def bound_group(strength_7d: float) -> BoundGroup:
    """How far a layer is bound, by strength at 7 days.

    Parameters
    ----------
    strength_7d : float
        Crushing strength at 7 days. [Pa]

    Returns
    -------
    group : BoundGroup
        Modified, lightly or heavily bound.

    Notes
    -----
    q <= 1 MPa modified, up to 2 MPa lightly bound, from 2 MPa heavily bound. Heavily bound layers crack as
    they shrink.

    References
    ----------
    austroads_ap_r434, table 3 [S]
    """
    if strength_7d <= 1.0e6:
        return BoundGroup.MODIFIED
    return BoundGroup.LIGHTLY_BOUND if strength_7d < 2.0e6 else BoundGroup.HEAVILY_BOUND


def subbase_modulus(strength_7d: float) -> float:
    """Design modulus of a cement-treated subbase by its band of strength in Indian practice.

    Parameters
    ----------
    strength_7d : float
        Crushing strength at 7 days. [Pa]

    Returns
    -------
    modulus : float
        Design modulus; NaN below 0.75 MPa, where the band does not reach. [Pa]

    Notes
    -----
    E = 400 MPa for 0.75 <= q < 1.5 MPa (light traffic only), 600 MPa from 1.5 MPa: far below the modulus of
    sound material, for a layer that will crack.

    References
    ----------
    irc_37, cementitious subbase, secondary transcription [S]
    """
    low, high = STATED_MODULUS
    if strength_7d < 0.75e6:
        return float(np.nan)
    return low if strength_7d < 1.5e6 else high


@dataclass(frozen=True, slots=True)
class DurabilityRow:
    """Loss allowed and binder to start from for one AASHTO group, as fractions of dry mass."""

    group: str
    highest_loss: float
    low_dose: float
    high_dose: float


def durability_table() -> Table[DurabilityRow]:
    """Brushing loss allowed and binder to start from, by soil group.

    Returns
    -------
    table : Table
        One row an AASHTO group.

    Notes
    -----
    Loss after 12 cycles <= 14, 10 or 7 %; binder from 3 to 16 % of dry soil mass. From memory, never the
    only ground for a dose.

    References
    ----------
    pca_soil_cement, loss limits after twelve cycles [M]
    crrel_sr_97_13, 14 % in airfield items [S]
    """
    return read_table("durability_loss", DurabilityRow)


def highest_brushing_loss(group: str) -> float:
    """Most loss of dry mass allowed after twelve cycles of freezing or wetting and brushing.

    Parameters
    ----------
    group : str
        AASHTO group, such as "A-4".

    Returns
    -------
    loss : float
        Share of dry mass. [-]

    Notes
    -----
    L <= 0.14 for A-1, A-3, A-2-4, A-2-5; 0.10 for A-2-6, A-2-7, A-4, A-5; 0.07 for A-6, A-7. Each cycle:
    24 h at −23 °C, 23 h at 21 °C, brushed and weighed. Airfield practice asks more: granular 0.11 or 0.08,
    silt 0.08, clay 0.06.

    References
    ----------
    pca_soil_cement, loss limits after twelve cycles [M]
    crrel_sr_97_13, 14 percent for cement-treated layers [S]
    """
    return float(next(row.highest_loss for row in durability_table().rows if row.group == group))
