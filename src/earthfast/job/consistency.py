"""What one field says against another: checks that need more than one field of the job."""

from __future__ import annotations

import difflib
import math
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from earthfast.job.document import Job
from earthfast.job.plan import Outline, PlanArea
from earthfast.job.positions import Path
from earthfast.job.quantity import TypedQuantity
from earthfast.job.trials import SpecimenKind
from earthfast.loads.library import load_library

FARTHEST = 2000.0  # m; beyond this a plan is a slip of the unit
NARROWEST = 0.1  # m
SAME_DEPTH = 0.001  # m; strata meet when their depths agree to a millimetre
METRES = {"m": 1.0, "mm": 0.001, "ft": 0.3048}


@dataclass(frozen=True, slots=True)
class Clash:
    """One place where the job contradicts itself."""

    path: Path
    found: str
    accepted: str
    suggestion: str = ""


@dataclass(frozen=True, slots=True)
class ConsistencyCheck:
    """A check and the sections it reads; it runs when all of them could be read."""

    sections: frozenset[str]
    clashes: Callable[[Job], Iterator[Clash]]


CONSISTENCY_CHECKS: list[ConsistencyCheck] = []


def _reads(*sections: str) -> Callable[[Callable[[Job], Iterator[Clash]]], Callable[[Job], Iterator[Clash]]]:
    def register(check: Callable[[Job], Iterator[Clash]]) -> Callable[[Job], Iterator[Clash]]:
        CONSISTENCY_CHECKS.append(ConsistencyCheck(frozenset(sections), check))
        return check

    return register


def _repeated(names: Sequence[str], key: str, what: str) -> Iterator[Clash]:
    for name, times in Counter(names).items():
        if times > 1:
            last = len(names) - 1 - names[::-1].index(name)
            yield Clash((key, last, "name"), f"'{name}' again", f"a name that no other {what} has")


@_reads("plan")
def areas_have_a_shape(job: Job) -> Iterator[Clash]:
    """Every area is a rectangle or an outline, not both and not half of one."""
    for index, area in enumerate(job.plan.areas):
        path: Path = ("plan", "area", index)
        given = [name for name in ("length", "width", "outline") if getattr(area, name) is not None]
        if given not in (["length", "width"], ["outline"]):
            found = " and ".join(f"`{name}`" for name in given) or "no size"
            yield Clash(path, found, "either `length` and `width`, or `outline`")
        if area.outline is not None:
            yield from _outline_clashes(area, area.outline, (*path, "outline", "points"))
    names = [area.name for area in job.plan.areas]
    for clash in _repeated(names, "area", "area"):
        yield Clash(("plan", *clash.path), clash.found, clash.accepted)


def _outline_clashes(area: PlanArea, outline: Outline, path: Path) -> Iterator[Clash]:
    from shapely import Polygon  # noqa: PLC0415 (only a job with an outline pays for it)
    from shapely.validation import explain_validity  # noqa: PLC0415

    size = METRES[outline.unit]
    points = [(x * size, y * size) for x, y in outline.points]
    extents = [max(p[axis] for p in points) - min(p[axis] for p in points) for axis in (0, 1)]
    if max(extents) > FARTHEST:
        yield Clash(path, f"corners {max(extents):.6g} m apart", f"an outline within {FARTHEST:g} m")
        return
    polygon = Polygon(points)
    if not polygon.is_valid:
        reason = explain_validity(polygon).replace("[", "at [").lower()
        yield Clash(
            path,
            f"an outline that crosses or touches itself ({reason}, in m)",
            "corners in order round the area",
        )
    elif min(extents) < NARROWEST or math.sqrt(polygon.area) < NARROWEST:
        yield Clash(path, f"'{area.name}' of {polygon.area:.3g} m²", f"an area at least {NARROWEST:g} m wide")


@_reads("plan", "use")
def areas_name_uses_that_exist(job: Job) -> Iterator[Clash]:
    """Every area has one use, every use has an area."""
    names = [use.name for use in job.uses]
    yield from _repeated(names, "use", "use")
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


@_reads("use")
def loads_are_named_or_described(job: Job) -> Iterator[Clash]:
    """A load is a listed one by name, or a mass on a footprint."""
    for index, use in enumerate(job.uses):
        for number, load in enumerate(use.loads):
            path: Path = ("use", index, "load", number)
            if load.name is not None and load.name not in load_library():
                near = difflib.get_close_matches(load.name.lower(), load_library(), n=1, cutoff=0.5)
                listed = ", ".join(f"'{name}'" for name in load_library())
                accepted = f"a listed load: {listed}; or a `mass` on a footprint without a name"
                meant = f"did you mean '{near[0]}'?" if near else ""
                yield Clash((*path, "name"), f"'{load.name}'", accepted, meant)
            own = [
                one
                for one in ("mass", "length", "width", "contact_pressure")
                if getattr(load, one) is not None
            ]
            if load.name is None and load.mass is None:
                yield Clash(path, "neither `name` nor `mass`", "the `name` of a listed load, or a `mass`")
            elif load.mass is not None and (load.length is None) != (load.width is None):
                yield Clash(path, "half of a footprint", "`length` and `width` together")
            elif load.mass is not None and load.length is None and load.contact_pressure is None:
                yield Clash(path, "a mass without a footprint", "`length` and `width`, or `contact_pressure`")
            elif load.mass is None and own:
                yield Clash(
                    path, f"`{own[0]}` without `mass`", "a `mass` with its footprint, or a `name` alone"
                )


