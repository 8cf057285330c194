"""Carbon factors of goods, haulage and fuel, and the relations that use one factor at a time."""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import StrEnum
from functools import cache

from earthfast.estimate import FloatLike
from earthfast.sources import Status, read_table
from earthfast.works.band import UsualBand

TONNE = 1000.0  # kg
KILOMETRE = 1000.0  # m


class Carbon(StrEnum):
    """Goods and waste with a carbon factor."""

    STONE = "stone"
    STONE_RECYCLED = "stone_recycled"
    SAND = "sand"
    CONCRETE = "concrete"
    UNITS = "units"
    CEMENT = "cement"
    CEMENT_BLENDED = "cement_blended"
    LIME_HYDRATED = "lime_hydrated"
    QUICKLIME = "quicklime"
    FABRIC = "fabric"
    SOIL_TO_LANDFILL = "soil_to_landfill"
    SOIL_TO_RECOVERY = "soil_to_recovery"
    RUBBLE_TO_LANDFILL = "rubble_to_landfill"


class Vehicle(StrEnum):
    """What hauls."""

    RIGID_OVER_17_T = "rigid_over_17_t"
    RIGID_7_TO_17_T = "rigid_7_to_17_t"
    RIGID_UNDER_7_T = "rigid_under_7_t"
    VAN = "van"


class Load(StrEnum):
    """How full the vehicle runs."""

    AVERAGE = "average"
    FULL = "full"
    HALF = "half"
    EMPTY = "empty"


class Plant(StrEnum):
    """Machines on the site that burn fuel."""

    PLATE = "plate"
    TAMPER = "tamper"
    ROLLER = "roller"
    TILLER = "tiller"
    EXCAVATOR = "excavator"
    STABILISER = "stabiliser"


@dataclass(frozen=True, slots=True)
class CarbonRow:
    """One row of the table of goods and waste, kg for a tonne."""

    key: str
    words: str
    low: float
    usual: float
    high: float
    status: str
    source: str


@dataclass(frozen=True, slots=True)
class HaulageRow:
    """One row of the table of haulage; 0 where not stated."""

    vehicle: str
    load: str
    tailpipe_per_tkm: float
    supply_per_tkm: float
    tailpipe_per_km: float
    supply_per_km: float


@dataclass(frozen=True, slots=True)
class FuelRow:
    """One row of the table of plant: its fuel and how much it burns."""

    plant: str
    words: str
    fuel: str
    tailpipe_per_litre: float
    supply_per_litre: float
    litres_per_hour: float
    litres_status: str


@dataclass(frozen=True, slots=True)
class CarbonFactor:
    """Carbon of a kilogram of goods or waste, with where it comes from."""

    band: UsualBand
    status: Status
    source: str

    def given(self, band: UsualBand) -> CarbonFactor:
        """The user's own figure, from the declaration on the bag or the delivery note."""
        return replace(self, band=band, status=Status.USER, source="given in the job")


@cache
def carbon_factor(carbon: Carbon) -> CarbonFactor:
    """Factor by mass of goods or waste.

    Parameters
    ----------
    carbon : Carbon
        Goods or waste.

    Returns
    -------
    factor : CarbonFactor
        Carbon of one kilogram. [-]

    Notes
    -----
    Read from the table. The government set has no cement and no lime: those rows are from memory, with a wide
    band; the declaration of the bag replaces them.

    References
    ----------
    uk_ghg_factors_2025, material use and waste disposal [S]
    from_memory, cement and lime [M]
    """
    rows: tuple[CarbonRow, ...] = read_table("carbon_goods", CarbonRow).rows
    row = next(row for row in rows if row.key == carbon)
    band = UsualBand(row.low, row.usual, row.high).times(1.0 / TONNE)
    return CarbonFactor(band, Status(row.status), row.source)


@cache
def haulage_row(vehicle: Vehicle, load: Load) -> HaulageRow:
    """The row of the table of haulage for a vehicle and its load."""
    rows: tuple[HaulageRow, ...] = read_table("carbon_haulage", HaulageRow).rows
    return next(row for row in rows if row.vehicle == vehicle and row.load == load)


