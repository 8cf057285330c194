"""What a way costs on an area: quantities, price, carbon, trips, hours, days, each with its assumptions."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import ceil

import numpy as np

from earthfast.checks import Material, Restraint, Way
from earthfast.choice import Merit
from earthfast.estimate import Meaning, Origin, Trail
from earthfast.ground import max_dry_density_from_plastic_limit
from earthfast.job import Access, Job, LoadedJob, PlanArea
from earthfast.mixes import Binder, loose_density_table
from earthfast.sources import SourceNote, source_note
from earthfast.stages.compacting import compactors_of
from earthfast.stages.pricing import price_list_of
from earthfast.stages.profile import GroundProfile
from earthfast.stages.usage import Usage
from earthfast.works import (
    Bags,
    Bill,
    Carbon,
    CarbonBasis,
    CarbonBill,
    Carrier,
    Crew,
    DiggingSoil,
    DugSoil,
    Haulage,
    Kit,
    Labour,
    Plan,
    PriceList,
    QuantityBasis,
    SiteGround,
    TakeOff,
    Task,
    UsualBand,
    bill_for,
    carbon_bill,
    default_basis,
    hire_lines,
    journeys,
    labour_for,
    labour_row,
    listed_factors,
    plan_from_corners,
    rectangular_plan,
    swell_of,
    take_off,
)

COMPACTED_TO = 0.95
WETTER_THAN_OPTIMUM = 0.01
EVAPORATION = 0.01
FABRIC_FINES = 0.35
USUAL_PEOPLE, USUAL_HOURS = 2, 8.0
USUAL_HAUL = {"stone": 25.0e3, "binder": 40.0e3, "surface": 40.0e3, "spoil": 20.0e3}
WORKS_TABLE = source_note("earthfast_proposal, usual distances [P]")
HOUR = 3600.0
SPREAD_ON_SITE = 0.3  # m³, no skip is called for less
USUAL_BAG = 25.0


@dataclass(frozen=True, slots=True)
class WayCost:
    """Everything a way costs on one area."""

    take_off: TakeOff
    labour: Labour
    bill: Bill
    carbon: CarbonBill
    trips: int

    @property
    def merit(self) -> Merit:
        """What ways are ranked by."""
        spoil = self.take_off.spoil
        return Merit(self.bill.total.usual, self.carbon.total.usual, spoil.mass_away, self.labour.days.usual)


@dataclass(frozen=True, slots=True)
class Costing:
    """What is needed to cost any way on one area."""

    plan: Plan
    ground: SiteGround
    basis: QuantityBasis
    crew: Crew
    prices: PriceList
    carbon: CarbonBasis
    cement: Bags
    lime: Bags
    contingency: float
    tax: float

    def cost(self, way: Way) -> WayCost:
        """Quantities, labour, price and carbon of one way."""
        quantities = take_off(way, self.plan, self.ground, self.basis)
        labour = labour_for(way, quantities, self.crew)
        lines = (*quantities.lines, *hire_lines(labour.machine, self.crew.day_hours), labour.line)
        return WayCost(
            quantities,
            labour,
            bill_for(lines, self.prices, self.contingency, self.tax),
            carbon_bill(quantities, self.carbon, labour.machine),
            _trips(quantities),
        )


def _trips(quantities: TakeOff) -> int:
    """Lorry journeys in and out."""
    masses = quantities.masses
    merchant = masses.sand + masses.gravel + masses.units + masses.edging + masses.cement + masses.lime
    away = quantities.spoil
    parts = (
        journeys(Carrier.GRAB_LORRY, masses.stone) if masses.stone else 0,
        journeys(Carrier.GRAB_LORRY, merchant) if merchant else 0,
        ceil(masses.concrete / 14.0e3) if masses.concrete > 500.0 else 0,
        journeys(Carrier.SKIP_8, away.mass_away, away.loose_away) if away.mass_away else 0,
    )
    return sum(parts)


def plan_of(area: PlanArea) -> Plan:
    """The outline of an area, m."""
    if area.length and area.width:
        return rectangular_plan(area.length.centre, area.width.centre)
    assert area.outline is not None
    factor = {"m": 1.0, "mm": 1e-3, "ft": 0.3048}[area.outline.unit.value]
    return plan_from_corners(np.array(area.outline.points) * factor)


def costing_of(
    loaded: LoadedJob,
    area: PlanArea,
    profile: GroundProfile,
    usage: Usage,
    edging: Restraint,
    trail: Trail,
) -> Costing:
    """Translate the job's ground, crew, prices and distances into what the works ask."""
    job = loaded.job
    steps = trail.under("works")
    return Costing(
        plan=plan_of(area),
        ground=_site_ground(profile, steps),
        basis=_basis(usage, edging),
        crew=_crew(job, profile, steps),
        prices=price_list_of(loaded),
        carbon=_carbon_basis(job, steps),
        cement=_bags(job, Binder.CEMENT, steps),
        lime=_bags(job, Binder.HYDRATED_LIME, steps),
        contingency=job.prices.contingency.centre if job.prices and job.prices.contingency else 0.0,
        tax=job.prices.tax.centre if job.prices and job.prices.tax else 0.0,
    )


