"""Strip logs: at the depth scale of the section, every set, layer and boundary where it was found."""

from __future__ import annotations

import pypdf
import pytest

from earthfast.sheets import Box, Ink, section, strip_log, write_calculation_sheet
from earthfast.sheets.drawing import Stroke
from earthfast.sheets.section import ground_depth
from earthfast.sheets.strip_log import most_a_blow, rows_of_strips, strips_in
from earthfast.stages.answers import BoundaryLine, DepthLine, SetLine, SoundingLine, SoundingsAnswer

WIDTH = 98.0


def a_set(top, bottom, mm_per_blow):
    return SetLine(top_mm=top, bottom_mm=bottom, mm_per_blow=mm_per_blow, cbr_percent=5.0)


def sounding(name, shift=0.0):
    turn = 500.0 + shift
    return SoundingLine(
        name=name,
        sets=(a_set(200, 350, 52), a_set(350, turn, 48), a_set(turn, 700, 20), a_set(700, 900, 18)),
        layers=(a_set(200, turn, 50), a_set(turn, 900, 19)),
        boundaries=(BoundaryLine(depth_mm=turn, low_mm=turn - 60, high_mm=turn + 40),),
    )


@pytest.fixture(name="soundings", scope="module")
def _soundings():
    return SoundingsAnswer(
        soundings=tuple(sounding(f"sounding {n}", 10.0 * n) for n in range(11)),
        boundaries=(
            BoundaryLine(
                depth_mm=550, low_mm=470, high_mm=630, words="11 of 11 cone soundings turn firmer there"
            ),
        ),
        because="11 of 11 cone soundings turn firmer there",
        by_depth=(
            DepthLine(
                top_mm=200,
                bottom_mm=300,
                soundings=11,
                mm_per_blow=52,
                least_mm_per_blow=50,
                most_mm_per_blow=54,
                cbr_percent=4.6,
            ),
        ),
    )


@pytest.fixture(name="drawn", scope="module")
def _drawn(soundings):
    return strip_log(soundings, range(11), 55.0, 0.08, WIDTH)


def strokes(drawing, **wanted):
    return [
        one
        for one in drawing.elements
        if isinstance(one, Stroke) and all(getattr(one, name) == value for name, value in wanted.items())
    ]


def test_eleven_soundings_stand_beside_a_section():
    assert strips_in(WIDTH) >= 11


def test_every_set_is_drawn_as_deep_as_it_was_driven_and_as_long_as_it_went_in(drawn, soundings):
    bars = strokes(drawn, closed=True, fill=Ink.SAND)
    sets = [one for sounding in soundings.soundings for one in sounding.sets]
    assert len(bars) == len(sets)
    most = most_a_blow(soundings)
    strip = (drawn.on_paper(bars[0].places[1])[0] - drawn.on_paper(bars[0].places[0])[0]) * most / 52
    for bar, one in zip(bars, sets, strict=True):
        (x1, y1), (x2, _), (_, y2), _ = map(drawn.on_paper, bar.places)
        assert (y1, y2) == pytest.approx((0.08 * (55 + one.top_mm), 0.08 * (55 + one.bottom_mm)))
        assert x2 - x1 == pytest.approx(strip * one.mm_per_blow / most)


def test_boundaries_stand_at_their_depth_with_their_bands(drawn, soundings):
    umber = strokes(drawn, ink=Ink.UMBER)
    for sounding in soundings.soundings:
        (boundary,) = sounding.boundaries
        levels = [0.08 * (55 + depth) for depth in (boundary.low_mm, boundary.depth_mm, boundary.high_mm)]
        drawn_at = {round(drawn.on_paper(place)[1], 3) for one in umber for place in one.places}
        assert {round(level, 3) for level in levels} <= drawn_at
    (common,) = strokes(drawn, ink=Ink.SIGNAL, dashes="2.2 1.1")
    assert drawn.on_paper(common.places[0])[1] == pytest.approx(0.08 * (55 + 550))


def test_depths_are_those_of_the_section_beside_it(area_build, bays, soundings):
    area = area_build("car park", 22.0, 14.0, bays(2, 11.0, 14.0, 900))
    beside = section(area, Box(84, 101))
    strips = strip_log(soundings, range(3), ground_depth(area), beside.scale, WIDTH)
    assert strips.scale == beside.scale
    assert strips.frame.top == beside.frame.top
    topsoil = next(band for band in beside.bands if band.name == "topsoil")
    ground = strokes(strips, width=0.6)[0]
    assert strips.on_paper(ground.places[0])[1] == pytest.approx(beside.on_paper(topsoil.start)[1])


@pytest.mark.parametrize("drawn_range", [range(11), range(1), range(3, 7)])
def test_no_label_of_a_strip_log_overlaps_another_or_leaves_it(soundings, drawn_range):
    drawing = strip_log(soundings, drawn_range, 55.0, 0.08, WIDTH)
    assert drawing.clashes() == []
    for label in drawing.labels:
        assert drawing.frame.holds(drawing.extent(label)), label.lines


@pytest.mark.parametrize("count", [1, 11, 12, 240])
def test_every_sounding_has_a_strip(count):
    rows = rows_of_strips(count, 11, 23)
    assert [place for row in rows for place in row] == list(range(count))


def test_calculation_sheet_draws_the_soundings_where_the_job_has_some(answer_of_areas, soundings, tmp_path):
    path = tmp_path / "soundings.pdf"
    answer = answer_of_areas()
    write_calculation_sheet(answer.model_copy(update={"soundings": soundings}), [], path)
    text = " ".join(" ".join(page.extract_text() for page in pypdf.PdfReader(path).pages).split())
    assert "Cone soundings beside the section" in text
    assert "550 mm (470 to 630): 11 of 11 cone soundings turn firmer there" in text
    assert "mm a blow across a strip" in text
    write_calculation_sheet(answer, [], path)
    assert "Cone soundings" not in " ".join(page.extract_text() for page in pypdf.PdfReader(path).pages)
