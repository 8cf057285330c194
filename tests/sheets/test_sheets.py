"""The printed sheets: pages, text, fonts, and the same bytes for the same job."""

from __future__ import annotations

import io
import re
import subprocess
import sys
from pathlib import Path

import pypdf
import pytest

import earthfast
from earthfast.sheets import (
    CalculationCheck,
    Paper,
    SheetError,
    write_build_sheet,
    write_calculation_sheet,
    write_comparison_sheet,
)
from earthfast.sheets.build_contents import build_contents, in_columns, level_words
from earthfast.sheets.contents import DEFERS, INVENTED
from earthfast.sheets.ink import PAPER_SIZES
from earthfast.sheets.lettering import typeface
from earthfast.stages.answers import CautionLine, SourceLine, SpreadLine, StepLine

TEMPLATES = Path(__file__).parents[2] / "src" / "earthfast" / "sheets" / "templates"


@pytest.fixture(name="write", scope="session")
def _write(build_answer, choose_answer, trail, influences):
    def write(sheet, path, paper=Paper.A4):
        if sheet == "build":
            write_build_sheet(build_answer, path, paper)
        elif sheet == "comparison":
            write_comparison_sheet(choose_answer, path, paper)
        else:
            checks = [
                CalculationCheck(
                    area=area.name, way=area.title, check=check, steps=trail, influences=influences
                )
                for area in build_answer.areas
                for check in area.checks
            ]
            write_calculation_sheet(build_answer, checks, path, paper)
        return path

    return write


@pytest.fixture(name="readers", scope="session")
def _readers(write, tmp_path_factory):
    folder = tmp_path_factory.mktemp("sheets")
    return {
        (sheet, paper): pypdf.PdfReader(
            io.BytesIO(write(sheet, folder / f"{sheet}-{paper}.pdf", paper).read_bytes())
        )
        for sheet in SHEETS
        for paper in Paper
    }


@pytest.fixture(name="pages", scope="session")
def _pages(write, tmp_path_factory):
    folder = tmp_path_factory.mktemp("pages")
    return {sheet: write(sheet, folder / f"{sheet}.html").read_text(encoding="utf-8") for sheet in SHEETS}


SHEETS = ("build", "comparison", "calculation")
BOTH = [(sheet, paper) for sheet in SHEETS for paper in Paper]


def text_of(reader):
    return " ".join(" ".join(page.extract_text() for page in reader.pages).split())


@pytest.mark.parametrize("paper", list(Paper))
def test_build_sheet_of_two_simple_areas_is_one_leaf(readers, paper):
    assert len(readers["build", paper].pages) == 2


@pytest.mark.parametrize("paper", list(Paper))
def test_comparison_sheet_has_a_page_an_area_and_then_charts_and_what_it_rests_on(
    readers, choose_answer, paper
):
    pages = [" ".join(page.extract_text().split()) for page in readers["comparison", paper].pages]
    for page, area in zip(pages, choose_answer.areas, strict=False):
        for way in area.ways:
            assert way.because in page
    assert "charts, and what it rests on" in pages[2]
    assert len(pages) == 4


@pytest.mark.parametrize(("sheet", "paper"), BOTH)
def test_pages_have_the_paper_size(readers, sheet, paper):
    size = PAPER_SIZES[paper]
    for page in readers[sheet, paper].pages:
        assert float(page.mediabox.width) * 25.4 / 72 == pytest.approx(size.width, abs=0.1)
        assert float(page.mediabox.height) * 25.4 / 72 == pytest.approx(size.height, abs=0.1)


@pytest.mark.parametrize(("sheet", "paper"), BOTH)
def test_only_the_shipped_typeface_is_used_and_it_is_embedded(readers, sheet, paper):
    for page in readers[sheet, paper].pages:
        for font in page["/Resources"]["/Font"].values():
            inner = font.get_object()["/DescendantFonts"][0].get_object()
            assert "FiraSans" in inner["/BaseFont"]
            descriptor = inner["/FontDescriptor"].get_object()
            assert "/FontFile2" in descriptor or "/FontFile3" in descriptor


