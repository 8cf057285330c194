"""Strength of treated soil against dose and against age: bands, specimens, the strength wanted."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from earthfast.sheets.charts import POINTS_PER_MM, _in_our_lettering, chart_svg
from earthfast.sheets.ink import Box, Ink
from earthfast.stages.answers import StrengthCurve, TryAnswer

if TYPE_CHECKING:
    import altair as alt

CHART = Box(88.0, 66.0)  # mm
ALONE = Box(120.0, 80.0)  # mm, one of two charts drawn without a sheet
DAYS = [1, 3, 7, 14, 28, 60, 180]
STRENGTHS = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50]
LETTERS, LINE = 8.5, 10.0  # points, of names and from one line of them to the next
MOST_TOLD = 4  # groups of names in one label
LEAST_MPA = 0.05  # a specimen that fell apart is drawn at the foot of the log axis


class NameLabel(NamedTuple):
    """Names of specimens that stand together, and where."""

    at: float
    strength_mpa: float
    text: str


class Axes(NamedTuple):
    """The two axes of a chart."""

    across: alt.X
    up: alt.Y


def strength_chart(curve: StrengthCurve, box: Box) -> alt.LayerChart:
    """Specify strength against dose or age: bands of laboratory and site, specimens by state, the target."""
    import altair as alt  # noqa: PLC0415 (0.8 s)

    points = [point.model_dump() for point in curve.points]
    marks = [{**mark.model_dump(), "strength_mpa": max(mark.strength_mpa, LEAST_MPA)} for mark in curve.marks]
    base = alt.Chart(alt.InlineData(values=points))
    across, up = _axes(curve)
    target = alt.Chart(alt.InlineData(values=[{"target_mpa": curve.target_mpa}]))
    layers = [
        _band(base, across, "site", Ink.SAND, 0.9),
        _band(base, across, "laboratory", Ink.OCHRE, 0.35),
        base.mark_line(color=Ink.UMBER.value, strokeWidth=0.9, strokeDash=[2, 2]).encode(
            x=across, y="site_mpa:Q"
        ),
        *_median(base.encode(x=across, y=up)),
        target.mark_rule(color=Ink.SIGNAL.value, strokeWidth=1.2, strokeDash=[6, 3]).encode(y="target_mpa:Q"),
        *_marks(marks, across),
        *_names(name_labels(curve, (box.height - 15.0) * POINTS_PER_MM), across),
    ]
    chart = alt.LayerChart(layer=layers).properties(
        width=(box.width - 20.0) * POINTS_PER_MM, height=(box.height - 15.0) * POINTS_PER_MM
    )
    return _in_our_lettering(chart)


def _band(base: alt.Chart, across: alt.X, place: str, ink: Ink, opacity: float) -> alt.Chart:
    band: alt.Chart = base.mark_area(color=ink.value, opacity=opacity).encode(
        x=across, y=f"{place}_low_mpa:Q", y2=f"{place}_high_mpa:Q"
    )
    return band


def _axes(curve: StrengthCurve) -> Axes:
    """Dose on a plain axis, age and strength on log axes, as far as bands, specimens and target reach."""
    import altair as alt  # noqa: PLC0415 (0.8 s)

    ages = [curve.points[0].at, curve.points[-1].at]
    if "age" in curve.across:
        scale = alt.Scale(type="log", domain=ages, nice=False)
        across = alt.X("at:Q", title=curve.across, scale=scale, axis=alt.Axis(values=DAYS))
    else:
        across = alt.X("at:Q", title=curve.across, scale=alt.Scale(zero=False))
    scale = alt.Scale(type="log", domain=_strengths(curve), nice=False)
    up = alt.Y("laboratory_mpa:Q", title="strength (MPa)", scale=scale, axis=alt.Axis(values=STRENGTHS))
    return Axes(across, up)


def _strengths(curve: StrengthCurve) -> list[float]:
    """Ends of the strength axis, MPa."""
    low = min(curve.target_mpa, *(point.site_low_mpa for point in curve.points))
    high = max(curve.target_mpa, *(point.laboratory_high_mpa for point in curve.points))
    seen = [max(mark.strength_mpa, LEAST_MPA) for mark in curve.marks]
    return [0.8 * min(low, *seen, high), 1.25 * max(high, *seen, low)]


def _median(placed: alt.Chart) -> list[alt.Chart]:
    """The laboratory's median: heavy where it was tried, thin where it is extrapolated."""
    import altair as alt  # noqa: PLC0415 (0.8 s)

    ink = Ink.INK.value
    thin = placed.mark_line(color=ink, strokeWidth=0.7)
    tried = placed.transform_filter(~alt.datum.is_extrapolated)
    return [thin, tried.mark_line(color=ink, strokeWidth=2.2)]


