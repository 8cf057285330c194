"""What one part of the job says against another; each check runs where the parts it reads could be read."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from earthfast.job.document import Job
from earthfast.job.entry_checks import Clash
from earthfast.job.positions import Path

SAME_DEPTH = 0.001  # m; strata meet when their depths agree to a millimetre


@dataclass(frozen=True, slots=True)
class ConsistencyCheck:
    """A check and the sections it reads."""

    sections: frozenset[str]
    clashes: Callable[[Job], Iterator[Clash]]


CONSISTENCY_CHECKS: list[ConsistencyCheck] = []


def _reads(*sections: str) -> Callable[[Callable[[Job], Iterator[Clash]]], Callable[[Job], Iterator[Clash]]]:
    def register(check: Callable[[Job], Iterator[Clash]]) -> Callable[[Job], Iterator[Clash]]:
        CONSISTENCY_CHECKS.append(ConsistencyCheck(frozenset(sections), check))
        return check

    return register


def _repeated(names: Sequence[str], path: Path, what: str) -> Iterator[Clash]:
    for name, times in Counter(names).items():
        if times > 1:
            last = len(names) - 1 - names[::-1].index(name)
            yield Clash((*path, last, "name"), f"'{name}' again", f"a name that no other {what} has")


@_reads("plan")
def areas_have_names_of_their_own(job: Job) -> Iterator[Clash]:
    """No two areas are called alike."""
    yield from _repeated([area.name for area in job.plan.areas], ("plan", "area"), "area")


@_reads("plan", "use")
def areas_name_uses_that_exist(job: Job) -> Iterator[Clash]:
    """Every area has one use, every use has an area."""
    names = [use.name for use in job.uses]
    yield from _repeated(names, ("use",), "use")
    listed = ", ".join(f"'{name}'" for name in names)
    for index, area in enumerate(job.plan.areas):
        if area.use is None and len(names) > 1:
            yield Clash(("plan", "area", index), "no `use`", f"the name of one use: {listed}")
        elif area.use is not None and area.use not in names:
            yield Clash(("plan", "area", index, "use"), f"'{area.use}'", f"the name of one use: {listed}")
    if len(names) > 1:
        used = {area.use for area in job.plan.areas}
        for index, name in enumerate(names):
            if name not in used:
                yield Clash(
                    ("use", index, "name"), f"'{name}', which no area has", "a use that an area names"
                )


@_reads("stratum")
def strata_follow_each_other(job: Job) -> Iterator[Clash]:
    """Strata go down from the surface without gap or overlap."""
    yield from _repeated([stratum.name for stratum in job.strata], ("stratum",), "stratum")
    reached, text = 0.0, "the surface, 0 mm"
    for index, stratum in enumerate(job.strata):
        path: Path = ("stratum", index)
        gap = stratum.top.centre - reached
        if abs(gap) > SAME_DEPTH:
            kind = "a gap below" if gap > 0.0 else "an overlap with"
            yield Clash(
                (*path, "top"),
                f"'{stratum.top}', {kind} {text}",
                f"the depth where the one above ends: {text}",
            )
        if stratum.bottom is None:
            if index + 1 < len(job.strata):
                yield Clash(path, "no `bottom`", "a `bottom` for every stratum but the lowest")
                return
        elif stratum.bottom.centre <= stratum.top.centre:
            yield Clash(
                (*path, "bottom"),
                f"'{stratum.bottom}', not below its top '{stratum.top}'",
                "a depth below `top`",
            )
            return
        else:
            reached, text = stratum.bottom.centre, f"'{stratum.bottom}'"


@_reads("prices", "choose", "further_test")
def money_is_in_one_currency(job: Job) -> Iterator[Clash]:
    """Prices are in the currency of the answers: nothing is converted."""
    amounts: dict[Path, str] = {}
    if job.prices is not None:
        amounts |= {("prices", "override", key): price.currency for key, price in job.prices.override.items()}
    if job.choose is not None and job.choose.most_price is not None:
        amounts["choose", "most_price"] = job.choose.most_price.currency
    amounts |= {
        ("further_test", place, "money"): one.money.currency
        for place, one in enumerate(job.further_tests)
        if one.money
    }
    stated = job.prices.currency if job.prices else None
    currency = stated or next(iter(amounts.values()), None)
    for path, found in amounts.items():
        if found != currency:
            yield Clash(path, f"an amount in {found}", f"amounts in {currency}, as the other prices")
