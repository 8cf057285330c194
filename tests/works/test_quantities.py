from __future__ import annotations

import time
from dataclasses import replace

import numpy as np
import pytest

from earthfast.checks import BuildUp, Course, Material, Method, Way, restraints
from earthfast.sources import read_table
from earthfast.works import (
    DugSoil,
    Goods,
    basis_table,
    default_basis,
    goods_row,
    order_line,
    swell_of,
    take_off,
    whole_units,
)
from earthfast.works.goods import GoodsRow


@pytest.fixture
def basis():
    return replace(default_basis(), least_extension=0.0)


def test_every_good_has_a_row_and_every_row_a_good():
    assert {row.key for row in read_table("goods", GoodsRow).rows} == set(Goods)


def test_every_default_lies_in_its_band():
    for row in basis_table().rows:
        assert row.low <= row.usual <= row.high, row.key


def test_units_are_whole_hold_the_need_and_waste_none():
    for net in (0.1, 25.0, 25.0000001, 377.0):
        line = order_line(Goods.CEMENT_BAG, net, 0.03)
        assert line.ordered >= line.needed - 1e-6
        assert line.spare < line.unit_size


def test_whole_order_is_not_bumped_by_rounding():
    assert whole_units(0.1 * 3 / 0.3 * 25.0, 25.0) == 1
    assert whole_units(0.0, 25.0) == 0


def test_stone_order_of_a_published_patio(stone_way, patio, ground, basis):
    # P-24 on the plan with the base's extension of its own thickness, 100 mm
    took = take_off(stone_way, patio, ground, basis)
    line = took.line(Goods.STONE_BULK_BAG)
    assert took.base_area == pytest.approx(6.2 * 4.2)
    assert line.net == pytest.approx(6.2 * 4.2 * 0.1 * 2100.0)
    assert line.units == int(np.ceil(line.net * 1.05 / 850.0))


def test_cement_order_agrees_with_the_hand_reckoning_by_area(treated_way, patio, ground, basis):
    # P-26, C: 15.75 kg/m² at 6 % of 1.75 t/m³ over 150 mm
    took = take_off(treated_way, patio, ground, basis)
    assert took.line(Goods.CEMENT_BAG).net / took.base_area == pytest.approx(15.75, rel=0.002)


def test_treated_layer_stays_where_it_is(treated_way, stone_way, patio, ground, basis):
    treated = take_off(treated_way, patio, ground, basis)
    stone = take_off(stone_way, patio, ground, basis)
    assert treated.dig_depth == pytest.approx(0.09)
    assert stone.dig_depth == pytest.approx(0.19)
    assert treated.spoil.mass_away < stone.spoil.mass_away


def test_looser_natural_ground_drops_and_saves_dig(treated_way, patio, ground, basis):
    # P-27: 150 mm finished out of 159.8 mm natural when 1.75 counts the binder
    looser = replace(ground, natural_dry_density=1550.0, layer_dry_density=1750.0 / 1.06)
    took = take_off(treated_way, patio, looser, basis)
    assert 1000 * took.till_depth == pytest.approx(159.8, abs=0.5)
    assert took.dig_depth == pytest.approx(0.24 - took.till_depth)


def test_soil_is_conserved_between_heap_lorry_and_garden(stone_way, patio, ground, basis):
    site = replace(ground, topsoil=0.15, topsoil_kept=0.4, subsoil_kept=0.3)
    spoil = take_off(stone_way, patio, site, basis).spoil
    kept = 0.4 * spoil.topsoil + 0.3
    assert spoil.topsoil_away + spoil.subsoil_away + kept == pytest.approx(spoil.dug)
    bulked = spoil.topsoil_away * (1 + basis.topsoil_swell) + spoil.subsoil_away * 1.3
    assert spoil.loose_away == pytest.approx(bulked)


def test_deep_topsoil_is_stripped_and_made_up_with_stone(treated_way, patio, ground, basis):
    took = take_off(treated_way, patio, replace(ground, topsoil=0.20), basis)
    assert took.dig_depth == pytest.approx(0.20)
    assert took.make_up == pytest.approx(0.11)
    assert took.masses.stone > 0.0


