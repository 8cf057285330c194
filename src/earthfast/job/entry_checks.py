"""What the fields of one entry say against each other; each entry is judged by itself."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import TypeVar

from pydantic import ValidationError
from scipy.constants import g, kilo

from earthfast.ground.observation import DoubtfulObservationError
from earthfast.job.choosing import Weights
from earthfast.job.fields import Section
from earthfast.job.meant import meant
from earthfast.job.observations import ObservationEntry, read_observation
from earthfast.job.plan import Outline, PlanArea
from earthfast.job.positions import Path
from earthfast.job.quantity import TypedQuantity
from earthfast.job.site import Climate
from earthfast.job.trials import CRUSHED, BinderEntry, InWater, SpecimenEntry, SpecimenKind
from earthfast.job.use import LoadEntry
from earthfast.loads.library import load_library

FARTHEST = 2000.0  # m; beyond this a plan is a slip of the unit
NARROWEST = 0.1  # m
METRES = {"m": 1.0, "mm": 0.001, "ft": 0.3048}

Entry = TypeVar("Entry", bound=Section)


@dataclass(frozen=True, slots=True)
class Clash:
    """One place where the job contradicts itself."""

    path: Path
    found: str
    accepted: str
    suggestion: str = ""


@dataclass(frozen=True, slots=True)
class EntryCheck:
    """A check of every entry that stands under some keys of the job."""

    keys: tuple[str, ...]
    clashes: Callable[[object, Path], Iterator[Clash]]


ENTRY_CHECKS: list[EntryCheck] = []


def entry_clashes(job: object) -> Iterator[Clash]:
    """Clashes within each entry of a job, or of a file in which other entries could not be read."""
    for check in ENTRY_CHECKS:
        for path, entry in _entries(job, check.keys, ()):
            try:
                yield from check.clashes(entry, path)
            except ValidationError:
                continue  # what is wrong with this entry by itself is told by the document


def _entries(value: object, keys: tuple[str, ...], path: Path) -> Iterator[tuple[Path, object]]:
    if isinstance(value, (list, tuple)):
        for index, one in enumerate(value):
            yield from _entries(one, keys, (*path, index))
    elif not keys:
        yield path, value
    else:
        inner = _inside(value, keys[0])
        if inner is not None:
            yield from _entries(inner, keys[1:], (*path, keys[0]))


def _inside(value: object, key: str) -> object:
    if isinstance(value, dict):
        return value.get(key)
    if isinstance(value, Section):
        fields = type(value).model_fields.items()
        return next((getattr(value, name) for name, field in fields if (field.alias or name) == key), None)
    return None


def _each(
    *keys: str, reads: Callable[[object], Entry]
) -> Callable[[Callable[[Entry, Path], Iterator[Clash]]], Callable[[Entry, Path], Iterator[Clash]]]:
    def register(check: Callable[[Entry, Path], Iterator[Clash]]) -> Callable[[Entry, Path], Iterator[Clash]]:
        ENTRY_CHECKS.append(EntryCheck(keys, lambda entry, path: check(reads(entry), path)))
        return check

    return register


@_each("plan", "area", reads=PlanArea.model_validate)
def area_has_a_shape(area: PlanArea, path: Path) -> Iterator[Clash]:
    """An area is a rectangle or an outline, not both and not half of one."""
    given = [name for name in ("length", "width", "outline") if getattr(area, name) is not None]
    if given not in (["length", "width"], ["outline"]):
        found = " and ".join(f"`{name}`" for name in given) or "no size"
        yield Clash(path, found, "either `length` and `width`, or `outline`")
    if area.outline is not None:
        yield from _outline_clashes(area, area.outline, (*path, "outline", "points"))


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


@_each("use", "load", reads=LoadEntry.model_validate)
def load_is_named_or_described(load: LoadEntry, path: Path) -> Iterator[Clash]:
    """A load is a listed one by name, or a mass on a footprint."""
    if load.name is not None and load.name not in load_library():
        listed = ", ".join(f"'{name}'" for name in load_library())
        accepted = f"a listed load: {listed}; or a `mass` on a footprint without a name"
        yield Clash((*path, "name"), f"'{load.name}'", accepted, meant(load.name, load_library()))
    if load.passes is not None and load.passes.high <= 0.0:
        yield Clash((*path, "passes"), f"'{load.passes}'", "a rate above 0; leave out what never comes")
    own = [one for one in ("length", "width", "contact_pressure") if getattr(load, one) is not None]
    if load.name is None and load.mass is None:
        yield Clash(path, "neither `name` nor `mass`", "the `name` of a listed load, or a `mass`")
    elif load.name is not None and load.mass is not None:
        yield Clash(path, "`name` and `mass`", "the `name` of a listed load, or a `mass` on a footprint")
    elif load.mass is not None and (load.length is None) != (load.width is None):
        yield Clash(path, "half of a footprint", "`length` and `width` together")
    elif load.mass is not None and load.length is None and load.contact_pressure is None:
        yield Clash(path, "a mass without a footprint", "`length` and `width`, or `contact_pressure`")
    elif load.mass is not None:
        yield from _feet_clashes(load, load.mass.centre, path)
    elif own:
        yield Clash(path, f"`{own[0]}` without `mass`", "a `mass` with its footprint, or a `name` alone")


def _feet_clashes(load: LoadEntry, mass: float, path: Path) -> Iterator[Clash]:
    """Several feet or wheels have places, feet a size, and none more area than what stands on them covers."""
    several = (load.contacts or 1) > 1
    if load.passes is not None and load.contacts is None and load.length is not None:
        accepted = "`contacts`: how many wheels share its mass; no `length` and `width` for one wheel"
        yield Clash(path, "something that rolls, its wheels not counted", accepted)
    elif several and load.length is None:
        accepted = "`length` and `width`, which say how far apart they are"
        yield Clash(path, f"{load.contacts} contacts without a footprint", accepted)
    elif several and load.contact_pressure is None and load.passes is None:
        accepted = (
            "`contact_pressure`, what one foot carries over its area; no `contacts` for what stands flat"
        )
        yield Clash(path, f"{load.contacts} contacts without their size", accepted)
    elif load.contact_pressure and load.length and load.width:
        covered = load.length.centre * load.width.centre
        least = mass * g / covered
        if load.contact_pressure.centre < least:
            found = f"'{load.contact_pressure}', less than its weight over its footprint"
            yield Clash(
                (*path, "contact_pressure"), found, f"at least {least / kilo:.3g} kPa, or a larger footprint"
            )


@_each("observation", reads=read_observation)
def observation_hangs_together(seen: ObservationEntry, path: Path) -> Iterator[Clash]:
    """Lists are as long as each other, depths go down, a place has both coordinates, and the soil could exist."""
    if (seen.x is None) != (seen.y is None):
        yield Clash(path, "half of a place", "`x` and `y` together")
    lists = {name: value for name, value in seen if isinstance(value, tuple)}
    if len({len(value) for value in lists.values()}) > 1:
        counts = ", ".join(f"{len(value)} in `{name}`" for name, value in lists.items())
        yield Clash(path, counts, "as many entries in each list")
        return
    start = getattr(seen, "start", None)
    reached = start.centre if start is not None else 0.0
    for number, depth in enumerate(lists.get("depths", ())):
        if depth.centre <= reached:
            yield Clash((*path, "depths", number), f"'{depth}'", "a depth below the one before")
            return
        reached = depth.centre
    try:
        seen.row()
    except DoubtfulObservationError as doubt:
        yield Clash(path, doubt.found, doubt.accepted)


@_each("site", "climate", reads=Climate.model_validate)
def climate_is_given_once(climate: Climate, path: Path) -> Iterator[Clash]:
    """The climate comes from one place, and its months are in order."""
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
    SpecimenKind.CORE: ("diameter", "height"),
    SpecimenKind.BEAM: ("width", "height", "span"),
    SpecimenKind.LUMP: ("height",),
}
LEVER = ("hung_mass", "hung_arm", "specimen_arm")


@_each("trial", "specimen", reads=SpecimenEntry.model_validate)
def specimen_has_its_sizes(specimen: SpecimenEntry, path: Path) -> Iterator[Clash]:
    """A specimen that was pressed has the sizes its shape needs."""
    pressed = specimen.failure_load is not None or specimen.hung_mass is not None
    missing = [name for name in NEEDED[specimen.kind] if pressed and getattr(specimen, name) is None]
    if missing:
        listed = " and ".join(f"`{name}`" for name in missing)
        yield Clash(path, f"a crushed {specimen.kind} without {listed}", f"the sizes of a {specimen.kind}")


@_each("trial", "specimen", reads=SpecimenEntry.model_validate)
def specimen_has_one_result_with_its_age(specimen: SpecimenEntry, path: Path) -> Iterator[Clash]:
    """A specimen is broken once, at an age; one that fell apart is not broken after."""
    crushed = [name for name in specimen.results if name in CRUSHED]
    if len(crushed) > 1:
        yield Clash(path, " and ".join(f"`{name}`" for name in crushed), "one of them")
    if specimen.results and specimen.age is None:
        yield Clash(path, "a result without `age`", "the `age` at the test")
    loads = [getattr(specimen, name) for name in crushed]
    if specimen.in_water is InWater.FELL_APART and any(load.high > 0.0 for load in loads):
        yield Clash(path, f"'{InWater.FELL_APART}' in water, and `{crushed[0]}`", "one of them")


@_each("trial", "specimen", reads=SpecimenEntry.model_validate)
def lever_has_its_arms(specimen: SpecimenEntry, path: Path) -> Iterator[Clash]:
    """A mass hung on a lever goes with both arms, the lever's own mass with its middle."""
    given = [name for name in LEVER if getattr(specimen, name) is not None]
    if given and len(given) < len(LEVER):
        missing = " and ".join(f"`{name}`" for name in LEVER if name not in given)
        yield Clash(path, f"a lever without {missing}", "`hung_mass`, `hung_arm` and `specimen_arm` together")
    if (specimen.lever_mass is None) != (specimen.lever_middle is None):
        yield Clash(path, "half of the lever's own weight", "`lever_mass` and `lever_middle` together")


@_each("binder", reads=BinderEntry.model_validate)
def bags_have_an_area(binder: BinderEntry, path: Path) -> Iterator[Clash]:
    """A number of bags goes with the area they are spread over."""
    if (binder.bags is None) != (binder.bags_over is None):
        yield Clash(path, "half of a statement in bags", "`bags` and `bags_over` together")


@_each("weights", reads=Weights.model_validate)
def weights_weigh_something(weights: Weights, path: Path) -> Iterator[Clash]:
    """At least one weight is above zero."""
    given = [weight for _, weight in weights if weight is not None]
    if given and not any(given):
        yield Clash(path, "nothing but zeros", "at least one weight above 0")
