"""Every course drawn, dimensions that add up, nothing over anything else."""

from __future__ import annotations

import math
import re
import xml.etree.ElementTree as ET
from itertools import combinations, pairwise

import pytest

from earthfast.checks import Material
from earthfast.sheets import (
    Box,
    Hatch,
    Ink,
    bag_grid,
    chance_strip,
    hatch_tile,
    plan,
    section,
    small_sections,
    soil_hatch,
)
from earthfast.sheets.chances import RAREST
from earthfast.sheets.drawing import Label, Place, Stroke, spread, wrapped
from earthfast.sheets.hatching import MATERIAL_HATCHES, TILES
from earthfast.sheets.lettering import typeface
from earthfast.sheets.packing import packed_cells
from earthfast.stages.answers import CourseLine, StratumLine

BOXES = [Box(84, 65), Box(84, 80), Box(84, 113), Box(84, 160)]
THIN_COURSES = (
    CourseLine(material="blocks", thickness_mm=50),
    CourseLine(material="bedding sand", thickness_mm=20),
    CourseLine(material="concrete", thickness_mm=15),
    CourseLine(material="crushed stone", thickness_mm=25),
    CourseLine(material="treated soil", thickness_mm=120, dose_percent=4, lime_percent=2),
)


def drawn_areas(area_build, bays):
    return [
        area_build("base", 4.2, 3.0, bays(2, 2.1, 3.0, 96)),
        area_build("path", 14.0, 1.2, bays(5, 2.8, 1.2, 51)),
        area_build("car park", 22.0, 14.0, bays(12, 5.5, 4.667, 430, columns=4)),
        area_build("thin", 3.0, 9.0, bays(3, 3.0, 3.0, 60, columns=1), courses=THIN_COURSES),
        area_build("dry", 3.0, 3.0, (), water_mm=None, frost_mm=None, diagonal_m=None),
        area_build("deep", 3.0, 3.0, (), water_mm=2400, frost_mm=1700),
        area_build("bare", 3.0, 3.0, (), strata=(), corners=()),
    ]


@pytest.fixture(name="areas", scope="module")
def _areas(area_build, bays):
    return drawn_areas(area_build, bays)


def drawings(areas, choose_answer):
    for area in areas:
        for box in BOXES:
            yield section(area, box)
        yield plan(area, Box(101, 56))
        yield plan(area, Box(101, 120))
        yield chance_strip(area.checks, 186)
    for choice in choose_answer.areas:
        yield from small_sections(choice.ways, Box(32, 40))
        yield from (chance_strip(way.checks, 190) for way in choice.ways)


def test_no_label_overlaps_another_and_none_leaves_the_drawing(areas, choose_answer):
    for drawing in drawings(areas, choose_answer):
        assert drawing.clashes() == [], drawing.title
        for label in drawing.labels:
            assert drawing.frame.holds(drawing.extent(label)), (drawing.title, label.lines)


def test_every_drawing_is_well_formed_and_says_what_it_shows(areas, choose_answer):
    for drawing in drawings(areas, choose_answer):
        root = ET.fromstring(drawing.svg())  # noqa: S314 (our own text)
        assert root.findtext("{http://www.w3.org/2000/svg}title") == drawing.title
        assert "nan" not in drawing.svg()


@pytest.mark.parametrize("box", BOXES)
def test_every_course_is_drawn_to_scale_and_they_add_up_to_the_build_up(areas, box):
    for area in areas:
        drawing = section(area, box)
        courses = [band for band in drawing.bands if band.name in {c.material for c in area.courses}]
        assert [band.name for band in courses] == [course.material for course in area.courses]
        for band, course in zip(courses, area.courses, strict=True):
            top, bottom = (drawing.on_paper(place)[1] for place in (band.start, band.end))
            assert (bottom - top) * drawing.ratio == pytest.approx(course.thickness_mm)
        total = sum(course.thickness_mm for course in area.courses)
        figures = [label.lines[0] for label in drawing.labels if label.weight == 600 and not label.upright]
        shown = sum(float(figure) for figure in figures[: len(area.courses)])
        assert shown == pytest.approx(total)
        uprights = [label.lines[0] for label in drawing.labels if label.upright]
        assert any(words.endswith(f"{total:.0f}") for words in uprights)


def test_section_stands_on_formation_and_strata_fill_the_ground_below_it(areas):
    drawing = section(areas[0], Box(84, 113))
    under = [band for band in drawing.bands if band.start.dx == pytest.approx(9.0)]
    total = sum(course.thickness_mm for course in areas[0].courses)
    edges = sorted((band.start.y, band.end.y) for band in under)
    assert edges[0][0] == 0.0
    for (_, bottom), (top, _) in pairwise(edges):
        assert top == pytest.approx(bottom)
    assert any(top == pytest.approx(total) for top, _ in edges)


def test_section_reaches_at_least_the_depth_promised(areas):
    for box in BOXES:
        drawing = section(areas[0], box)
        assert 1200 <= max(band.end.y for band in drawing.bands) <= 1500


