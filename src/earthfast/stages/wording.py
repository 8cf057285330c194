"""Ways, doses and chances in words."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from earthfast.checks import BuildUp, CheckName, Course, Material, Method, Way
from earthfast.estimate import Caution
from earthfast.mixes import DoseQuantities
from earthfast.stages.answers import AreaChoice, CheckLine, CourseLine
from earthfast.stages.showing import digits

MILLI, PERCENT = 1000.0, 100.0
USUAL_BED = 0.0305  # m, what is more than that is named
LIKELY = 0.1  # from here on a chance is said in percent, below it as one in so many
UNDATED = "undated"  # never the day of the run: the same job gives the same answer on any day
SHORT = {
    Method.STONE: "stone",
    Method.CEMENT: "cement",
    Method.LIME_CEMENT: "lime-cement",
    Method.SLAB: "slab",
    Method.SAND_BED: "sand-bed",
}


def capitalised(sentence: str) -> str:
    """A sentence with its first letter large."""
    return sentence[:1].upper() + sentence[1:]


def shared_words(areas: int) -> str:
    """Why what is bought for several areas together does not add up from their prices; empty for one."""
    return (
        "The areas share deliveries and whole units: their prices apart add up to another sum."
        if areas > 1
        else ""
    )


def listed(words: Sequence[str]) -> str:
    """Words as a list in a sentence: 'frost, durability and cracking'."""
    return " and ".join(filter(None, (", ".join(words[:-1]), *words[-1:])))


def named_together(cautions: Iterable[Caution], areas: Sequence[str]) -> tuple[Caution, ...]:
    """Cautions that open with the name of an area, those that are the same for several with all their names."""
    found: dict[tuple[Caution, bool], list[str]] = {}
    for caution in cautions:
        area = next((name for name in areas if caution.text.startswith(f"{name}: ")), "")
        where = "" if area == caution.where else caution.where
        plain = (
            replace(caution, text=caution.text.removeprefix(f"{area}: "), where=where) if area else caution
        )
        named = found.setdefault((plain, bool(area)), [])
        named += [area] if area not in named else []
    return tuple(
        replace(one, text=f"{listed(named)}: {one.text}", where=one.where or listed(named))
        if has_area
        else one
        for (one, has_area), named in found.items()
    )


def said_once(areas: Sequence[AreaChoice]) -> tuple[tuple[str, ...], ...]:
    """The sentences of each area; those that an earlier one has word for word are left there, and counted."""
    first: dict[str, str] = {}
    told: list[tuple[str, ...]] = []
    for area in areas:
        plain = {words: words.removeprefix(f"{capitalised(area.name)}: ") for words in area.says}
        fresh = tuple(words for words in area.says if plain[words] not in first)
        places = dict.fromkeys(first[plain[words]] for words in area.says if words not in fresh)
        left = len(area.says) - len(fresh)
        counted = "One more sentence is" if left == 1 else f"{left} more sentences are"
        same = f"{counted} the same as for {listed(list(places))}, and not repeated here."
        told.append((*fresh, same) if left else fresh)
        first |= {plain[words]: area.name for words in fresh}
    return tuple(told)


def millimetres(length: float) -> str:
    """A thickness in whole millimetres."""
    return f"{length * MILLI:.0f} mm"


def way_title(way: Way) -> str:
    """What is built, in a few words, with its bedding where that is thicker than usual."""
    bed = thicker_bed(way)
    return f"{_base_title(way)}, {millimetres(bed)} of bedding" if bed else _base_title(way)


def thicker_bed(way: Way) -> float:
    """Thickness of bedding sand over a base where it is more than usual, m; else 0."""
    bed = way.build_up.thickness_of(Material.BEDDING_SAND)
    return bed if way.method is not Method.SAND_BED and bed > USUAL_BED else 0.0


def _base_title(way: Way) -> str:
    build_up = way.build_up
    stone = build_up.thickness_of(Material.CRUSHED_STONE)
    treated = build_up.treated
    if treated is not None:
        over = f" under {millimetres(stone)} of stone" if stone else ""
        lime = f"{treated.lime_dose * PERCENT:.3g} % lime, then " if treated.lime_dose else ""
        dose = f"{treated.dose * PERCENT:.3g} % cement"
        return f"{millimetres(treated.thickness)} of soil treated with {lime}{dose}{over}"
    if way.method is Method.SLAB:
        slab = build_up.thickness_of(Material.CONCRETE)
        return f"{millimetres(slab)} concrete slab on {millimetres(stone)} of stone"
    if way.method is Method.SAND_BED:
        sand = build_up.thickness_of(Material.BEDDING_SAND)
        return f"paving on {millimetres(sand)} of sand, no base"
    return f"{millimetres(stone)} of crushed stone"


def way_key(way: Way) -> str:
    """A short label, unique among the ways of an area."""
    parts = [SHORT[way.method]]
    for course in way.build_up.courses:
        if course.material in {Material.CRUSHED_STONE, Material.TREATED_SOIL, Material.CONCRETE}:
            parts.append(f"{course.thickness * MILLI:.0f}")
        if course.dose:
            parts.append(f"{course.dose * PERCENT:g}pc")
    bed = thicker_bed(way)
    return "-".join([*parts, f"bed{bed * MILLI:.0f}"] if bed else parts)


def course_lines(build_up: BuildUp) -> tuple[CourseLine, ...]:
    """The courses as lines of an answer."""
    return tuple(_course_line(course) for course in build_up.courses)


def _course_line(course: Course) -> CourseLine:
    return CourseLine(
        material=course.material.value,
        thickness_mm=round(course.thickness * MILLI, 1),
        dose_percent=round(course.dose * PERCENT, 3),
        lime_percent=round(course.lime_dose * PERCENT, 3),
    )


def chance_words(chance: float, draws: int) -> str:
    """A chance as a person says it."""
    if chance < 1.0 / draws:
        return f"less than 1 in {_round_number(draws - draws % 1000 if draws > 1000 else draws)}"
    if chance >= LIKELY:
        return f"about {chance:.0%}"
    return f"about 1 in {_round_number(1.0 / chance)}"


def target_words(target: float) -> str:
    """A chance put up with, in percent: '10%', '0.5%'."""
    return f"{PERCENT * target:.4g}%"


def failing_words(checks: Iterable[CheckLine]) -> str:
    """The checks that miss their target, each with its chance of failure and what is put up with."""
    return listed(
        [
            f"{check.name} ({check.chance_text} chance of failure, {target_words(check.target)} put up with)"
            for check in checks
            if not check.passes
        ]
    )


def _round_number(count: float) -> str:
    return digits(float(f"{count:.2g}"))


def dose_words(quantities: DoseQuantities, bag_mass: float) -> str:
    """A dose in its four languages."""
    return (
        f"{quantities.dose * PERCENT:.3g} % of dry soil = {quantities.areal_mass:.1f} kg/m² = "
        f"{quantities.spread_thickness * MILLI:.0f} mm of loose cement = "
        f"{quantities.bags_to_buy:.0f} bags of {bag_mass:.0f} kg over "
        f"{quantities.total_mass / quantities.areal_mass:.1f} m²"
    )


CHECK_WORDS = {
    CheckName.BEARING: "carrying the load as found",
    CheckName.SOFTENING: "carrying the load once wet",
    CheckName.CRACKING: "holding together",
    CheckName.RUTTING: "rutting",
    CheckName.SETTLEMENT: "settlement and tilt",
    CheckName.FROST: "frost",
    CheckName.SHRINK_SWELL: "clay moving with the seasons",
    CheckName.DURABILITY: "durability of the treated soil",
    CheckName.DRAINAGE: "drainage",
    CheckName.SUITABILITY: "suitability of the soil",
    CheckName.EDGE: "edges held against wheels",
}
