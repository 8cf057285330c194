"""Carbon of a way of building: goods, haulage, spoil and fuel, and the haul at which two ways are level."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache

from earthfast.estimate import Caution, CautionCode
from earthfast.sources import Status
from earthfast.works.band import UsualBand
from earthfast.works.carbon_factors import (
    Carbon,
    CarbonFactor,
    Plant,
    Vehicle,
    carbon_factor,
    haulage_by_mass_distance,
    plant_carbon,
)
from earthfast.works.goods import Goods
from earthfast.works.plant import NO_PLANT, PlantHours
from earthfast.works.quantities import TakeOff

FABRIC_MASS = 0.15  # kg/m²; P


@dataclass(frozen=True, slots=True)
class Haulage:
    """How far things travel, one way in m, and how.

    Attributes
    ----------
    stone : stone and sand, from the works.
    binder : cement and lime, from the merchant or the works.
    surface : blocks, flags and concrete.
    spoil : soil, to where it is tipped.
    vehicle : what hauls.
    factor : carbon of carrying a mass over a distance, kg of CO2 equivalent for kg and m, where the job gives it.
    """

    stone: float
    binder: float
    surface: float
    spoil: float
    vehicle: Vehicle = Vehicle.RIGID_OVER_17_T
    factor: float | None = None

    @property
    def by_mass_distance(self) -> float:
        """Carbon of carrying a kilogram over a metre, kg of CO2 equivalent."""
        return haulage_by_mass_distance(self.vehicle) if self.factor is None else self.factor


@dataclass(frozen=True, slots=True)
class CarbonBasis:
    """Factors that a carbon bill uses; the cement's is the user's to give from the bag's declaration.

    Attributes
    ----------
    factors : by goods, kg of CO2 equivalent for a kilogram.
    spoil_route : where the soil goes.
    haulage : how far things travel.
    """

    factors: Mapping[Carbon, CarbonFactor]
    haulage: Haulage
    spoil_route: Carbon = Carbon.SOIL_TO_RECOVERY


@cache
def listed_factors() -> Mapping[Carbon, CarbonFactor]:
    """All factors of the shipped table."""
    return {carbon: carbon_factor(carbon) for carbon in Carbon}


@dataclass(frozen=True, slots=True)
class CarbonLine:
    """One row of a carbon bill.

    Attributes
    ----------
    words : what.
    mass : kg.
    production : of making or disposing of it, kg of CO2 equivalent.
    haul : of carrying it.
    status, source : of the factor.
    """

    words: str
    mass: float
    production: UsualBand
    haul: float
    status: Status
    source: str


@dataclass(frozen=True, slots=True)
class CarbonBill:
    """Carbon of one way of building.

    Attributes
    ----------
    lines : goods and spoil.
    fuel : of the plant on the site, kg of CO2 equivalent.
    total : everything; ends added, so on the wide side.
    """

    lines: tuple[CarbonLine, ...]
    fuel: float
    total: UsualBand


@dataclass(slots=True)
class _Tally:
    basis: CarbonBasis
    factor: float
    lines: list[CarbonLine] = field(default_factory=list)

    def add(self, words: str, carbon: Carbon, mass: float, distance: float) -> None:
        if mass > 0.0:
            factor = self.basis.factors[carbon]
            haul = mass * distance * self.factor
            self.lines.append(
                CarbonLine(words, mass, factor.band.times(mass), haul, factor.status, factor.source)
            )


def carbon_bill(quantities: TakeOff, basis: CarbonBasis, plant: PlantHours = NO_PLANT) -> CarbonBill:
    """Carbon of the goods, spoil and plant of a take-off.

    Parameters
    ----------
    quantities : TakeOff
        Masses in and out.
    basis : CarbonBasis
        Factors and distances.
    plant : PlantHours
        Hours of machines on the site. [h]

    Returns
    -------
    bill : CarbonBill
        Rows and total. [kg]

    Notes
    -----
    C = Σ m f + Σ m d h + Σ t q: production, haulage by mass and distance, fuel. No credit is taken for carbon
    dioxide that buried cement takes up again.

    References
    ----------
    uk_ghg_factors_2025, all but cement and lime [S]
    from_memory, cement and lime [M]
    """
    tally = _Tally(basis, basis.haulage.by_mass_distance)
    masses, haulage = quantities.masses, basis.haulage
    tally.add("crushed stone", Carbon.STONE, masses.stone, haulage.stone)
    tally.add("sand", Carbon.SAND, masses.sand, haulage.stone)
    tally.add("gravel", Carbon.SAND, masses.gravel, haulage.stone)
    tally.add("blocks or flags", Carbon.UNITS, masses.units, haulage.surface)
    tally.add("edging", Carbon.UNITS, masses.edging, haulage.surface)
    tally.add("concrete", Carbon.CONCRETE, masses.concrete, haulage.surface)
    tally.add("cement", Carbon.CEMENT, masses.cement, haulage.binder)
    tally.add("lime", Carbon.LIME_HYDRATED, masses.lime, haulage.binder)
    fabric = quantities.line(Goods.FABRIC)
    if fabric is not None:
        tally.add("fabric", Carbon.FABRIC, fabric.ordered * FABRIC_MASS, haulage.surface)
    tally.add("soil taken away", basis.spoil_route, quantities.spoil.mass_away, haulage.spoil)
    fuel = float(sum(plant_carbon(kind, getattr(plant, kind.value)) for kind in Plant))
    sure = sum(line.haul for line in tally.lines) + fuel
    total = UsualBand.total((line.production for line in tally.lines), sure)
    return CarbonBill(tuple(tally.lines), fuel, total)


def levelling_haul(carbon_difference: float, hauled_mass_difference: float, factor: float) -> float:
    """Extra haul, on all that two ways carry unequally, at which their carbon is level.

    Parameters
    ----------
    carbon_difference : float
        Carbon of the way that hauls less, minus that of the other. [kg]
    hauled_mass_difference : float
        Mass hauled by the way that hauls more, minus that of the other, in and out. [kg]
    factor : float
        Carbon by mass and distance. [1/m]

    Returns
    -------
    distance : float
        Extra distance one way; negative where the ways would be level nearer by. [m]

    Notes
    -----
    d = ΔC / (Δm f). Answers whether treating in place is lower in carbon: only where stone and spoil travel
    farther than now by d.

    References
    ----------
    cement_association_guide, the question is theirs: an equal haul distance [S]
    definition, level carbon [C]
    """
    if hauled_mass_difference <= 0.0:
        raise ValueError("a longer haul levels two ways only where the lower in carbon hauls more")
    return carbon_difference / (hauled_mass_difference * factor)


def treatment_caution(treated: CarbonBill, stone: CarbonBill) -> Caution | None:
    """Doubt raised where treating in place carries more carbon than bringing stone."""
    if treated.total.usual <= stone.total.usual:
        return None
    return Caution(
        CautionCode.CARBON_ABOVE_STONE,
        f"treating in place carries {treated.total.usual:,.0f} kg of carbon dioxide, stone "
        f"{stone.total.usual:,.0f} kg: stone hauled a short way is often the lower; what treating saves is "
        "digging, lorries and tipping",
        where="carbon",
        source="carbon of both ways by the same factors",
    )
