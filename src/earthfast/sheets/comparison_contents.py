"""What the comparison sheet says, area by area, ready to print."""

from __future__ import annotations

from dataclasses import dataclass, replace

from earthfast.checks import Material
from earthfast.estimate import CautionCode
from earthfast.sheets.chances import chance_strip
from earthfast.sheets.charts import LETTERS, chart_svg, price_carbon_chart
from earthfast.sheets.contents import Heading, Picture, SmallPrint, heading, picture, small_print
from earthfast.sheets.ink import PAPER_SIZES, Box, Paper
from earthfast.sheets.press import SheetError
from earthfast.sheets.section import small_sections
from earthfast.sheets.winter_charts import frost_front_chart, lift_chart
from earthfast.stages.answers import AreaChoice, ChooseAnswer, CourseLine, Figure, WayLine
from earthfast.stages.wording import capitalised, said_once

MARGIN = 10.0  # mm
ROW_NAMES = 24.0  # mm, first column of the table of ways
SECTION_HEIGHT = 40.0  # mm
WIDEST_COLUMN = 48.0  # mm
CHART = Box(60.0, 46.0)  # mm
BANDS = (
    "Bands add everything at its low, then at its high end: of money the prices, and the hours of labour with them; of "
    "carbon and hours every rate. They are sums of ends, wider than 5 to 95 % bands."
)


@dataclass(frozen=True, slots=True)
class Amount:
    """A figure with its band on a line of its own."""

    middle: str
    band: str


@dataclass(frozen=True, slots=True)
class WayColumn:
    """One way as a column of the table."""

    letter: str
    title: str
    method: str
    courses: tuple[str, ...]
    section: Picture
    price: Amount
    carbon: Amount
    spoil: str
    trips: str
    hours: str
    days: str
    weakest: str
    weakest_chance: str
    anything: str
    verdict: str
    passes: bool
    chosen: bool
    because: str


@dataclass(frozen=True, slots=True)
class ComparedArea:
    """All ways for one area."""

    name: str
    size: str
    stands_on_it: str
    says: tuple[str, ...]
    ranked_by: str
    swept: str
    column_mm: float
    ways: tuple[WayColumn, ...]
    scale: str
    chart: Picture
    chart_words: str
    winters: tuple[Picture, ...]
    winters_words: str
    letter: str
    judged: str
    strip: Picture


@dataclass(frozen=True, slots=True)
class ComparisonContents:
    """All pages of the comparison sheet."""

    heading: Heading
    row_names_mm: float
    prices: str
    price_row: str
    bands: str
    areas: tuple[ComparedArea, ...]
    small_print: SmallPrint


def comparison_contents(answer: ChooseAnswer, paper: Paper) -> ComparisonContents:
    """Say what the person who pays needs to choose."""
    width = PAPER_SIZES[paper].width - 2 * MARGIN
    head = heading(answer, "Comparison sheet")
    invented = [
        caution.text.partition(";")[0]
        for caution in answer.cautions
        if caution.code == CautionCode.PRICES_INVENTED
    ]
    return ComparisonContents(
        replace(head, headline=" ".join((head.headline, *(f"{capitalised(text)}." for text in invented)))),
        ROW_NAMES,
        f"Prices in {answer.currency} of {answer.price_date}; chances from {answer.draws} draws.",
        "Price, with invented examples" if invented else "Price",
        BANDS,
        tuple(
            _compared(area.model_copy(update={"says": says}), answer, width, number)
            for number, (area, says) in enumerate(zip(answer.areas, said_once(answer.areas), strict=True))
        ),
        small_print(answer),
    )


def _compared(area: AreaChoice, answer: ChooseAnswer, width: float, number: int) -> ComparedArea:
    if not area.ways:
        raise SheetError(f"there is no way to compare for {area.name}")
    column = min(WIDEST_COLUMN, (width - ROW_NAMES) / len(area.ways))
    sections = small_sections(area.ways, Box(column - 3.0, SECTION_HEIGHT), f"area{number}way", answer.strata)
    judged = next((way for way in area.ways if way.key == area.chosen), area.ways[0])
    letter = LETTERS[area.ways.index(judged)]
    chart = chart_svg(price_carbon_chart(area, answer.currency, CHART))
    return ComparedArea(
        name=area.name[:1].upper() + area.name[1:],
        size=f"{area.area_m2:.1f} m²",
        stands_on_it=", ".join(area.stands_on_it),
        says=area.says,
        ranked_by=area.ranked_by,
        swept=(
            f"{area.swept} ways were checked; the best of each method are shown, ranked by {area.ranked_by}."
        ),
        column_mm=column,
        ways=tuple(
            _column(way, letter, picture(drawing), chosen=way.key == area.chosen)
            for way, letter, drawing in zip(area.ways, LETTERS, sections, strict=False)
        ),
        scale=sections[0].scale_words,
        chart=Picture(chart, CHART.width, f"Price against carbon of the ways for {area.name}", ""),
        chart_words=_chart_words(area),
        winters=_winter_pictures(area, judged.key),
        winters_words=next((line.sentence for line in area.winters if line.way == judged.key), ""),
        letter=letter,
        judged=f"{letter}, {judged.title}",
        strip=picture(chance_strip(judged.checks, width, f"area{number}chances")),
    )


def _winter_pictures(area: AreaChoice, way: str) -> tuple[Picture, ...]:
    """The frost through the coldest winter under every way, and the lift of every winter on the one judged."""
    pictures = []
    if any(line.front for line in area.winters):
        front = chart_svg(frost_front_chart(area, CHART))
        pictures.append(Picture(front, CHART.width, "Frost through the coldest winter", ""))
    for line in area.winters:
        if line.way == way and line.lifts:
            lift = chart_svg(lift_chart(line, CHART))
            pictures.append(Picture(lift, CHART.width, "Lift, winter by winter", ""))
    return tuple(pictures)


def _chart_words(area: AreaChoice) -> str:
    words = ["Whiskers: the bands of the table."]
    if len(area.front) > 1:
        words.append("Dashed: the ways that no other beats on both.")
    if not all(way.passes for way in area.ways):
        words.append("Square: falls short of a target.")
    return " ".join(words)


def _column(way: WayLine, letter: str, drawing: Picture, *, chosen: bool) -> WayColumn:
    weakest = next((check for check in way.checks if check.name == way.weakest), None)
    verdict = "chosen" if chosen else "meets every target" if way.passes else "falls short"
    return WayColumn(
        letter=letter,
        title=way.title,
        method=way.method,
        courses=tuple(_course(course) for course in way.courses),
        section=drawing,
        price=_amount(way.price),
        carbon=_amount(way.carbon),
        spoil=way.spoil.text,
        trips=way.trips.text,
        hours=way.hours.text,
        days=_days_words(way),
        weakest=way.weakest,
        weakest_chance=weakest.chance_text if weakest else "",
        anything=way.any_failure.sentence,
        verdict=verdict,
        passes=way.passes,
        chosen=chosen,
        because=way.because,
    )


def _days_words(way: WayLine) -> str:
    """Days of the crew, and that what sets is waited for besides."""
    sets = any(course.dose_percent or course.material == Material.CONCRETE for course in way.courses)
    if way.strength_days is not None:
        return f"{way.days.text}, and {way.strength_days:.0f} days' wait for strength (at 20 °C)"
    return f"{way.days.text}, and the wait for strength" if sets else way.days.text


def _amount(figure: Figure) -> Amount:
    middle, _, band = figure.text.partition(" (")
    return Amount(middle, band.removesuffix(")"))


def _course(course: CourseLine) -> str:
    return f"{course.thickness_mm:.0f} {course.material}"
