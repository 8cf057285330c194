"""What national rules ask about frost, side by side and each as it stands."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from earthfast.estimate import FloatLike, Floats
from earthfast.frost.periods import DAY
from earthfast.frost.susceptibility import FrostClass
from earthfast.sources import read_table

UK_TEST_HEAVE = 0.015  # m
UK_COVER, UK_COVER_MILD = 0.450, 0.350  # m
UK_MILD_INDEX = 50.0 * DAY  # K·s
GERMAN_FOOTWAY = 0.300  # m
HEAVE_FREE_STRENGTH = 2.0e6  # Pa


class GermanTraffic(StrEnum):
    """Traffic classes of the German minimum thickness: heavy, medium and light."""

    HEAVY = "heavy"
    MEDIUM = "medium"
    LIGHT = "light"


class GermanFrostZone(StrEnum):
    """German frost zones, by the coldest winter in 30 years."""

    ONE = "I"
    TWO = "II"
    THREE = "III"


class GermanCondition(StrEnum):
    """Local conditions that add to or take from the German minimum thickness."""

    HARSH_CLIMATE = "north slope or ridge"
    SHELTERED = "closed rows of buildings"
    WATER_NEAR = "water within 1.5 m of formation"
    CUTTING = "cutting"
    BANK = "bank above 2 m"
    GUTTERS = "gutters, gullies and pipes"


@dataclass(frozen=True, slots=True)
class FrostProofThickness:
    """One row of the German table: minimum frost-proof thickness, m."""

    traffic: str
    frost_class: str
    thickness: float


@dataclass(frozen=True, slots=True)
class FrostProofAddition:
    """One row of the German table of additions to the minimum thickness, m."""

    condition: str
    addition: float


_ZONE_ADDITION = {GermanFrostZone.ONE: 0.0, GermanFrostZone.TWO: 0.050, GermanFrostZone.THREE: 0.150}


def is_frost_susceptible_uk(test_heave: FloatLike) -> np.typing.NDArray[np.bool_]:
    """Whether a material is frost-susceptible by the UK heave test.

    Parameters
    ----------
    test_heave : array-like
        Mean heave of the standard specimens. [m]

    Returns
    -------
    is_susceptible : ndarray of bool
        True above 15 mm. [-]

    Notes
    -----
    Susceptible if the mean heave in the standard test exceeds 15 mm.

    References
    ----------
    sroh, frost susceptibility by test [S]
    """
    return np.asarray(np.asarray(test_heave, float) > UK_TEST_HEAVE)


def frost_free_cover_uk(mean_freezing_index: FloatLike) -> Floats:
    """Depth from the surface that the UK rule keeps free of frost-susceptible material.

    Parameters
    ----------
    mean_freezing_index : array-like
        Mean annual air freezing index of the place. [K·s]

    Returns
    -------
    depth : ndarray
        Depth below the finished surface. [m]

    Notes
    -----
    450 mm; 350 mm where the mean annual index is below 50 °C·day, which is recalled. Other clauses accept
    350 mm for fill outright, and 300 mm of all-bituminous cover. Records of 1959 to 1981 do not support
    one depth as an equal risk all over Britain.

    References
    ----------
    sroh, 450 mm [S]
    from_memory, 350 mm below 50 °C·day [M]
    """
    mild = np.asarray(mean_freezing_index, float) < UK_MILD_INDEX
    return np.asarray(np.where(mild, UK_COVER_MILD, UK_COVER))


def frost_proof_thickness_german(
    frost_class: FrostClass, traffic: GermanTraffic, zone: GermanFrostZone
) -> float:
    """Minimum thickness of frost-proof construction by the German guideline.

    Parameters
    ----------
    frost_class : FrostClass
        Class of the soil at formation. [-]
    traffic : GermanTraffic
        Heavy, medium or light. [-]
    zone : GermanFrostZone
        Frost zone. [-]

    Returns
    -------
    thickness : float
        Total thickness from the surface to formation; 0 on F1 soil. [m]

    Notes
    -----
    F2 550, 500, 400 mm and F3 650, 600, 500 mm for heavy, medium, light; zone II adds 50 mm and zone III
    150 mm. What local conditions add or take is in `frost_proof_addition_german`.

    References
    ----------
    rsto_01, minimum thickness, read in a textbook table 2-3 [S]
    bast_frost_zones_2012, additions by zone [S]
    """
    if frost_class == FrostClass.F1:
        return 0.0
    rows: tuple[FrostProofThickness, ...] = read_table("frost_proof_thickness", FrostProofThickness).rows
    base = next(row.thickness for row in rows if (row.frost_class, row.traffic) == (frost_class, traffic))
    return base + _ZONE_ADDITION[GermanFrostZone(zone)]


def frost_proof_addition_german(conditions: Collection[GermanCondition]) -> float:
    """What local conditions add to the minimum thickness of frost-proof construction by the German guideline.

    Parameters
    ----------
    conditions : collection of GermanCondition
        Those that hold. [-]

    Returns
    -------
    addition : float
        Sum of additions; below 0 where they allow less. [m]

    Notes
    -----
    50 mm more on a north slope or ridge, in a cutting, and where ground water stands within 1.5 m of formation, even now
    and then; 50 mm less between closed rows of buildings, on a bank above 2 m, and where gutters, gullies and pipes take
    the water. Nothing for usual ground at its natural level that drains to its sides.

    References
    ----------
    rsto_12, the amounts in copies of lectures [S]
    from_memory, when each holds [M]
    """
    rows: tuple[FrostProofAddition, ...] = read_table("frost_proof_additions", FrostProofAddition).rows
    return sum(row.addition for row in rows if GermanCondition(row.condition) in conditions)


def frost_proof_footway_german() -> float:
    """Minimum thickness of frost-proof construction under a footway or cycle way by the German guideline.

    Returns
    -------
    thickness : float
        Total thickness from the surface to formation. [m]

    Notes
    -----
    300 mm in all where no vehicle drives, on soil of class F2 or F3, in every zone; nothing is added for local conditions.

    References
    ----------
    from_memory, German guideline of 2012, footways and cycle ways [M]
    """
    return GERMAN_FOOTWAY


def frost_depth_rule_german(freezing_index: FloatLike) -> Floats:
    """Frost depth by a German rule of thumb.

    Parameters
    ----------
    freezing_index : array-like
        Air freezing index of the winter. [K·s]

    Returns
    -------
    depth : ndarray
        Frost depth. [m]

    Notes
    -----
    X in cm = 15.6 FI^0.3, FI in °C·day; no soil enters, so use it only to see the order of magnitude.

    References
    ----------
    encyclopaedia_frost_depth, rule of thumb [S]
    """
    return np.asarray(0.156 * (np.asarray(freezing_index, float) / DAY) ** 0.3)


def base_for_full_protection_us(frost_depth: FloatLike, pavement_thickness: FloatLike) -> Floats:
    """Base thickness that keeps frost out of the ground altogether.

    Parameters
    ----------
    frost_depth : array-like
        Frost depth of the design winter. [m]
    pavement_thickness : array-like
        Bound layers above the base. [m]

    Returns
    -------
    thickness : ndarray
        Base of material that is not susceptible. [m]

    Notes
    -----
    c = X - p, not below 0.

    References
    ----------
    ufc_3_260_03, evaluation example: 1422 mm less 127 mm gives 1295 mm [S]
    """
    return np.asarray(np.maximum(np.asarray(frost_depth, float) - pavement_thickness, 0.0))


def is_frost_proof_cemented(strength: FloatLike) -> np.typing.NDArray[np.bool_]:
    """Whether a cement-bound mixture is strong enough not to heave.

    Parameters
    ----------
    strength : array-like
        Compressive strength when frost first comes. [Pa]

    Returns
    -------
    is_frost_proof : ndarray of bool
        True above 2 MPa. [-]

    Notes
    -----
    No measurable heave above 2 MPa in UK tests. Cement-modified soil below that has to be classed after
    12 cycles of freezing and thawing; lime alone is generally unsuitable near the surface in frost areas.

    References
    ----------
    uk_bound_mixture_frost_note, heave against strength [S]
    tm_5_822_5, chapter 18 [S]
    """
    return np.asarray(np.asarray(strength, float) > HEAVE_FREE_STRENGTH)
