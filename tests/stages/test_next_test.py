"""The next test of whole jobs: laws it keeps, what it says plainly, and the time it takes."""

from importlib.resources import files

import numpy as np
import pytest

from earthfast.checks import Method
from earthfast.choice import decision_between
from earthfast.estimate import Trail
from earthfast.ground import OBSERVATION_KINDS
from earthfast.job import read_job
from earthfast.stages import choose_for, look_at
from earthfast.stages.choose import candidates_of
from earthfast.stages.next_test import next_tests, tests_to_do
from earthfast.stages.treatment import hard_stop, stops_of, sure_stop
from earthfast.stages.understanding import understand

tests_to_do.__test__ = False
SAYS_NOTHING_OF_THE_GROUND = {"tree", "steel rod"}
ALLOTMENT = files("earthfast.job").joinpath("demonstrations/fernhill-allotments.toml").read_text("utf-8")


@pytest.fixture(scope="module")
def loaded():
    return read_job(ALLOTMENT)


@pytest.fixture(scope="module")
def looked(loaded):
    return look_at(loaded)


def test_every_test_on_the_list_is_a_kind_of_observation_that_speaks_of_the_ground(looked):
    listed = [to_do.kind for to_do in tests_to_do(read_job(ALLOTMENT).job)]
    assert len(set(listed)) == len(listed)
    assert set(listed) <= set(OBSERVATION_KINDS) - SAYS_NOTHING_OF_THE_GROUND
    stratum = next(s for s in looked.profile.strata if not s.is_topsoil)
    told = {line.kind for line in looked.answer.next_tests.lines if line.stratum == stratum.name}
    assert told == {*listed, "trial of treated soil"}


def test_the_job_says_what_a_test_takes_here_and_which_cannot_be_made():
    here = (
        ALLOTMENT
        + """
[[further_test]]
kind = "hand vane"
readings = 8
work = "1 h"
money = "0 GBP"
wait = "2 days"

[[further_test]]
kind = "plate"
possible = false
"""
    )
    usual, mine = ({one.kind: one for one in tests_to_do(read_job(text).job)} for text in (ALLOTMENT, here))
    assert "plate" in usual
    assert set(usual) - set(mine) == {"plate"}
    vane = mine["hand vane"]
    assert (vane.readings, vane.minutes, vane.money, vane.days) == (8, 60.0, 0.0, 2.0)
    assert mine["thumb"] == usual["thumb"]


def test_tests_are_ranked_by_what_they_leave_after_their_trouble(looked):
    left = [line.saving.value - line.trouble for line in looked.answer.next_tests.lines]
    assert left == sorted(left, reverse=True)


def test_no_test_saves_more_than_knowing_everything_and_none_less_than_nothing(looked):
    tests = looked.answer.next_tests
    for line in tests.lines:
        assert 0.0 <= line.saving.value <= tests.knowing_all + 3.0 * line.standard_error


def test_trouble_is_money_and_time_at_the_price_of_an_hour(looked):
    hour = looked.trail.figures["next_test.hour"].centre
    for line in looked.answer.next_tests.lines:
        assert line.trouble == pytest.approx(line.money + hour * line.minutes / 60.0, abs=0.01)


def test_only_savings_clear_of_noise_and_trouble_are_worth_it(looked):
    for line in looked.answer.next_tests.lines:
        if line.is_worth_it:
            assert line.saving.value > line.trouble
            assert line.saving.value > 2.0 * line.standard_error


def test_what_putting_right_costs_is_assumed_in_the_open(looked):
    lines = [line for line in looked.answer.assumptions if line.figure.key == "next_test.putting_right"]
    assert len(lines) == 1
    assert lines[0].sources[0].status == "P"


def test_every_saving_can_be_traced(looked):
    for line in looked.answer.next_tests.lines:
        traced = looked.trail.figures[line.saving.key]
        assert traced.method is not None
        assert "next_test.putting_right" in traced.inputs


@pytest.mark.slow
def test_the_same_job_gives_the_same_tests(loaded, looked):
    assert look_at(loaded).answer.next_tests == looked.answer.next_tests


def test_every_stratum_says_what_was_seen_in_it(loaded, looked):
    for stratum, answer in zip(looked.profile.strata, looked.answer.strata, strict=True):
        assert sum(one.count for one in answer.seen) == len(stratum.observations)
    assert sum(one.count for s in looked.answer.strata for one in s.seen) == len(loaded.job.observations)


def test_three_systems_name_the_ground_and_their_chances_do_not_exceed_one(looked):
    for answer in looked.answer.strata:
        for groups in (answer.groups, answer.aashto, answer.iso, answer.frost_groups, answer.shrink_swell):
            assert 0.5 < sum(group.chance for group in groups) <= 1.0 + 1e-9


