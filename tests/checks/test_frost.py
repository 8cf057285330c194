"""Frost in the checks: sheet values through the very tables that decide, limits, and monotone facts."""

from __future__ import annotations

import itertools
import tomllib
from pathlib import Path

import numpy as np
import pytest

from earthfast.checks import (
    CHECKS,
    BuildUp,
    CheckName,
    Course,
    Material,
    WinterSample,
    berggren_depth,
    frost_heave,
    frost_in_open,
    lift_of,
    lifts_in,
    pore_lift,
    spring_modulus,
    spring_state,
    spring_strength,
    susceptibility_left,
    uneven_lift,
    water_supply,
    whole_lift_stood,
    winter_sample,
)
from earthfast.checks.frozen_columns import column_of, frost_tables, share_of_winters_below
from earthfast.estimate import Trail
from earthfast.frost import Climate, GroundStart, ThermalProperties, freezing_index_sine

DAY = 86400.0
UNIT = 1e-6 / DAY  # m²/(K·s) in 1 mm²/(K·day)
COLUMNS = Path(__file__).parents[1] / "frost" / "layered_columns.toml"
CASES = {case["id"]: case for case in tomllib.loads(COLUMNS.read_text(encoding="utf-8"))["case"]}
NAMES = tuple(ThermalProperties.__dataclass_fields__)
SILENT = Trail(recording=False)


def sine_sample(case):
    """The one winter of an independently computed column, as the checks keep winters."""
    air = case["mean"] + case["amplitude"] * np.cos(2.0 * np.pi * (np.arange(365) + 0.5) / 365.0)
    index = np.array([float(freezing_index_sine(case["mean"], case["amplitude"]))])
    return WinterSample(index, index, air[None], GroundStart(case["initial"]), case["id"])


@pytest.mark.parametrize(("case_id", "base"), [("F-21", "stone"), ("F-22", "treated"), ("F-23", "stone")])
def test_tables_of_a_build_up_give_the_independently_computed_frost(case_id, base):
    case = CASES[case_id]
    blocks, bedding, third, _ = case["thickness"]
    base_material = Material.CRUSHED_STONE if base == "stone" else Material.TREATED_SOIL
    courses = ((Material.BLOCKS, blocks), (Material.BEDDING_SAND, bedding), (base_material, third))
    soil = ThermalProperties(*(case[name][-1] for name in NAMES))
    column = np.array([column_of(BuildUp(tuple(Course(*course) for course in courses)))])
    _, tables = frost_tables(column, sine_sample(case), 1.0, soil)
    depth, treated_gradient, ground_gradient = tables[:, 0, -1]
    # design fineness: 14 cells and daily steps, which come out about 1 percent shallow
    assert depth == pytest.approx(case["depth"], rel=0.03)
    assert ground_gradient / DAY == pytest.approx(case["gradient"][-1], rel=0.06)
    if base == "treated":
        # four cells in the treated layer at design fineness; the fine grid meets 6 percent in the tests of the solver
        assert treated_gradient / DAY == pytest.approx(case["gradient"][2], rel=0.08)


@pytest.mark.parametrize(
    ("potential", "latent", "conductivity", "thickness", "coupled_mm"),
    [
        (60.0, 1.15e8, 2.0, 0.5, 24.6170),
        (120.0, 1.10e8, 1.9, 0.8, 92.7660),
        (25.0, 1.30e8, 1.75, 0.3, 7.4396),
    ],
)
def test_heave_without_heat_from_below_is_the_coupled_closed_form(
    potential, latent, conductivity, thickness, coupled_mm
):
    gradient = latent * thickness / conductivity
    heave = frost_heave(gradient, 0.0, 1.0, potential * UNIT, conductivity, 0.0, 0.0, 1.0)
    assert 1000.0 * float(heave) == pytest.approx(coupled_mm, rel=1e-5)  # F-28, C


def test_overburden_lowers_heave_as_the_potential():
    bare, loaded = (float(frost_heave(1e6, 0.0, 0.0, 1e-13, 2.0, weight, 0.0, 1.0)) for weight in (0.0, 50e3))
    assert loaded / bare == pytest.approx(np.exp(-6e-6 * 50e3), rel=1e-4)


