"""What the build sheet says, leaf by leaf, ready to print."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from difflib import SequenceMatcher
from itertools import pairwise
from typing import TypeVar

from earthfast.estimate import CautionCode
from earthfast.sheets.contents import DEFERS, Doubt, Heading, Picture, heading, picture
from earthfast.sheets.ink import PAPER_SIZES, Box, Paper
from earthfast.sheets.plan import bag_grid, metres, plan
from earthfast.sheets.section import SECTION_WIDTH, ground_depth, section
from earthfast.stages.answers import (
    AreaBuild,
    BayLine,
    BuildAnswer,
    ClockLine,
    CornerLine,
    SafetyLine,
    ShoppingLine,
)
from earthfast.stages.wording import capitalised, failing_words, shared_words

Item = TypeVar("Item")


@dataclass(frozen=True, slots=True)
class Heights:
    """Room for the drawings of an area on the front, mm."""

    section: float
    plan: float


MARGIN, GUTTER = 9.0, 5.0  # mm
# Heights of section and plan, mm
TWO_BUILDS, ONE_BUILD, ONE_AREA, NOTHING_SPREAD = (
    Heights(65.0, 48.0),
    Heights(85.0, 62.0),
    Heights(101.0, 90.0),
    Heights(125.0, 120.0),
)
FEW_BAY_ROWS, FEW_CORNERS = 3, 5  # an area with no more shares a leaf with another
COLUMNS = 3  # of the back
LEAST_TELLING, MOST_TOLD = 0.01, 3
LINE = 3.6  # mm on paper from one line of words to the next
LETTERS, BESIDE_TICK, BESIDE_TWO_TICKS = 46, 40, 34  # in a line of a column
STAR = "*"
BAY_RECORD = ("Bay", "Pin 1, mm", "Pin 2, mm", "Pin 3, mm", "Tray, kg", "Water on at", "Last pass at")
CORNER_RECORD = ("Corner", "Formation, m", "Lifts laid", "Top of base, m", "Finished, m", "Seen by")
PRICES_INVENTED = "* Rests on invented example prices: put your own in before you buy."
ON_THE_DAY = frozenset(
    {
        CautionCode.STOP_AND_ASK,
        CautionCode.VEHICLES_NEED_ENGINEER,
        CautionCode.RUNOFF,
        CautionCode.TOO_HIGH_AT_WALL,
        CautionCode.FOOTING_NEAR,
        CautionCode.ACCESS_TOO_NARROW,
        CautionCode.BINDER_OLD,
        CautionCode.HEAVY_FOR_HAND_MIXING,
        CautionCode.WORKING_WINDOW_SHORT,
        CautionCode.DOSE_QUANTITIES_DISAGREE,
        CautionCode.DOSE_BEYOND_TRIALS,
        CautionCode.LEAN_CONCRETE_TERRITORY,
    }
)  # doubts that the crew can act on; all doubts are on the calculation sheet


@dataclass(frozen=True, slots=True)
class Spread:
    """One binder on a bay: bags, the rectangle that one bag covers, and how thick it lies."""

    bags: str
    square: str
    by_area: str
    thickness: str


@dataclass(frozen=True, slots=True)
class BayRow:
    """Bays that take the same."""

    bays: str
    size: str
    lime: Spread | None
    cement: Spread
    water: str


@dataclass(frozen=True, slots=True)
class CornerRow:
    """Levels at a corner."""

    corner: str
    ground: str
    finished: str
    formation: str
    dig: str


@dataclass(frozen=True, slots=True)
class Instruction:
    """A line of words with a heading."""

    title: str
    words: str


@dataclass(frozen=True, slots=True)
class Plot:
    """One area as it is set out."""

    name: str
    size: str
    plan: Picture
    corners: tuple[CornerRow, ...]
    diagonal: str
    dig: str
    levels: str
    bays: tuple[BayRow, ...]


@dataclass(frozen=True, slots=True)
class Build:
    """Areas built alike: one section, a plan each, and what is done on all of them."""

    names: str
    build_up: str
    method: str
    section: Picture
    plots: tuple[Plot, ...]
    under_section: tuple[Instruction, ...]
    under_plans: tuple[Instruction, ...]
    checks: str
    falls_short: bool


@dataclass(frozen=True, slots=True)
class StepRow:
    """A step with its hold point, and the area where it is not done on all."""

    number: str
    only: str
    step: str
    hold: str


@dataclass(frozen=True, slots=True)
class _Step:
    """A step of the areas that share it."""

    step: str
    hold: str
    areas: tuple[str, ...]

    @property
    def words(self) -> tuple[str, str]:
        """What two areas must share for it to be one step."""
        return self.step, self.hold


@dataclass(frozen=True, slots=True)
class Purchase:
    """A line of the shopping list."""

    item: str
    order: str
    net: str
    spare: str
    price: str


@dataclass(frozen=True, slots=True)
class ClockMark:
    """Working time at an air temperature."""

    air: str
    minutes: str


@dataclass(frozen=True, slots=True)
class Hazard:
    """A usual caution."""

    name: str
    text: str


@dataclass(frozen=True, slots=True)
class Leaf:
    """Front and back of one leaf."""

    builds: tuple[Build, ...]
    shared: tuple[Instruction, ...]
    beyond: str
    has_lime: bool
    record_heads: tuple[str, ...]
    record_rows: tuple[str, ...]
    work: tuple[tuple[StepRow, ...], ...]
    clock: tuple[ClockMark, ...]
    shopping: tuple[Purchase, ...]


@dataclass(frozen=True, slots=True)
class BuildContents:
    """All pages of the build sheet."""

    heading: Heading
    doubts: tuple[Doubt, ...]
    leaves: tuple[Leaf, ...]
    total: str
    shared: str
    prices: str
    hazards: tuple[tuple[Hazard, ...], ...]
    defers: str
    rests: str


def build_contents(answer: BuildAnswer, paper: Paper) -> BuildContents:
    """Say what the crew needs, in the order they need it."""
    hazards = tuple(_hazard(line) for line in answer.safety)
    invented = any(line.price_is_invented for line in answer.shopping)
    return BuildContents(
        heading=heading(answer, "Build sheet", answer.date),
        doubts=tuple(
            Doubt(capitalised(line.text), "") for line in answer.cautions if line.code in ON_THE_DAY
        ),
        leaves=tuple(
            _leaf(areas, number, answer, paper) for number, areas in enumerate(_shared_out(answer.areas))
        ),
        total=f"{answer.total.text}{STAR if invented else ''}",
        shared=shared_words(len(answer.areas)),
        prices=PRICES_INVENTED if invented else "",
        hazards=in_columns(hazards, [lines_of(f"{line.name}. {line.text}") for line in hazards], COLUMNS),
        defers=DEFERS,
        rests=_rests_words(answer),
    )


def _rests_words(answer: BuildAnswer) -> str:
    counts = [
        f"{len(answer.assumptions)} assumed values" if answer.assumptions else "",
        f"{len(answer.cautions)} doubts" if answer.cautions else "",
    ]
    listed = ", ".join([*filter(None, counts), "every check and the sources"])
    return f"What this sheet rests on is on the calculation sheet: {listed}.{_most_telling(answer)}"


def _most_telling(answer: BuildAnswer) -> str:
    """The assumed values that the deciding figures hang on most, with their shares."""
    felt = sorted(
        (line for line in answer.assumptions if (line.effect or 0.0) >= LEAST_TELLING),
        key=lambda line: -(line.effect or 0.0),
    )[:MOST_TOLD]
    told = "; ".join(f"{line.figure.label.partition(' (')[0]}, {line.effect:.0%}" for line in felt)
    return f" Most telling of the assumed values: {told}." if told else ""


def _shared_out(areas: Sequence[AreaBuild]) -> Iterator[tuple[AreaBuild, ...]]:
    """Put two simple areas on a leaf; any other has a leaf of its own."""
    waiting: list[AreaBuild] = []
    for area in areas:
        simple = len(_bay_rows(area.bays)) <= FEW_BAY_ROWS and len(area.corners) <= FEW_CORNERS
        if not simple and waiting:
            yield tuple(waiting)
            waiting = []
        waiting.append(area)
        if not simple or len(waiting) == 2:
            yield tuple(waiting)
            waiting = []
    if waiting:
        yield tuple(waiting)


def _leaf(areas: tuple[AreaBuild, ...], number: int, answer: BuildAnswer, paper: Paper) -> Leaf:
    alike: dict[tuple[object, ...], list[AreaBuild]] = {}
    for area in areas:
        alike.setdefault(_built_as(area), []).append(area)
    width = PAPER_SIZES[paper].width - 2 * MARGIN
    shared = _common(areas) if len(alike) > 1 else ()
    builds = tuple(
        _build(group, width, f"leaf{number}build{place}", shared, _heights(areas, len(alike)))
        for place, group in enumerate(alike.values())
    )
    treated = [(area, bay) for area in areas for bay in _treated(area)]
    at_corners = [f"{capitalised(area.name)} {corner.corner}" for area in areas for corner in area.corners]
    return Leaf(
        builds=builds,
        shared=shared,
        beyond=_beyond_words(areas),
        has_lime=any(bay.lime for _, bay in treated),
        record_heads=BAY_RECORD if treated else CORNER_RECORD,
        record_rows=tuple(f"{capitalised(area.name)} {bay.bay}" for area, bay in treated)
        or tuple(at_corners),
        work=_order_of_work(areas),
        clock=tuple(_clock_mark(line) for line in next((a.clock for a in areas if a.clock), ())),
        shopping=tuple(_purchase(line) for line in answer.shopping) if number == 0 else (),
    )


def _heights(areas: Sequence[AreaBuild], builds: int) -> Heights:
    if builds > 1:
        return TWO_BUILDS
    if len(areas) > 1:
        return ONE_BUILD
    return ONE_AREA if _treated(areas[0]) else NOTHING_SPREAD


def _beyond_words(areas: Sequence[AreaBuild]) -> str:
    """How far the base reaches past the paving, in a sentence."""
    reaches: dict[int, list[str]] = {}
    for area in areas:
        if area.beyond_mm:
            reaches.setdefault(round(area.beyond_mm), []).append(area.name)
    if not reaches:
        return ""
    one = len(reaches) == 1
    listed = " and ".join(
        f"{reach} mm" if one else f"{reach} mm ({', '.join(names)})" for reach, names in reaches.items()
    )
    return f"Corners are those of the paving; dig and base reach {listed} past it on every side."


def _built_as(area: AreaBuild) -> tuple[object, ...]:
    """What two areas must share to be drawn in one section."""
    drawn = (area.title, area.method, area.courses, area.strata, area.water_mm, area.frost_mm)
    return (*drawn, area.mean_dig_mm, round(ground_depth(area)), _words_of(area))


def _build(
    areas: Sequence[AreaBuild], width: float, key: str, shared: Sequence[Instruction], heights: Heights
) -> Build:
    first = areas[0]
    section_box = Box(SECTION_WIDTH, heights.section)
    plan_box = Box(width - SECTION_WIDTH - GUTTER, heights.plan)
    drawn = section(first, section_box, f"{key}section")
    plans = [plan(area, plan_box, f"{key}plan{place}") for place, area in enumerate(areas)]
    below = sum(one.frame.height for one in plans) + LINE * sum(len(area.corners) + 4 for area in areas)
    own = [line for line in _words_of(first) if line not in shared]
    left, right = _under(own, drawn.frame.height, below)
    return Build(
        names=capitalised(" and ".join(area.name for area in areas)),
        build_up=first.title,
        method=first.method,
        section=picture(drawn),
        plots=tuple(_plot(area, picture(one)) for area, one in zip(areas, plans, strict=True)),
        under_section=left,
        under_plans=right,
        checks=_checks_words(areas),
        falls_short=not all(check.passes for area in areas for check in area.checks),
    )


def _under(
    lines: Sequence[Instruction], section_height: float, plans_height: float
) -> tuple[tuple[Instruction, ...], tuple[Instruction, ...]]:
    """Set instructions under the section, the last of them under the plans as long as there is more room."""
    tall = [LINE * lines_of(line.words, LETTERS) for line in lines]
    kept = len(lines)
    while kept and section_height + sum(tall[:kept]) > plans_height + sum(tall[kept - 1 :]):
        kept -= 1
    return tuple(lines[:kept]), tuple(lines[kept:])


def _plot(area: AreaBuild, drawn: Picture) -> Plot:
    treated = _treated(area)
    return Plot(
        name=capitalised(area.name),
        size=f"{area.area_m2:.1f} m²",
        plan=drawn,
        corners=tuple(_corner_row(corner) for corner in area.corners),
        diagonal=metres(area.diagonal_m) if area.diagonal_m else "",
        dig=f"dig {area.mean_dig_mm:.0f} mm on average, {area.dig_volume.text}{_stays(area)}",
        levels=area.levels_words,
        bays=_bay_rows(treated),
    )


def _stays(area: AreaBuild) -> str:
    return f"; kept on the site: {area.stays}" if area.stays else ""


def _treated(area: AreaBuild) -> tuple[BayLine, ...]:
    return tuple(bay for bay in area.bays if bay.binder_kg or bay.lime)


def _words_of(area: AreaBuild) -> tuple[Instruction, ...]:
    lines = (
        ("Dose", area.dose_words),
        ("Till", area.mixing_words),
        ("Water", area.water_words),
        ("Compact", area.compaction_words),
        ("When", area.season_words),
    )
    return tuple(Instruction(title, words) for title, words in lines if words)


def _common(areas: Sequence[AreaBuild]) -> tuple[Instruction, ...]:
    """The instructions that hold for all of the areas."""
    first, *others = (_words_of(area) for area in areas)
    return tuple(line for line in first if all(line in other for other in others))


def _checks_words(areas: Sequence[AreaBuild]) -> str:
    checks = [check for area in areas for check in area.checks]
    if not checks:
        return ""
    weakest = max(checks, key=lambda check: check.chance / check.target)
    met = sum(check.passes for check in checks)
    if met < len(checks):
        missed = "; ".join(
            f"{area.name} fails {failing_words(area.checks)}"
            for area in areas
            if not all(check.passes for check in area.checks)
        )
        return f"Only {met} of {len(checks)} checks meet their target: {missed}."
    return f"{met} of {len(checks)} checks meet their target; nearest to it: {weakest.name}, {weakest.chance_text}."


def _bay_rows(bays: Sequence[BayLine]) -> tuple[BayRow, ...]:
    """One row for each run of bays that take the same."""
    rows: list[BayRow] = []
    names: list[list[str]] = []
    for bay in bays:
        row = _bay_row(bay)
        if rows and rows[-1] == row:
            names[-1].append(bay.bay)
        else:
            rows.append(row)
            names.append([bay.bay])
    return tuple(replace(row, bays=_run(run)) for row, run in zip(rows, names, strict=True))


def _run(names: Sequence[str]) -> str:
    if len(names) == 1:
        return names[0]
    return f"{names[0]} {'and' if len(names) == 2 else 'to'} {names[-1]}, each"


def _bay_row(bay: BayLine) -> BayRow:
    lime = bay.lime
    return BayRow(
        bays="",
        size=f"{bay.length_m:.2f} × {bay.width_m:.2f} m",
        lime=_spread(bay, lime.bags, lime.grid_mm, lime.kg_per_m2, lime.spread_mm) if lime else None,
        cement=_spread(bay, bay.bags, bay.grid_mm, bay.spread_kg_per_m2, bay.spread_mm),
        water=f"{bay.water_l:.0f} L" if bay.water_l else "none",
    )


def _spread(bay: BayLine, bags: str, grid_mm: float, kg_per_m2: float, thickness_mm: float) -> Spread:
    grid = bag_grid(bay, grid_mm)
    return Spread(
        bags or "none",
        f"one bag to {grid.length:.2f} × {grid.width:.2f} m" if grid else "",
        f"{kg_per_m2:.1f} kg/m²" if kg_per_m2 else "",
        f"{thickness_mm:.0f} mm" if thickness_mm else "",
    )


def _corner_row(corner: CornerLine) -> CornerRow:
    return CornerRow(
        corner.corner,
        level_words(corner.ground_m),
        level_words(corner.finished_m),
        level_words(corner.formation_m),
        f"{corner.dig_mm:.0f}",
    )


def level_words(level: float) -> str:
    """A level relative to the datum, m, with its sign."""
    rounded = round(level, 3)
    sign = "+" if rounded > 0 else "−" if rounded < 0 else "±"
    return f"{sign}{abs(rounded):.3f}"


def _order_of_work(areas: Sequence[AreaBuild]) -> tuple[tuple[StepRow, ...], ...]:
    """One order of work for all areas of a leaf, in columns; a step that is not done on all names its area."""
    merged: list[_Step] = []
    for area in areas:
        merged = _merged(merged, [_Step(step.step, step.hold, (area.name,)) for step in area.steps])
    rows = [
        StepRow(
            number=str(number),
            only="" if len(step.areas) == len(areas) else capitalised(" and ".join(step.areas)),
            step=step.step,
            hold=step.hold,
        )
        for number, step in enumerate(merged, start=1)
    ]
    sizes = [
        lines_of(f"{row.only} {row.step}", BESIDE_TICK) + lines_of(row.hold, BESIDE_TWO_TICKS) for row in rows
    ]
    return in_columns(rows, sizes, COLUMNS)


def _merged(before: Sequence[_Step], after: Sequence[_Step]) -> list[_Step]:
    """Two orders of work as one that keeps the order of both; what they share stands once."""
    shared = SequenceMatcher(
        a=[step.words for step in before], b=[step.words for step in after], autojunk=False
    )
    merged: list[_Step] = []
    for _, start, end, other_start, other_end in shared.get_opcodes():
        if [step.words for step in before[start:end]] == [
            step.words for step in after[other_start:other_end]
        ]:
            pairs = zip(before[start:end], after[other_start:other_end], strict=True)
            merged += [replace(one, areas=(*one.areas, *other.areas)) for one, other in pairs]
        else:
            merged += [*before[start:end], *after[other_start:other_end]]
    return merged


def lines_of(words: str, letters: int = LETTERS) -> float:
    """About how many lines words take in a column of the back, with the gap after them; none take none."""
    return math.ceil(len(words) / letters) + 0.6 if words else 0.0


def in_columns(items: Sequence[Item], sizes: Sequence[float], count: int) -> tuple[tuple[Item, ...], ...]:
    """Share items out to columns in their order, so that the columns are filled as evenly as whole items allow."""
    total, ends, filled = sum(sizes), [0], 0.0
    for place, size in enumerate(sizes):
        if filled + size / 2 > total * len(ends) / count:
            ends.append(place)
        filled += size
    ends += [len(items)] * (count + 1 - len(ends))
    return tuple(tuple(items[start:end]) for start, end in pairwise(ends))


def _purchase(line: ShoppingLine) -> Purchase:
    waste = f", {line.waste_percent:g} % waste" if line.waste_percent else ""
    price = f"{line.price.text}{STAR if line.price_is_invented else ''}" if line.price else ""
    return Purchase(line.item, line.order, f"{line.net}{waste}", line.spare, price)


def _clock_mark(line: ClockLine) -> ClockMark:
    hours, minutes = divmod(round(line.minutes), 60)
    return ClockMark(f"{line.air_c:.0f} °C", f"{hours} h {minutes:02d}" if hours else f"{minutes} min")


def _hazard(line: SafetyLine) -> Hazard:
    return Hazard(capitalised(line.hazard), line.text)
