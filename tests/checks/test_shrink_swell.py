"""Clay that moves with the seasons: the sheet's swell through the check, and monotone facts."""

from __future__ import annotations

import itertools
from dataclasses import replace

import numpy as np
import pytest

from earthfast.checks import CHECKS, CheckName, seasonal_movement, shrinkable_index
from earthfast.estimate import Trail

FOOT = 0.3048
SILENT = Trail(recording=False)


def movements(case):
    return CHECKS[CheckName.SHRINK_SWELL].judge(case, SILENT).demand.values


def test_whole_change_of_ten_feet_of_highly_expansive_clay_is_the_published_integral():
    found = seasonal_movement(0.28, 0.0, 10.0 * FOOT, 1.0)
    assert 1000.0 * float(found) == pytest.approx(75.4275, abs=5e-4)  # F-45, C


def test_movement_goes_with_the_share_of_the_change_that_a_summer_brings():
    whole, part = (float(seasonal_movement(0.28, 0.2, 1.0, share)) for share in (1.0, 0.35))
    assert part == pytest.approx(0.35 * whole, rel=1e-12)


def test_movement_of_two_slices_is_that_of_both():
    upper, lower, both = (
        float(seasonal_movement(0.28, top, bottom, 1.0))
        for top, bottom in ((0.1, 0.5), (0.5, 1.0), (0.1, 1.0))
    )
    assert upper + lower == pytest.approx(both, rel=1e-12)


def test_soil_of_few_fines_or_little_plasticity_is_not_shrinkable():
    assert float(shrinkable_index(0.40, 0.35)) == 0.0  # more than 35 % finer than 0.060 mm, S
    assert float(shrinkable_index(0.36, 1.00)) == pytest.approx(0.36)  # worked example, S
    assert float(shrinkable_index(0.09, 1.00)) == 0.0


def test_clay_of_low_expansiveness_does_not_move():
    assert float(seasonal_movement(0.11, 0.1, 1.0, 1.0)) == 0.0


def test_cover_below_the_drying_depth_leaves_nothing_to_move():
    assert float(seasonal_movement(0.40, 1.2, 1.0, 0.9)) == 0.0


def test_deeper_cover_or_treatment_never_moves_more(case_of, stone_way, treated_way):
    stone = movements(case_of(*(stone_way(t) for t in (0.1, 0.3, 0.5)), plasticity_index=0.30))
    treated = movements(case_of(*(treated_way(t, 0.1) for t in (0.1, 0.2, 0.3)), plasticity_index=0.30))
    for rows in (stone, treated):
        assert all((deeper < shallower).all() for shallower, deeper in itertools.pairwise(rows))


def test_fatter_clay_never_moves_less():
    found = [float(seasonal_movement(index, 0.2, 0.9, 0.4)) for index in np.linspace(0.0, 0.6, 25)]
    assert all(leaner <= fatter for leaner, fatter in itertools.pairwise(found))


def test_sand_gives_the_check_nothing_to_judge(case_of, stone_way):
    result = CHECKS[CheckName.SHRINK_SWELL].judge(case_of(stone_way(0.2), fines=0.1), SILENT)
    assert not result.applies.any()


def test_less_movement_is_stood_beside_a_wall_that_stays_where_it_is(case_of, stone_way):
    open_case = case_of(stone_way(0.2), plasticity_index=0.30)
    beside = replace(open_case, is_beside_building=True)
    far, near = (CHECKS[CheckName.SHRINK_SWELL].judge(case, SILENT) for case in (open_case, beside))
    assert np.all(near.capacity.values < far.capacity.values)
    assert near.chance[0] >= far.chance[0]