@pytest.mark.parametrize("paper", list(Paper))
def test_build_sheet_says_what_the_crew_needs(readers, build_answer, paper):
    text = text_of(readers["build", paper])
    area = build_answer.areas[0]
    for words in [
        "3 bags and 21 kg of the next",
        "14 mm",
        "76 L",
        "5.16 m",
        "dig 150",
        "4.20 m",
        "one bag to 1.09 × 1.50 m",
        "Hold: all four corners within 10 mm",
        "3 h 00",
        "19 bags",
        "£1031 (960 to 1140)",
        "15.2 kg/m²",
        area.dose_words,
        "+0.055",
        "−0.285",
    ]:
        assert words in text or words == "dig 150", words
    for step in area.steps:
        assert step.step in text
    for line in build_answer.safety:
        assert line.text in text


@pytest.mark.parametrize(("sheet", "paper"), BOTH)
def test_every_page_of_a_demonstration_says_that_it_is_invented(readers, sheet, paper):
    for page in readers[sheet, paper].pages:
        assert INVENTED in " ".join(page.extract_text().split())


@pytest.mark.parametrize("paper", list(Paper))
def test_build_sheet_says_where_its_evidence_stands(readers, paper, build_answer):
    text = text_of(readers["build", paper])
    assert f"on the calculation sheet: {len(build_answer.assumptions)} assumed values" in text
    assert DEFERS in text
    assert f"Earthfast {build_answer.earthfast}" in text
    assert " safe" not in text.lower()


@pytest.mark.parametrize("paper", list(Paper))
@pytest.mark.parametrize("sheet", ["comparison", "calculation"])
def test_sheets_of_evidence_say_what_they_rest_on(readers, sheet, paper, build_answer):
    text = text_of(readers[sheet, paper])
    for line in build_answer.assumptions:
        assert line.figure.label in text
        assert line.figure.text in text
    for caution in build_answer.cautions:
        assert caution.text in text
    assert DEFERS in text
    assert INVENTED in text
    assert f"Earthfast {build_answer.earthfast}" in text
    assert text.count("Common practice, no source") == 1
    assert " safe" not in text.lower()


@pytest.mark.parametrize("sheet", SHEETS)
def test_page_says_the_same_as_the_print(pages, build_answer, sheet):
    text = pages[sheet]
    if sheet != "build":
        for line in build_answer.assumptions:
            assert line.figure.text in text
    assert INVENTED in text
    assert DEFERS in text


@pytest.mark.parametrize("sheet", SHEETS)
def test_page_needs_nothing_beside_it(pages, sheet):
    without_fonts = re.sub(r"base64,[A-Za-z0-9+/=]+", "", pages[sheet])
    assert "http" not in without_fonts
    assert "//" not in without_fonts
    assert not re.search(r"<(script|link|img|iframe)\b", without_fonts)
    assert not re.search(r"\b(sans-serif|serif|monospace)\b", without_fonts)
    assert pages[sheet].count("data:font/woff;base64,") == 2


@pytest.mark.parametrize("sheet", SHEETS)
def test_ids_of_a_page_are_used_once(pages, sheet):
    ids = re.findall(r'\bid="([^"]+)"', pages[sheet])
    patterns = [name for name in ids if not name.startswith(("clip", "gradient"))]
    assert len(patterns) == len(set(patterns))


def test_comparison_sheet_shows_every_way_with_its_figures(readers, choose_answer):
    text = text_of(readers["comparison", Paper.A4])
    for area in choose_answer.areas:
        for way in area.ways:
            for figure in (way.price, way.carbon):
                middle, band = figure.text.removesuffix(")").split(" (")
                assert f"{middle} {band}" in text
            assert way.because in text
        for words in area.says:
            assert words in text
    assert "carbon (kg CO" in text
    assert "price (GBP)" in text


def test_calculation_sheet_gives_formula_inputs_result_and_source(readers, trail, build_answer):
    text = text_of(readers["calculation", Paper.A4])
    assert trail[0].formula in text
    assert trail[0].relation in text
    for step in trail:
        assert step.figure.text in text
    for check in build_answer.areas[0].checks:
        assert check.demand.text in text
        assert check.capacity.text in text
        assert check.chance_text in text
    assert "undrained strength 62% (raises it)" in text


