"""Settlement: closed forms against quadrature, published tables and examples; what sinks and what does not."""

from dataclasses import replace

import numpy as np
import pytest
from scipy.integrate import quad

from earthfast.checks import (
    CHECKS,
    CheckName,
    compressibility_from_strength,
    compression_below_patch,
    counted_depth,
    settlement_modulus,
)
from earthfast.elastic import axis_vertical_stress
from earthfast.estimate import Trail
from earthfast.ground import VISIBLE_TILT, compressibilities
from earthfast.loads import load_library

SILENT = Trail(recording=False)
SETTLEMENT = CHECKS[CheckName.SETTLEMENT]


@pytest.mark.parametrize(("radius", "depth"), [(0.1, 2.0), (0.8, 0.5), (1.2, 6.0)])
def test_compression_is_the_stress_under_a_circle_summed_over_depth(radius, depth):
    stress, _ = quad(lambda z: axis_vertical_stress(7e3, radius, z), 0.0, depth)
    assert compression_below_patch(7e3, radius, 3e-7, depth) == pytest.approx(3e-7 * stress, rel=1e-7)


def test_compression_of_endless_clay_is_twice_the_radius_deep():
    assert compression_below_patch(5e3, 0.6, 2e-7, 1e9) == pytest.approx(2.0 * 0.6 * 2e-7 * 5e3, rel=1e-6)


def test_square_tub_settles_about_as_the_circle_of_its_area():
    # M-81: 2.1 m square, 6 kPa, m_v 0.3 m²/MN, clay from 0.3 to 2.3 m: 2.21647 mm under the middle
    radius = 2.1 / np.sqrt(np.pi)
    deep, shallow = (compression_below_patch(6e3, radius, 3e-7, depth) for depth in (2.3, 0.3))
    assert deep - shallow == pytest.approx(2.21647e-3, rel=0.02)


@pytest.mark.parametrize(
    ("strength", "material"),
    [(30e3, "soft alluvial clay"), (90e3, "firm to stiff clay"), (220e3, "very stiff clay")],
)
def test_compressibility_runs_through_the_quoted_ranges(strength, material):
    row = next(row for row in compressibilities().rows if row.material == material)
    assert row.low <= compressibility_from_strength(strength, 1.0) <= row.high


def test_counted_depth_is_where_the_load_adds_a_tenth():
    depth = counted_depth(20e3, 18e3)
    assert 3.0 * 20e3 / (2.0 * np.pi * depth**2) == pytest.approx(0.1 * 18e3 * depth)


def test_settlement_modulus_is_two_to_five_times_below():
    assert settlement_modulus(50e6, np.array([2.0, 5.0])) == pytest.approx([25e6, 10e6])


def test_only_what_stands_settles(case_of, stone_way):
    assert not SETTLEMENT.judge(case_of(stone_way(0.1), loads=("car", "person")), SILENT).applies.any()
    assert SETTLEMENT.judge(case_of(stone_way(0.1), loads=("car", "hot tub")), SILENT).applies.all()


def test_ground_that_drains_settles_less(case_of, stone_way):
    clay, sand = (
        SETTLEMENT.judge(case_of(stone_way(0.1), loads=("hot tub",), drains=drains, tolerable=1e-3), SILENT)
        for drains in (0.0, 1.0)
    )
    assert np.all(sand.demand.values < clay.demand.values)


def test_softer_ground_never_settles_less(case_of, stone_way):
    demands = [
        SETTLEMENT.judge(
            case_of(
                stone_way(0.1), loads=("hot tub",), strength_wet=s, modulus_wet=600.0 * s, tolerable=1e-3
            ),
            SILENT,
        ).demand.values
        for s in (80e3, 40e3, 20e3)
    ]
    assert np.all(demands[0] < demands[1])
    assert np.all(demands[1] < demands[2])


def test_even_ground_does_not_tilt(case_of, stone_way):
    case = case_of(stone_way(0.1), loads=("hot tub",), spot_spread=0.0)
    assert SETTLEMENT.judge(case, SILENT).demand.values == pytest.approx(0.0)


def test_without_a_limit_in_the_job_visible_tilt_is_the_limit(case_of, stone_way):
    result = SETTLEMENT.judge(case_of(stone_way(0.1), loads=("hot tub",)), SILENT)
    assert result.capacity.values == pytest.approx(VISIBLE_TILT * 2.1)
    assert result.governed_by == ("hot tub, tilting",)


def test_what_is_moved_often_leaves_clay_no_time(case_of, stone_way):
    crowd, tub = (
        SETTLEMENT.judge(case_of(stone_way(0.1), loads=(one,), tolerable=1e-3, drains=drains), SILENT)
        for one, drains in (("crowd", 0.0), ("crowd", 1.0))
    )
    assert np.array_equal(crowd.demand.values, tub.demand.values)


def test_tubs_side_by_side_sink_as_one_wide_patch(case_of, stone_way):
    # 2 a m σ of endless clay, by hand: four times the area is twice the radius, so up to twice the settlement
    tub = load_library()["hot tub"]
    one, four = (
        SETTLEMENT.judge(
            case_of(stone_way(0.1), loads=(replace(tub, side_by_side=count),), tolerable=1e-3, drains=0.0),
            SILENT,
        )
        for count in (1, 4)
    )
    share = np.median(four.demand.values) / np.median(one.demand.values)
    assert 1.3 < share < 2.0
    assert four.governed_by[0].startswith("hot tub, 4 side by side")
