from __future__ import annotations

import math
from dataclasses import replace

import pytest

from earthfast.checks import BuildUp, Method, Way
from earthfast.sources import read_table
from earthfast.works import (
    Carrier,
    CompactionPlant,
    Crew,
    DiggingSoil,
    Goods,
    Kit,
    PlantHours,
    Task,
    default_basis,
    hand_dig,
    hire_lines,
    journeys,
    labour_for,
    take_off,
    tilling,
)
from earthfast.works.hours import LabourRow

CREW = Crew(people=2, day_hours=8.0)


def test_every_task_has_a_rate_in_its_band():
    rows = read_table("labour_rates", LabourRow).rows
    assert {row.key for row in rows} == set(Task)
    for row in rows:
        assert row.low <= row.usual <= row.high


def test_total_is_tasks_and_machine_minding(treated_way, patio, ground):
    labour = labour_for(treated_way, take_off(treated_way, patio, ground, default_basis()), CREW)
    minded = labour.machine.plate + labour.machine.tiller
    assert labour.total.usual == pytest.approx(sum(t.hours.usual for t in labour.tasks) + minded)
    assert labour.days.usual == pytest.approx(labour.total.usual / 16.0)


def test_two_people_take_half_the_days_of_one(stone_way, patio, ground):
    quantities = take_off(stone_way, patio, ground, default_basis())
    one, two = (labour_for(stone_way, quantities, replace(CREW, people=n)) for n in (1, 2))
    assert one.days.usual == pytest.approx(2.0 * two.days.usual)


def test_machine_digging_saves_hands(stone_way, patio, ground):
    quantities = take_off(stone_way, patio, ground, default_basis())
    by_hand, by_machine = (
        labour_for(stone_way, quantities, replace(CREW, by_machine=flag)) for flag in (False, True)
    )
    assert by_machine.total.usual < by_hand.total.usual
    assert by_machine.machine.excavator > 0.0


def test_lime_first_mixes_twice(treated_way, patio, ground):
    course = treated_way.build_up.treated
    twice = Way(
        Method.LIME_CEMENT,
        BuildUp((*treated_way.build_up.courses[:-1], replace(course, lime_dose=0.02))),
    )
    basis = default_basis()
    once_hours = labour_for(treated_way, take_off(treated_way, patio, ground, basis), CREW).machine.tiller
    twice_hours = labour_for(twice, take_off(twice, patio, ground, basis), CREW).machine.tiller
    assert twice_hours == pytest.approx(2.0 * once_hours)


def test_train_replaces_the_tiller(treated_way, patio, ground):
    quantities = take_off(treated_way, patio, ground, default_basis())
    machine = labour_for(treated_way, quantities, replace(CREW, by_train=True)).machine
    assert machine.tiller == 0.0
    assert machine.stabiliser > 0.0


def test_heavier_soil_never_digs_faster():
    hours = [hand_dig(1.0, soil).usual for soil in (DiggingSoil.SAND, DiggingSoil.MEDIUM, DiggingSoil.HEAVY)]
    assert hours == sorted(hours)


def test_narrow_bay_is_one_strip():
    assert tilling(0.4, 6.0, 0.5, 0.1, 2, 0.1).strips == 1


def test_strips_cover_the_bay_and_one_fewer_would_not():
    for width in (0.9, 1.3, 4.0, 4.1):
        strips = tilling(width, 6.0, 0.5, 0.1, 2, 0.1).strips
        covered = 0.5 + (strips - 1) * 0.4
        assert covered >= width - 1e-9
        assert covered - 0.4 < width


def test_a_machine_of_the_table_works_by_its_own_lifts_and_passes(stone_way, patio, ground):
    """Passes 3 at 100 mm for a twin drum of 1200 kg/m on granular soil: scottish_reinstatement_2015, table A8.1 (S)."""
    roller = CompactionPlant("twin drum roller", 1200.0, 0.9, "roller")
    quantities = take_off(stone_way, patio, ground, default_basis())
    machine = labour_for(stone_way, quantities, replace(CREW, kit=Kit(compactors=(roller,)))).machine
    lifts = math.ceil((0.10 + quantities.make_up) / 0.15)
    passes = 3 if lifts == 2 or 0.10 + quantities.make_up <= 0.10 else 6
    rate = 0.9 * Kit().compacting_speed * Kit().compacting_efficiency / passes
    assert machine.roller == pytest.approx(lifts * quantities.base_area / rate / 3600.0)
    assert machine.plate == 0.0


def test_stone_tipped_at_the_work_takes_two_fifths_of_the_hours_by_barrow(stone_way, patio, ground):
    """1 short ton a person-hour by barrow in a small garden, 2.5 tipped at the work: paving_magazine_2011 (S)."""
    quantities = take_off(stone_way, patio, ground, default_basis())
    barrowed, tipped = (
        next(
            task.hours.usual for task in labour_for(stone_way, quantities, crew).tasks if "stone" in task.task
        )
        for crew in (CREW, replace(CREW, stone_tipped=True))
    )
    assert tipped / barrowed == pytest.approx(1.0 / 2.5, abs=0.01)


def test_wheeling_twice_the_reach_of_the_rate_takes_twice_as_long(stone_way, patio, ground):
    quantities = take_off(stone_way, patio, ground, default_basis())
    near, reach, far = (
        next(
            task.hours.usual
            for task in labour_for(stone_way, quantities, replace(CREW, wheeled=distance)).tasks
            if task.task is Task.WHEEL
        )
        for distance in (20.0, 50.0, 100.0)
    )
    assert near == pytest.approx(reach)
    assert far == pytest.approx(2.0 * reach)


def test_hire_is_by_whole_days_and_only_for_what_runs():
    lines = hire_lines(PlantHours(plate=1.0, tiller=9.0), 8.0)
    assert [(line.goods, line.units) for line in lines] == [(Goods.PLATE_DAY, 1), (Goods.TILLER_DAY, 2)]


def test_barrows_are_limited_by_what_comes_first():
    assert journeys(Carrier.WHEELBARROW, 850.0) == 10
    assert journeys(Carrier.WHEELBARROW, 85.0, loose_volume=0.5) == 10
