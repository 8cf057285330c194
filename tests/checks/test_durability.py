"""Durability of treated soil: limits of the strength wanted, and what frost asks of a layer that it reaches."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from earthfast.checks import CHECKS, CheckName, frost_strength_wanted, winters_that_freeze
from earthfast.estimate import Trail

SILENT = Trail(recording=False)
WEAK_SPOTS = 0.5


def judged(case):
    return CHECKS[CheckName.DURABILITY].judge(case, SILENT)


@pytest.mark.parametrize(("fines", "limit"), [(0.10, 2.0e6), (0.80, 1.0e6)])
def test_many_frosts_want_the_strength_of_the_uk_rules(fines, limit):
    assert float(frost_strength_wanted(fines, 1e3)) == pytest.approx(WEAK_SPOTS * limit)  # S


def test_without_frost_the_low_end_of_treated_ground_is_enough():
    assert float(frost_strength_wanted(0.8, 0.0)) == pytest.approx(WEAK_SPOTS * 345e3)  # 50 psi, S


def test_first_frost_takes_half_and_the_sixth_leaves_nothing():
    wanted = frost_strength_wanted(0.1, np.array([1.0, 6.0])) / (WEAK_SPOTS * 2.0e6)
    assert wanted[0] == pytest.approx(0.5, abs=0.01)  # over half of the loss with the first cycle, S
    assert wanted[1] > 0.98  # steady after about six, S


def test_more_frosts_never_want_less():
    wanted = frost_strength_wanted(0.5, np.linspace(0.0, 20.0, 41))
    assert all(fewer <= more for fewer, more in itertools.pairwise(wanted))


def test_expected_number_of_frosts_is_share_times_years():
    assert float(winters_that_freeze(0.25, 20.0)) == 5.0


def test_layer_under_more_stone_freezes_in_fewer_winters(case_of, treated_way):
    case = case_of(*(treated_way(0.15, stone) for stone in (0.05, 0.15, 0.40)))
    wanted = judged(case).demand.values
    assert all((deeper <= shallower).all() for shallower, deeper in itertools.pairwise(wanted))
    assert (wanted[-1] < wanted[0]).any()


def test_strength_decides(case_of, treated_way):
    assert judged(case_of(treated_way(0.15), strength=0.1e6)).fails.all()
    assert not judged(case_of(treated_way(0.15), strength=3.0e6)).fails.any()


def test_ways_without_treated_soil_are_not_judged(case_of, stone_way):
    assert not judged(case_of(stone_way(0.15))).applies.any()


def test_frost_is_named_where_it_governs(case_of, treated_way):
    assert judged(case_of(treated_way(0.15))).governed_by == ("freezing and thawing",)
