"""Figures of the trail as a person sees them: one conversion on the way out, and no more digits than help."""

from __future__ import annotations

import math

from earthfast.estimate import Caution, Origin, Traced, Trail
from earthfast.job.units import shown
from earthfast.sources import SourceNote, bibliography
from earthfast.stages.answers import AssumptionLine, CautionLine, Figure, SourceLine

FACTORS = {
    ("-", "%"): 100.0,
    ("m²/(K s)", "mm²/(K day)"): 1e6 * 86400.0,
    ("m²/N", "m²/MN"): 1e6,
    ("N/m³", "kN/m³"): 1e-3,
    ("N/m", "kN/m"): 1e-3,
    ("N·m", "kN·m"): 1e-3,
    ("m/s", "mm/day"): 1e3 * 86400.0,
    ("K s/m", "K day/m"): 1.0 / 86400.0,
}
COUNTED = {"trips", "years", "specimens"}
NO_DOCUMENT = frozenset({"earthfast_proposal", "from_memory", "common_practice"})  # keys of the bibliography
CHANCE = ".chance"  # how the keys of chances end
NOTHING = 1e-9  # what rounding leaves of nought
CURRENCIES = {"GBP": "£", "EUR": "€", "USD": "$", "AUD": "A$"}


def digits(value: float, scale: float | None = None, figures: int = 2) -> str:
    """A number rounded for reading, to so many significant figures of the scale, which is the value if not given."""
    size = abs(value) if scale is None else abs(scale)
    if size < NOTHING:
        return "0"
    places = max(0, figures - 1 - math.floor(math.log10(size)))
    text = f"{value:,.{places}f}"
    return "0" if text.strip("-0.") == "" else text


def money(value: float) -> str:
    """An amount of money as a buyer writes it: whole above ten, with its hundredths below."""
    return f"{value:,.2f}" if 0.0 < abs(value) < 10.0 else f"{value:,.0f}"


def in_shown_unit(value: float, unit: str, shown_in: str) -> float:
    """An SI value in the unit it is shown in."""
    if unit == shown_in:
        return value
    if (unit, shown_in) in FACTORS:
        return value * FACTORS[unit, shown_in]
    return float(shown(value, shown_in))


def money_words(amount: float, currency: str) -> str:
    """An amount with the sign of its currency: '£248', '£0.38', or that there is none."""
    return with_unit(money(amount), currency) if amount else "no money"


def with_unit(number: str, unit: str) -> str:
    """A number already written, with its unit or before it the sign of its currency."""
    if unit in CURRENCIES:
        return CURRENCIES[unit] + number
    if unit == "-":
        return number
    return f"{number} {unit}"


def figure(traced: Traced) -> Figure:
    """One figure of the trail, ready to be read."""
    unit = traced.meaning.shown_in
    low, centre, high = (in_shown_unit(value, traced.meaning.unit, unit) for value in traced.low_centre_high)
    if unit in CURRENCIES:
        band = f" ({money(low)} to {money(high)})" if traced.is_spread else ""
        text = with_unit(money(centre), unit) + band
    elif traced.is_spread:
        crosses = low < 0.0 < high
        scale = max(abs(low), abs(high)) if crosses else None
        middle, ends = digits(centre, scale), (digits(low, scale), digits(high, scale))
        band = "" if ends == (middle, middle) else f" ({ends[0]} to {ends[1]})"
        text = f"{with_unit(middle, unit)}{band}"
    elif traced.key.endswith(CHANCE) and centre == 0.0:
        text = "no draw fails"
    elif unit in COUNTED:
        number = f"{centre:,.0f}"
        text = with_unit(number, unit.removesuffix("s") if number == "1" else unit)
    else:
        text = with_unit(digits(centre), unit)
    return Figure(
        key=traced.key,
        label=traced.meaning.label,
        value=centre,
        low=low if traced.is_spread else None,
        high=high if traced.is_spread else None,
        unit="" if unit == "-" else unit,
        text=text,
    )


def example(traced: Traced, draw: int) -> str:
    """A figure in one draw, with four digits, so that a formula can be worked by hand."""
    unit = traced.meaning.shown_in
    value = in_shown_unit(traced.in_draw(draw), traced.meaning.unit, unit)
    return with_unit(digits(value, figures=4), unit)


def source_lines(notes: tuple[SourceNote, ...]) -> tuple[SourceLine, ...]:
    """Sources with their documents named."""
    known = bibliography()
    return tuple(
        SourceLine(
            key=note.key,
            place=note.place,
            status=note.status.value,
            words=note.status.words,
            citation=known[note.key].citation if note.key in known else note.key,
        )
        for note in notes
    )


def source_place(source: SourceLine) -> str:
    """Where in its document a source stands, without repeating the document's key."""
    return source.place.removeprefix(f"{source.key}, ")


def source_words(source: SourceLine) -> str:
    """A source in a line; how it came to us is said once."""
    place = source_place(source)
    if source.key in NO_DOCUMENT:
        return f"{source.words}: {place}" if place else source.words
    citation = source.citation.rstrip(".")
    return f"{citation}, {place} ({source.words})" if place else f"{citation} ({source.words})"


def caution_lines(cautions: tuple[Caution, ...]) -> tuple[CautionLine, ...]:
    """Cautions as lines, each said once."""
    lines = dict.fromkeys((c.code.value, c.text, c.where, c.source) for c in cautions)
    return tuple(CautionLine(code=c, text=t, where=w, source=s) for c, t, w, s in lines)


def assumption_lines(trail: Trail, effects: dict[str, float], kept: set[str]) -> tuple[AssumptionLine, ...]:
    """Everything assumed among the figures kept, the most telling first, each said once."""
    lines: dict[tuple[str, str], AssumptionLine] = {}
    for key, traced in trail.figures.items():
        if traced.origin is not Origin.ASSUMED or key not in kept:
            continue
        line = AssumptionLine(
            figure=figure(traced),
            because=traced.because,
            sources=source_lines(traced.sources),
            effect=effects.get(key),
        )
        name = (line.figure.label, line.figure.text)
        if name not in lines or (line.effect or 0.0) > (lines[name].effect or 0.0):
            lines[name] = line
    return tuple(sorted(lines.values(), key=lambda line: (-(line.effect or 0.0), line.figure.key)))
