"""Classes of soil: every point gets one, and the rules hold at their edges."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from earthfast.estimate import CautionCode
from earthfast.ground import (
    Texture,
    a_line,
    aashto_class,
    group_index,
    plasticity_class,
    size_at_share,
    texture_class,
    texture_membership,
    u_line,
    uscs_class,
    uscs_class_from_sieves,
)

FINE = {"CL", "CL-ML", "ML", "CH", "MH"}


@given(liquid=st.integers(0, 120).map(lambda n: n / 100), index=st.integers(0, 90).map(lambda n: n / 100))
def test_every_point_of_the_plasticity_chart_gets_one_symbol(liquid, index):
    soil = uscs_class(0.0, 0.05, 0.95, liquid_limit=liquid, plastic_limit=liquid - index)
    assert len(soil.symbols) == 1
    assert soil.symbol in FINE
    assert len(plasticity_class(liquid, index)) == 2


def test_a_point_above_the_u_line_is_flagged_and_one_below_is_not():
    above = uscs_class(0.0, 0.0, 1.0, liquid_limit=0.50, plastic_limit=0.50 - float(u_line(0.50)) - 0.01)
    below = uscs_class(0.0, 0.0, 1.0, liquid_limit=0.50, plastic_limit=0.50 - float(u_line(0.50)) + 0.01)
    assert [c.code for c in above.cautions] == [CautionCode.IMPOSSIBLE_DATA]
    assert below.cautions == ()


@pytest.mark.parametrize(
    ("limit", "index", "symbol"),
    [
        (0.25, 0.04, "CL-ML"),
        (0.25, 0.07, "CL-ML"),
        (0.25, 0.071, "CL"),
        (0.25, 0.039, "ML"),
        (0.49, 0.21, "ML"),
        (0.50, 0.22, "CH"),
        (0.50, 0.21, "MH"),
    ],
)
def test_edges_of_the_chart_fall_on_the_side_the_rule_says(limit, index, symbol):
    assert uscs_class(0.0, 0.0, 1.0, liquid_limit=limit, plastic_limit=limit - index).symbol == symbol


def test_the_hatched_band_is_closed_at_both_ends_as_the_open_data_show():
    # open rows with an index of exactly 4 are printed ML and with exactly 7 CL: CL-ML by rule
    for index in (0.04, 0.07):
        assert uscs_class(0.0, 0.3, 0.7, liquid_limit=0.24, plastic_limit=0.24 - index).symbol == "CL-ML"


@given(
    gravel=st.integers(0, 100),
    rest=st.floats(0, 1),
    limit=st.integers(15, 110),
    index=st.integers(0, 60),
    non_plastic=st.booleans(),
)
def test_every_measured_soil_gets_one_symbol_and_one_name(gravel, rest, limit, index, non_plastic):
    fines = round((100 - gravel) * rest)
    soil = uscs_class(
        gravel / 100,
        (100 - gravel - fines) / 100,
        fines / 100,
        liquid_limit=limit / 100,
        plastic_limit=(limit - index) / 100,
        non_plastic=non_plastic,
        d10=1e-4,
        d30=5e-4,
        d60=2e-3,
    )
    assert len(soil.symbols) == len(soil.names) == 1


@given(
    fines=st.integers(0, 100),
    medium=st.integers(0, 100),
    coarse=st.integers(0, 100),
    limit=st.integers(0, 100),
    index=st.integers(0, 60),
    non_plastic=st.booleans(),
)
def test_every_soil_gets_one_highway_group_with_an_index_of_zero_or_more(
    fines, medium, coarse, limit, index, non_plastic
):
    soil = aashto_class(
        fines / 100, limit / 100, (limit - index) / 100, coarse / 100, medium / 100, non_plastic
    )
    assert soil.group.startswith("A-")
    assert soil.group_index >= 0
    assert (soil.group[:3] in {"A-1", "A-2", "A-3"}) == (
        fines <= 35 or soil.group in {"A-1-a", "A-1-b", "A-3"}
    )


def test_group_index_grows_with_fines_and_plasticity():
    fines = np.linspace(0.36, 1.0, 20)
    assert np.all(np.diff(group_index(fines, 0.45, 0.20)) > 0.0)
    assert np.all(np.diff(group_index(0.7, 0.45, np.linspace(0.1, 0.4, 20))) > 0.0)


def test_texture_triangle_is_tiled_once_on_whole_percents_with_the_known_counts():
    triples = np.array([(s, z, 100 - s - z) for s in range(101) for z in range(101 - s)]) / 100.0
    membership = texture_membership(*triples.T)
    assert triples.shape[0] == 5151
    assert np.all(membership.sum(axis=0) == 1)
    counts = dict(zip(Texture, membership.sum(axis=1), strict=True))
    expected = {
        "silt": 186,
        "silt loam": 840,
        "silty clay loam": 273,
        "silty clay": 231,
        "clay": 1540,
        "clay loam": 325,
        "loam": 349,
        "sandy loam": 565,
        "sandy clay loam": 392,
        "sandy clay": 210,
        "loamy sand": 155,
        "sand": 85,
    }
    assert {str(name): int(count) for name, count in counts.items()} == expected


def test_texture_triangle_is_tiled_once_on_a_tenth_of_a_percent():
    sand, silt = np.meshgrid(np.arange(1001), np.arange(1001), indexing="ij")
    inside = sand + silt <= 1000
    sand, silt = sand[inside] / 1000.0, silt[inside] / 1000.0
    assert np.all(texture_membership(sand, silt, 1.0 - sand - silt).sum(axis=0) == 1)


def test_texture_shares_that_do_not_add_up_are_refused():
    with pytest.raises(ValueError, match="add up"):
        texture_class(0.5, 0.5, 0.5)


def test_sizes_below_the_finest_sieve_are_unknown_and_both_gradings_are_offered():
    sizes, passing = np.array([4.75e-3, 0.425e-3, 0.075e-3]), np.array([1.0, 0.30, 0.11])
    assert np.isnan(size_at_share(sizes, passing, 0.10))
    soil = uscs_class_from_sieves(sizes, passing, non_plastic=True)
    assert soil.symbols == ("SW-SM", "SP-SM")


def test_a_clean_sand_without_sizes_is_one_or_the_other():
    assert uscs_class(0.0, 0.97, 0.03, non_plastic=True).symbols == ("SW", "SP")


def test_organic_soil_is_told_by_oven_drying():
    soil = uscs_class(0.0, 0.0, 1.0, liquid_limit=0.60, plastic_limit=0.40, oven_dried_liquid_limit=0.42)
    assert soil.symbol == "OH"
    assert soil.name == "organic silt"


def test_gravel_with_silty_clay_fines_goes_to_the_clay_symbol():
    soil = uscs_class(0.6, 0.32, 0.08, liquid_limit=0.22, plastic_limit=0.17, d10=1e-4, d30=2e-3, d60=1.6e-2)
    assert soil.symbol == "GW-GC"
    assert soil.name == "well-graded gravel with silty clay and sand"


def test_u_line_lies_above_the_a_line_wherever_soils_lie():
    limit = np.linspace(0.2, 1.5, 50)
    assert np.all(u_line(limit) > a_line(limit))


def test_shares_that_do_not_add_up_are_refused():
    with pytest.raises(ValueError, match="add up"):
        uscs_class(0.5, 0.5, 0.5, non_plastic=True)


def test_highway_class_needs_limits_or_a_word():
    with pytest.raises(ValueError, match="non-plastic"):
        aashto_class(0.5)
