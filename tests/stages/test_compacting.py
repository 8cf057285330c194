"""Words, hours and list agree on the machine; passes are those of scottish_reinstatement_2015, table A8.1 (S)."""

from __future__ import annotations

import pytest

from earthfast.checks import BuildUp, Course, Material, Method, Way
from earthfast.estimate import Trail
from earthfast.stages.compacting import compaction_of, compactors_of

TAMPER = '[tools.tamper]\nmass = "6 kg"\npowered = false'
PAVING = (Course(Material.FLAGS, 0.04), Course(Material.BEDDING_SAND, 0.03))
TREATED = Way(Method.CEMENT, BuildUp((*PAVING, Course(Material.TREATED_SOIL, 0.10, 0.06))))
STONE = Way(Method.STONE, BuildUp((*PAVING, Course(Material.CRUSHED_STONE, 0.45))))


@pytest.fixture
def words(changed):
    def of(tools, way):
        plants = compactors_of(changed((TAMPER, tools)).job, Trail())
        return compaction_of(way, 0.0, plants)

    return of


def test_a_tamper_of_the_table_gets_its_passes(words):
    told = words('[tools.tamper]\nmass = "62 kg"\npowered = true', TREATED)
    assert told.words.startswith(
        "Treated soil, with the vibrating tamper of 62 kg: one lift of 100 mm, 4 passes"
    )
    assert told.cautions == ()


def test_a_roller_of_the_table_gets_its_lifts_and_passes(words):
    told = words('[tools.roller]\nmass = "1.2 t"\nwidth = "900 mm"\ndrums = 2', STONE)
    assert "Stone, with the roller of 1,200 kg: 3 lifts of 150 mm, 6 passes" in told.words


def test_each_course_gets_the_machine_that_the_table_permits_the_deeper_lift(words):
    both = '[tools.plate]\nmass = "160 kg"\n[tools.tamper]\nmass = "62 kg"\npowered = true'
    assert "vibrating tamper of 62 kg" in words(both, TREATED).words


def test_a_light_plate_gets_thin_lifts_and_is_told_what_a_heavier_machine_would_do(words):
    told = words('[tools.plate]\nmass = "160 kg"\nlength = "600 mm"\nwidth = "500 mm"', STONE)
    assert told.words.startswith("Compact with the vibrating plate of 160 kg.")
    assert "Stone: 6 lifts of 75 mm." in told.words
    assert (
        "twin drum roller of 1,000 kg to the metre of drum or more, hired, would do the stone in 3 lifts with 6 passes each"
        in told.words
    )
    assert told.cautions


def test_a_hand_tamper_leaves_the_base_to_a_hired_plate(words):
    assert "vibrating plate of 90 kg" in words(TAMPER, STONE).words
