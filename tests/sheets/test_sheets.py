"""The printed sheets: pages, text, fonts, and the same bytes for the same job."""

from __future__ import annotations

import io
import re
import subprocess
import sys
from pathlib import Path

import pypdf
import pytest

from earthfast.sheets import (
    CalculationCheck,
    Paper,
    SheetError,
    write_build_sheet,
    write_calculation_sheet,
    write_comparison_sheet,
)
from earthfast.sheets.build_contents import half, level_words
from earthfast.sheets.contents import DEFERS, INVENTED
from earthfast.sheets.ink import PAPER_SIZES
from earthfast.sheets.lettering import typeface

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
def test_comparison_sheet_has_a_page_an_area_and_one_for_what_it_rests_on(readers, paper):
    assert len(readers["comparison", paper].pages) == 3


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
        "76 l",
        "5.16 m",
        "dig 150",
        "4.20 m",
        "one bag to 1.09 × 1.50 m",
        "Hold: all four corners within 10 mm",
        "3 h 00",
        "19 bags",
        "£1031 (960 to 1140)",
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
def test_every_sheet_says_what_it_rests_on(readers, sheet, paper, build_answer):
    text = text_of(readers[sheet, paper])
    for line in build_answer.assumptions:
        assert line.figure.label in text
        assert line.figure.text in text
    for caution in build_answer.cautions:
        assert caution.text in text
    assert DEFERS in text
    assert INVENTED in text
    assert f"Earthfast {build_answer.earthfast}" in text
    assert "common practice, no source" in text
    assert " safe" not in text.lower()


@pytest.mark.parametrize("sheet", SHEETS)
def test_page_says_the_same_as_the_print(pages, build_answer, sheet):
    text = pages[sheet]
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
    assert "Clock" not in text
    assert "150 mm" in text


def test_many_different_bays_run_on_and_none_is_lost(area_build, bays, answer_of_areas, tmp_path):
    lines = tuple(
        bay.model_copy(update={"water_l": 100.0 + number, "bay": f"bay{number}"})
        for number, bay in enumerate(bays(48, 3.0, 2.0, 90, columns=8))
    )
    path = tmp_path / "many.pdf"
    write_build_sheet(answer_of_areas((area_build("yard", 24.0, 12.0, lines),)), path)
    text = text_of(pypdf.PdfReader(path))
    for number in range(48):
        assert f"{100 + number} l" in text


def test_long_words_do_not_run_over_the_next_area(area_build, bays, answer_of_areas, tmp_path):
    words = "turn the soil over by hand where the tiller cannot reach, " * 12
    pair = tuple(
        area_build(name, 4.0, 3.0, bays(2, 2.0, 3.0, 50), mixing_words=words) for name in ("one", "two")
    )
    path = tmp_path / "long.pdf"
    write_build_sheet(answer_of_areas(pair), path)
    pages = [page.extract_text() for page in pypdf.PdfReader(path).pages]
    assert len(pages) == 3
    assert "One" in pages[0]
    assert "Two" in pages[1]


@pytest.mark.parametrize("count", [3, pytest.param(5, marks=pytest.mark.slow)])
def test_more_areas_take_more_leaves(area_build, bays, answer_of_areas, tmp_path, count):
    areas = tuple(area_build(f"area {n}", 4.0, 3.0, bays(2, 2.0, 3.0, 50)) for n in range(count))
    path = tmp_path / "leaves.pdf"
    write_build_sheet(answer_of_areas(areas), path)
    reader = pypdf.PdfReader(path)
    assert len(reader.pages) == 2 * ((count + 1) // 2)
    assert text_of(reader).count("Shopping list") == 1


def test_areas_with_their_own_order_of_work_each_have_a_list(area_build, bays, answer_of_areas, tmp_path):
    first = area_build("one", 4.0, 3.0, bays(2, 2.0, 3.0, 50))
    second = area_build("two", 4.0, 3.0, bays(2, 2.0, 3.0, 50), steps=first.steps[:4])
    path = tmp_path / "orders.pdf"
    write_build_sheet(answer_of_areas((first, second)), path)
    assert text_of(pypdf.PdfReader(path)).count(first.steps[0].step) == 2


def test_small_print_that_does_not_fit_the_back_gets_a_page_of_its_own(answer_of_areas, tmp_path):
    answer = answer_of_areas()
    many = tuple(
        line.model_copy(
            update={"figure": line.figure.model_copy(update={"label": f"{line.figure.label} {n}"})}
        )
        for n in range(8)
        for line in answer.assumptions
    )
    path = tmp_path / "small-print.pdf"
    write_build_sheet(answer.model_copy(update={"assumptions": many}), path)
    pages = [" ".join(page.extract_text().split()) for page in pypdf.PdfReader(path).pages]
    assert len(pages) == 4
    assert "Assumed" not in pages[1]
    assert DEFERS in pages[1]
    for line in many:
        assert line.figure.label in " ".join(pages[2:])


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
def test_body_is_never_smaller_than_nine_points_and_captions_than_eight(template):
    text = template.read_text(encoding="utf-8")
    sizes = [float(size) for size in re.findall(r"size: ([\d.]+)pt", text)]
    assert min(sizes, default=9) >= 8
    for sizes_tried in re.findall(r"(?:fit\(|sizes = )\(([^)]*)\)", text):
        assert min(float(size.removesuffix("pt")) for size in sizes_tried.split(", ")) >= 9


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
        environment = {"PYTHONHASHSEED": seed, "PATH": "/usr/bin:/bin", "HOME": str(tmp_path)}
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


def test_two_columns_are_filled_as_evenly_as_whole_steps_allow():
    assert half([1, 1, 1, 1]) == 2
    assert half([5, 1, 1, 1, 1, 1]) == 1
    assert half([]) == 0
