"""What a way of building costs: whole units, deliveries by order, contingency, then tax."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from decimal import ROUND_HALF_UP, Decimal
from enum import StrEnum
from functools import cache

from earthfast.estimate import Caution, CautionCode
from earthfast.sources import Status, read_table
from earthfast.works.band import UsualBand
from earthfast.works.goods import Goods, Line

_CENT = Decimal("0.01")
_DAYS_PER_MONTH = 30.436875  # mean of the calendar
OLD_AFTER_MONTHS = 12.0


class Supplier(StrEnum):
    """Who delivers; one order a supplier carries one delivery charge."""

    MERCHANT = "merchant"
    CONCRETE_WORKS = "concrete works"
    POWDER_WORKS = "powder works"
    HIRE_YARD = "hire yard"
    STABILISING_CREW = "stabilising crew"
    NONE = "none"


@dataclass(frozen=True, slots=True)
class Price:
    """Price of one unit of the goods.

    Attributes
    ----------
    goods : what.
    band : money for one unit.
    supplier : whose delivery charge it falls under.
    dated : day of the price; None where nobody said.
    status : how it came to us.
    """

    goods: Goods
    band: UsualBand
    supplier: Supplier
    dated: date | None
    status: Status


@dataclass(frozen=True, slots=True)
class Delivery:
    """Charge of one supplier for one order, whatever its size."""

    supplier: Supplier
    band: UsualBand
    dated: date | None
    status: Status


@dataclass(frozen=True, slots=True)
class PriceList:
    """Prices and delivery charges in one currency, before tax."""

    currency: str
    prices: Mapping[Goods, Price]
    deliveries: Mapping[Supplier, Delivery]

    def with_prices(self, given: Mapping[Goods, UsualBand], dated: date | None) -> PriceList:
        """The list with the user's own prices in place of the listed ones."""
        own = {
            goods: replace(self.prices[goods], band=band, dated=dated, status=Status.USER)
            for goods, band in given.items()
        }
        return replace(self, prices={**self.prices, **own})

    def with_deliveries(self, given: Mapping[Supplier, UsualBand], dated: date | None) -> PriceList:
        """The list with the user's own delivery charges in place of the listed ones."""
        own = {supplier: Delivery(supplier, band, dated, Status.USER) for supplier, band in given.items()}
        return replace(self, deliveries={**self.deliveries, **own})


@dataclass(frozen=True, slots=True)
class PriceTableRow:
    """One row of a table of prices."""

    key: str
    currency: str
    low: float
    usual: float
    high: float
    unit: str
    supplier: str
    dated: date
    status: str


@dataclass(frozen=True, slots=True)
class DeliveryTableRow:
    """One row of a table of delivery charges."""

    supplier: str
    currency: str
    low: float
    usual: float
    high: float
    dated: date
    status: str


@cache
def example_prices() -> PriceList:
    """The invented example list: to try the program with, not to buy by."""
    rows: tuple[PriceTableRow, ...] = read_table("prices_example", PriceTableRow).rows
    charges: tuple[DeliveryTableRow, ...] = read_table("deliveries_example", DeliveryTableRow).rows
    (currency,) = {row.currency for row in rows} | {charge.currency for charge in charges}
    prices = [
        Price(
            Goods(row.key),
            UsualBand(row.low, row.usual, row.high),
            Supplier(row.supplier),
            row.dated,
            Status(row.status),
        )
        for row in rows
    ]
    deliveries = [
        Delivery(
            Supplier(row.supplier), UsualBand(row.low, row.usual, row.high), row.dated, Status(row.status)
        )
        for row in charges
    ]
    return PriceList(currency, {p.goods: p for p in prices}, {d.supplier: d for d in deliveries})


@dataclass(frozen=True, slots=True)
class BillRow:
    """One row of a bill: what, how many units, money for one and for all."""

    words: str
    units: int
    unit_price: UsualBand
    amount: UsualBand
    dated: date | None
    status: Status


@dataclass(frozen=True, slots=True)
class Bill:
    """What a list of goods costs.

    Attributes
    ----------
    currency : three letters.
    rows : goods, then one delivery for each supplier.
    net : sum of the rows.
    contingency, tax : fractions added one after the other.
    """

    currency: str
    rows: tuple[BillRow, ...]
    net: UsualBand
    contingency: float
    tax: float

    @property
    def total(self) -> UsualBand:
        """Net with contingency, then tax; the band adds the rows' ends, so it is on the wide side."""
        return self.net.times((1.0 + self.contingency) * (1.0 + self.tax))

    @property
    def movers(self) -> tuple[BillRow, ...]:
        """Rows by how far their band moves the total, most first."""
        return tuple(sorted(self.rows, key=lambda row: -row.amount.swing))