def _basis(usage: Usage, edging: Restraint) -> QuantityBasis:
    usual = replace(default_basis(), edging=edging)
    return replace(usual, flag_side=usage.unit_length) if usage.surface.paving is Material.FLAGS else usual


def _assume(
    steps: Trail, key: str, meaning: Meaning, value: float, because: str, source: SourceNote
) -> float:
    steps.enter(key, meaning, value, Origin.ASSUMED, because, (source,))
    return value


def _site_ground(profile: GroundProfile, steps: Trail) -> SiteGround:
    stratum = profile.bearing_stratum
    draws = stratum.estimate.draws
    density, water = float(np.median(draws.dry_density)), float(np.median(draws.water_content))
    plastic_limit = float(np.median(draws.plastic_limit))
    layer = COMPACTED_TO * float(max_dry_density_from_plastic_limit(plastic_limit))
    fines = float(np.median(draws.fines))
    soil = DugSoil.CLAY if fines > FABRIC_FINES else DugSoil.COMMON_EARTH
    optimum = float(np.median(draws.optimum_water)) + WETTER_THAN_OPTIMUM
    density_meaning = Meaning("Dry density of the treated layer, soil only", "kg/m³", "kg/m³")
    _assume(steps, "layer_density", density_meaning, layer, "95 % of the standard maximum, from the plastic limit",
            source_note("sridharan_nagaraj_2005, 0.23 (93.3 - PL) [M]"))  # fmt: skip
    _assume(steps, "target_water", Meaning("Water content to compact at", "-", "%"), optimum,
            "a point above optimum, for clay", source_note("from_memory, optimum to 2 points above [M]"))  # fmt: skip
    _assume(steps, "evaporation", Meaning("Water lost while mixing", "-", "%"), EVAPORATION,
            "of dry mass", source_note("road_base_guideline, 0.5 to 1.5 percent [S]"))  # fmt: skip
    topsoil = Meaning("Depth of topsoil to strip", "m", "mm")
    if profile.is_assumed:
        _assume(steps, "topsoil", topsoil, profile.topsoil, "no strata given; topsoil is usually 100 to 300 mm deep",
                source_note("from_memory, 0.10 to 0.30 m [M]"))  # fmt: skip
    else:
        steps.enter("topsoil", topsoil, profile.topsoil, Origin.GIVEN, "from the strata of the job")
    _assume(steps, "topsoil_kept", Meaning("Topsoil kept on site", "-", "%"), 1.0,
            "topsoil is worth keeping: spread it on beds", source_note("common_practice, topsoil stays [CP]"))  # fmt: skip
    _assume(steps, "subsoil_kept", Meaning("Subsoil spread on site", "m³", "m³"), SPREAD_ON_SITE,
            "a few barrows find a place on any site", source_note("earthfast_proposal, 0.3 m³ [P]"))  # fmt: skip
    return SiteGround(
        bank_density=density * (1.0 + water),
        natural_dry_density=density,
        layer_dry_density=layer,
        swell=swell_of(soil).centre,
        field_water=water,
        target_water=optimum,
        evaporation_allowance=EVAPORATION,
        topsoil=profile.topsoil,
        subsoil_kept=SPREAD_ON_SITE,
        fabric=fines > FABRIC_FINES,
    )