def haulage_by_mass_distance(vehicle: Vehicle) -> float:
    """Factor of an averagely laden vehicle, fuel supply counted.

    Parameters
    ----------
    vehicle : Vehicle
        What hauls.

    Returns
    -------
    factor : float
        Carbon by mass and distance; times kg and m gives kg of CO2 equivalent. [1/m]

    Notes
    -----
    The class average carries far less than a full tipper: where the payload is known, see full_load_haul.

    References
    ----------
    uk_ghg_factors_2025, freighting goods [S]
    """
    row = haulage_row(vehicle, Load.AVERAGE)
    return (row.tailpipe_per_tkm + row.supply_per_tkm) / (TONNE * KILOMETRE)


def haul_carbon(mass: FloatLike, distance: FloatLike, factor: FloatLike) -> FloatLike:
    """Carbon of hauling a mass by a factor of mass and distance.

    Parameters
    ----------
    mass : float or array
        Mass hauled. [kg]
    distance : float or array
        One way, loaded. [m]
    factor : float or array
        Carbon by mass and distance, fuel supply counted. [1/m]

    Returns
    -------
    carbon : float or array
        CO2 equivalent. [kg]

    Notes
    -----
    C = m d f.

    References
    ----------
    uk_ghg_factors_2025, freighting goods [S]
    """
    return mass * distance * factor


def full_load_haul(loads: FloatLike, distance: FloatLike) -> FloatLike:
    """Carbon of tipper loads that go full and come back empty.

    Parameters
    ----------
    loads : float or array
        Number of loads. [-]
    distance : float or array
        One way. [m]

    Returns
    -------
    carbon : float or array
        CO2 equivalent of the round trips. [kg]

    Notes
    -----
    C = n d (full + empty), factors by kilometre with fuel supply, rigid lorry over 17 t. For a 20 t tipper
    this is a little over half of what the average factor by tonne-kilometre gives.

    References
    ----------
    uk_ghg_factors_2025, freighting goods [S]
    """
    full, empty = (haulage_row(Vehicle.RIGID_OVER_17_T, load) for load in (Load.FULL, Load.EMPTY))
    by_kilometre = full.tailpipe_per_km + full.supply_per_km + empty.tailpipe_per_km + empty.supply_per_km
    return loads * distance * by_kilometre / KILOMETRE


@cache
def _fuel_row(plant: Plant) -> FuelRow:
    rows: tuple[FuelRow, ...] = read_table("carbon_fuel", FuelRow).rows
    return next(row for row in rows if row.plant == plant)


def fuel_carbon(plant: Plant, litres: FloatLike) -> FloatLike:
    """Carbon of fuel burnt by a machine, its supply counted.

    Parameters
    ----------
    plant : Plant
        Machine, which fixes the fuel.
    litres : float or array
        Fuel burnt. [L]

    Returns
    -------
    carbon : float or array
        CO2 equivalent. [kg]

    Notes
    -----
    C = V (tailpipe + supply).

    References
    ----------
    uk_ghg_factors_2025, fuels; tailpipe from the 2023 set [S]
    """
    row = _fuel_row(plant)
    return litres * (row.tailpipe_per_litre + row.supply_per_litre)


def plant_carbon(plant: Plant, hours: FloatLike) -> FloatLike:
    """Carbon of a machine's working hours.

    Parameters
    ----------
    plant : Plant
        Machine.
    hours : float or array
        Hours it runs. [h]

    Returns
    -------
    carbon : float or array
        CO2 equivalent. [kg]

    Notes
    -----
    C = t q (tailpipe + supply), with the hourly use q from the table.

    References
    ----------
    uk_ghg_factors_2025, fuels [S]
    earthfast_proposal, hourly use of fuel [P]
    """
    return fuel_carbon(plant, hours * _fuel_row(plant).litres_per_hour)
