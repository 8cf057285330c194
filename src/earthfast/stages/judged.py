"""One way judged, priced and put into words, with everything behind it in the trail."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from scipy.constants import day

from earthfast.checks import CHECKS, Act, CheckName, CheckResult, Way, any_chance, record_chance
from earthfast.estimate import Band, Meaning, Origin, Quantity, Trail
from earthfast.mixes import DoseQuantities, dose_quantities
from earthfast.sources import SourceNote, Status, source_note
from earthfast.stages.answers import AnyFailure, CheckLine, Figure, WayLine
from earthfast.stages.costing import WayCost
from earthfast.stages.season import strength_age
from earthfast.stages.showing import digits, figure
from earthfast.stages.understanding import Area
from earthfast.stages.wording import (
    MILLI,
    PERCENT,
    capitalised,
    chance_words,
    course_lines,
    dose_words,
    listed,
    target_words,
    way_key,
    way_title,
)
from earthfast.works import Bill, Labour, bill_for, carbon_bill, labour_for, take_off, written_unit

TONNE = 1000.0
FUEL_SOURCES = (
    source_note("uk_ghg_factors_2025, fuels [S]"),
    source_note("earthfast_proposal, hourly use of fuel [P]"),
)


@dataclass(frozen=True, slots=True)
class JudgedWay:
    """A way with its cost and its line of the answer, and the key of the check that decides."""

    way: Way
    cost: WayCost
    line: WayLine


def judged_way(way: Way, area: Area, because: str = "") -> JudgedWay:
    """Judge one way on all draws, recording every figure."""
    steps = area.trail.under(way_key(way))
    (batch,) = area.setting.batches((way,), steps)
    judged = {name: one.judge(batch.case, steps) for name, one in CHECKS.items()}
    results = {name: result for name, result in judged.items() if result.applies[0]}
    checks = tuple(_check_line(name, result, area, steps) for name, result in results.items())
    cost = area.costing.cost(way)
    line = _way_line(way, cost, checks, _any_failure(results), area, steps, because)
    if way.build_up.treated is not None:
        line = line.model_copy(update={"strength_days": round(strength_age(batch.case) / day, 1)})
    return JudgedWay(way, cost, line)


def _any_failure(results: Mapping[CheckName, CheckResult]) -> AnyFailure:
    found = any_chance(results)
    draws = next(iter(results.values())).fails.size
    words = chance_words(found.chance, draws)
    percent, error = found.chance * PERCENT, found.standard_error * PERCENT
    counted = f"{percent:.1f} % ± {error:.1f}"
    if found.chance == 0.0:
        counted = f"none in {draws:,} draws, so under 1 in {draws / 3:,.0f} with 95 % confidence"
    leading = tuple(name.value for name in found.leading)
    mostly = f", mostly {listed(leading)}" if leading else ""
    return AnyFailure(
        chance=found.chance,
        standard_error=found.standard_error,
        chance_text=words,
        leading=leading,
        sentence=f"{counted}{mostly}",
    )


def _check_line(name: CheckName, result: CheckResult, area: Area, trail: Trail) -> CheckLine:
    steps = trail.under(name.value)
    chance_key = record_chance(result, steps).key
    chance, target = float(result.chance[0]), area.usage.targets[name]
    demand, capacity = (figure(trail.figures[q.key]) for q in (result.demand, result.capacity))
    words = chance_words(chance, area.setting.draws.count)
    return CheckLine(
        name=name.value,
        question=CHECKS[name].question,
        demand=demand,
        capacity=capacity,
        chance=chance,
        chance_text=words,
        target=target,
        passes=chance <= target,
        governed_by=result.governed_by[0],
        sentence=f"{demand.label} {demand.text}; {capacity.label.lower()} {capacity.text}. "
        f"Chance of failure {words}, governed by {result.governed_by[0]}.",
        key=chance_key,
    )


def _way_line(
    way: Way,
    cost: WayCost,
    checks: tuple[CheckLine, ...],
    any_failure: AnyFailure,
    area: Area,
    steps: Trail,
    because: str,
) -> WayLine:
    weakest = max(checks, key=lambda check: check.chance / check.target)
    return WayLine(
        key=way_key(way),
        method=way.method.value,
        title=way_title(way),
        courses=course_lines(way.build_up),
        thickness_mm=round(way.build_up.thickness * MILLI, 1),
        dig_mm=round(cost.take_off.dig_depth * MILLI, 0),
        price=_shown(record_price(cost, steps), steps),
        carbon=_shown(record_carbon(cost, steps), steps),
        dose_words=dose_words_of(way, area),
        checks=checks,
        weakest=weakest.name,
        any_failure=any_failure,
        passes=all(check.passes for check in checks),
        because=because or reason_of(checks),
        **_effort(cost, steps),
    )


def _shown(quantity: Quantity, steps: Trail) -> Figure:
    return figure(steps.figures[quantity.key])


def _effort(cost: WayCost, steps: Trail) -> dict[str, Figure]:
    """Spoil, trips, hours and days, by the field of the answer."""
    total, span = cost.labour.total, cost.labour.days
    meanings = {
        "spoil": Meaning("Soil taken away", "t", "t"),
        "trips": Meaning("Lorry journeys, in and out", "trips", "trips"),
        "hours": Meaning("Hours of work", "h", "h"),
        "days": Meaning("Working days of the crew", "days", "days"),
    }
    spoil, trips = cost.take_off.spoil.mass_away / TONNE, cost.trips
    worked = steps.conclude(
        "hours",
        meanings["hours"],
        total.usual,
        _record_tasks(cost.labour, steps),
        labour_for,
        Band(total.low, total.usual, total.high),
    )
    entered = {
        "spoil": steps.conclude("spoil", meanings["spoil"], spoil, _record_soil(cost, steps), take_off),
        "trips": steps.enter("trips", meanings["trips"], trips, Origin.DERIVED, "full loads, in and out"),
        "hours": worked,
        "days": steps.conclude(
            "days", meanings["days"], span.usual, (worked,), labour_for, Band(span.low, span.usual, span.high)
        ),
    }
    return {name: _shown(quantity, steps) for name, quantity in entered.items()}


def _record_tasks(labour: Labour, steps: Trail) -> list[Quantity]:
    """Record hours task by task, those at the machines last; they come to the total."""
    rows = [
        steps.enter(
            f"hours.{number}",
            Meaning(
                f"{capitalised(task.words)}, {digits(task.quantity)} {written_unit(task.unit)}", "h", "h"
            ),
            task.hours.usual,
            Origin.ASSUMED,
            "by the rates of the table",
            (SourceNote(*task.source.partition(", ")[::2], task.status),),
            Band(task.hours.low, task.hours.usual, task.hours.high),
        )
        for number, task in enumerate(labour.tasks, start=1)
    ]
    minded = labour.machine.minded
    if minded > 0.0:
        because = "one person minds each machine while it runs"
        rows.append(
            steps.enter(
                "hours.machines", Meaning("At the machines", "h", "h"), minded, Origin.DERIVED, because
            )
        )
    return rows


def _record_soil(cost: WayCost, steps: Trail) -> list[Quantity]:
    """Record the soil that leaves, topsoil and subsoil apart, and how much of what is dug stays."""
    spoil = cost.take_off.spoil
    parts = (
        ("topsoil", spoil.topsoil, spoil.topsoil_away, spoil.topsoil_mass_away),
        ("subsoil", spoil.subsoil, spoil.subsoil_away, spoil.subsoil_mass_away),
    )
    return [
        steps.enter(
            f"spoil.{name}",
            Meaning(f"{capitalised(name)} taken away", "t", "t"),
            mass / TONNE,
            Origin.DERIVED,
            f"of {digits(dug)} m³ dug {digits(dug - away)} m³ stay on the site",
        )
        for name, dug, away, mass in parts
    ]


def reason_of(checks: Iterable[CheckLine]) -> str:
    """Why a way falls, in words, or that it passes."""
    failed = [check for check in checks if not check.passes]
    if not failed:
        return "passes every check"
    parts = [
        f"{CHECKS[CheckName(check.name)].falls} (chance {check.chance_text}, {target_words(check.target)} put up with; "
        f"{check.governed_by})"
        for check in failed
    ]
    return "falls because " + " and ".join(parts)


def record_rows(bill: Bill, steps: Trail) -> list[Quantity]:
    """Record a bill, row by row."""
    return [
        steps.enter(
            f"price.{number}",
            Meaning(f"{row.units} x {row.words}", bill.currency, bill.currency),
            row.amount.usual,
            Origin.GIVEN if row.status is Status.USER else Origin.ASSUMED,
            (f"priced {row.dated:%d %B %Y}" if row.dated else "no date given")
            + ("; invented example" if row.status is Status.INVENTED else ""),
            (SourceNote("earthfast_proposal", "example price list", row.status),),
            Band(row.amount.low, row.amount.usual, row.amount.high),
        )
        for number, row in enumerate(bill.rows, start=1)
    ]


def record_shares(bill: Bill, steps: Trail) -> list[Quantity]:
    """Record what is added to the rows of a bill: contingency, then tax."""
    shares = (
        ("contingency", "Contingency, on the sum of the rows", bill.contingency),
        ("tax", "Tax, on the sum with its contingency", bill.tax),
    )
    return [
        steps.enter(f"price.{key}", Meaning(label, "-", "%"), share, Origin.GIVEN, f"prices.{key} of the job")
        for key, label, share in shares
        if share > 0.0
    ]


def record_price(cost: WayCost, steps: Trail) -> Quantity:
    """Record what a way costs."""
    total = cost.bill.total
    return steps.conclude(
        "price",
        Meaning("Price", cost.bill.currency, cost.bill.currency),
        total.usual,
        [*record_rows(cost.bill, steps), *record_shares(cost.bill, steps)],
        bill_for,
        Band(total.low, total.usual, total.high),
    )


def record_carbon(cost: WayCost, steps: Trail) -> Quantity:
    """Record a carbon bill, row by row, the fuel of the plant last."""
    rows = [
        steps.enter(
            f"carbon.{number}",
            Meaning(f"{line.words}, {line.mass:,.0f} kg", "kg CO2e", "kg CO2e"),
            line.production.usual + line.haul,
            Origin.ASSUMED if line.status is not Status.USER else Origin.GIVEN,
            f"making {line.production.usual:,.0f}, hauling {line.haul:,.0f}",
            (SourceNote(line.source.split(",")[0], line.source.partition(", ")[2], line.status),),
            Band(
                line.production.low + line.haul,
                line.production.usual + line.haul,
                line.production.high + line.haul,
            ),
        )
        for number, line in enumerate(cost.carbon.lines, start=1)
    ]
    if cost.carbon.fuel > 0.0:
        rows.append(_record_fuel(cost.carbon.fuel, steps))
    total = cost.carbon.total
    return steps.conclude(
        "carbon",
        Meaning("Carbon", "kg CO2e", "kg CO2e"),
        total.usual,
        rows,
        carbon_bill,
        Band(total.low, total.usual, total.high),
    )


def _record_fuel(fuel: float, steps: Trail) -> Quantity:
    return steps.enter(
        "carbon.fuel",
        Meaning("Fuel of the machines on the site", "kg CO2e", "kg CO2e"),
        fuel,
        Origin.ASSUMED,
        "hours that machines run, by what they burn in an hour",
        FUEL_SOURCES,
    )


def dose_of(way: Way, area: Area) -> DoseQuantities | None:
    """The cement dose of a way in its four languages."""
    treated = way.build_up.treated
    if treated is None:
        return None
    base = area.costing.cost(way).take_off.base_area
    return dose_quantities(
        treated.dose,
        area.costing.ground.layer_dry_density,
        treated.thickness,
        base,
        area.costing.cement.bag_mass,
        area.costing.cement.loose_density,
    )


def dose_words_of(way: Way, area: Area) -> str:
    """The dose in words; empty where nothing is treated."""
    quantities = dose_of(way, area)
    return dose_words(quantities, area.costing.cement.bag_mass) if quantities else ""


def governing_act(check: CheckLine, acts: Iterable[Act]) -> Act | None:
    """The act that governs a check, by its words: the longest that fit, since those of one act may begin another's."""
    named = [act for act in acts if check.governed_by.startswith(f"{act.words}, ")]
    return max(named, key=lambda one: len(one.words), default=None)
