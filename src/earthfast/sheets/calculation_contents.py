"""What the calculation sheet says, check by check, ready to print."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

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
from earthfast.sheets.ink import PAPER_SIZES, Paper
from earthfast.stages.answers import Answer, CheckLine, InfluenceLine, Part, SourceLine, TrailStep

MARGIN = 12.0  # mm
WORKED = (
    "Medians do not combine into medians. The last column gives every figure in one draw, number {draw:,}, which lies in the "
    "middle of the weakest check: with those figures each formula can be worked by hand."
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
    """An input of a formula."""

    label: str
    figure: str
    example: str
    step: str


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
    shown_before: tuple[str, ...]
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
class CalculationContents:
    """All pages of the calculation sheet."""

    heading: Heading
    areas: tuple[CalculatedArea, ...]
    small_print: SmallPrint


def calculation_contents(
    answer: Answer, checks: Sequence[CalculationCheck], paper: Paper
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
    areas = []
    for number, (area, way) in enumerate(places, start=1):
        mine = [check for check in checks if (check.area, check.way) == (area, way)]
        strip = picture(chance_strip([check.check for check in mine], width, f"area{number}chances"))
        numbers: dict[str, str] = {}
        entries = tuple(
            _entry(check, f"{number}.{place}", numbers, marks) for place, check in enumerate(mine, start=1)
        )
        worked = WORKED.format(draw=mine[0].draw)
        areas.append(CalculatedArea(area[:1].upper() + area[1:], way, strip, worked, entries))
    return CalculationContents(heading(answer, "Calculation sheet"), tuple(areas), small_print(answer, cited))


def _entry(
    entry: CalculationCheck, number: str, numbers: dict[str, str], marks: dict[SourceLine, str]
) -> CheckEntry:
    """Print a check; a figure printed under an earlier check of the area is referred to by its number."""
    check = entry.check
    fresh = [step for step in entry.steps if step.figure.key not in numbers]
    seen = [step for step in entry.steps if step.figure.key in numbers]
    numbers |= {step.figure.key: f"{number}.{place}" for place, step in enumerate(fresh, start=1)}
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
        steps=_steps(fresh, entry, numbers, marks),
        shown_before=tuple(f"{step.figure.label} ({numbers[step.figure.key]})" for step in seen),
        influences=tuple(_influence(line) for line in entry.influences),
    )


def _steps(
    fresh: Sequence[TrailStep], entry: CalculationCheck, numbers: dict[str, str], marks: dict[SourceLine, str]
) -> tuple[StepEntry, ...]:
    """Print figures; the chance, which comes first, in the words of the check."""
    there = {step.figure.key: step.example for step in entry.steps}
    printed = [_step(step, there, numbers, marks) for step in fresh]
    if fresh and fresh[0].figure.key == entry.check.key:
        printed[0] = replace(printed[0], result=entry.check.chance_text, example="")
    return tuple(printed)


def _step(
    step: TrailStep, there: dict[str, str], numbers: dict[str, str], marks: dict[SourceLine, str]
) -> StepEntry:
    return StepEntry(
        number=numbers[step.figure.key],
        label=step.figure.label,
        result=step.figure.text,
        example=step.example,
        origin=step.origin,
        relation=step.relation,
        formula=step.formula,
        because=step.because,
        inputs=tuple(
            InputRow(one.label, one.text, there.get(one.key, ""), numbers.get(one.key, ""))
            for one in step.inputs
        ),
        sources=", ".join(dict.fromkeys(marks[source] for source in step.sources)),
    )


def _influence(line: InfluenceLine) -> str:
    way = "raises" if line.rising else "lowers"
    return f"{line.figure.label} {line.share:.0%} ({way} it)"


def chance_words(chance: float) -> str:
    """A target chance in words: '1 in 20'."""
    return f"1 in {round(1.0 / chance)}"