@_reads("stratum")
def strata_follow_each_other(job: Job) -> Iterator[Clash]:
    """Strata go down from the surface without gap or overlap."""
    yield from _repeated([stratum.name for stratum in job.strata], "stratum", "stratum")
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


@_reads("observation")
def observations_hang_together(job: Job) -> Iterator[Clash]:
    """Lists of one observation are as long as each other, depths go down, a place has both coordinates."""
    for index, seen in enumerate(job.observations):
        path: Path = ("observation", index)
        if (seen.x is None) != (seen.y is None):
            yield Clash(path, "half of a place", "`x` and `y` together")
        lists = {name: value for name, value in seen if isinstance(value, tuple)}
        if len({len(value) for value in lists.values()}) > 1:
            counts = ", ".join(f"{len(value)} in `{name}`" for name, value in lists.items())
            yield Clash(path, counts, "as many entries in each list")
        depths = [depth.centre for depth in lists.get("depths", ())]
        start = getattr(seen, "start", None)
        first = [] if start is None else [start.centre]
        for number, (upper, lower) in enumerate(zip([*first, *depths], [*first, *depths][1:], strict=False)):
            if lower <= upper:
                where = number + 1 - len(first)
                yield Clash(
                    (*path, "depths", where), f"'{lists['depths'][where]}'", "a depth below the one before"
                )


@_reads("site")
def climate_is_given_once(job: Job) -> Iterator[Clash]:
    """The climate comes from one place, and its months are in order."""
    climate = job.site.climate if job.site else None
    if climate is None:
        return
    path: Path = ("site", "climate")
    given = [name for name in ("preset", "monthly", "daily") if getattr(climate, name) is not None]
    if len(given) > 1:
        listed = " and ".join(f"`{name}`" for name in given)
        yield Clash(path, listed, "one of `preset`, `monthly`, `daily`")
    months: list[TypedQuantity] = [
        one for one in (climate.coldest_month, climate.mean, climate.warmest_month) if one is not None
    ]
    if [one.centre for one in months] != sorted(one.centre for one in months):
        listed = ", ".join(f"'{one}'" for one in months)
        yield Clash(path, listed, "`coldest_month` below `mean` below `warmest_month`")


NEEDED = {
    SpecimenKind.CUBE: ("length",),
    SpecimenKind.CYLINDER: ("diameter", "height"),
    SpecimenKind.BEAM: ("width", "height", "span"),
    SpecimenKind.LUMP: ("height",),
}


@_reads("trial")
def specimens_have_their_sizes(job: Job) -> Iterator[Clash]:
    """A specimen has the sizes its shape needs, and one result."""
    for index, specimen in enumerate(job.trial.specimens if job.trial else ()):
        path: Path = ("trial", "specimen", index)
        tested = specimen.failure_load is not None
        missing = [name for name in NEEDED[specimen.kind] if tested and getattr(specimen, name) is None]
        if missing:
            listed = " and ".join(f"`{name}`" for name in missing)
            yield Clash(
                path, f"a crushed {specimen.kind} without {listed}", f"the sizes of a {specimen.kind}"
            )
        if tested and specimen.strength is not None:
            yield Clash(path, "`failure_load` and `strength`", "one of them")
        if (tested or specimen.strength is not None) and specimen.age is None:
            yield Clash(path, "a result without `age`", "the `age` at the test")


@_reads("binder")
def bags_have_an_area(job: Job) -> Iterator[Clash]:
    """A number of bags goes with the area they are spread over."""
    binder = job.binder
    if binder is not None and (binder.bags is None) != (binder.bags_over is None):
        yield Clash(("binder",), "half of a statement in bags", "`bags` and `bags_over` together")


@_reads("weights")
def weights_weigh_something(job: Job) -> Iterator[Clash]:
    """At least one weight is above zero."""
    if job.weights is not None:
        given = [weight for _, weight in job.weights if weight is not None]
        if given and not any(given):
            yield Clash(("weights",), "nothing but zeros", "at least one weight above 0")


@_reads("prices", "choose")
def money_is_in_one_currency(job: Job) -> Iterator[Clash]:
    """Prices are in the currency of the answers: nothing is converted."""
    amounts: dict[Path, str] = {}
    if job.prices is not None:
        amounts |= {("prices", "override", key): price.currency for key, price in job.prices.override.items()}
    if job.choose is not None and job.choose.most_price is not None:
        amounts["choose", "most_price"] = job.choose.most_price.currency
    stated = job.prices.currency if job.prices else None
    currency = stated or next(iter(amounts.values()), None)
    for path, found in amounts.items():
        if found != currency:
            yield Clash(path, f"an amount in {found}", f"amounts in {currency}, as the other prices")
