"""Observations go to the stratum they speak of."""

from __future__ import annotations

import numpy as np
import pytest

from earthfast.ground import (
    OBSERVATION_KINDS,
    Property,
    estimate_stratum,
    observations_within,
    stratum_prior,
)

CONE = OBSERVATION_KINDS["cone penetrometer"].row_type
THUMB = OBSERVATION_KINDS["thumb"].row_type
SOUNDING = CONE(blows=(2, 2, 2, 1, 1, 1), depths=(0.05, 0.10, 0.15, 0.25, 0.35, 0.45))


def test_strata_share_out_a_sounding_without_losing_or_doubling_a_blow():
    parts = [
        part
        for top, bottom in ((0.0, 0.15), (0.15, 0.30), (0.30, np.inf))
        for part in observations_within([SOUNDING], top, bottom, takes_unplaced=False)
    ]
    assert sum(sum(part.blows) for part in parts) == sum(SOUNDING.blows)
    assert parts[0].start == 0.0
    assert parts[1].start == 0.15
    assert parts[-1].depths[-1] == 0.45


def test_a_stratum_the_sounding_does_not_reach_gets_none_of_it():
    assert observations_within([SOUNDING], 0.6, 1.0, takes_unplaced=True) == ()


def test_observations_go_by_depth_and_unplaced_ones_where_they_are_taken():
    placed, unplaced = THUMB(result="thumb only dents it", depth=0.4), THUMB(result="fist goes in")
    assert observations_within([placed, unplaced], 0.0, 0.3, takes_unplaced=True) == (unplaced,)
    assert observations_within([placed, unplaced], 0.3, 0.6, takes_unplaced=False) == (placed,)


def test_a_hard_crust_does_not_strengthen_the_soft_ground_below_it():
    below = observations_within([SOUNDING], 0.15, np.inf, takes_unplaced=False)
    whole = estimate_stratum([SOUNDING], stratum_prior(), np.random.default_rng(1), 1024)
    part = estimate_stratum(below, stratum_prior(), np.random.default_rng(1), 1024)
    assert part.bands[Property.CBR_NOW].median < whole.bands[Property.CBR_NOW].median


@pytest.mark.parametrize(
    ("kind", "fields", "message"),
    [
        ("cone penetrometer", {"blows": (1, 1), "depths": (0.1,)}, "one depth"),
        ("cone penetrometer", {"blows": (1, 1), "depths": (0.1, 0.05)}, "go down"),
        ("compaction", {"water": (0.1, 0.2), "dry_density": (1700.0, 1750.0)}, "three points"),
        ("jar", {"sand": 0.0, "silt": 0.0, "clay": 0.0}, "no layer with a thickness"),
        ("jar", {"sand": 0.02, "silt": 0.01, "clay": 0.01, "sand_time": 700.0, "silt_time": 600.0}, "order"),
        ("grading", {"sizes": (0.002,), "passing": (0.9, 0.8)}, "one share"),
        ("grading", {"sizes": (0.002, 0.002), "passing": (0.9, 0.8)}, "each sieve once"),
        ("core cutter", {"soil_mass": 0.1, "water_content": 0.2}, "dry density of 82"),
        (
            "sand replacement",
            {
                "sand_used": 1.0,
                "sand_in_cone": 1.2,
                "sand_density": 1450.0,
                "soil_mass": 4.0,
                "water_content": 0.2,
            },
            "more sand used",
        ),
    ],
)
def test_lists_that_do_not_match_are_refused(kind, fields, message):
    with pytest.raises(ValueError, match=message):
        OBSERVATION_KINDS[kind].row_type(**fields)


@pytest.mark.parametrize(
    ("kind", "fields"),
    [
        ("pocket penetrometer", {"reading": 0.0}),
        ("hand vane", {"strength": 0.0}),
        ("cbr", {"value": 0.0, "soaked": False}),
        ("plate", {"modulus": 0.0}),
        ("water content", {"value": 0.0}),
        ("mottling", {"top": 0.0}),
        ("dry hole", {"bottom": 0.0}),
        ("water strike", {"level": 0.0}),
        ("organic content", {"value": 0.0}),
        ("sulfate", {"value": 0.0}),
        ("ribbon", {"length": 0.0}),
        ("cone penetrometer", {"blows": (5, 5), "depths": (0.0, 0.0)}),
    ],
)
def test_a_reading_of_nothing_still_gives_an_estimate(kind, fields):
    row = OBSERVATION_KINDS[kind].row_type(**fields)
    found = estimate_stratum([row], stratum_prior(), np.random.default_rng(1), 256)
    assert all(np.isfinite([b.low, b.median, b.high]).all() for b in found.bands.values())
