"""What stands around the work is said, and nothing typed is passed over in silence."""

from __future__ import annotations

from datetime import date

import pytest

from earthfast.estimate import CautionCode
from earthfast.stages.surroundings import footing_cautions, surroundings_cautions

ON = date(2026, 3, 14)
NEAR = 'building = "18 m"'
SEASON = 'season = "wet"\nmade_ground = false'


def codes(job):
    return [caution.code for caution in surroundings_cautions(job.job, ON)]


@pytest.mark.parametrize(
    ("typed", "code"),
    [
        ('retaining_wall = "1.5 m"', CautionCode.STOP_AND_ASK),
        ('slope = "3 m"', CautionCode.STOP_AND_ASK),
        ('drain = "6 m"', CautionCode.RUNOFF),
    ],
)
def test_close_neighbours_raise_a_doubt_and_far_ones_do_not(changed, typed, code):
    assert code in codes(changed((NEAR, f"{NEAR}\n{typed}")))
    far = typed.split('"')[0] + '"80 m"'
    assert code not in codes(changed((NEAR, f"{NEAR}\n{far}")))


def test_unknown_services_are_asked_about_and_known_ones_are_not(changed):
    assert CautionCode.STOP_AND_ASK in codes(changed(('services = "none found"', 'services = "unknown"')))
    assert CautionCode.STOP_AND_ASK not in codes(changed())


def test_a_surface_too_near_the_damp_course_is_said(changed):
    low = (SEASON, f'{SEASON}\ndamp_course_height = "100 mm"')
    close = (NEAR, 'building = "0.5 m"')
    assert CautionCode.TOO_HIGH_AT_WALL in codes(changed(low, close))
    assert CautionCode.TOO_HIGH_AT_WALL not in codes(changed(low))
    high = (SEASON, f'{SEASON}\ndamp_course_height = "150 mm"')
    assert CautionCode.TOO_HIGH_AT_WALL not in codes(changed(high, close))  # NHBC asks for 150 mm


@pytest.mark.parametrize(
    ("away", "dig", "found"),
    [
        (
            "0.1 m",
            0.15,
            [CautionCode.STOP_AND_ASK],
        ),  # deeper than far: inside the 45 degree line, common practice
        ("0.5 m", 0.15, [CautionCode.FOOTING_NEAR]),
        ("0.5 m", 0.6, [CautionCode.STOP_AND_ASK]),
        ("1.5 m", 0.6, []),
        ("1.5 m", 1.6, [CautionCode.STOP_AND_ASK]),
    ],
)
def test_a_dig_beside_a_footing_is_said_by_its_depth_and_distance(changed, away, dig, found):
    job = changed((NEAR, f'building = "{away}"')).job
    assert [caution.code for caution in footing_cautions(job, "base", dig)] == found


def test_binder_past_three_months_is_said(changed):
    old = ("[crew]", "[binder]\npacked_on = 2025-11-01\n\n[crew]")
    fresh = ("[crew]", "[binder]\npacked_on = 2026-02-01\n\n[crew]")
    assert CautionCode.BINDER_OLD in codes(changed(old))
    assert CautionCode.BINDER_OLD not in codes(changed(fresh))


def test_a_field_that_is_not_used_yet_is_named(changed):
    mixer = changed(("[crew]", '[tools.mixer]\nvolume = "90 L"\n\n[crew]'))
    texts = [c.text for c in surroundings_cautions(mixer.job, ON) if c.code is CautionCode.NOT_USED_YET]
    assert any("tools.mixer" in text for text in texts)
    assert CautionCode.NOT_USED_YET not in codes(changed())


def test_a_machine_wider_than_the_passage_is_said(changed):
    roller = '[tools.roller]\nmass = "1.2 t"\nwidth = "1.2 m"\n\n[crew]'
    assert CautionCode.ACCESS_TOO_NARROW in codes(changed(("[crew]", roller)))  # the passage is 1.1 m
    assert CautionCode.ACCESS_TOO_NARROW not in codes(changed(("[crew]", roller.replace("1.2 m", "0.9 m"))))
    assert CautionCode.ACCESS_TOO_NARROW not in codes(changed())


def test_a_digger_through_a_narrow_passage_is_asked_about(changed):
    assert CautionCode.ACCESS_TOO_NARROW in codes(
        changed(("[crew]", '[tools.digger]\nmass = "1.5 t"\n\n[crew]'))
    )