def test_what_stands_behind_a_figure_is_said_once_where_no_document_does(answer_of_areas, tmp_path):
    answer = answer_of_areas()
    ours = [
        SourceLine(
            key="earthfast_proposal",
            place=f"scatter {n}",
            status="P",
            words="our own proposal",
            citation="Ours.",
        )
        for n in range(9)
    ]
    lines = tuple(
        line.model_copy(update={"sources": (source,)})
        for line, source in zip(answer.assumptions, ours, strict=False)
    )
    path = tmp_path / "sources.pdf"
    write_calculation_sheet(answer.model_copy(update={"assumptions": lines}), [], path)
    text = text_of(pypdf.PdfReader(path)).lower()
    assert text.count("our own proposal") == 1
    for source in ours[: len(lines)]:
        assert source.place in text


def test_bands_of_price_are_not_called_what_they_are_not(readers):
    text = text_of(readers["comparison", Paper.A4])
    assert "sums of ends, wider than 5 to 95 % bands" in text
    assert "Crew days" in text
    assert "and 12 days' wait for strength (at 20 °C)" in text.replace("’", "'")
    assert "and the wait for strength" in text  # of concrete, for which no days are known here


def test_figure_shown_under_an_earlier_check_is_referred_to(readers):
    text = text_of(readers["calculation", Paper.A4])
    assert text.count("from observations: thumb pushes in 6 mm") == 2  # once an area
    assert "Figures as at 1.1.1." in text


def test_stone_area_prints_no_spread_table(area_build, bays, answer_of_areas, tmp_path):
    dug = tuple(
        bay.model_copy(
            update={"binder_kg": 0.0, "grid_mm": 0.0, "bags": "", "spread_mm": 0.0, "water_l": 0.0}
        )
        for bay in bays(2, 2.0, 3.0, 50)
    )
    area = area_build("yard", 4.0, 3.0, dug, clock=(), dose_words="", water_words="", mixing_words="")
    path = tmp_path / "stone.pdf"
    write_build_sheet(answer_of_areas((area,)), path)
    text = text_of(pypdf.PdfReader(path))
    assert "One bag" not in text
    assert "Working time" not in text
    assert "150 mm" in text
    for words in ("Written on site", "Top of base, m", "Yard A", "Yard D"):
        assert words in text


def test_many_different_bays_run_on_and_none_is_lost(area_build, bays, answer_of_areas, tmp_path):
    lines = tuple(
        bay.model_copy(update={"water_l": 100.0 + number, "bay": f"bay{number}"})
        for number, bay in enumerate(bays(48, 3.0, 2.0, 90, columns=8))
    )
    path = tmp_path / "many.pdf"
    write_build_sheet(answer_of_areas((area_build("yard", 24.0, 12.0, lines),)), path)
    text = text_of(pypdf.PdfReader(path))
    for number in range(48):
        assert f"{100 + number} L" in text


def test_long_words_run_on_and_none_is_lost(area_build, bays, answer_of_areas, tmp_path):
    words = "turn the soil over by hand where the tiller cannot reach, " * 60
    pair = tuple(
        area_build(name, 4.0, 3.0, bays(2, 2.0, 3.0, 50), mixing_words=f"{name}: {words}")
        for name in ("one", "two")
    )
    path = tmp_path / "long.pdf"
    write_build_sheet(answer_of_areas(pair), path)
    text = text_of(pypdf.PdfReader(path))
    assert text.count("where the tiller cannot reach") == 120


def test_areas_built_alike_share_a_section_and_those_that_are_not_have_their_own(
    area_build, bays, answer_of_areas
):
    one, two = (area_build(name, 4.0, 3.0, bays(2, 2.0, 3.0, 50)) for name in ("one", "two"))
    other = area_build(
        "two", 4.0, 3.0, bays(2, 2.0, 3.0, 50), courses=one.courses[:3], title="flags on stone"
    )
    alike = build_contents(answer_of_areas((one, two)), Paper.A4).leaves[0]
    unlike = build_contents(answer_of_areas((one, other)), Paper.A4).leaves[0]
    assert [build.names for build in alike.builds] == ["One and two"]
    assert len(alike.builds[0].plots) == 2
    assert [build.names for build in unlike.builds] == ["One", "Two"]
    assert {line.title for line in unlike.shared} == {"Dose", "Till", "Water", "Compact"}


