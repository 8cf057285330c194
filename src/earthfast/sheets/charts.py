"""Charts as specifications: the same one draws on the page and on the sheet."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import TYPE_CHECKING

from earthfast.sheets.ink import POINT, Box, Ink
from earthfast.sheets.lettering import FAMILY, font_folder
from earthfast.stages.answers import AreaChoice

if TYPE_CHECKING:
    import altair as alt

POINTS_PER_MM = 1.0 / POINT
MEETS = "meets every target"
LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"


@dataclass(frozen=True, slots=True)
class WayMark:
    """A way as a mark of the price-carbon chart, and as a row of the table behind it."""

    letter: str
    title: str
    price: float
    price_low: float
    price_high: float
    carbon_kg: float
    carbon_low_kg: float
    carbon_high_kg: float
    meets: str
    on_front: bool


def way_marks(choice: AreaChoice) -> tuple[WayMark, ...]:
    """List the ways of an area as marks, lettered in their order."""
    front = {point.way for point in choice.front}
    return tuple(
        WayMark(
            letter,
            way.title,
            way.price.value,
            way.price.value if way.price.low is None else way.price.low,
            way.price.value if way.price.high is None else way.price.high,
            way.carbon.value,
            way.carbon.value if way.carbon.low is None else way.carbon.low,
            way.carbon.value if way.carbon.high is None else way.carbon.high,
            MEETS if way.passes else "falls short",
            way.key in front,
        )
        for letter, way in zip(LETTERS, choice.ways, strict=False)
    )


def price_carbon_chart(choice: AreaChoice, currency: str, box: Box) -> alt.LayerChart:
    """Specify the scatter of price against carbon: a mark a way, bands as whiskers, the front as a line."""
    import altair as alt  # noqa: PLC0415 (0.8 s)

    rows = [{name: getattr(mark, name) for name in WayMark.__slots__} for mark in way_marks(choice)]
    nice = alt.Scale(zero=False, nice=True)
    across = alt.X("price:Q", title=f"price ({currency})", scale=nice)
    up = alt.Y("carbon_kg:Q", title="carbon (kg CO₂e)", scale=nice)
    base = alt.Chart(alt.InlineData(values=rows))
    placed = base.encode(x=across, y=up)
    front = placed.transform_filter(alt.datum.on_front).encode(order="price:Q")
    layers = [
        _whisker(base).encode(x="price_low:Q", x2="price_high:Q", y=up),
        _whisker(base).encode(x=across, y="carbon_low_kg:Q", y2="carbon_high_kg:Q"),
        front.mark_line(color=Ink.UMBER.value, strokeWidth=1.4, strokeDash=[5, 2]),
        *_marks(placed),
    ]
    chart = alt.LayerChart(layer=layers).properties(
        width=(box.width - 20.0) * POINTS_PER_MM, height=(box.height - 15.0) * POINTS_PER_MM
    )
    return _in_our_lettering(chart)


def _whisker(base: alt.Chart) -> alt.Chart:
    whisker: alt.Chart = base.mark_rule(color=Ink.PALE_INK.value, strokeWidth=0.6)
    return whisker


def _marks(placed: alt.Chart) -> list[alt.Chart]:
    """A filled disc where every target is met, an open square in the signal colour where one is not."""
    import altair as alt  # noqa: PLC0415 (0.8 s)

    paper, signal = Ink.PAPER.value, Ink.SIGNAL.value
    meets = alt.datum.meets == MEETS
    disc = placed.transform_filter(meets).mark_point(
        shape="circle", size=230, filled=True, opacity=1, color=Ink.INK.value
    )
    square = placed.transform_filter(~meets).mark_point(
        shape="square", size=230, filled=True, opacity=1, fill=paper, stroke=signal, strokeWidth=1.4
    )
    letters = placed.mark_text(font=FAMILY, fontSize=10, fontWeight=600, baseline="middle", dy=0.5).encode(
        text="letter:N", color=alt.condition(meets, alt.value(paper), alt.value(signal))
    )
    return [disc, square, letters]


def chart_svg(chart: alt.LayerChart) -> str:
    """Draw a chart as SVG, in points on paper."""
    import vl_convert  # noqa: PLC0415 (0.3 s, starts a JavaScript engine)

    vl_convert.register_font_directory(str(font_folder()))
    return str(vl_convert.vegalite_to_svg(json.dumps(chart.to_dict())))


def _in_our_lettering(chart: alt.LayerChart) -> alt.LayerChart:
    import altair as alt  # noqa: PLC0415 (0.8 s)

    ink = Ink.INK.value
    axis = alt.AxisConfig(
        labelFontSize=8.5,
        titleFontSize=9.5,
        titleFontWeight=600,
        labelColor=ink,
        titleColor=ink,
        gridColor=Ink.SAND.value,
        gridWidth=0.5,
        domainColor=ink,
        tickColor=Ink.PALE_INK.value,
        tickCount=5,
    )
    view = alt.ViewConfig(stroke=None)
    chart.config = alt.Config(font=FAMILY, background="transparent", padding=2, axis=axis, view=view)
    return chart
