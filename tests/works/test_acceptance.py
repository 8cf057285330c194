from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import brentq
from scipy.special import ndtr

from earthfast.works import (
    PointVerdict,
    compaction_passes,
    keeps_sigma,
    lot_within_limits,
    sigma_from_neighbours,
    straightedge_gap,
    strength_continuous,
    strength_initial,
    thickness_survey,
    within_limits_from_index,
)
from earthfast.works.compaction import Listing

# S: FHWA T 5080.12 (1989), table 1B, quality index at n = 3..10
TABLE_1B = {
    0.73: [0.76, 0.69, 0.66, 0.65, 0.64, 0.63, 0.63, 0.63],
    0.70: [0.68, 0.60, 0.57, 0.56, 0.55, 0.55, 0.54, 0.54],
    0.65: [0.52, 0.45, 0.43, 0.41, 0.41, 0.40, 0.40, 0.40],
    0.60: [0.36, 0.30, 0.28, 0.27, 0.27, 0.27, 0.26, 0.26],
}


@pytest.mark.parametrize("share", TABLE_1B)
def test_exact_form_reproduces_the_printed_table(share):
    for count, printed in zip(range(3, 11), TABLE_1B[share], strict=True):
        index = brentq(lambda q, n=count: float(within_limits_from_index(q, n)) - share, 0.0, 1.1)
        assert index == pytest.approx(printed, abs=0.005)


def test_share_within_approaches_the_normal_law_as_results_grow():
    errors = [abs(float(within_limits_from_index(0.8, n)) - ndtr(0.8)) for n in (20, 200, 2000)]
    assert errors[0] > 5 * errors[1] > 25 * errors[2]


def test_index_at_its_bound_means_all_within():
    for n in (3, 5, 12):
        assert within_limits_from_index((n - 1) / np.sqrt(n), n) == pytest.approx(1.0)


def test_two_sided_share_is_the_sum_less_one():
    results = np.array([148.0, 139.0, 152.0, 144.0, 137.0])
    low = lot_within_limits(results, lower_limit=135.0).within
    high = lot_within_limits(results, upper_limit=155.0).within
    assert lot_within_limits(results, 135.0, 155.0).within == pytest.approx(low + high - 1.0)


def test_share_is_unbiased_for_normal_lots():
    generator = np.random.default_rng(4)
    lots = generator.normal(1.0, 1.0, size=(4000, 4))
    index = lots.mean(axis=1) / lots.std(axis=1, ddof=1)
    assert float(np.mean(within_limits_from_index(index, 4))) == pytest.approx(ndtr(1.0), abs=0.01)


def test_band_of_the_share_holds_the_truth_nine_times_in_ten():
    generator = np.random.default_rng(9)
    held = []
    for _ in range(400):
        lot = lot_within_limits(generator.normal(1.2, 1.0, size=6), lower_limit=0.0)
        held.append(lot.within_low <= ndtr(1.2) <= lot.within_high)
    assert np.mean(held) == pytest.approx(0.90, abs=0.04)


def test_few_results_say_so_and_list_those_outside():
    lot = lot_within_limits(np.array([150.0, 130.0, 149.0]), lower_limit=135.0)
    assert lot.proves_little
    assert lot.outside == (False, True, False)
    with pytest.raises(ValueError, match="three results"):
        lot_within_limits(np.array([150.0, 151.0]), lower_limit=135.0)


def test_single_low_result_fails_a_good_mean():
    verdict = strength_initial(np.array([35e6, 35e6, 20e6]), 25e6)
    assert verdict.mean > verdict.mean_wanted
    assert not verdict.conforms


def test_continuous_rule_needs_fifteen_and_keeps_its_sigma():
    # S: EN 206-1 table 14: mean >= fck + 1.48 sigma
    results = np.tile([29e6, 31e6, 33e6], 5)
    verdict = strength_continuous(results, 25e6, 4e6)
    assert verdict.mean_wanted == pytest.approx(30.92e6)
    assert verdict.conforms
    with pytest.raises(ValueError, match="fifteen"):
        strength_continuous(results[:14], 25e6, 4e6)
    assert keeps_sigma(float(np.std(results, ddof=1)), results)
    assert not keeps_sigma(10e6, results)


def test_neighbour_ranges_recover_the_scatter_in_spite_of_drift():
    generator = np.random.default_rng(2)
    drifting = generator.normal(0.0, 1.0, 4000) + np.linspace(0.0, 8.0, 4000)
    assert sigma_from_neighbours(drifting) == pytest.approx(1.0, abs=0.04)  # 0.886 = sqrt(pi)/2


def test_hollow_shows_its_depth_and_a_hump_rocks_the_edge():
    x = np.array([0.0, 1.0, 2.0])
    assert straightedge_gap(x, np.array([0.0, -0.004, 0.0])).gap == pytest.approx(0.004)
    assert straightedge_gap(x, np.array([0.0, 0.004, 0.0])).gap == pytest.approx(0.0)


def test_gap_does_not_depend_on_the_fall_of_the_surface():
    x = np.linspace(0.0, 3.0, 7)
    z = np.array([0, 2, 5, -4, -6, 1, 0]) / 1000.0
    assert straightedge_gap(x, z + 0.02 * x).gap == pytest.approx(straightedge_gap(x, z).gap)


def test_good_mean_does_not_hide_a_thin_spot():
    survey = thickness_survey(np.zeros(3), np.array([0.11, 0.11, 0.08]), 0.10, 0.013, 0.02)
    assert survey.mean == pytest.approx(0.10)
    assert survey.verdicts[2] is PointVerdict.TOO_THIN


def test_light_plate_gets_no_pass_count_but_advice():
    passes = compaction_passes("plate", 430.0, "granular", 0.05)
    assert passes.listing is Listing.NOT_LISTED
    assert passes.passes is None
    assert "50 to 75 mm" in passes.text
    assert passes.cautions


def test_lift_deeper_than_the_table_is_not_permitted():
    assert compaction_passes("plate", 1900.0, "granular", 0.25).listing is Listing.NOT_PERMITTED


def test_heavier_machine_never_needs_more_passes():
    counts = [
        compaction_passes("single drum roller", s, "granular", 0.10).passes for s in (700, 1500, 2500, 4000)
    ]
    assert counts == sorted(counts, reverse=True)


def test_tamper_on_deep_clay_warns_of_wholly_cohesive_soil():
    assert "wholly cohesive" in compaction_passes("vibrating tamper", 60.0, "cohesive", 0.15).text