def bill_for(
    lines: Iterable[Line], price_list: PriceList, contingency: float = 0.0, tax: float = 0.0
) -> Bill:
    """Bill for lines of goods.

    Parameters
    ----------
    lines : iterable of Line
        Goods in whole units.
    price_list : PriceList
        Prices before tax.
    contingency : float
        Fraction added before tax. [-]
    tax : float
        Sales tax on everything. [-]

    Returns
    -------
    bill : Bill
        Rows, net and total, not rounded; `money` rounds at the end.

    Notes
    -----
    total = (Σ units × price + Σ deliveries) (1 + c) (1 + t). Each supplier delivers once.

    References
    ----------
    common_practice, whole units, delivery by order, contingency before tax [CP]
    """
    bought = [line for line in lines if line.units]
    rows = [_goods_row(line, price_list.prices[line.goods]) for line in bought]
    suppliers = dict.fromkeys(price_list.prices[line.goods].supplier for line in bought)
    rows += [
        _delivery_row(price_list.deliveries[supplier])
        for supplier in suppliers
        if supplier is not Supplier.NONE
    ]
    net = UsualBand.total(row.amount for row in rows)
    return Bill(price_list.currency, tuple(rows), net, contingency, tax)


def _goods_row(line: Line, price: Price) -> BillRow:
    low = line.units if line.least is None else line.least
    high = line.units if line.most is None else line.most
    band = price.band
    amount = UsualBand(band.low * low, band.usual * line.units, band.high * high)
    return BillRow(line.words, line.units, band, amount, price.dated, price.status)


def _delivery_row(delivery: Delivery) -> BillRow:
    words = f"delivery, {delivery.supplier.value}"
    return BillRow(words, 1, delivery.band, delivery.band, delivery.dated, delivery.status)


def money(amount: float) -> Decimal:
    """Amount rounded to hundredths, halves up, at the very end."""
    return Decimal(f"{amount:.8f}").quantize(_CENT, rounding=ROUND_HALF_UP)


def tipping_charge(mass: float, rate: float) -> float:
    """Tax or tipping fee by mass.

    Parameters
    ----------
    mass : float
        Mass tipped. [kg]
    rate : float
        Money for a tonne. [1/t]

    Returns
    -------
    charge : float
        Money, not rounded. [-]

    Notes
    -----
    charge = m r. One load with roots or rubbish is taxed at the standard rate, about thirty times the rate
    for clean soil.

    References
    ----------
    uk_landfill_tax_2025, rates from 1 April 2025 [S]
    """
    return mass / 1000.0 * rate


def price_growth(yearly_rate: float, years: float) -> float:
    """Factor by which an old price is likely to have grown.

    Parameters
    ----------
    yearly_rate : float
        Rise of prices in a year, as a fraction. [-]
    years : float
        Age of the price. [yr]

    Returns
    -------
    factor : float
        Multiplier. [-]

    Notes
    -----
    f = (1 + r)ⁿ. A stop-gap only: past twelve months ask for a fresh quote.

    References
    ----------
    definition, compound growth [C]
    """
    return float((1.0 + yearly_rate) ** years)


def price_cautions(bill: Bill, on: date) -> tuple[Caution, ...]:
    """Doubts about the prices of a bill on a day: invented ones, and ones older than twelve months."""
    invented = [row.words for row in bill.rows if row.status is Status.INVENTED]
    old = [
        row.words
        for row in bill.rows
        if row.dated is not None and age_in_months(row.dated, on) > OLD_AFTER_MONTHS
    ]
    cautions = []
    if invented:
        text = f"{len(invented)} of {len(bill.rows)} prices are invented examples; put your own in"
        cautions.append(Caution(CautionCode.PRICES_INVENTED, text, where="prices"))
    if old:
        text = f"{len(old)} prices are older than twelve months: {', '.join(old)}; ask for a fresh quote"
        cautions.append(Caution(CautionCode.PRICES_OLD, text, where="prices"))
    return tuple(cautions)


def age_in_months(dated: date, on: date) -> float:
    """Age of a price on a day, months."""
    return (on - dated).days / _DAYS_PER_MONTH
