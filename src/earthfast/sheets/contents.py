"""What every sheet says besides its figures: heading, doubts, assumptions, sources."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from earthfast.sheets.drawing import Drawing
from earthfast.sources import bibliography
from earthfast.stages.answers import Answer, AssumptionLine, SourceLine
from earthfast.stages.showing import NO_DOCUMENT, source_place
from earthfast.stages.wording import capitalised

INVENTED = "Demonstration: the figures on this sheet are invented. Do not build from it."
DEFERS = (
    "Margins and chances, not promises. Local codes and licensed practice come first: near buildings, "
    "retaining walls, slopes, trees, buried services, watercourses, contaminated or filled ground, and for "
    "anything that carries vehicles or can hurt someone if it fails, ask a licensed engineer."
)


@dataclass(frozen=True, slots=True)
class Heading:
    """The head of a sheet."""

    sheet: str
    job: str
    headline: str
    version: str
    dated: str
    invented: str


@dataclass(frozen=True, slots=True)
class Doubt:
    """A caution as printed."""

    text: str
    where: str


@dataclass(frozen=True, slots=True)
class Assumed:
    """An assumption as printed."""

    label: str
    figure: str
    because: str
    effect: str
    source: str


@dataclass(frozen=True, slots=True)
class Cited:
    """A source as printed: its mark on the sheet, and the document or what was taken without one."""

    mark: str
    citation: str


@dataclass(frozen=True, slots=True)
class SourceGroup:
    """Sources that came to us in one way, which is said once."""

    words: str
    cited: tuple[Cited, ...]


@dataclass(frozen=True, slots=True)
class SmallPrint:
    """What stands at the end of every sheet."""

    doubts: tuple[Doubt, ...]
    assumed: tuple[Assumed, ...]
    sources: tuple[SourceGroup, ...]
    also: tuple[str, ...]
    defers: str


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing as placed on a sheet."""

    svg: str
    width_mm: float
    title: str
    scale: str


def picture(drawing: Drawing) -> Picture:
    """Put a drawing on a sheet at the size it was drawn for."""
    return Picture(drawing.svg(), drawing.frame.width, drawing.title, drawing.scale_words)


def heading(answer: Answer, sheet: str, dated: str = "") -> Heading:
    """Head a sheet with the job's name and the answer in a sentence."""
    return Heading(
        sheet,
        answer.job,
        answer.headline,
        f"Earthfast {answer.earthfast}",
        dated,
        INVENTED if answer.demonstration else "",
    )


def small_print(
    answer: Answer, more_sources: Iterable[SourceLine] = (), named: Iterable[str] = ()
) -> SmallPrint:
    """List an answer's doubts, assumptions and sources; assumptions that matter most come first.

    Sources that are only named, as cautions name them, are listed unnumbered.
    """
    only_named = [*(line.source for line in answer.cautions), *named]
    assumptions = sorted(answer.assumptions, key=lambda line: -(line.effect or 0.0))
    sources = [source for line in assumptions for source in line.sources]
    marks = source_marks([*sources, *more_sources])
    return SmallPrint(
        tuple(Doubt(line.text, line.where) for line in answer.cautions),
        _told_together([_assumed(line, marks) for line in assumptions]),
        _grouped(marks),
        tuple(dict.fromkeys(named_source(name) for name in only_named if name)),
        DEFERS,
    )


def source_marks(sources: Iterable[SourceLine]) -> dict[SourceLine, str]:
    """Number the sources in the order they are met."""
    return {source: str(number) for number, source in enumerate(dict.fromkeys(sources), start=1)}


def _grouped(marks: dict[SourceLine, str]) -> tuple[SourceGroup, ...]:
    """The sources under the words of how they came to us."""
    groups: dict[str, list[Cited]] = {}
    for source, mark in marks.items():
        groups.setdefault(source.words, []).append(Cited(mark, _citation(source)))
    return tuple(SourceGroup(capitalised(words), tuple(cited)) for words, cited in groups.items())


def _citation(source: SourceLine) -> str:
    """The document and the place in it; the place alone where there is no document."""
    place, citation = source_place(source), source.citation.rstrip(".")
    if place and source.key in NO_DOCUMENT:
        return place
    return f"{citation}, {place}" if place else citation


def named_source(name: str) -> str:
    """Give the document that a caution's source names, or its own words where it names none."""
    key = re.split("[,;]", name, maxsplit=1)[0]
    reference = bibliography().get(key.strip())
    return f"{reference.citation.rstrip('.')}{name.removeprefix(key)}" if reference else name


def _assumed(line: AssumptionLine, marks: dict[SourceLine, str]) -> Assumed:
    effect = f"{line.effect:.0%}" if line.effect is not None else ""
    source = ", ".join(marks[source] for source in line.sources)
    return Assumed(line.figure.label, line.figure.text, line.because, effect, source)


def _told_together(lines: Sequence[Assumed]) -> tuple[Assumed, ...]:
    """Lines that differ only in what follows the colon of their label, as one: 'chance put up with: frost, rutting'."""
    groups: dict[tuple[str, ...], list[str]] = {}
    for line in lines:
        name, _, what = line.label.partition(": ")
        groups.setdefault((name, line.figure, line.because, line.effect, line.source), []).append(what)
    return tuple(
        Assumed(f"{name}: {', '.join(whats)}" if all(whats) else name, *rest)
        for (name, *rest), whats in groups.items()
    )
