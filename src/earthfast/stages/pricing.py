"""The price list of a job: its own file, the prices it names, its own machines, and the invented example for the rest."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from datetime import date
from pathlib import Path

from earthfast.job import Job, JobProblems, LoadedJob, Per, Price, Problem, load_price_list
from earthfast.job.meant import meant
from earthfast.sources import Status
from earthfast.works import Goods, GoodsRow, PriceList, Supplier, UsualBand, example_prices, goods_row

OWNED = {
    Goods.PLATE_DAY: "plate",
    Goods.TAMPER_DAY: "tamper",
    Goods.ROLLER_DAY: "roller",
    Goods.TILLER_DAY: "tiller",
    Goods.EXCAVATOR_DAY: "digger",
}
FREE = UsualBand(0.0, 0.0, 0.0)
MEASURES = {
    Per.MASS: {"kg": 1.0},
    Per.VOLUME: {"m3": 1.0, "L": 1.0e-3},
    Per.AREA: {"m2": 1.0},
    Per.LENGTH: {"m": 1.0},
}
COUNTS = {Per.DAY: "day", Per.HOUR: "h", Per.WEEK: "week", Per.BAG: "bag"}


@dataclass(slots=True)
class _Named:
    """Prices named in a job or a list, sorted into goods and deliveries, with what is wrong among them."""

    goods: dict[Goods, UsualBand] = field(default_factory=dict)
    charges: dict[Supplier, UsualBand] = field(default_factory=dict)
    dates: dict[str, date | None] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)

    def add(self, key: str, price: Price, dated: date | None, where: str, line: int | None) -> None:
        self.dates[key] = dated
        if key in set(Supplier):
            self.charges[Supplier(key)] = _band_of(price, 1.0)
        elif key in set(Goods):
            size = _bought(price.per, goods_row(Goods(key)))
            if size is None:
                accepted = f"a price by the {goods_row(Goods(key)).pack}, which is what '{key}' buys"
                self.problems.append(Problem(where, f"'{price}'", accepted, line))
            else:
                self.goods[Goods(key)] = _band_of(price, size)
        else:
            known = [*Goods, *Supplier]
            accepted = f"one of {', '.join(known)}"
            self.problems.append(Problem(where, f"'{key}'", accepted, line, meant(key, known)))

    def instead_of(self, listed: PriceList) -> PriceList:
        """The list with these prices, each of its own day, in the place of the listed ones."""
        for goods, band in self.goods.items():
            listed = listed.with_prices({goods: band}, self.dates[goods])
        for supplier, charge in self.charges.items():
            listed = listed.with_deliveries({supplier: charge}, self.dates[supplier])
        return listed


def price_list_of(loaded: LoadedJob) -> PriceList:
    """Every price a job needs, its own in the place of the listed ones."""
    job = loaded.job
    listed = _with_owned(_from_file(loaded), job)
    entry = job.prices
    if entry is None:
        return listed
    named = _Named()
    for key, price in entry.override.items():
        line = loaded.line("prices", "override", key)
        named.add(key, price, entry.date or job.heading.date, f"prices.override.{key}", line)
    problems = named.problems
    if entry.currency and entry.currency != listed.currency:
        problems.append(_other_currency(loaded, entry.currency, listed.currency))
    if problems:
        raise JobProblems(problems, str(loaded.path or ""))
    return named.instead_of(listed)


def _from_file(loaded: LoadedJob) -> PriceList:
    """The example list, or the file that the job names with the example's rows where it says nothing."""
    listed = example_prices()
    name = loaded.job.prices.price_list if loaded.job.prices else None
    if name is None:
        return listed
    given = load_price_list((loaded.path.parent if loaded.path else Path()) / name)
    named = _Named()
    for number, row in enumerate(given.rows, start=1):
        dated = row.date or given.date or loaded.job.heading.date
        named.add(row.key, row.price, dated, f"price[{number}]", None)
    problems = named.problems
    if given.currency != listed.currency:
        problems += _missing(named, given.currency)
        listed = replace(listed, currency=given.currency)
    if problems:
        raise JobProblems(problems, name)
    return named.instead_of(listed)


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


def _bought(per: Per, row: GoodsRow) -> float | None:
    """How many of what a price is for make one unit of the goods; None where it buys something else."""
    if per in MEASURES:
        return row.unit_size * MEASURES[per][row.unit] if row.unit in MEASURES[per] else None
    if per in COUNTS:
        return 1.0 if COUNTS[per] in {row.unit, row.pack.split(" ")[-1]} else None
    return 1.0


def _band_of(price: Price, size: float) -> UsualBand:
    low, high = price.low * size, price.high * size
    return UsualBand(low, 0.5 * (low + high), high)


def _other_currency(loaded: LoadedJob, wanted: str, listed: str) -> Problem:
    accepted = (
        f"{listed}, the currency of the example prices; or, under [prices], `list` with the name of a TOML file "
        f"beside the job that prices everything in {wanted}"
    )
    hint = (
        f'such a file starts: title = "Ours" / currency = "{wanted}" / [[price]] / key = "cement_bag" / '
        f'price = "15 {wanted}/bag"; how-to/prices.md shows a whole one'
    )
    return Problem("prices.currency", f"'{wanted}'", accepted, loaded.line("prices", "currency"), hint)