def _marks(rows: list[dict[str, object]], across: alt.X) -> list[alt.Chart]:
    """Soaked specimens as filled discs, others as open squares, bounds as triangles."""
    import altair as alt  # noqa: PLC0415 (0.8 s)

    placed = alt.Chart(alt.InlineData(values=rows)).encode(x=across, y="strength_mpa:Q")
    broken, soaked = alt.datum.known_as == "strength", alt.datum.state == "soaked"
    shapes = {
        "circle": broken & soaked,
        "triangle-up": alt.datum.known_as == "at least",
        "triangle-down": alt.datum.known_as == "at most",
    }
    solid = [
        placed.transform_filter(which).mark_point(
            shape=shape, size=70, filled=True, opacity=1, color=Ink.INK.value
        )
        for shape, which in shapes.items()
    ]
    square = placed.transform_filter(broken & ~soaked).mark_point(
        shape="square",
        size=70,
        filled=True,
        opacity=1,
        fill=Ink.PAPER.value,
        stroke=Ink.INK.value,
        strokeWidth=1.2,
    )
    return [*solid, square] if rows else []


def _names(labels: list[NameLabel], across: alt.X) -> list[alt.Chart]:
    import altair as alt  # noqa: PLC0415 (0.8 s)

    placed = alt.Chart(alt.InlineData(values=[label._asdict() for label in labels]))
    text = placed.mark_text(fontSize=LETTERS, dx=8, align="left", color=Ink.INK.value)
    return [text.encode(x=across, y="strength_mpa:Q", text="text:N")] if labels else []


def name_labels(curve: StrengthCurve, height: float) -> list[NameLabel]:
    """Names beside the specimens; those that would stand on one another on an axis that high, points, share one."""
    low, high = (np.log(end) for end in _strengths(curve))
    apart = LINE * (high - low) / height  # of two lines of lettering, in ln strength
    placed = sorted((mark.at, np.log(max(mark.strength_mpa, LEAST_MPA)), mark.name) for mark in curve.marks)
    runs: list[list[tuple[float, float, str]]] = []
    for at, strength, name in placed:
        if runs and runs[-1][-1][0] == at and strength - runs[-1][-1][1] < apart:
            runs[-1].append((at, strength, name))
        else:
            runs.append([(at, strength, name)])
    return [
        NameLabel(
            run[0][0], float(np.exp(np.mean([row[1] for row in run]))), _joined([row[2] for row in run])
        )
        for run in runs
    ]


def _joined(names: list[str]) -> str:
    """Names of one run; numbers that follow on one another as their ends."""
    ordered = sorted(names, key=lambda name: (len(name), name))
    groups = [[ordered[0]]]
    for name in ordered[1:]:
        last = groups[-1][-1]
        if name.isdecimal() and last.isdecimal() and int(name) == int(last) + 1:
            groups[-1].append(name)
        else:
            groups.append([name])
    told = [f"{one[0]}–{one[-1]}" if len(one) > 2 else ", ".join(one) for one in groups]
    return ", ".join(told if len(told) <= MOST_TOLD else [*told[: MOST_TOLD - 1], "…", told[-1]])


def write_strength_charts(answer: TryAnswer, path: Path) -> None:
    """Write both charts as SVG files: the path for dose, and one beside it, ending in '-age', for age."""
    beside = path.with_name(f"{path.stem}-age{path.suffix}")
    for file, curve in ((path, answer.strength_by_dose), (beside, answer.strength_by_age)):
        file.write_text(chart_svg(strength_chart(curve, ALONE)), encoding="utf-8", newline="\n")
