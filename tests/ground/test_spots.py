"""What readings say of single spots: against dense normal algebra, against known ground, and the laws they keep."""

from __future__ import annotations

import numpy as np
import pytest

from earthfast.estimate import Numbers
from earthfast.ground import (
    OBSERVATION_KINDS,
    Property,
    estimate_stratum,
    repeat_scatter,
    spot_estimates,
    stratum_prior,
)
from earthfast.ground.stratum import evidence_in

PRIOR = stratum_prior()
CONE = OBSERVATION_KINDS["cone penetrometer"].row_type
VANE = OBSERVATION_KINDS["hand vane"].row_type


def cone(millimetres, **where):
    return CONE(blows=(1,), depths=(1e-3 * millimetres,), **where)


def looked_at(rows, count=4096):
    estimate = estimate_stratum(rows, PRIOR, np.random.default_rng(1), count)
    return estimate, spot_estimates(estimate, rows, PRIOR, np.random.default_rng(2))


def test_spot_estimates_are_those_of_dense_normal_algebra():
    # three spots with 1, 2 and 4 readings; on every draw of the ground the effects are jointly normal with the readings
    rows = [cone(mm, place=p) for p, mm in zip("ABBCCCC", (20, 40, 50, 12, 14, 11, 15), strict=True)]
    estimate, spots = looked_at(rows)
    (piece,) = evidence_in(rows, estimate.draws)["cone penetrometer"]
    assert isinstance(piece, Numbers)
    member = np.array([[spot == name for name in "ABC"] for spot in piece.spots], dtype=float)
    means, variances = [], []
    for draw in range(0, estimate.draws.count, 8):
        own = np.eye(3) * estimate.draws.spot_spread[draw] ** 2
        cross = own @ member.T
        readings = member @ own @ member.T + piece.scatter**2 * np.eye(7) + piece.shared**2
        gain = cross @ np.linalg.inv(readings)
        means.append(gain @ (piece.values - piece.centre[draw]))
        variances.append(np.diag(own - gain @ cross.T))
    exact_mean = np.mean(means, axis=0)
    exact_sd = np.sqrt(np.mean(variances, axis=0) + np.var(means, axis=0))
    found = {spot.name: spot.over_stratum for spot in spots}
    for place, name in enumerate("ABC"):
        assert np.log(found[name].median) == pytest.approx(exact_mean[place], abs=0.04)
        assert found[name].log_sd == pytest.approx(exact_sd[place], rel=0.12)


def test_bands_of_spots_hold_the_truth_and_order_the_ground():
    generator = np.random.default_rng(8)
    truth = 0.45 * generator.standard_normal(120)
    rows = [
        cone(25.0 * np.exp(-u + 0.2 * generator.standard_normal()), place=f"P{i}")
        for i, u in enumerate(truth)
    ]
    _, spots = looked_at(rows)
    over = {spot.name: spot.over_stratum for spot in spots}
    truth -= truth.mean()  # over the stratum on the whole
    inside = [over[f"P{i}"].low <= np.exp(u) <= over[f"P{i}"].high for i, u in enumerate(truth)]
    # 120 spots: two standard errors are 5.5 points
    assert 0.83 <= np.mean(inside) <= 0.97
    medians = np.log([over[f"P{i}"].median for i in range(120)])
    assert np.corrcoef(medians, truth)[0, 1] > 0.85
    assert [spot.over_stratum.median for spot in spots] == sorted(spot.over_stratum.median for spot in spots)
    assert sum(spot.weakest for spot in spots) == pytest.approx(1.0)


def test_a_spot_read_once_is_pulled_to_the_stratum_and_one_read_often_stands_for_itself():
    even = [cone(20, place=f"P{i}") for i in range(12)]
    once = looked_at([*even, cone(60, place="soft")])[1][0]
    often = looked_at([*even, *[cone(60, place="soft")] * 8])[1][0]
    assert once.name == often.name == "soft"
    assert (once.readings, often.readings) == (1, 8)
    assert 1.0 > once.over_stratum.median > often.over_stratum.median
    assert often.weakest > 0.9


def test_repeats_at_one_spot_are_not_taken_for_uneven_ground():
    soft, firm = (50, 52, 48, 51), (15, 14, 16, 15)
    there = [cone(mm, place="A") for mm in soft] + [cone(mm, place="B") for mm in firm]
    unplaced = [cone(mm) for mm in (*soft, *firm)]
    spreads = {
        name: estimate_stratum(rows, PRIOR, np.random.default_rng(1)).bands[Property.SPOT_SPREAD]
        for name, rows in (("two spots", there), ("eight spots", unplaced))
    }
    # eight spots tell the spread better than two
    assert spreads["two spots"].log_sd > spreads["eight spots"].log_sd
    (scatter,) = repeat_scatter(there, looked_at(there)[0].draws)
    logs = [np.log(soft), np.log(firm)]
    by_hand = np.sqrt(sum(np.sum((one - one.mean()) ** 2) for one in logs) / 6)
    assert scatter.repeats == 6
    # the equation turns millimetres into CBR by a power a little above one
    assert by_hand < scatter.seen < 1.2 * by_hand
    assert scatter.assumed == pytest.approx(0.20)


def test_two_kinds_at_one_spot_speak_of_the_same_ground():
    even = [cone(20, place=f"P{i}") for i in range(8)]
    alone = looked_at([*even, cone(40, place="X")])[1]
    both = looked_at(
        [
            *even,
            cone(40, place="X"),
            VANE(strength=40e3, place="X"),
            *[VANE(strength=150e3, place=f"P{i}") for i in range(8)],
        ]
    )[1]
    one, two = (next(spot for spot in spots if spot.name == "X") for spots in (alone, both))
    assert two.readings == 2
    assert two.over_stratum.median < one.over_stratum.median
    assert two.over_stratum.log_sd < one.over_stratum.log_sd * 1.05


def test_no_spot_is_stronger_once_wet_than_as_found():
    for spot in looked_at([cone(mm, x=float(mm), y=0.0) for mm in (10, 20, 40)])[1]:
        assert spot.cbr_wet.median <= spot.cbr_now.median
        assert spot.cbr_wet.high <= spot.cbr_now.high


def test_readings_without_a_place_have_no_spot_to_name():
    assert looked_at([cone(20), cone(30), cone(40)], count=256)[1] == ()
    assert looked_at([cone(20, place="only")], count=256)[1] == ()


@pytest.mark.slow
def test_spots_of_240_soundings_take_less_time_than_plain_work(cost_of):
    generator = np.random.default_rng(0)
    rows = [cone(float(mm), place=f"P{i}") for i, mm in enumerate(generator.lognormal(3.0, 0.3, 240))]
    estimate, _ = looked_at(rows, 4096)
    found = spot_estimates(estimate, rows, PRIOR, generator)
    assert len(found) == 240
    assert min(cost_of(lambda: spot_estimates(estimate, rows, PRIOR, generator)) for _ in range(5)) < 0.8