def test_topsoil_stands_beside_the_dig_at_todays_level(areas):
    topsoil = [band for band in section(areas[0], Box(84, 113)).bands if band.name == "topsoil"]
    corners = areas[0].corners
    above = 1000 * sum(corner.finished_m - corner.ground_m for corner in corners) / len(corners)
    assert topsoil[0].start.y == pytest.approx(above)
    assert topsoil[0].end.y - topsoil[0].start.y == pytest.approx(areas[0].topsoil_mm)


def test_water_and_frost_are_drawn_only_where_they_are_known(areas):
    texts = [
        " ".join(" ".join(label.lines) for label in section(area, Box(84, 113)).labels) for area in areas
    ]
    assert "water level" in texts[0]
    assert "frost" in texts[0]
    assert "water level" not in texts[4]
    assert "frost" not in texts[4]
    assert "deeper than drawn" in texts[5]
    assert "below this drawing" in texts[5]


def test_small_sections_share_one_scale_and_one_frame(choose_answer):
    drawn = small_sections(choose_answer.areas[0].ways, Box(32, 40))
    assert len({drawing.scale for drawing in drawn}) == 1
    assert len({drawing.frame for drawing in drawn}) == 1
    assert len({drawing.key for drawing in drawn}) == len(drawn)


def test_plan_dimensions_are_the_outline_and_its_bays(areas):
    path = plan(areas[1], Box(101, 56))
    texts = [label.lines[0] for label in path.labels]
    assert texts.count("2.80 m") == 5
    assert "14.00 m" in texts
    assert "1.20 m" in texts


def test_plan_letters_match_the_levels_and_bays(areas):
    for area in areas:
        texts = [label.lines[0] for label in plan(area, Box(101, 120)).labels]
        for name in [corner.corner for corner in area.corners] + [bay.bay for bay in area.bays]:
            assert texts.count(name) == 1


def test_plan_is_turned_so_that_the_second_axis_points_up(areas):
    drawing = plan(areas[0], Box(101, 56))
    low, high = drawing.on_paper(Place(0.0, 0.0)), drawing.on_paper(Place(0.0, 3.0))
    assert high[1] < low[1]
    assert (low[1] - high[1]) * drawing.ratio == pytest.approx(3000)


def test_fall_arrow_points_to_the_lowest_corners(areas):
    drawing = plan(areas[0], Box(101, 56))
    shaft = next(
        s for s in drawing.elements if isinstance(s, Stroke) and s.ink is Ink.SIGNAL and not s.closed
    )
    (tail_x, tail_y), (tip_x, tip_y) = (drawing.on_paper(place) for place in shaft.places)
    assert tip_y < tail_y  # the fixture's surface falls along the second axis, up the paper
    assert tip_x == pytest.approx(tail_x)


def test_bag_rectangles_hold_one_bag_each_and_the_bay_takes_all_of_them(areas):
    for area in areas:
        for bay in area.bays:
            grid = bag_grid(bay, bay.grid_mm)
            assert grid.length * grid.width == pytest.approx((bay.grid_mm / 1000) ** 2)
            assert grid.rows * grid.width == pytest.approx(bay.width_m)
            bags = bay.area_m2 / (bay.grid_mm / 1000) ** 2
            assert grid.rows * grid.columns == pytest.approx(bags, rel=0.09)


def test_bay_without_binder_has_no_bags(bays):
    assert bag_grid(bays(1, 2.0, 2.0, 25)[0], 0.0) is None


def test_chance_strip_places_a_tenth_and_a_thousandth_two_decades_apart(areas):
    checks = areas[0].checks
    pair = [
        checks[0].model_copy(update={"chance": chance, "passes": True, "name": name})
        for chance, name in ((0.1, "one"), (0.001, "two"))
    ]
    drawing = chance_strip(pair, 186)
    dots = [s for s in drawing.elements if isinstance(s, Stroke) and s.closed and len(s.places) == 12]
    assert dots[0].places[0].x - dots[1].places[0].x == pytest.approx(2.0)


def test_chance_of_nought_stands_at_the_rare_end(areas):
    never = areas[0].checks[0].model_copy(update={"chance": 0.0})
    dots = [
        s
        for s in chance_strip([never], 186).elements
        if isinstance(s, Stroke) and s.closed and s.places[0].x < -3.9
    ]
    assert dots
    assert dots[0].places[0].x == RAREST


def test_chance_beyond_the_axis_is_an_arrow_head_and_one_on_it_is_not(areas):
    def corners(chance):
        check = areas[0].checks[0].model_copy(update={"chance": chance, "passes": True})
        strokes = [s for s in chance_strip([check], 186).elements if isinstance(s, Stroke) and s.closed]
        return len(strokes[-1].places)

    assert corners(0.0) == 3
    assert corners(0.01) == 12