def test_full_pores_lift_by_nine_percent_of_their_water_and_loose_ones_not_at_all():
    density = 2680.0 * (1.0 - 0.40)
    full, nine_tenths = 0.40 * 1000.0 / density, 0.9 * 0.40 * 1000.0 / density
    assert 1000.0 * float(pore_lift(0.5, density, full, 0.0)) == pytest.approx(18.0, rel=1e-9)  # F-28, C
    assert float(pore_lift(0.5, density, nine_tenths, 0.0)) == 0.0
    assert float(pore_lift(0.5, density, full, 1.0)) == 0.0


def test_bound_soil_of_two_megapascals_does_not_heave():
    assert susceptibility_left([0.0, 1.0e6, 2.0e6, 5.0e6]) == pytest.approx([1.0, 0.5, 0.0, 0.0])


def test_uneven_lift_is_the_largest_of_its_three_causes():
    assert float(uneven_lift(10.0, 0.3, 9.0, 10.0)) == pytest.approx(3.0)
    assert float(uneven_lift(10.0, 0.3, 4.0, 10.0)) == pytest.approx(6.0)
    assert float(uneven_lift(10.0, 0.3, 9.0, 18.0)) == pytest.approx(8.0)


def test_thicker_cover_never_lifts_more(case_of, stone_way):
    case = case_of(*(stone_way(stone) for stone in (0.10, 0.20, 0.35, 0.50)))
    lift = lift_of(case, frost_in_open(case, 400.0 * DAY))
    for thinner, thicker in itertools.pairwise(lift):
        assert (thicker <= thinner * 1.001 + 1e-9).all()


def test_colder_winters_never_lift_less(case_of, stone_way):
    case = case_of(stone_way(0.15))
    lifts = [lift_of(case, frost_in_open(case, index * DAY)) for index in (0.0, 50.0, 150.0, 400.0, 900.0)]
    assert not lifts[0].any()
    assert all((warmer <= colder + 1e-12).all() for warmer, colder in itertools.pairwise(lifts))


def test_turf_keeps_cold_out_and_shade_lets_it_in(case_of, stone_way):
    case = case_of(stone_way(0.15), shade=0.9)
    lifts = lifts_in(case, 400.0 * DAY)
    assert (lifts.verge <= lifts.open).all()
    assert (lifts.open <= lifts.shade).all()


def test_stronger_treated_soil_never_lifts_more(case_of, treated_way):
    weak, strong = (case_of(treated_way(0.20), strength=one) for one in (0.5e6, 2.5e6))
    lifts = [lift_of(case, frost_in_open(case, 300.0 * DAY)) for case in (weak, strong)]
    assert (lifts[1] <= lifts[0]).all()
    assert (lifts[1] < lifts[0]).any()


def test_where_it_never_freezes_nothing_lifts_or_softens(case_of, stone_way):
    warm = winter_sample(Climate(27.0, 2.0, 0.5, 0.5, 0.2), 64, np.random.default_rng(2))
    case = case_of(stone_way(0.15), sample=warm, index=0.0)
    result = CHECKS[CheckName.FROST].judge(case, SILENT)
    assert not result.fails.any()
    assert not spring_state(case, SILENT).is_thaw.any()


def test_chance_of_frost_reaching_a_depth_is_the_rank_of_the_winter_that_reaches_it(
    case_of, stone_way, chicago_sample, exact_depth
):
    case = case_of(stone_way(0.20))
    for rank in (0.3, 0.6, 0.95):
        index = float(chicago_sample.at_rank(rank))
        depth = frost_in_open(case, index).depth[:, 0]
        share = share_of_winters_below(case, depth, 1.0)
        assert share[0, 0] == pytest.approx(1.0 - rank, abs=2.0 / chicago_sample.freezing_index.size)


def test_sample_keeps_winters_near_their_nodes(chicago_sample):
    sample = chicago_sample
    assert (np.diff(sample.freezing_index) >= 0.0).all()
    assert (np.diff(sample.node_index) > 0.0).all()
    assert sample.node_index[-1] > sample.freezing_index[-1]
    assert sample.node_air.shape[0] == 3 * sample.node_index.size


@pytest.mark.parametrize(("rank", "factor"), [(0, 1.0), (1, 0.60), (2, 0.50), (3, 0.30), (4, 0.30)])
def test_thawing_modulus_is_the_published_share(rank, factor):
    assert float(spring_modulus(40e6, rank, 1.0)) == pytest.approx(factor * 40e6)  # table 7-4, S
    assert float(spring_modulus(40e6, rank, 0.0)) == 40e6


