"""Loads as typed: how many stand together, what is assumed of them, and what is said where it is not used."""

import pytest

from earthfast.stages.choose import choose_for

FEW = 'name = "wheelbarrow"\npasses = "20..60 per week"'
TITLE = '[[use]]\nname = "path"\n'


def judged(changed, load, *more):
    return choose_for(changed((FEW, load), *more))


def tubs(changed, count):
    return judged(changed, f'name = "hot tub"\ncount = {count}').decisions[1]


@pytest.mark.slow
def test_four_tubs_side_by_side_sink_more_than_one(changed):
    def demand(count):
        way = next(way for way in tubs(changed, count).ways if way.line.key.startswith("stone"))
        return next(check for check in way.line.checks if check.name == "settlement")

    one, four = demand(1), demand(4)
    assert four.chance >= one.chance
    assert "4 side by side" in four.governed_by


@pytest.mark.slow
def test_the_tyre_pressure_of_a_typed_vehicle_is_listed_as_assumed(changed):
    vehicle = 'mass = "2 t"\nlength = "2 m"\nwidth = "1.5 m"\ncontacts = 4\npasses = "1 per week"'
    answer = judged(changed, vehicle).answer
    assert any("Tyre pressure" in one.figure.label for one in answer.assumptions)
    typed = judged(changed, f'{vehicle}\ncontact_pressure = "300 kPa"').answer
    assert not any("Tyre pressure" in one.figure.label for one in typed.assumptions)


def test_settlement_put_up_with_where_all_rolls_is_said_not_to_be_used(changed):
    answer = judged(changed, FEW, (TITLE, f'{TITLE}tolerable_settlement = "10 mm"\n')).answer
    assert any("sinking is judged under what stands" in one.text for one in answer.cautions)


@pytest.mark.slow
def test_a_wall_beside_the_edge_leaves_it_without_a_verge(changed):
    def held(*more):
        way = judged(changed, 'name = "car"\npasses = "3 per week"', *more).decisions[1].ways[0]
        return next(check for check in way.line.checks if check.name == "edge").capacity.value

    assert held(("[site.near]", '[site.near]\nretaining_wall = "0.5 m"')) != held()


def test_a_fall_steeper_than_the_levels_allow_is_said(changed):
    answer = choose_for(changed(('available = "1 in 40"', 'available = "1 in 200"'))).answer
    assert any(
        "1 in 60, is steeper than the 1 in 200 that the levels allow" in one.text for one in answer.cautions
    )


def test_without_a_fall_wanted_no_more_is_taken_than_the_levels_allow(changed):
    flat = ('available = "1 in 40"\nwanted = "1 in 60"', 'available = "1 in 100"')
    answer = choose_for(changed(flat))
    assert answer.decisions[0].area.setting.drainage.fall.values == pytest.approx(0.01)


def test_very_soft_ground_is_for_an_engineer_before_anything_else(changed):
    soft = [
        ("thumb goes in with moderate effort", "fist goes in"),
        ("thumb only dents it", "fist goes in"),
        ("a mark only", "50 to 75 mm walking"),
    ]
    choice = choose_for(changed(*soft))
    assert choice.understanding.profile.soft_strata
    assert choice.answer.headline.startswith("Very soft ground: a licensed engineer decides")
    assert not any("would carry on ground" in one for area in choice.answer.areas for one in area.says)
    assert any("too soft to be built on" in one.text for one in choice.answer.cautions)