def test_missed_target_is_told_by_shape_as_well_as_colour(areas):
    missed = areas[0].checks[0].model_copy(update={"passes": False})
    met = areas[0].checks[0].model_copy(update={"passes": True})
    corners = [
        {len(s.places) for s in chance_strip([check], 186).elements if isinstance(s, Stroke) and s.closed}
        for check in (missed, met)
    ]
    assert 4 in corners[0]
    assert 4 not in corners[1]


@pytest.mark.parametrize("material", list(Material))
def test_every_material_has_its_own_hatching(material):
    assert MATERIAL_HATCHES[material] in TILES
    others = [MATERIAL_HATCHES[other] for other in Material if other is not material]
    assert MATERIAL_HATCHES[material] not in others


@pytest.mark.parametrize("hatch", list(Hatch))
def test_every_hatching_has_marks(hatch):
    tile = hatch_tile(hatch)
    root = ET.fromstring(f"<g>{tile.marks}</g>")  # noqa: S314 (our own text)
    assert len(root) >= 2
    assert not re.search(r"nan|inf", tile.marks)


def test_hatchings_differ_in_their_marks_and_not_only_in_colour():
    inks = "|".join(Ink)
    shapes = {hatch: re.sub(inks, "", hatch_tile(hatch).marks) for hatch in Hatch}
    for one, other in combinations(Hatch, 2):
        assert shapes[one] != shapes[other], (one, other)


@pytest.mark.parametrize(
    ("symbol", "name", "main", "second"),
    [
        ("CL", "lean clay", Hatch.CLAY, None),
        ("CL-ML", "silty clay", Hatch.CLAY, Hatch.SILT),
        ("ML", "silt", Hatch.SILT, None),
        ("SC", "clayey sand", Hatch.SAND, Hatch.CLAY),
        ("SP-SM", "sand with silt", Hatch.SAND, Hatch.SILT),
        ("GW-GC", "gravel with clay", Hatch.GRAVEL, Hatch.CLAY),
        ("Pt", "peat", Hatch.ORGANIC, None),
        ("OL", "topsoil", Hatch.TOPSOIL, None),
        ("", "firm sandy clay", Hatch.CLAY, Hatch.SAND),
        ("", "made ground", Hatch.UNNAMED_GROUND, None),
    ],
)
def test_soil_is_hatched_by_its_symbol_or_its_name(symbol, name, main, second):
    assert (soil_hatch(symbol, name).main, soil_hatch(symbol, name).second) == (main, second)


def test_stones_fill_the_tile_exactly():
    cells = packed_cells(34, 11.0)
    areas = [
        abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(cell, cell[1:] + cell[:1], strict=True))) / 2
        for cell in cells
    ]
    assert sum(areas) == pytest.approx(121.0)


def test_spread_keeps_order_moves_nothing_that_is_free_and_stays_inside():
    free = spread([10, 30, 50], [5, 5, 5], 0, 100)
    assert free == [10, 30, 50]
    crowded = spread([10, 11, 12, 50], [5, 5, 5, 5], 0, 100)
    assert crowded == [6, 11, 16, 50]
    held = spread([1, 99], [6, 6], 0, 100)
    assert held == [3, 97]


def test_wrapping_keeps_every_word_and_the_width():
    text = "deepest frost, coldest winter in ten years that anyone wrote down"
    lines = wrapped(text, 22.0, 3.35)
    assert " ".join(lines) == text
    assert all(Label(Place(0, 0), (line,), 3.35).width <= 22.0 for line in lines)


def test_figures_of_the_typeface_have_one_width():
    widths = {round(typeface().width(figure), 6) for figure in "0123456789"}
    assert len(widths) <= 10
    assert all(0.3 < width < 0.7 for width in widths)
    assert typeface().width("iiii") < typeface().width("mmmm")


def test_letter_widths_are_those_the_printer_sets(tmp_path):
    import typst

    from earthfast.sheets.lettering import font_folder

    text = "crushed stone 150"
    fonts = typst.Fonts(
        include_system_fonts=False, include_embedded_fonts=False, font_paths=[str(font_folder())]
    )
    source = (
        '#set text(font: "Fira Sans", size: 100pt, kerning: false, ligatures: false)\n'
        f'#context [#metadata(measure("{text}").width.pt()) <width>]'
    )
    path = tmp_path / "measure.typ"
    path.write_text(source)
    answer = typst.query(path, "<width>", field="value", one=True, font_paths=fonts, ignore_system_fonts=True)
    assert math.isclose(float(answer), 100 * typeface().width(text), rel_tol=0.002)


def test_names_are_escaped_in_drawings(area_build):
    strange = area_build(
        "<b>&", 3.0, 3.0, (), strata=(StratumLine(name='clay "<&>"', symbol="CL", top_mm=0, bottom_mm=900),)
    )
    ET.fromstring(section(strange, Box(84, 113)).svg())  # noqa: S314 (our own text)
    ET.fromstring(plan(strange, Box(101, 56)).svg())  # noqa: S314 (our own text)