def _crew(job: Job, profile: GroundProfile, steps: Trail) -> Crew:
    entry = job.crew
    people = entry.people if entry and entry.people else USUAL_PEOPLE
    hours = entry.hours_per_day.centre / HOUR if entry and entry.hours_per_day else USUAL_HOURS
    if not (entry and entry.people):
        _assume(steps, "people", Meaning("People working", "-", "-"), float(people), "a small crew",
                source_note("common_practice, two people [CP]"))  # fmt: skip
    plasticity = float(np.median(profile.bearing_stratum.estimate.draws.plasticity_index))
    soil = DiggingSoil.HEAVY if plasticity > 0.25 else DiggingSoil.MEDIUM
    digger = bool(job.tools and job.tools.digger)
    access = job.site.access if job.site and job.site.access else Access()
    if access.lorry is None:
        by_barrow = labour_row(Task.STONE).band.usual
        _assume(steps, "stone_hours", Meaning("Labour to bring a tonne of stone and spread it", "h", "h"), by_barrow,
                "barrowed from the road; say site.access.lorry = true where a lorry can tip at the work",
                source_note("paving_magazine_2011, by barrow [S]"))  # fmt: skip
    return Crew(
        people,
        hours,
        soil,
        by_machine=digger,
        stone_tipped=bool(access.lorry),
        wheeled=access.barrow_distance.centre if access.barrow_distance else 0.0,
        kit=_kit(job, steps),
    )


def _kit(job: Job, steps: Trail) -> Kit:
    """The machines of the job, with usual ones in the place of what it does not name."""
    kit = Kit(compactors=compactors_of(job, steps))
    tiller = job.tools.tiller if job.tools else None
    return replace(kit, tine_width=tiller.width.centre) if tiller and tiller.width else kit


def _bags(job: Job, binder: Binder, steps: Trail) -> Bags:
    entry = job.binder
    mass = entry.bag_mass.centre if entry and entry.bag_mass else USUAL_BAG
    row = next(row for row in loose_density_table().rows if row.binder == binder)
    density = entry.loose_density.centre if entry and entry.loose_density else 0.5 * (row.low + row.high)
    if binder is Binder.CEMENT:
        if not (entry and entry.bag_mass):
            _assume(steps, "bag_mass", Meaning("Cement in one bag", "kg", "kg"), mass, "usual in the UK and Europe",
                    source_note("from_memory, 25 kg bags [M]"))  # fmt: skip
        if not (entry and entry.loose_density):
            _assume(steps, "loose_cement", Meaning("Density of cement as poured", "kg/m³", "kg/m³"), density,
                    f"the middle of {row.low:,.0f} to {row.high:,.0f}; weigh bags rather than measure depth",
                    source_note("from_memory, poured cement [M]"))  # fmt: skip
    return Bags(mass, density)


def _carbon_basis(job: Job, steps: Trail) -> CarbonBasis:
    given = job.carbon
    factors = dict(listed_factors())
    typed = {Carbon.CEMENT: "cement", Carbon.LIME_HYDRATED: "lime", Carbon.STONE: "stone"}
    for carbon, name in typed.items():
        value = getattr(given, name) if given else None
        if value is not None:
            factors[carbon] = factors[carbon].given(UsualBand(value.low, value.centre, value.high))
        else:
            factor = factors[carbon]
            steps.enter(
                f"carbon.{name}",
                Meaning(f"Carbon of {name}, per kilogram", "kg CO2e/kg", "kg CO2e/kg"),
                factor.band.usual,
                Origin.ASSUMED,
                "give the declaration printed on the bag or the delivery note"
                if name != "stone"
                else "at the works",
                (
                    SourceNote(
                        "from_memory" if factor.status == "M" else "uk_ghg_factors_2025",
                        factor.source,
                        factor.status,
                    ),
                ),
            )
    return CarbonBasis(
        factors,
        Haulage(
            stone=_haul(job, "stone", steps),
            binder=_haul(job, "binder", steps),
            surface=_haul(job, "surface", steps),
            spoil=_haul(job, "spoil", steps),
            factor=given.haul.centre if given and given.haul else None,
        ),
    )


def _haul(job: Job, name: str, steps: Trail) -> float:
    """Distance that something travels, one way, m."""
    typed = getattr(job.carbon, f"{name}_haul", None) if job.carbon else None
    if typed is not None:
        return float(typed.centre)
    meaning = Meaning(f"Distance that {name} travels, one way", "m", "km")
    return _assume(steps, f"haul.{name}", meaning, USUAL_HAUL[name], "usual for a small job", WORKS_TABLE)