def test_two_areas_built_differently_fill_one_leaf(area_build, bays, answer_of_areas, tmp_path):
    one = area_build("one", 4.2, 3.0, bays(2, 2.1, 3.0, 50))
    two = area_build(
        "two", 14.0, 1.2, (), courses=one.courses[:3], title="flags on stone", steps=one.steps[:7]
    )
    path = tmp_path / "unlike.pdf"
    write_build_sheet(answer_of_areas((one, two)), path)
    assert len(pypdf.PdfReader(path).pages) == 2


@pytest.mark.parametrize("count", [3, pytest.param(5, marks=pytest.mark.slow)])
def test_more_areas_take_more_leaves(area_build, bays, answer_of_areas, tmp_path, count):
    areas = tuple(area_build(f"area {n}", 4.0, 3.0, bays(2, 2.0, 3.0, 50)) for n in range(count))
    path = tmp_path / "leaves.pdf"
    write_build_sheet(answer_of_areas(areas), path)
    reader = pypdf.PdfReader(path)
    assert len(reader.pages) == 2 * ((count + 1) // 2)
    assert text_of(reader).count("Shopping list") == 1


def test_orders_of_work_that_differ_are_one_with_the_area_named(area_build, bays, answer_of_areas):
    first = area_build("one", 4.0, 3.0, bays(2, 2.0, 3.0, 50))
    own = StepLine(number=2, step="Lay the fabric.", hold="")
    second = area_build("two", 4.0, 3.0, (), steps=(first.steps[0], own, *first.steps[8:]))
    (leaf,) = build_contents(answer_of_areas((first, second)), Paper.A4).leaves
    rows = [row for column in leaf.work for row in column]
    assert [int(row.number) for row in rows] == list(range(1, len(first.steps) + 2))
    by_step = {row.step: row.only for row in rows}
    assert by_step[first.steps[0].step] == by_step[first.steps[9].step] == ""
    assert {by_step[step.step] for step in first.steps[1:8]} == {"One"}
    assert by_step["Lay the fabric."] == "Two"
    for area in (first, second):
        order = [row.step for row in rows if row.only in {"", area.name.capitalize()}]
        assert order == [step.step for step in area.steps]


def test_only_what_the_crew_can_act_on_stands_on_the_front(answer_of_areas, tmp_path):
    answer = answer_of_areas()
    services = CautionLine(
        code="stop-and-ask", text="buried services are not known", where="site.near.services"
    )
    path = tmp_path / "doubts.pdf"
    write_build_sheet(answer.model_copy(update={"cautions": (*answer.cautions, services)}), path)
    pages = [" ".join(page.extract_text().split()) for page in pypdf.PdfReader(path).pages]
    assert "Buried services are not known" in pages[0]
    for evidence in answer.cautions:
        assert evidence.text not in " ".join(pages)


@pytest.mark.parametrize(
    ("code", "where"),
    [
        ("stop-and-ask", "site"),
        ("footing-near", "site.near.building"),
        ("access-too-narrow", "site.access.narrowest"),
    ],
)
def test_what_changes_the_day_stands_on_the_front(answer_of_areas, code, where):
    told = CautionLine(code=code, text="A thing to know", where=where)
    other = CautionLine(code="not-used-yet", text="A thing of no use", where="tools.mixer")
    answer = answer_of_areas().model_copy(update={"cautions": (told, other)})
    assert [doubt.text for doubt in build_contents(answer, Paper.A4).doubts] == ["A thing to know"]


def test_a_check_that_misses_its_target_is_said_in_red_and_not_as_near_it(answer_of_areas, tmp_path):
    answer = answer_of_areas()
    first, *others = answer.areas
    check = first.checks[0].model_copy(update={"passes": False, "chance": 0.87, "chance_text": "about 87%"})
    area = first.model_copy(update={"checks": (check, *first.checks[1:])})
    path = tmp_path / "short.html"
    write_build_sheet(answer.model_copy(update={"areas": (area, *others)}), path)
    (line,) = re.findall(r'<p class="short">(Only .*?)</p>', path.read_text(encoding="utf-8"))
    assert f"{check.name} (about 87% chance of failure" in line
    assert "nearest" not in line
    printed = tmp_path / "short.pdf"
    write_build_sheet(answer.model_copy(update={"areas": (area, *others)}), printed)
    assert "about 87% chance of failure" in text_of(pypdf.PdfReader(printed))


def test_a_total_of_several_areas_says_that_they_share_what_is_bought(answer_of_areas, tmp_path):
    answer = answer_of_areas()
    path = tmp_path / "shared.pdf"
    for areas in (answer.areas, answer.areas[:1]):
        write_build_sheet(answer.model_copy(update={"areas": areas}), path)
        assert ("share deliveries" in text_of(pypdf.PdfReader(path))) == (len(areas) > 1)


def test_invented_prices_are_marked_in_the_list_and_at_the_total(answer_of_areas, tmp_path):
    answer = answer_of_areas()
    first, *others = answer.shopping
    marked = (first.model_copy(update={"price_is_invented": True}), *others)
    path = tmp_path / "prices.pdf"
    write_build_sheet(answer.model_copy(update={"shopping": marked}), path)
    text = text_of(pypdf.PdfReader(path))
    assert f"{first.price.text}*" in text
    assert f"{answer.total.text}*" in text
    assert f"{others[0].price.text}*" not in text
    write_build_sheet(answer, path)
    assert "*" not in text_of(pypdf.PdfReader(path))


def test_lime_is_spread_by_the_square_metre_and_by_the_bag_as_cement_is(
    area_build, bays, answer_of_areas, tmp_path
):
    lime = SpreadLine(
        kg=40.0, bags="1 bag and 15 kg of the second", spread_mm=9.0, kg_per_m2=6.67, grid_mm=1936.0
    )
    limed = tuple(bay.model_copy(update={"lime": lime}) for bay in bays(2, 2.0, 3.0, 50))
    path = tmp_path / "lime.pdf"
    write_build_sheet(answer_of_areas((area_build("yard", 4.0, 3.0, limed),)), path)
    text = text_of(pypdf.PdfReader(path))
    for words in (
        "Lime first",
        "then cement",
        lime.bags,
        "6.7 kg/m² = 9 mm loose",
        "one bag to 1.25 × 3.00 m",
    ):
        assert words in text, words


def test_ground_past_the_paving_and_assumed_levels_are_said(area_build, bays, answer_of_areas, tmp_path):
    words = "Assumed: that it falls south. If a house stands on that side, turn the fall away from it."
    area = area_build("yard", 4.0, 3.0, bays(2, 2.0, 3.0, 50), beyond_mm=180.0, levels_words=words)
    path = tmp_path / "levels.pdf"
    write_build_sheet(answer_of_areas((area,)), path)
    text = text_of(pypdf.PdfReader(path))
    assert words in text
    assert "reach 180 mm past it on every side" in text


def test_nothing_is_invented_unless_the_job_says_so(answer_of_areas, tmp_path):
    path = tmp_path / "real.pdf"
    write_build_sheet(answer_of_areas().model_copy(update={"demonstration": False}), path)
    assert INVENTED not in text_of(pypdf.PdfReader(path))


def test_unknown_ending_is_refused(build_answer, tmp_path):
    with pytest.raises(SheetError, match=r"\.pdf or \.html; found 'sheet\.docx'"):
        write_build_sheet(build_answer, tmp_path / "sheet.docx")


def test_html_of_a_strange_name_is_escaped(area_build, answer_of_areas, tmp_path):
    path = tmp_path / "strange.html"
    write_build_sheet(answer_of_areas((area_build("<script>x</script>", 3.0, 3.0, ()),)), path)
    assert "<script>" not in path.read_text(encoding="utf-8").lower()


@pytest.mark.parametrize("template", sorted(TEMPLATES.glob("*")), ids=lambda path: path.name)
def test_typeface_has_every_letter_of_the_templates(template):
    text = template.read_text(encoding="utf-8")
    for weight in (400, 600):
        assert not typeface(weight).missing(text)


@pytest.mark.parametrize("template", sorted(TEMPLATES.glob("*.typ")), ids=lambda path: path.name)
def test_body_is_never_smaller_than_nine_points_and_where_all_must_stand_on_a_leaf_seven_and_a_half(template):
    text = template.read_text(encoding="utf-8")
    sizes = [float(size) for size in re.findall(r"size: ([\d.]+)pt", text)]
    assert min(sizes, default=9) >= 8
    least = 7.5 if template.stem == "build" else 9
    for sizes_tried in re.findall(r"(?:fit\(|sizes = )\(([^)]*)\)", text):
        assert min(float(size.removesuffix("pt")) for size in sizes_tried.split(", ")) >= least


FRESH = """
import sys
from pathlib import Path
from earthfast.sheets import write_build_sheet, write_comparison_sheet
from earthfast.stages.answers import BuildAnswer, ChooseAnswer
folder = Path(sys.argv[1])
build = BuildAnswer.model_validate_json((folder / "build.json").read_text())
choose = ChooseAnswer.model_validate_json((folder / "choose.json").read_text())
for ending in ("pdf", "html"):
    write_build_sheet(build, folder / f"{sys.argv[2]}-build.{ending}")
    write_comparison_sheet(choose, folder / f"{sys.argv[2]}-choose.{ending}")
"""


@pytest.mark.slow
def test_same_job_gives_the_same_bytes_in_fresh_processes(build_answer, choose_answer, tmp_path):
    (tmp_path / "build.json").write_text(build_answer.model_dump_json())
    (tmp_path / "choose.json").write_text(choose_answer.model_dump_json())
    for seed in ("1", "2"):
        environment = {
            "PYTHONHASHSEED": seed,
            "PATH": "/usr/bin:/bin",
            "HOME": str(tmp_path),
            "PYTHONPATH": str(Path(earthfast.__file__).parents[1]),
        }
        subprocess.run([sys.executable, "-c", FRESH, str(tmp_path), seed], check=True, env=environment)
    for name in ("build.pdf", "build.html", "choose.pdf", "choose.html"):
        assert (tmp_path / f"1-{name}").read_bytes() == (tmp_path / f"2-{name}").read_bytes(), name


def test_importing_the_sheets_loads_no_printer():
    heavy = ("typst", "altair", "vl_convert", "jinja2", "pandas", "fontpkg_fira_sans")
    code = f"import sys, earthfast.sheets; print([name for name in {heavy} if name in sys.modules])"
    done = subprocess.run([sys.executable, "-c", code], check=True, capture_output=True, text=True)
    assert done.stdout.strip() == "[]"


def test_levels_carry_their_sign():
    assert [level_words(level) for level in (0.0551, -0.285, 0.0, -0.0004)] == [
        "+0.055",
        "−0.285",
        "±0.000",
        "±0.000",
    ]


def test_columns_are_filled_as_evenly_as_whole_items_allow():
    assert in_columns("abcd", [1, 1, 1, 1], 2) == (("a", "b"), ("c", "d"))
    assert in_columns("abcdef", [5, 1, 1, 1, 1, 1], 2) == (("a",), ("b", "c", "d", "e", "f"))
    assert in_columns("abcdef", [1] * 6, 3) == (("a", "b"), ("c", "d"), ("e", "f"))
    assert in_columns("", [], 3) == ((), (), ())


def test_sources_of_a_formula_are_named_once_where_it_is_printed(readers):
    text = text_of(readers["calculation", Paper.A4])
    told = re.findall(r"Worked out by formula and sources as at ([0-9.]+[0-9])", text)
    assert told
    for number in set(told):
        entry = text[text.index(f" {number} ") :]
        assert "worked out · source" in entry[: entry.index("Worked out by formula")]
