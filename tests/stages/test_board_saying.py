"""What is said of an insulation board where frost defeats every way, against heat flow on a fine grid."""

from __future__ import annotations

from importlib.resources import files

import numpy as np
import pytest

from earthfast.checks import CHECKS, BuildUp, CheckName, Course, Material, Method, Way
from earthfast.estimate import Trail
from earthfast.frost import (
    GridFineness,
    LayeredColumns,
    ThermalMaterial,
    ThermalProperties,
    climate_like,
    cold_seasons,
    frozen_winters,
    typical_thermal,
)
from earthfast.job import read_job
from earthfast.stages.choose import choose_for
from earthfast.stages.understanding import understand

NAMES = tuple(ThermalProperties.__dataclass_fields__)


def job_in(place):
    text = (files("earthfast.job") / "demonstrations" / "fernhill-allotments.toml").read_text("utf-8")
    return read_job(text.replace("London-like", place))


def said(place):
    areas = choose_for(job_in(place)).answer.areas
    return [sentence for area in areas for sentence in area.says if "polystyrene" in sentence]


@pytest.mark.slow
def test_where_frost_defeats_every_way_a_board_is_told_of_once_an_area():
    base, path = said("Oslo-like")
    assert base.startswith("Base: frost defeats every way here")
    assert path.startswith("Path:")
    assert "80 mm thick" in base
    assert "less than the 130 kPa" in base
    assert "Boards are not among the ways" in base


def test_where_a_way_withstands_frost_no_board_is_told_of():
    assert said("London-like") == []


def chances(place, boards):
    setting = understand(job_in(place)).areas[0].setting.first(512)
    above = (
        Course(Material.FLAGS, 0.04),
        Course(Material.BEDDING_SAND, 0.03),
        Course(Material.CRUSHED_STONE, 0.15),
    )
    ways = [
        Way(Method.STONE, BuildUp((*above, Course(Material.INSULATION_BOARD, board)))) for board in boards
    ]
    (batch,) = setting.batches(tuple(ways), Trail(recording=False))
    return CHECKS[CheckName.FROST].judge(batch.case, Trail(recording=False)).chance


@pytest.mark.parametrize("place", ["Berlin-like", "Helsinki-like"])
def test_thicker_boards_never_let_more_frost_in(place):
    found = chances(place, (0.045, 0.072, 0.09, 0.135))
    assert (np.diff(found) <= 0.0).all()
    assert found[-1] < 0.01


def winters_under(board, cells):
    materials = (
        ThermalMaterial.CONCRETE,
        ThermalMaterial.BEDDING_SAND,
        ThermalMaterial.CRUSHED_STONE,
        ThermalMaterial.INSULATION_BOARD,
        ThermalMaterial.CLAY,
    )
    rows = [typical_thermal(material) for material in materials]
    properties = ThermalProperties(
        **{name: np.array([[getattr(row, name) for row in rows]]) for name in NAMES}
    )
    columns = LayeredColumns(np.array([[0.04, 0.03, 0.15, board, 99.0]]), properties)
    seasons = cold_seasons(climate_like("Helsinki-like"), 0.75, 12, np.random.default_rng(3))
    return frozen_winters(columns, seasons.surface_temperatures, seasons.start, GridFineness(cells, 6, 8.0))


@pytest.mark.slow
@pytest.mark.parametrize("board", [0.045, 0.072, 0.09])
def test_the_grid_of_the_checks_errs_towards_a_thicker_board(board):
    coarse, fine = winters_under(board, 14), winters_under(board, 42)
    assert coarse.front_gradient[0, :, -1].mean() >= 0.98 * fine.front_gradient[0, :, -1].mean()
    assert coarse.frost_depth == pytest.approx(fine.frost_depth, abs=0.03)


@pytest.mark.slow
def test_a_board_is_told_of_where_build_ups_end_in_different_strata():
    text = (files("earthfast.job") / "demonstrations" / "fernhill-allotments.toml").read_text("utf-8")
    whole = 'top = "150 mm"\ntaken_for = "natural ground"\n'
    lower = 'name = "lower clay"\ntop = "300 mm"\ntaken_for = "natural ground"\n'
    parted = whole.replace("taken_for", 'bottom = "300 mm"\ntaken_for') + f"\n[[stratum]]\n{lower}"
    job = read_job(text.replace("London-like", "Oslo-like").replace(whole, parted))
    base = choose_for(job).answer.areas[0]
    assert any("polystyrene" in sentence for sentence in base.says)
