"""Winters as charts: the frost front under each way on one axis, and the lift of every winter."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from typing import TYPE_CHECKING

from earthfast.sheets.charts import LETTERS, POINTS_PER_MM, _in_our_lettering
from earthfast.sheets.ink import Box, Ink
from earthfast.stages.answers import AreaChoice, WinterLine

if TYPE_CHECKING:
    import altair as alt

DASHES = ([1, 0], [6, 3], [2, 2], [8, 2, 2, 2], [4, 4], [1, 3])
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
SIDE, FOOT = 16.0, 15.0  # mm for axis titles
NARROW = 75.0  # mm; a narrower chart names months by their first letter
LABELLED = 5  # a winter in so many is numbered


@dataclass(frozen=True, slots=True)
class FrontMark:
    """Depth of the frost on one day of one winter under one way."""

    way: str
    winter: str
    day: int
    depth_mm: float


@dataclass(frozen=True, slots=True)
class LiftMark:
    """Lift in one of the winters of the design life on one way."""

    way: str
    winter: int
    frost_index_c_day: float
    lift_mm: float
    low_mm: float
    high_mm: float
    counted_mm: float


def front_marks(choice: AreaChoice) -> tuple[FrontMark, ...]:
    """List the frost fronts of the coldest winter followed, under every way of an area."""
    letters = {way.key: letter for way, letter in zip(choice.ways, LETTERS, strict=False)}
    return tuple(
        FrontMark(letters[line.way], row.winter, row.day, row.depth_mm)
        for line in choice.winters
        for row in line.front
        if row.winter == line.front[-1].winter
    )


def lift_marks(line: WinterLine) -> tuple[LiftMark, ...]:
    """List the lift of every winter on one way."""
    return tuple(
        LiftMark(
            line.way,
            row.winter,
            row.frost_index_c_day,
            row.lift_mm,
            row.low_mm,
            row.high_mm,
            line.lift_counted_mm,
        )
        for row in line.lifts
    )


def frost_front_chart(choice: AreaChoice, box: Box) -> alt.LayerChart:
    """Specify the depth of the frost through a winter: a line a way, told by its dashes, deeper downwards."""
    import altair as alt  # noqa: PLC0415 (0.8 s)

    marks = front_marks(choice)
    rows = [asdict(mark) for mark in marks]
    ways = list(dict.fromkeys(mark.way for mark in marks))
    ticks = _month_starts(choice)
    shown = {day: name[:1] if box.width < NARROW else name for day, name in ticks.items()}
    labels = " : ".join(f"datum.value == {day} ? '{name}'" for day, name in shown.items())
    across = alt.X(
        "day:Q",
        title=None,
        scale=alt.Scale(nice=False),
        # vega thins out given values down to the tick count of the common style
        axis=alt.Axis(
            values=list(ticks),
            labelExpr=f"{labels} : ''" if ticks else "''",
            tickCount=len(ticks),
            labelOverlap=False,
        ),
    )
    up = alt.Y("depth_mm:Q", title="frost depth (mm)", scale=alt.Scale(reverse=True, nice=True))
    dashes = alt.Scale(domain=ways, range=[list(DASHES[i % len(DASHES)]) for i in range(len(ways))])
    line = (
        alt.Chart(alt.InlineData(values=rows))
        .mark_line(color=Ink.INK.value, strokeWidth=1.3)
        .encode(
            x=across,
            y=up,
            strokeDash=alt.StrokeDash(
                "way:N", scale=dashes, legend=alt.Legend(title=None, orient="bottom", direction="horizontal")
            ),
            detail="way:N",
        )
    )
    return _sized(alt.LayerChart(layer=[line]), box)


def lift_chart(line: WinterLine, box: Box) -> alt.LayerChart:
    """Specify the lift of every winter of the design life: a bar a winter, its band, and the lift counted from."""
    import altair as alt  # noqa: PLC0415 (0.8 s)

    marks = lift_marks(line)
    base = alt.Chart(alt.InlineData(values=[asdict(mark) for mark in marks]))
    numbered = [mark.winter for mark in marks if mark.winter == 1 or mark.winter % LABELLED == 0]
    across = alt.X(
        "winter:O", title="winters, mildest to coldest", axis=alt.Axis(labelAngle=0, values=numbered)
    )
    bars = base.mark_bar(color=Ink.UMBER.value).encode(x=across, y=alt.Y("lift_mm:Q", title="lift (mm)"))
    bands = base.mark_rule(color=Ink.INK.value, strokeWidth=0.8).encode(
        x=across, y="low_mm:Q", y2="high_mm:Q"
    )
    counted = base.mark_rule(color=Ink.SIGNAL.value, strokeWidth=1.2, strokeDash=[5, 2]).encode(
        y="mean(counted_mm):Q"
    )
    return _sized(alt.LayerChart(layer=[bars, bands, counted]), box)


def _month_starts(choice: AreaChoice) -> dict[int, str]:
    """Days at which months start, within the winter followed, with their names."""
    rows = choice.winters[0].front if choice.winters else ()
    found: dict[int, str] = {}
    for row in rows:
        month, on = (int(part) for part in row.month_day.split("-"))
        start = row.day - on + 1
        if start >= rows[0].day:
            found[start] = MONTHS[month - 1]
    return found


def _sized(chart: alt.LayerChart, box: Box) -> alt.LayerChart:
    sized = chart.properties(
        width=(box.width - SIDE) * POINTS_PER_MM, height=(box.height - FOOT) * POINTS_PER_MM
    )
    return _in_our_lettering(sized)