SPECIMENS = "".join(
    f"""
[[trial.specimen]]
batch = "{batch}"
kind = "cube"
length = "100 mm"
dose = "{dose} %"
lime_dose = "3 %"
age = "28 days"
soaked = true
failure_load = "{4.0 * dose} kN"
"""
    for batch, dose in enumerate((4, 4, 8, 8, 12, 12))
)


@pytest.mark.slow
def test_another_trial_is_worth_less_once_specimens_are_in(looked):
    first = looked.answer.next_tests.trial
    again = look_at(read_job(ALLOTMENT + SPECIMENS)).answer.next_tests.trial
    assert first.saving.value > 2.0 * first.standard_error
    assert again.saving.value < 0.5 * first.saving.value


def test_nothing_is_worth_testing_where_nothing_could_fail_otherwise():
    # all the ground is known to be the same: knowing more cannot change the way
    never = np.zeros((2, 1, 4096), dtype=bool)
    costs = np.array([100.0, 120.0])
    decision = decision_between(costs, costs, never, np.array([0.1]), 1.5, stands=True)
    assert decision.now == 0
    assert decision.knowing_all == 0.0
    assert decision.saved_at_once == 0.0


@pytest.mark.slow
@pytest.mark.parametrize("name", ["fernhill-allotments", "marl-lane-hall"])
def test_what_is_taken_for_chosen_now_is_what_choose_chooses(name):
    job = read_job(files("earthfast.job").joinpath(f"demonstrations/{name}.toml").read_text("utf-8"))
    chosen = {area.name: area for area in choose_for(job).answer.areas}
    standing = look_at(job).answer.next_tests.standing
    assert {one.area for one in standing} == set(chosen)
    for one in standing:
        line = next(way for way in chosen[one.area].ways if way.key == chosen[one.area].chosen)
        assert one.way == line.title
        assert one.passes == line.passes


@pytest.mark.slow
def test_organic_matter_is_worth_testing_where_treatment_hangs_on_it():
    # nobody looked at the colour: all that keeps soil from being treated is that it may be organic
    start = ALLOTMENT.index('[[observation]]\nkind = "colour and smell"\ndepth = "350 mm"')
    unseen = ALLOTMENT[:start] + ALLOTMENT[ALLOTMENT.index("[[observation]]", start + 5) :]
    tests = look_at(read_job(unseen), tells_what_moved=False).answer.next_tests
    worth = [line.kind for line in tests.lines if line.is_worth_it]
    assert {"organic content", "paste ph", "colour and smell"} <= set(worth[:4])
    organic = next(line for line in tests.lines if line.kind == "organic content")
    assert any("treated" in turn.then and "treated" not in turn.now for turn in organic.turns)


@pytest.mark.parametrize(
    ("before", "after", "could_be_lifted"),
    [
        ("brown, red, yellow or grey, no smell", "dark brown or black, earthy smell", True),
        ("made_ground = false", "made_ground = true", False),
    ],
)
def test_treated_soil_is_weighed_where_a_test_could_lift_what_stops_it(before, after, could_be_lifted):
    understanding = understand(read_job(ALLOTMENT.replace(before, after)))
    stops = stops_of(understanding.loaded.job, understanding.profile)
    area = understanding.areas[0]
    assert hard_stop(stops)
    assert bool(sure_stop(stops)) != could_be_lifted
    chosen, weighed = (
        {one.way.method for one in candidates_of(area, understanding, ends)}
        for ends in (hard_stop, sure_stop)
    )
    assert Method.LIME_CEMENT not in chosen
    assert (Method.LIME_CEMENT in weighed) == could_be_lifted


def test_a_plain_word_is_said_where_no_test_is_worth_it(loaded, monkeypatch):
    # ways that all come to the same leave nothing to decide
    monkeypatch.setattr(
        "earthfast.stages.next_test.candidates_of",
        lambda area, understanding, _: (first_candidate(area, understanding),),
    )
    tests = next_tests(understand(loaded), Trail())
    assert tests.sentence.startswith("No further test is worth its trouble")
    assert not any(line.is_worth_it for line in tests.lines)
    assert all(line.saving.value == 0.0 for line in tests.lines)


def first_candidate(area, understanding):
    return candidates_of(area, understanding)[0]


def test_a_job_that_cannot_be_built_yet_is_looked_at_all_the_same():
    answer = look_at(read_job(ALLOTMENT.replace("London-like", "Moon-like"))).answer
    assert answer.strata
    assert answer.next_tests.lines == ()
    assert "cannot be said yet" in answer.next_tests.sentence
    assert "Moon-like" in answer.next_tests.sentence


@pytest.mark.slow
def test_a_garden_job_is_looked_at_and_its_tests_valued_in_little_time(loaded, cost_of):
    look_at(loaded)
    assert cost_of(lambda: look_at(loaded)) < 70.0


def test_what_needs_no_test_is_said_of_further_ones_where_the_ground_was_looked_at(looked):
    assert looked.answer.next_tests.sentence.startswith("Without any further test, base with")
