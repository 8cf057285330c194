"""One shopping list for all areas built together: whole units, hire and deliveries are shared."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from earthfast.estimate import Band, Meaning, Trail
from earthfast.sources import Status
from earthfast.stages.answers import Figure, ShoppingLine
from earthfast.stages.costing import Costing, WayCost
from earthfast.stages.judged import record_rows, record_shares
from earthfast.stages.pricing import OWNED
from earthfast.stages.showing import NOTHING, digits, figure
from earthfast.stages.wording import capitalised
from earthfast.works import (
    Bill,
    Goods,
    Line,
    PlantHours,
    UsualBand,
    bill_for,
    hire_lines,
    labour_line,
    order_line,
    written_unit,
)

PERCENT = 100.0
TIME = {"day", "h"}
AWAY = {Goods.SKIP_4, Goods.SKIP_6, Goods.SKIP_8, Goods.GRAB_LOAD}


@dataclass(frozen=True, slots=True)
class _Priced:
    """What a row of the bill comes to, and whether its price is an invented example."""

    price: Figure
    invented: bool


def merged_lines(costs: Sequence[WayCost], day_hours: float) -> tuple[Line, ...]:
    """Lines of several take-offs as one order, with hire by the day and labour once."""
    net: dict[Goods, float] = defaultdict(float)
    first: dict[Goods, Line] = {}
    for cost in costs:
        for line in cost.take_off.lines:
            net[line.goods] += line.net
            first.setdefault(line.goods, line)
    lines = [order_line(goods, net[goods], line.waste, line.unit_size) for goods, line in first.items()]
    plant = PlantHours()
    for cost in costs:
        plant = plant.plus(cost.labour.machine)
    return (*lines, *hire_lines(plant, day_hours), labour_line(_hours(costs)))


def _hours(costs: Sequence[WayCost]) -> UsualBand:
    """Person-hours of all areas together."""
    return UsualBand.total(cost.labour.total for cost in costs)


def shopping_of(costs: Sequence[WayCost], costing: Costing, trail: Trail) -> tuple[ShoppingLine, ...]:
    """The shopping list with prices, recorded in the trail as ``shopping``."""
    lines = merged_lines(costs, costing.crew.day_hours)
    bill = bill_for(lines, costing.prices, costing.contingency, costing.tax)
    steps = trail.under("shopping")
    rows = record_rows(bill, steps)
    total = bill.total
    steps.conclude(
        "total",
        Meaning("Price of everything together", bill.currency, bill.currency),
        total.usual,
        [*rows, *record_shares(bill, steps)],
        bill_for,
        Band(total.low, total.usual, total.high),
    )
    priced = {
        row.words: _Priced(figure(steps.figures[quantity.key]), row.status is Status.INVENTED)
        for row, quantity in zip(bill.rows, rows, strict=True)
    }
    shown = [
        _shopping_line(line, priced.get(line.words), _net_words(line, costs))
        for line in lines
        if line.units or line.net > NOTHING
    ]
    return (*shown, *_deliveries(bill, priced), *_added(bill, steps))


def _added(bill: Bill, steps: Trail) -> list[ShoppingLine]:
    """What comes on top of the rows, contingency before tax, so that the list adds up to its total."""
    on_top = (
        ("contingency", "for the unforeseen", bill.contingency, bill.net),
        ("tax", "tax", bill.tax, bill.net.times(1.0 + bill.contingency)),
    )
    invented = any(row.status is Status.INVENTED for row in bill.rows)
    lines = []
    for key, words, share, base in on_top:
        if share <= 0.0:
            continue
        band = base.times(share)
        quantity = steps.conclude(
            key,
            Meaning(capitalised(words), bill.currency, bill.currency),
            band.usual,
            (),
            bill_for,
            Band(band.low, band.usual, band.high),
        )
        price = figure(steps.figures[quantity.key])
        lines.append(
            ShoppingLine(
                item=f"{words}, {share:.0%}",
                net="",
                waste_percent=0.0,
                order="",
                spare="",
                price=price,
                price_is_invented=invented,
            )
        )
    return lines


def _shopping_line(line: Line, priced: _Priced | None, net: str) -> ShoppingLine:
    owned = line.goods in OWNED and priced is not None and priced.price.value == 0.0
    return ShoppingLine(
        item=line.words,
        net=net,
        waste_percent=round(line.waste * PERCENT, 1),
        order="your own" if owned else line.order_words,
        spare="" if owned else _spare(line),
        price=priced.price if priced else None,
        price_is_invented=bool(priced and priced.invented),
    )


def _spare(line: Line) -> str:
    """What is left over, where it can be used again: whole pieces, and no time."""
    spare = float(int(line.spare + 1e-9)) if line.unit == "piece" else line.spare
    if line.unit in TIME or spare < 0.005 * line.ordered:
        return ""
    return _amount(spare, line.unit)


def _net_words(line: Line, costs: Sequence[WayCost]) -> str:
    """What is needed; of hours, with the sums of the low and of the high end of every task."""
    words = _amount(line.net, line.unit)
    if line.goods is not Goods.LABOUR_HOUR:
        return words
    hours = _hours(costs)
    return f"{words} ({digits(hours.low)} to {digits(hours.high)})"


def _amount(number: float, unit: str) -> str:
    """An amount as written on a list: '1,790 kg', '5.2 m²', '82 pieces'."""
    return f"{digits(number)} {written_unit(unit)}"


def _deliveries(bill: Bill, priced: dict[str, _Priced]) -> list[ShoppingLine]:
    return [
        ShoppingLine(
            item=row.words,
            net="",
            waste_percent=0.0,
            order="1 order",
            spare="",
            price=priced[row.words].price,
            price_is_invented=priced[row.words].invented,
        )
        for row in bill.rows
        if row.words.startswith("delivery")
    ]
