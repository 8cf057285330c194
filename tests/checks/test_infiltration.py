"""Rain that soaks through the surface: where it stands, what it takes of the ground, and which state is said to govern."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from earthfast.checks import (
    CHECKS,
    BuildUp,
    CheckName,
    Course,
    Material,
    Method,
    Way,
    let_through,
    modulus_under_rain,
    strength_under_rain,
    with_infiltration,
)
from earthfast.estimate import Trail, exact
from earthfast.ground import Protection, softening_by_standing_water
from earthfast.ground.stratum_draws import LATENTS, stratum_from_latents
from earthfast.ground.stratum_prior import stratum_prior

DAY = 86400.0
CLAY, SAND = 1e-10, 1e-4  # m/s; from memory, permeability bands, M
SILENT = Trail(recording=False)


def in_rain(case):
    """The case as a setting makes it: with the ground in the worse of its wet states."""
    return replace(case, ground=with_infiltration(case.ground, case.ways[0], case.drainage, SILENT))


def softened(case):
    return CHECKS[CheckName.SOFTENING].judge(in_rain(case), Trail())


def test_standing_rain_softens_clay_as_the_published_table_does():
    # rogers_highway_engineering, table 7.3, thin construction: PI 40 average 2.5 high, 3 low; PI 20 poor 2.5 high, 3 low
    assert softening_by_standing_water(0.40, 0.9, 1.0) == pytest.approx(2.5 / 3.0)
    assert softening_by_standing_water(0.20, 0.9, 1.0, Protection.POOR) == pytest.approx(2.5 / 3.0)
    assert softening_by_standing_water(0.20, 0.9, 1.0) == pytest.approx(4.0 / 5.0)


def test_standing_rain_takes_nothing_where_water_stands_high_already_nor_from_sand():
    assert softening_by_standing_water(0.40, 0.9, [0.0, 0.3]) == pytest.approx([1.0, 1.0])
    assert softening_by_standing_water(0.05, 0.10, 2.0) == pytest.approx(1.0)


def test_softening_is_what_the_ground_would_be_with_its_water_at_formation():
    latents = np.random.default_rng(3).standard_normal((256, len(LATENTS)))
    low = replace(stratum_prior(), winter_water_depth=exact(3.0))
    high = replace(low, winter_water_depth=exact(low.formation_depth))
    own, standing = (stratum_from_latents(latents, prior) for prior in (low, high))
    ratio = softening_by_standing_water(own.plasticity_index, own.fines, 3.0 - low.formation_depth)
    assert standing.cbr_wet / own.cbr_wet == pytest.approx(ratio)
    assert ratio.min() < 0.8


def test_a_day_parts_what_stands_from_what_soaks_away():
    assert strength_under_rain(50e3, 0.6, [0.9 * DAY, 1.1 * DAY]) == pytest.approx([50e3, 30e3])
    assert modulus_under_rain(30e6, 0.6, [0.9 * DAY, 1.1 * DAY]) == pytest.approx([30e6, 30e6 * 0.6**0.8])
    assert strength_under_rain(50e3, 1.2, 2.0 * DAY) == 50e3  # rain never makes ground better


def test_rain_stands_under_stone_on_clay_and_is_said_to_govern(case_of, stone_way):
    mild = {"index": 0.0, "softening": 0.6}
    clay = case_of(stone_way(0.15), permeability=CLAY, **mild)
    wet, dry = softened(clay), softened(case_of(stone_way(0.15), permeability=SAND, **mild))
    assert wet.governed_by[0].endswith("with rain standing on formation")
    assert dry.governed_by[0].endswith("long-term wet")
    assert (wet.capacity.values < dry.capacity.values).all()
    assert in_rain(clay).ground.strength_wet.values == pytest.approx(30e3)
    assert in_rain(clay).ground.modulus_wet.values == pytest.approx(30e6 * 0.6**0.8)


def test_ground_that_water_softens_no_further_stays_as_it_is(case_of, stone_way):
    case = case_of(stone_way(0.15), permeability=CLAY, softening=1.0)
    assert in_rain(case).ground is case.ground


def test_an_outlet_of_formation_spares_the_ground(case_of, stone_way):
    case = case_of(stone_way(0.15), permeability=CLAY, softening=0.6)
    drained = replace(case, drainage=replace(case.drainage, formation_drains=True))
    assert in_rain(drained).ground is case.ground


def test_bound_base_with_outlet_keeps_rain_off_and_without_one_does_not(case_of, treated_way):
    case = case_of(treated_way(0.15), permeability=CLAY, softening=0.6)
    assert in_rain(case).ground is case.ground
    bath = replace(case, drainage=replace(case.drainage, has_outlet=False))
    assert in_rain(bath).ground.strength_wet.values == pytest.approx(30e3)


def test_rain_never_makes_any_check_likelier_to_pass(case_of, stone_way):
    case = case_of(stone_way(0.08), loads=("car",), permeability=CLAY, softening=0.5, strength_wet=20e3)
    for check in CHECKS.values():
        before, after = check.judge(case, SILENT), check.judge(in_rain(case), SILENT)
        assert (after.chance >= before.chance).all()


def test_joints_let_a_fifth_through_gravel_all_and_a_slab_none(case_of, stone_way):
    falls = case_of(stone_way(0.15)).drainage
    gravel = Way(
        Method.STONE, BuildUp((Course(Material.BEDDING_SAND, 0.04), Course(Material.CRUSHED_STONE, 0.15)))
    )
    slab = Way(Method.SLAB, BuildUp((Course(Material.CONCRETE, 0.10), Course(Material.CRUSHED_STONE, 0.10))))
    assert let_through(stone_way(0.15), falls) == 0.2
    assert let_through(gravel, falls) == 1.0
    assert let_through(slab, replace(falls, has_outlet=False)) == 0.0