def test_lower_of_yearly_strength_and_support_index_governs():
    assert float(spring_strength(8.0 * 25e3, 3, 1.0)) == pytest.approx(3.5 * 25e3)  # F-34, S
    assert float(spring_strength(2.5 * 25e3, 3, 1.0)) == pytest.approx(2.5 * 25e3)
    assert float(spring_strength(8.0 * 25e3, 0, 1.0)) == 8.0 * 25e3


def test_spring_never_makes_ground_better_than_wet(case_of, stone_way):
    case = case_of(stone_way(0.10), strength_wet=150e3)
    state = spring_state(case, SILENT)
    assert (state.strength.values <= case.ground.strength_wet.values).all()
    assert (state.modulus.values <= case.ground.modulus_wet.values).all()
    assert state.is_thaw.all()


def test_softening_says_which_state_governs(case_of, stone_way):
    judge = CHECKS[CheckName.SOFTENING].judge
    assert judge(case_of(stone_way(0.10), strength_wet=150e3), Trail()).governed_by[0].endswith("spring thaw")
    assert judge(case_of(stone_way(0.10), index=0.0), Trail()).governed_by[0].endswith("long-term wet")


def test_modified_berggren_agrees_with_heat_flow_in_a_long_winter(case_of, stone_way, exact_depth):
    case = case_of(stone_way(0.20), index=700.0)
    depth = float(np.median(frost_in_open(case, 700.0 * DAY).depth))
    assert berggren_depth(case) == pytest.approx(depth, rel=0.20)  # the band the method deserves


def test_blocks_stand_more_than_flags_and_flags_more_than_slabs(case_of, stone_way):
    surfaces = (Material.BLOCKS, Material.FLAGS, Material.CONCRETE)
    case = case_of(*(stone_way(0.2, surface) for surface in surfaces))
    stands = CHECKS[CheckName.FROST].judge(case, SILENT).capacity.values
    assert list(np.round(1000.0 * stands.min(axis=1))) == [10.0, 5.0, 3.0]  # uneven, over 3 m
    assert round(1000.0 * float(stands.max())) == 25  # as a whole, which blocks reach first on even ground


def test_even_lift_is_judged_as_a_whole_and_against_a_wall_more_sharply(case_of, stone_way):
    way = stone_way(0.15, Material.BLOCKS)
    judge = CHECKS[CheckName.FROST].judge
    free, beside = (judge(case_of(way, index=900.0, wall=wall), SILENT) for wall in (False, True))
    assert (beside.fails >= free.fails).all()
    assert beside.governed_by == ("the coldest winter, as a whole",)
    drive, at_wall = (
        judge(case_of(way, index=900.0, wall=wall, loads=("car",)), SILENT) for wall in (False, True)
    )
    assert "as a whole" not in drive.governed_by[0]
    assert "as a whole" in at_wall.governed_by[0]
    assert whole_lift_stood(0.025, 0.015, [0.0, 1.0]).tolist() == [0.025, 0.015]


def test_a_front_in_water_is_fed_in_full_and_one_out_of_reach_not_at_all():
    assert water_supply(0.5, 0.8, 1.0) == 1.0
    assert water_supply(2.5, 0.5, 1.0) == 0.0
    assert water_supply(1.5, 0.5, 4.0) == pytest.approx(0.75)


def test_deeper_water_never_lifts_more(case_of, stone_way):
    lifts = []
    for depth in (0.3, 1.0, 3.0):
        case = case_of(stone_way(0.15), water_depth=depth, capillary_rise=2.0)
        lifts.append(lift_of(case, frost_in_open(case, 400.0 * DAY)))
    assert (lifts[0] >= lifts[1]).all()
    assert (lifts[1] > lifts[2]).any()


def test_result_names_where_the_unevenness_comes_from(case_of, stone_way):
    judge = CHECKS[CheckName.FROST].judge
    assert "3 m apart" in judge(case_of(stone_way(0.15), index=900.0), SILENT).governed_by[0]
    shaded = judge(case_of(stone_way(0.30), index=60.0, shade=1.2), SILENT).governed_by[0]
    assert "shade" in shaded
