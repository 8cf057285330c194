import numpy as np
import pytest

from earthfast.mixes import (
    StatedDose,
    TreatedGround,
    areal_mass_of_mix,
    compare_doses,
    dose_from_spread,
    dose_from_volume,
    dose_quantities,
    durability_table,
    highest_brushing_loss,
    soil_density_in_mix,
)

GARDEN = TreatedGround(dry_density=1650.0, depth=0.1, bag_mass=25.0, loose_density=1300.0)


def test_all_languages_describe_the_same_binder():
    dose = np.array([0.03, 0.06, 0.12])
    told = dose_quantities(dose, 1700.0, 0.15, 24.0, 25.0, 1250.0)
    kilograms = told.total_mass
    assert told.spread_thickness * 24.0 * 1250.0 == pytest.approx(kilograms)
    assert 24.0 / told.area_per_bag * 25.0 == pytest.approx(kilograms)
    assert told.grid_side**2 == pytest.approx(told.area_per_bag)
    assert dose_from_spread(told.spread_thickness, 1250.0, 1700.0, 0.15) == pytest.approx(dose)
    assert told.volume_fraction * told.soil_parts == pytest.approx(np.ones(3))
    assert np.all(told.bags_to_buy >= told.bags)
    assert np.all(told.bags_to_buy < told.bags + 1.0)


def test_volume_and_mass_doses_agree_through_the_density_of_the_mix():
    told = dose_quantities(0.08, soil_density_in_mix(1900.0, 0.08), 0.2, 1.0, 25.0, 1400.0)
    assert dose_from_volume(told.volume_fraction, 1900.0, 1400.0) == pytest.approx(0.08)
    assert areal_mass_of_mix(0.08, 1900.0, 0.2) == pytest.approx(told.areal_mass)


@pytest.mark.parametrize("spread", [0.010, 0.015])
def test_10_to_15_mm_on_100_mm_is_a_dose_of_roughly_10_to_15_percent(spread):
    by_volume = spread / 0.1
    by_mass = dose_from_spread(spread, np.array([1100.0, 1506.0]), np.array([1750.0, 1450.0]), 0.1)
    assert by_mass[0] < by_volume
    assert by_mass[1] > by_volume


def test_25_mm_on_100_mm_is_four_to_one_and_near_a_lean_concrete():
    told = compare_doses(StatedDose(spread_thickness=0.025, soil_parts=4.0), GARDEN, 0.05)
    assert not told.disagree
    assert [caution.code for caution in told.cautions] == ["lean-concrete-territory"]


def test_half_a_bag_on_two_square_metres_is_not_10_mm():
    told = compare_doses(StatedDose(bags=0.5, bag_area=2.0, spread_thickness=0.010), GARDEN, 0.25)
    assert told.disagree
    assert told.ratio == pytest.approx(10.0 / (12.5 / 2.0 / 1300.0 * 1000.0))
    assert told.cautions[0].code == "dose-quantities-disagree"


def test_one_dose_told_six_ways_agrees():
    dose = 0.1
    soil = 1650.0 * 0.1
    stated = StatedDose(
        fraction=dose,
        areal_mass=dose * soil,
        spread_thickness=dose * soil / 1300.0,
        bags=dose * soil * 10.0 / 25.0,
        bag_area=10.0,
        soil_parts=1300.0 / (dose * 1650.0),
        bucket_parts=1300.0 / (dose * 1100.0),
    )
    told = compare_doses(stated, GARDEN, 1e-9)
    assert len(told.implied) == 6
    assert told.ratio == pytest.approx(1.0)


def test_percent_of_mass_mistaken_for_percent_of_volume_is_found():
    told = compare_doses(StatedDose(fraction=0.06, soil_parts=100.0 / 6.0), GARDEN, 0.2)
    assert told.disagree
    assert told.ratio == pytest.approx(1650.0 / 1300.0)


def test_a_dose_needs_a_statement_above_zero():
    with pytest.raises(ValueError, match="at least one"):
        compare_doses(StatedDose(), GARDEN, 0.2)
    with pytest.raises(ValueError, match="above 0"):
        compare_doses(StatedDose(fraction=0.0), GARDEN, 0.2)


def test_every_soil_group_has_a_brushing_loss_and_finer_groups_stand_no_more():
    groups = ["A-1-a", "A-1-b", "A-2-4", "A-2-5", "A-2-6", "A-2-7", "A-3", "A-4", "A-5", "A-6", "A-7"]
    assert sorted(row.group for row in durability_table().rows) == groups
    losses = [highest_brushing_loss(group) for group in ("A-1-a", "A-4", "A-6")]
    assert losses == sorted(losses, reverse=True)
    assert all(0.05 <= row.highest_loss <= 0.15 for row in durability_table().rows)