def test_raised_surface_saves_dig_of_the_same_depth(stone_way, patio, ground, basis):
    raised = take_off(stone_way, patio, replace(ground, surface_above_ground=0.05), basis)
    assert raised.dig_depth == pytest.approx(0.14)
    assert raised.make_up == pytest.approx(0.0)


def test_soil_wetter_than_the_mix_shows_how_much_has_to_go(treated_way, ground):
    wet = replace(ground, field_water=0.20)
    soil = 0.15 * 1750.0
    too_much = 0.20 * soil - 0.15 * 1.06 * soil  # water held less water wanted, kg/m²
    assert wet.water_balance(treated_way.build_up.treated) == pytest.approx(-too_much)
    assert wet.water_for(treated_way.build_up.treated) == 0.0


def test_water_brings_soil_and_binder_to_the_moisture_wanted(treated_way, patio, ground, basis):
    took = take_off(treated_way, patio, ground, basis)
    solids = took.base_area * 0.15 * 1750.0
    water_then = took.line(Goods.WATER).net + 0.12 * solids
    assert water_then / (1.06 * solids) == pytest.approx(0.15)


def test_wet_ground_asks_for_no_water(treated_way, patio, ground, basis):
    took = take_off(treated_way, patio, replace(ground, field_water=0.3), basis)
    assert took.line(Goods.WATER).units == 0


def test_fabric_goes_under_stone_and_not_under_a_treated_layer(stone_way, treated_way, patio, ground, basis):
    clay = replace(ground, fabric=True)
    assert take_off(stone_way, patio, clay, basis).line(Goods.FABRIC) is not None
    assert take_off(treated_way, patio, clay, basis).line(Goods.FABRIC) is None


def test_slab_has_no_edging_and_orders_concrete(slab_way, patio, ground, basis):
    took = take_off(slab_way, patio, ground, basis)
    assert took.edge == 0.0
    assert took.line(Goods.CONCRETE_READY).net == pytest.approx(2.4)


def test_slab_orders_side_boards_and_a_sheet_to_cure_under(slab_way, patio, ground, basis):
    # by hand: 6 m x 4 m has 20 m of sides, 5 % for cuts, boards of 4.8 m; sheets of 20 m2 over 24 m2 with laps
    took = take_off(slab_way, patio, ground, basis)
    assert took.line(Goods.FORM_BOARD).net == pytest.approx(20.0)
    assert took.line(Goods.FORM_BOARD).units == 5
    assert took.line(Goods.CURING_SHEET).units == 2


def test_gravel_on_top_is_bought_as_gravel_and_kept_in_by_an_edging(patio, ground, basis):
    # by hand: 24 m2 x 0.04 m x 1,600 kg/m3 = 1,536 kg, 10 % waste, bags of 850 kg
    courses = (Course(Material.GRAVEL, 0.04), Course(Material.CRUSHED_STONE, 0.10))
    took = take_off(Way(Method.STONE, BuildUp(courses)), patio, ground, basis)
    gravel = took.line(Goods.GRAVEL_BULK_BAG)
    assert (gravel.net, gravel.units) == (pytest.approx(1536.0), 2)
    assert took.line(Goods.SAND_BULK_BAG) is None
    assert took.masses.gravel == pytest.approx(1.1 * 1536.0)
    assert took.line(Goods.EDGING).net == pytest.approx(20.0)


def test_a_kerb_is_bought_with_its_concrete_and_weighs_what_its_section_does(stone_way, patio, ground, basis):
    # by hand: 20 m of 0.150 x 0.400 + 0.030 m2 = 1.8 m3 of concrete, too much to mix by the bag; 0.125 x 0.255 m at 2,300 kg/m3
    kerbed = replace(basis, edging=restraints()[-1])
    took = take_off(stone_way, patio, ground, kerbed)
    assert took.line(Goods.KERB).net == pytest.approx(20.0)
    assert took.line(Goods.CONCRETE_READY).net == pytest.approx(1.8)
    assert {took.line(Goods.EDGING), took.line(Goods.HAUNCH_MIX_BAG)} == {None}
    assert took.masses.edging == pytest.approx(20.0 * 0.125 * 0.255 * 2300.0 * 1.05)


