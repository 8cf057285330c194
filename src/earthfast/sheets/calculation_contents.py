"""What the calculation sheet says, check by check, ready to print."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from pydantic import Field

from earthfast.sheets.chances import chance_strip
from earthfast.sheets.contents import (
    Heading,
    Picture,
    SmallPrint,
    heading,
    picture,
    small_print,
    source_marks,
)
from earthfast.sheets.ink import PAPER_SIZES, Box, Paper
from earthfast.sheets.section import SECTION_WIDTH, ground_depth, section
from earthfast.sheets.strip_log import boundaries_words, rows_of_strips, strip_log, strips_in
from earthfast.stages.answers import (
    BuildAnswer,
    CheckLine,
    Figure,
    InfluenceLine,
    Part,
    SourceLine,
    TrailStep,
)
from earthfast.stages.showing import digits

MARGIN, GUTTER = 12.0, 4.0  # mm
SECTION_HEIGHT = 101.0  # mm
WORKED = (
    "Medians do not combine into medians. The last column gives every figure in one draw, number {draw:,}, which lies in the "
    "middle of the weakest check: with those figures the formulas can be worked by hand, save heat flow, stress in layers "
    "and the strength of treated soil, which take a solver or a fit."
)


class CalculationCheck(Part):
    """One check of one area with the trail of its figures."""

    area: str
    way: str = Field(description="Title of the way that is checked.")
    check: CheckLine
    steps: tuple[TrailStep, ...] = Field(description="As `why` gives them: the figure first.")
    influences: tuple[InfluenceLine, ...] = ()
    draw: int = Field(default=1, description="Number of the draw that the examples are of.")


@dataclass(frozen=True, slots=True)
class InputRow:
    """An input of a formula, with the number of the figure that says more of it, or where it comes from."""

    label: str
    figure: str
    example: str
    step: str
    origin: str


@dataclass(frozen=True, slots=True)
class StepEntry:
    """One figure with its formula, inputs, result and sources."""

    number: str
    label: str
    result: str
    example: str
    origin: str
    relation: str
    formula: str
    formula_at: str
    because: str
    inputs: tuple[InputRow, ...]
    sources: str


@dataclass(frozen=True, slots=True)
class CheckEntry:
    """One check as printed."""

    number: str
    name: str
    question: str
    demand: str
    capacity: str
    chance: str
    target: str
    verdict: str
    passes: bool
    governed_by: str
    sentence: str
    steps: tuple[StepEntry, ...]
    shown_before: str
    influences: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CalculatedArea:
    """All checks of one area."""

    name: str
    way: str
    strip: Picture
    worked: str
    checks: tuple[CheckEntry, ...]


@dataclass(frozen=True, slots=True)
class DepthRow:
    """All soundings together between two depths."""

    depth: str
    soundings: str
    median: str
    spread: str
    cbr: str


@dataclass(frozen=True, slots=True)
class SoundingsEntry:
    """Cone soundings beside the section of the first area."""

    section: Picture
    area: str
    beside: Picture
    under: tuple[Picture, ...]
    words: str
    by_depth: tuple[DepthRow, ...]


@dataclass(frozen=True, slots=True)
class CalculationContents:
    """All pages of the calculation sheet."""

    heading: Heading
    soundings: SoundingsEntry | None
    areas: tuple[CalculatedArea, ...]
    small_print: SmallPrint


def calculation_contents(
    answer: BuildAnswer, checks: Sequence[CalculationCheck], paper: Paper
) -> CalculationContents:
    """Say what the checking engineer needs to follow every check."""
    width = PAPER_SIZES[paper].width - 2 * MARGIN
    cited = [source for check in checks for step in check.steps for source in step.sources]
    assumed = [
        source
        for line in sorted(answer.assumptions, key=lambda line: -(line.effect or 0.0))
        for source in line.sources
    ]
    marks = source_marks([*assumed, *cited])
    places = list(dict.fromkeys((check.area, check.way) for check in checks))
    formulas: dict[tuple[str, str], str] = {}
    areas = []
    for number, (area, way) in enumerate(places, start=1):
        mine = [check for check in checks if (check.area, check.way) == (area, way)]
        strip = picture(chance_strip([check.check for check in mine], width, f"area{number}chances"))
        printing = _Printing(marks, formulas)
        entries = tuple(
            _entry(check, f"{number}.{place}", printing) for place, check in enumerate(mine, start=1)
        )
        worked = WORKED.format(draw=mine[0].draw)
        areas.append(CalculatedArea(area[:1].upper() + area[1:], way, strip, worked, entries))
    return CalculationContents(
        heading(answer, "Calculation sheet"),
        _soundings(answer, width),
        tuple(areas),
        small_print(answer, cited),
    )


def _soundings(answer: BuildAnswer, width: float) -> SoundingsEntry | None:
    """The soundings at the depth scale of the first area's section, as many beside it as there is room for."""
    found = answer.soundings
    if found is None or not answer.areas:
        return None
    area = answer.areas[0]
    drawn = section(area, Box(SECTION_WIDTH, SECTION_HEIGHT), "soundingssection")
    room, today = width - SECTION_WIDTH - GUTTER, ground_depth(area)
    rows = rows_of_strips(len(found.soundings), strips_in(room), strips_in(width))
    first, *further = (
        picture(strip_log(found, row, today, drawn.scale, width if place else room, f"strips{place}"))
        for place, row in enumerate(rows)
    )
    return SoundingsEntry(
        section=picture(drawn),
        area=area.name,
        beside=first,
        under=tuple(further),
        words=boundaries_words(found),
        by_depth=tuple(
            DepthRow(
                f"{line.top_mm:.0f} to {line.bottom_mm:.0f}",
                str(line.soundings),
                f"{line.mm_per_blow:.0f}",
                f"{line.least_mm_per_blow:.0f} to {line.most_mm_per_blow:.0f}",
                f"{digits(line.cbr_percent)} %",
            )
            for line in found.by_depth
        ),
    )


