"""The library of loads: every row is a statically possible thing with a named source."""

import numpy as np
import pytest
from scipy.constants import g

from earthfast.estimate import lognormal, normal
from earthfast.loads import (
    Contact,
    Footing,
    Footprint,
    Motion,
    contact_through_units,
    load_from_mass,
    load_library,
    vehicle_from_mass,
)
from earthfast.sources import bibliography

LOADS = load_library()
EACH = pytest.mark.parametrize("load", list(LOADS.values()), ids=list(LOADS))


def test_the_usual_things_are_there():
    assert {
        "person",
        "furniture",
        "planter",
        "water barrel",
        "tool store",
        "hot tub",
        "ride-on mower",
        "wheelbarrow",
        "wheeled bin",
        "car",
        "van",
        "skip lorry",
        "refuse lorry",
        "fire engine",
        "pallet racking",
    } <= set(LOADS)


@EACH
def test_every_load_names_sources_that_exist(load):
    assert load.sources
    assert all(note.key in bibliography() for note in load.sources)


@EACH
def test_force_is_pressure_times_contact_area(load):
    radius = load.contact_radius_at(load.force.centre, load.pressure.centre)
    assert np.pi * radius**2 * load.pressure.centre == pytest.approx(load.force.centre)


@EACH
def test_base_pressure_on_the_footprint_carries_all_the_feet(load):
    if load.footprint is not None:
        assert load.base_pressure is not None
        carried = load.base_pressure.centre * load.footprint.area
        assert carried == pytest.approx(load.total_force, rel=0.03)


@EACH
def test_contacts_are_apart_and_fit_the_footprint(load):
    places = [(one.x, one.y) for one in load.contacts]
    assert len(set(places)) == len(places)
    if load.footprint is not None:
        extent = np.ptp(np.array(places), axis=0)
        assert extent[0] <= load.footprint.width
        assert extent[1] <= load.footprint.length


def test_vehicles_and_racking_are_for_an_engineer_and_garden_things_are_not():
    marked = {key for key, load in LOADS.items() if load.needs_engineer}
    assert {"car", "van", "skip lorry", "refuse lorry", "fire engine", "pallet racking"} <= marked
    assert not marked & {"person", "furniture", "planter", "tool store", "wheelbarrow", "ride-on mower"}


def test_code_axles_carry_their_published_total():
    assert LOADS["car axle, code"].total_force == pytest.approx(20e3)
    assert LOADS["lorry axle, code"].total_force == pytest.approx(90e3)
    assert LOADS["standard axle"].total_force == pytest.approx(80e3)


def test_lorry_drive_axle_does_not_pass_its_legal_limit_by_much():
    limit = 11_500.0 * g
    for key in ("skip lorry", "refuse lorry"):
        assert 0.7 * limit < LOADS[key].total_force < limit
        assert 4 * LOADS[key].force.high < 1.1 * limit


def test_filled_hot_tub_spans_the_quoted_masses():
    tub = LOADS["hot tub"].force
    assert tub.low / g == pytest.approx(1100.0, rel=0.05)
    assert tub.high / g == pytest.approx(4500.0, rel=0.05)


def test_a_foot_keeps_its_size_and_a_tyre_its_pressure_when_the_force_varies():
    forces = np.array([1.0, 4.0]) * 1e3
    foot = LOADS["furniture"].contact_radius_at(forces, 1e5)
    tyre = LOADS["car"].contact_radius_at(forces, 2.3e5)
    assert LOADS["furniture"].footing is Footing.RIGID
    assert foot[0] == foot[1]
    assert tyre[1] == pytest.approx(2.0 * tyre[0])


def test_standing_load_from_mass_is_in_equilibrium_and_keeps_its_spread():
    feet = (Contact(0.0, 0.0), Contact(1.0, 0.0), Contact(0.0, 2.0), Contact(1.0, 2.0))
    load = load_from_mass("kiln", lognormal(800.0, 0.2), Footprint(1.2, 2.2), feet, 0.01)
    assert load.total_force == pytest.approx(800.0 * g)
    assert load.pressure.centre * 0.01 * 4 == pytest.approx(800.0 * g)
    assert load.base_pressure.centre * 1.2 * 2.2 == pytest.approx(800.0 * g)
    assert load.force.spread == 0.2
    assert load.motion is Motion.RESTING


def test_flat_standing_load_presses_with_its_base_pressure():
    load = load_from_mass("stack", normal(1000.0, 50.0), Footprint(1.0, 1.0))
    assert load.pressure == load.base_pressure
    assert load.pressure.spread == pytest.approx(50.0 * g)


def test_vehicle_from_mass_rolls_and_asks_for_an_engineer():
    axle = (Contact(0.0, 0.0), Contact(1.5, 0.0))
    trailer = vehicle_from_mass(
        "trailer", lognormal(750.0, 0.1), axle, lognormal(250e3, 0.1), lognormal(20, 0.5)
    )
    assert trailer.total_force == pytest.approx(750.0 * g)
    assert trailer.needs_engineer
    assert trailer.motion is Motion.ROLLING


def test_a_unit_never_narrows_a_contact_and_a_wide_tyre_ignores_it():
    radius = np.linspace(0.005, 0.3, 50)
    below = contact_through_units(radius, 0.1, 0.2)
    assert np.all(below >= radius)
    np.testing.assert_allclose(below[radius > 0.08], radius[radius > 0.08])
    assert np.all(np.diff(below) >= 0.0)


def test_the_library_cannot_be_changed_in_place():
    with pytest.raises(TypeError):
        LOADS["car"] = LOADS["van"]
