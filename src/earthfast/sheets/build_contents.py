"""What the build sheet says, page by page, ready to print."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from earthfast.sheets.contents import Heading, Picture, SmallPrint, heading, picture, small_print
from earthfast.sheets.ink import PAPER_SIZES, Box, Paper
from earthfast.sheets.plan import bag_grid, metres, plan
from earthfast.sheets.section import SECTION_WIDTH, section
from earthfast.stages.answers import (
    AreaBuild,
    BayLine,
    BuildAnswer,
    ClockLine,
    CornerLine,
    SafetyLine,
    ShoppingLine,
    StepLine,
)

MARGIN, GUTTER = 9.0, 5.0  # mm
HEAD, FOOT = 21.0, 6.0  # mm, heading and foot of a page
TITLE = 11.0  # mm, title of an area's panel
PLAN_SHARE = 0.53  # of a panel's height
INSTRUCTIONS = 26.0  # mm, under the section
FEW_BAY_ROWS, FEW_CORNERS = 3, 5  # an area with no more shares a page with another


@dataclass(frozen=True, slots=True)
class BayRow:
    """Bays that take the same."""

    bays: str
    size: str
    bags: str
    lime: str
    square: str
    spread: str
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
class Panel:
    """One area on the front of the sheet."""

    name: str
    build_up: str
    method: str
    size: str
    section: Picture
    plan: Picture
    bays: tuple[BayRow, ...]
    has_lime: bool
    bags: str
    bay_names: tuple[str, ...]
    corners: tuple[CornerRow, ...]
    dig: str
    dig_volume: str
    diagonal: str
    instructions: tuple[Instruction, ...]
    checks: str


@dataclass(frozen=True, slots=True)
class StepRow:
    """A step with its hold point."""

    number: str
    step: str
    hold: str


@dataclass(frozen=True, slots=True)
class WorkOrder:
    """The order of work of the areas that share it, set in two columns where it stands alone."""

    areas: str
    steps: tuple[StepRow, ...]
    first_column: int


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
class Pair:
    """Front and back of one leaf."""

    panels: tuple[Panel, ...]
    panel_height_mm: float
    work_orders: tuple[WorkOrder, ...]
    clock: tuple[ClockMark, ...]
    shopping: tuple[Purchase, ...]


@dataclass(frozen=True, slots=True)
class BuildContents:
    """All pages of the build sheet."""

    heading: Heading
    pairs: tuple[Pair, ...]
    total: str
    hazards: tuple[Hazard, ...]
    hazards_first_column: int
    small_print: SmallPrint


def build_contents(answer: BuildAnswer, paper: Paper) -> BuildContents:
    """Say what the crew needs, in the order they need it."""
    pairs = tuple(_pair(areas, number, answer, paper) for number, areas in enumerate(_leaves(answer.areas)))
    return BuildContents(
        heading(answer, "Build sheet", answer.date),
        pairs,
        answer.total.text,
        tuple(_hazard(line) for line in answer.safety),
        half([len(line.hazard) + len(line.text) for line in answer.safety]),
        small_print(answer, named=[line.source for line in answer.safety]),
    )


def _leaves(areas: Sequence[AreaBuild]) -> Iterator[tuple[AreaBuild, ...]]:
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


def _pair(areas: tuple[AreaBuild, ...], number: int, answer: BuildAnswer, paper: Paper) -> Pair:
    size = PAPER_SIZES[paper]
    height = (size.height - 2 * MARGIN - HEAD - FOOT - GUTTER * (len(areas) - 1)) / len(areas)
    panels = tuple(
        _panel(area, Box(size.width - 2 * MARGIN, height), f"leaf{number}area{place}")
        for place, area in enumerate(areas)
    )
    clock = next((area.clock for area in areas if area.clock), ())
    shopping = tuple(_purchase(line) for line in answer.shopping) if number == 0 else ()
    return Pair(panels, height, _work_orders(areas), tuple(_clock_mark(line) for line in clock), shopping)


def _panel(area: AreaBuild, box: Box, key: str) -> Panel:
    beside = Box(box.width - SECTION_WIDTH - GUTTER, (box.height - TITLE) * PLAN_SHARE)
    section_box = Box(SECTION_WIDTH, box.height - TITLE - INSTRUCTIONS)
    treated = tuple(bay for bay in area.bays if bay.binder_kg or bay.lime_kg)
    return Panel(
        name=area.name[:1].upper() + area.name[1:],
        build_up=area.title,
        method=area.method,
        size=f"{area.area_m2:.1f} m²",
        section=picture(section(area, section_box, f"{key}section")),
        plan=picture(plan(area, beside, f"{key}plan")),
        bays=_bay_rows(treated),
        has_lime=any(bay.lime_kg for bay in treated),
        bags="Bag filled: whole; open: part." if any(bay.grid_mm for bay in treated) else "",
        bay_names=tuple(bay.bay for bay in treated),
        corners=tuple(_corner_row(corner) for corner in area.corners),
        dig=f"{area.mean_dig_mm:.0f} mm",
        dig_volume=area.dig_volume.text,
        diagonal=metres(area.diagonal_m) if area.diagonal_m else "",
        instructions=_instructions(area),
        checks=_checks_words(area),
    )


def _instructions(area: AreaBuild) -> tuple[Instruction, ...]:
    lines = (
        ("Dose", area.dose_words),
        ("Till", area.mixing_words),
        ("Water", area.water_words),
        ("Compact", area.compaction_words),
        ("When", area.season_words),
    )
    return tuple(Instruction(title, words) for title, words in lines if words)


def _checks_words(area: AreaBuild) -> str:
    if not area.checks:
        return ""
    weakest = max(area.checks, key=lambda check: check.chance / check.target)
    met = sum(check.passes for check in area.checks)
    return (
        f"{met} of {len(area.checks)} checks meet their target; "
        f"nearest to it: {weakest.name}, {weakest.chance_text}."
    )


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
    grid = bag_grid(bay)
    return BayRow(
        bays="",
        size=f"{bay.length_m:.2f} × {bay.width_m:.2f} m",
        bags=bay.bags or "none",
        lime=f"{bay.lime_kg:.0f} kg" if bay.lime_kg else "",
        square=f"{grid.length:.2f} × {grid.width:.2f} m" if grid else "",
        spread=f"{bay.spread_mm:.0f} mm" if bay.spread_mm else "",
        water=f"{bay.water_l:.0f} l" if bay.water_l else "",
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


def _work_orders(areas: Sequence[AreaBuild]) -> tuple[WorkOrder, ...]:
    shared: dict[tuple[StepLine, ...], list[str]] = {}
    for area in areas:
        shared.setdefault(area.steps, []).append(area.name)
    return tuple(_work_order(steps, names) for steps, names in shared.items())


def _work_order(steps: Sequence[StepLine], names: Sequence[str]) -> WorkOrder:
    rows = tuple(StepRow(str(step.number), step.step, step.hold) for step in steps)
    sizes = [len(row.step) + 45 + (len(row.hold) + 45 if row.hold else 0) for row in rows]
    return WorkOrder(" and ".join(names), rows, half(sizes))


def half(sizes: Sequence[int]) -> int:
    """How many of the first items fill half of two columns most evenly."""
    total = sum(sizes)
    return min(range(len(sizes) + 1), key=lambda count: abs(total - 2 * sum(sizes[:count])))


def _purchase(line: ShoppingLine) -> Purchase:
    waste = f", {line.waste_percent:g} % waste" if line.waste_percent else ""
    return Purchase(
        line.item, line.order, f"{line.net}{waste}", line.spare, line.price.text if line.price else ""
    )


def _clock_mark(line: ClockLine) -> ClockMark:
    hours, minutes = divmod(round(line.minutes), 60)
    return ClockMark(f"{line.air_c:.0f} °C", f"{hours} h {minutes:02d}" if hours else f"{minutes} min")


def _hazard(line: SafetyLine) -> Hazard:
    return Hazard(line.hazard[:1].upper() + line.hazard[1:], line.text)
