"""Binders, and the rules for choosing and topping them up."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from earthfast.estimate import FloatLike
from earthfast.sources import Table, read_table


class Binder(StrEnum):
    """What is mixed into the soil."""

    CEMENT = "cement"
    HYDRATED_LIME = "hydrated lime"
    QUICKLIME = "quicklime"
    SLAG_CEMENT = "slag cement"


class MixingPlace(StrEnum):
    """Where soil and binder are brought together."""

    PLANT = "plant"
    IN_PLACE = "in place"


@dataclass(frozen=True, slots=True)
class LooseDensityRow:
    """Loose density of one binder, kg/m³, as its 5..95 % band, with how the figures came to us."""

    binder: str
    low: float
    high: float
    status: str


def loose_density_table() -> Table[LooseDensityRow]:
    """Loose density of each binder as poured.

    Returns
    -------
    table : Table
        One row a binder, with its band in kg/m³.

    Notes
    -----
    ρ loose, read from the table; the band runs from poured and aerated to settled in the bag.

    References
    ----------
    from_memory, poured cement, limes and slag cement [M]
    us_cement_bag, upper end for cement [S]
    """
    return read_table("loose_density", LooseDensityRow)


# S: machine-translated road-base guideline, dose and water uplift
_UPLIFT = {MixingPlace.PLANT: 0.005, MixingPlace.IN_PLACE: 0.010}

SOLE_BINDER_MINIMUM = 0.03  # S: UK reinstatement specification, table A10.5
PAIRED_BINDER_MINIMUM = 0.02  # S: same


def site_dose(design_dose: FloatLike, place: MixingPlace) -> FloatLike:
    """Dose to use on site for a dose chosen in the laboratory.

    Parameters
    ----------
    design_dose : array-like
        Dose from trial specimens, fraction of dry soil mass. [-]
    place : MixingPlace
        In a plant, or on the ground itself.

    Returns
    -------
    dose : array-like
        Dose to spread, fraction of dry soil mass. [-]

    Notes
    -----
    c_site = c + u, with u = 0.005 for plant mixing and 0.010 for mixing in place. The rule is for road
    machines; with hand tools the scatter of mixing asks for more, see `field_strength`.

    References
    ----------
    road_base_guideline, dose uplift [S]
    """
    return design_dose + _UPLIFT[place]


def meets_minimum_binder(dose: float, is_sole: bool) -> bool:
    """Whether a binder stands above the least addition that can be mixed evenly.

    Parameters
    ----------
    dose : float
        Binder as a fraction of dry soil mass. [-]
    is_sole : bool
        True for a binder used alone, False for each of a pair.

    Returns
    -------
    is_met : bool
        True where the dose is at or above the minimum.

    Notes
    -----
    c >= 0.03 alone, c >= 0.02 for each of a pair. Fly ash and slag have other minima.

    References
    ----------
    sroh, table A10.5 [S]
    """
    return dose >= (SOLE_BINDER_MINIMUM if is_sole else PAIRED_BINDER_MINIMUM)


@dataclass(frozen=True, slots=True)
class ShrinkageBoxRow:
    """Gap below a limit, m, and the loose parts of soil to one of cement it calls for."""

    shrinkage_below: float
    soil_parts: float


def soil_parts_from_shrinkage(shrinkage: float) -> float:
    """Loose parts of soil to one of cement from the shrinkage of a box of wet soil dried out.

    Parameters
    ----------
    shrinkage : float
        Gap that opens along a 600 x 40 x 40 mm box. [m]

    Returns
    -------
    soil_parts : float
        Loose volumes of soil to one of cement. [-]

    Notes
    -----
    p is 18, 16, 14, 12 for a gap below 12, 25, 40, 50 mm. A screen for dose, no proof of strength: an older
    form of the table uses bands of 15 mm, so the same soil can come out one class richer or leaner. Beyond
    the table the smallest count, 12, is returned; such clay wants lime first.

    References
    ----------
    kenyan_soil_testing, box test table [S]
    """
    rows = read_table("shrinkage_box", ShrinkageBoxRow).rows
    return float(
        next((row.soil_parts for row in rows if shrinkage < row.shrinkage_below), rows[-1].soil_parts)
    )