@dataclass(frozen=True, slots=True)
class _Printing:
    """What an area has printed so far: numbers by key and by what a reader sees; and of all areas formulas with sources."""

    marks: dict[SourceLine, str]
    formulas: dict[tuple[str, str], str]
    by_key: dict[str, str] = field(default_factory=dict)
    by_face: dict[tuple[str, str, str], str] = field(default_factory=dict)

    def knows(self, step: TrailStep) -> bool:
        """Whether the figure, or one that looks the same, is printed; if so it goes by that number."""
        number = self.by_key.get(step.figure.key) or self.by_face.get(_face(step))
        if number is not None:
            self.by_key[step.figure.key] = number
        return number is not None

    def enter(self, step: TrailStep, number: str) -> None:
        """Give a figure its number."""
        self.by_key[step.figure.key] = number
        self.by_face[_face(step)] = number

    def cited(self, step: TrailStep) -> str:
        """Marks of the sources of a figure."""
        return ", ".join(dict.fromkeys(self.marks[source] for source in step.sources))


def _face(step: TrailStep) -> tuple[str, str, str]:
    return step.figure.label, step.figure.text, step.example


def _entry(entry: CalculationCheck, number: str, printing: _Printing) -> CheckEntry:
    """Print a check; a figure printed under an earlier check of the area is referred to by its number."""
    check = entry.check
    fresh = []
    for step in entry.steps:
        own = step.figure.key == check.key
        if step.inputs and (own or not printing.knows(step)):
            fresh.append(step)
            printing.enter(step, f"{number}.{len(fresh)}")
    known = {step.figure.key: step for step in entry.steps}
    steps = [_step(step, known, printing) for step in fresh]
    if fresh and fresh[0].figure.key == check.key:
        steps[0] = replace(steps[0], result=check.chance_text, example="")
    first = entry.steps[0].figure if entry.steps else None
    return CheckEntry(
        number=number,
        name=check.name,
        question=check.question,
        demand=check.demand.text,
        capacity=check.capacity.text,
        chance=check.chance_text,
        target=chance_words(check.target),
        verdict="meets its target" if check.passes else "misses its target",
        passes=check.passes,
        governed_by="" if check.governed_by in check.sentence else check.governed_by,
        sentence=check.sentence,
        steps=tuple(steps),
        shown_before="" if fresh or first is None else printing.by_key[first.key],
        influences=tuple(_influence(line) for line in entry.influences),
    )


def _step(step: TrailStep, known: dict[str, TrailStep], printing: _Printing) -> StepEntry:
    number = printing.by_key[step.figure.key]
    sources = printing.cited(step)
    first = printing.formulas.setdefault((step.formula, sources), number)
    told_there = first != number and not step.because
    return StepEntry(
        number=number,
        label=step.figure.label,
        result=step.figure.text,
        example=step.example,
        origin="" if told_there else step.origin,
        relation=step.relation if first == number else "",
        formula=step.formula if first == number else "",
        formula_at="" if first == number else first,
        because=step.because,
        inputs=tuple(_row(one, known.get(one.key), number, printing) for one in step.inputs),
        sources="" if told_there else sources,
    )


def _row(one: Figure, step: TrailStep | None, number: str, printing: _Printing) -> InputRow:
    """An input; of one that was not worked out, where it comes from, the first time."""
    if step is None or printing.knows(step):
        example = "" if step is None else step.example
        return InputRow(one.label, one.text, example, printing.by_key.get(one.key, ""), "")
    printing.enter(step, number)
    sources = printing.cited(step)
    words = [f"{step.origin}: {step.because}" if step.because else step.origin]
    origin = " · ".join([*words, *([f"source {sources}"] if sources else [])])
    return InputRow(one.label, one.text, step.example, "", origin)


def _influence(line: InfluenceLine) -> str:
    way = "raises" if line.rising else "lowers"
    return f"{line.figure.label} {line.share:.0%} ({way} it)"


def chance_words(chance: float) -> str:
    """A target chance in words: '1 in 20'."""
    return f"1 in {round(1.0 / chance)}"
