"""The price list of a job: its own file, the prices it names, its own machines, and the invented example for the rest."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import date
from pathlib import Path

from earthfast.job import Job, JobProblems, LoadedJob, Per, Price, Problem, load_price_list
from earthfast.sources import Status
from earthfast.works import Goods, PriceList, Supplier, UsualBand, example_prices, goods_row

OWNED = {
    Goods.PLATE_DAY: "plate",
    Goods.TAMPER_DAY: "tamper",
    Goods.ROLLER_DAY: "roller",
    Goods.TILLER_DAY: "tiller",
    Goods.EXCAVATOR_DAY: "digger",
}
FREE = UsualBand(0.0, 0.0, 0.0)


@dataclass(slots=True)
class _Named:
    """Prices named in a job or a list, sorted into goods and deliveries, with those that fit neither."""

    goods: dict[Goods, UsualBand] = field(default_factory=dict)
    charges: dict[Supplier, UsualBand] = field(default_factory=dict)
    unknown: list[str] = field(default_factory=list)

    def add(self, key: str, price: Price) -> None:
        if key in set(Goods):
            self.goods[Goods(key)] = _band(price, Goods(key))
        elif key in set(Supplier):
            self.charges[Supplier(key)] = _band(price, None)
        else:
            self.unknown.append(key)


def price_list_of(loaded: LoadedJob) -> PriceList:
    """Every price a job needs, its own in the place of the listed ones."""
    job = loaded.job
    listed = _with_owned(_from_file(loaded), job)
    entry = job.prices
    if entry is None:
        return listed
    named = _Named()
    for key, price in entry.override.items():
        named.add(key, price)
    problems = [_unknown(key, loaded.line("prices", "override", key)) for key in named.unknown]
    if entry.currency and entry.currency != listed.currency:
        problems.append(_other_currency(loaded, entry.currency, listed.currency))
    if problems:
        raise JobProblems(problems, str(loaded.path or ""))
    dated = entry.date or job.heading.date or date.today()  # noqa: DTZ011 (a calendar day)
    return listed.with_prices(named.goods, dated).with_deliveries(named.charges, dated)


def _from_file(loaded: LoadedJob) -> PriceList:
    """The example list, or the file that the job names with the example's rows where it says nothing."""
    listed = example_prices()
    name = loaded.job.prices.price_list if loaded.job.prices else None
    if name is None:
        return listed
    given = load_price_list((loaded.path.parent if loaded.path else Path()) / name)
    named = _Named()
    for row in given.rows:
        named.add(row.key, row.price)
    problems = [_unknown(key, None) for key in named.unknown]
    if given.currency != listed.currency:
        problems += _missing(named, given.currency)
        listed = replace(listed, currency=given.currency)
    if problems:
        raise JobProblems(problems, name)
    dated = given.date or loaded.job.heading.date or date.today()  # noqa: DTZ011 (a calendar day)
    return listed.with_prices(named.goods, dated).with_deliveries(named.charges, dated)


def _missing(named: _Named, currency: str) -> list[Problem]:
    """A list in another currency cannot lean on the example: every price has to be in it."""
    absent = [*(g for g in Goods if g not in named.goods), *(s for s in _charged() if s not in named.charges)]
    accepted = (
        f"a price in {currency} for each of {', '.join(absent)}; the example list is in another currency"
    )
    return [Problem("price", f"a list of {len(named.goods)} prices", accepted)] if absent else []


def _charged() -> Iterable[Supplier]:
    return (supplier for supplier in Supplier if supplier is not Supplier.NONE)


def _with_owned(listed: PriceList, job: Job) -> PriceList:
    """The list with no hire, and no delivery, for machines that the job says are not hired."""
    tools = job.tools
    owned = {
        goods: replace(listed.prices[goods], band=FREE, supplier=Supplier.NONE, status=Status.USER)
        for goods, name in OWNED.items()
        if (tool := getattr(tools, name) if tools else None) is not None and tool.hired is False
    }
    return replace(listed, prices={**listed.prices, **owned})


def _band(price: Price, goods: Goods | None) -> UsualBand:
    """Price of one unit of the goods, from a price by tonne, cubic metre, day or piece."""
    size = 1.0
    if goods is not None:
        row = goods_row(goods)
        size = row.unit_size if price.per is Per.MASS and row.unit == "kg" else 1.0
    low, high = price.low * size, price.high * size
    return UsualBand(low, 0.5 * (low + high), high)


def _unknown(key: str, line: int | None) -> Problem:
    return Problem(f"prices.override.{key}", f"'{key}'", f"one of {', '.join([*Goods, *Supplier])}", line)


def _other_currency(loaded: LoadedJob, wanted: str, listed: str) -> Problem:
    accepted = f"{listed}, the currency of the price list; name a `list` of prices in {wanted} to use it"
    return Problem("prices.currency", f"'{wanted}'", accepted, loaded.line("prices", "currency"))