def test_a_low_edging_is_set_in_concrete_from_bags(stone_way, patio, ground, basis):
    # by hand: 20 m of 0.075 x 0.200 + 0.005 m2 = 0.4 m3
    took = take_off(stone_way, patio, ground, basis)
    assert took.line(Goods.HAUNCH_MIX_BAG).net == pytest.approx(0.4 * basis.haunch_mix_yield_density)
    assert took.line(Goods.CONCRETE_READY) is None
    assert took.masses.edging == pytest.approx(20.0 * 0.050 * 0.150 * 2300.0 * 1.05)


def test_joints_of_flags_are_filled(patio, ground, basis):
    # by hand: of a pitch of 450 mm a joint of 8 mm leaves 442: 1 - (442/450)^2 = 3.52 % of 50 mm at 1,550 kg/m3
    way = Way(Method.STONE, BuildUp((Course(Material.FLAGS, 0.05), Course(Material.CRUSHED_STONE, 0.10))))
    sand = take_off(way, patio, ground, basis).line(Goods.JOINT_SAND_BAG)
    assert sand.net / 24.0 == pytest.approx(0.03524 * 0.05 * 1550.0, rel=1e-3)


def test_lime_and_cement_are_ordered_apart(patio, ground, basis):
    course = Course(Material.TREATED_SOIL, 0.15, 0.05, 0.03)
    way = Way(Method.LIME_CEMENT, BuildUp((Course(Material.FLAGS, 0.05), course)))
    took = take_off(way, patio, ground, basis)
    assert took.line(Goods.LIME_BAG).net == pytest.approx(took.line(Goods.CEMENT_BAG).net * 3 / 5)
    assert took.line(Goods.FLAG).net == pytest.approx(24.0 / 0.45**2)


def test_large_yard_comes_by_lorry_and_tanker(treated_way, stone_way, ground, basis):
    from earthfast.works import rectangular_plan

    yard = rectangular_plan(80.0, 50.0)
    assert take_off(treated_way, yard, ground, basis).line(Goods.CEMENT_TANKER) is not None
    took = take_off(stone_way, yard, ground, basis)
    assert took.line(Goods.STONE_LOOSE) is not None
    assert took.line(Goods.GRAB_LOAD).units == whole_units(took.spoil.mass_away, 14000.0)


def test_quantities_double_with_the_area_but_for_edges_and_whole_units(stone_way, ground, basis):
    from earthfast.works import rectangular_plan

    no_edge = [0, 1, 2, 3]
    one = take_off(stone_way, rectangular_plan(6.0, 4.0, no_edge), ground, basis)
    two = take_off(stone_way, rectangular_plan(12.0, 4.0, no_edge), ground, basis)
    assert two.masses.stone == pytest.approx(2 * one.masses.stone)
    assert two.spoil.mass_away == pytest.approx(2 * one.spoil.mass_away)


def test_swell_is_the_published_range():
    assert (swell_of(DugSoil.CLAY).low, swell_of(DugSoil.CLAY).high) == pytest.approx((0.30, 0.60))


def test_order_is_said_as_on_the_telephone():
    assert order_line(Goods.STONE_BULK_BAG, 2100.0).order_words == "3 bulk bags of 850 kg"
    assert order_line(Goods.LABOUR_HOUR, 1.0).order_words == "1 hour"
    assert order_line(Goods.CONCRETE_READY, 2.9).order_words == "3 m³"  # by the quarter: twelve of them
    assert goods_row(Goods.CEMENT_BAG).unit == "kg"


def test_take_off_is_quick_enough_for_hundreds_of_ways(treated_way, patio, ground, basis):
    take_off(treated_way, patio, ground, basis)
    start = time.perf_counter()
    for _ in range(100):
        take_off(treated_way, patio, ground, basis)
    assert (time.perf_counter() - start) / 100 < 0.003  # ten times the budget, for a busy machine
