"""The trail of both demonstration jobs: every formula worked again from the inputs it lists."""

from __future__ import annotations

import math
import re
from importlib.resources import files

import numpy as np
import pytest

from earthfast.estimate import Origin
from earthfast.job import JobProblems, load_job
from earthfast.stages import traceable, traced_answer, why_figure
from earthfast.stages.choose import choose_for

JOBS = ("fernhill-allotments", "marl-lane-hall")
# what a reader cannot work by hand: solvers, bills and searches, which say so in their notes
BY_MACHINE = {
    "bill_for",
    "carbon_bill",
    "chance_of_strength",
    "crushing_strength",
    "dose_for_strength",
    "field_strength",
    "frost_depth_berggren_layered",
    "frozen_winters",
    "labour_for",
    "strength_band",
    "superpose",
    "take_off",
    "value_of_outcome",
}
TO_SI = {"": 1.0, "%": 0.01, "Pa": 1.0, "kPa": 1e3, "MPa": 1e6, "mm": 1e-3, "m": 1.0, "kN": 1e3, "kN/m³": 1e3}
TO_SI |= {"m²/MN": 1e-6}


def demonstration(name):
    return files("earthfast.job") / "demonstrations" / f"{name}.toml"


@pytest.fixture(scope="module", params=JOBS)
def known(request):
    return traceable(load_job(demonstration(request.param)))


@pytest.fixture(scope="module")
def allotment():
    return traceable(load_job(demonstration(JOBS[0])))


def test_every_figure_is_the_relation_of_the_inputs_it_lists(known):
    closed = [one for one in known.trail.figures.values() if one.parameters]
    assert len(closed) > 200
    for one in closed:
        inputs = {
            name: known.trail.figures[key].values
            for name, key in zip(one.parameters, one.inputs, strict=True)
        }
        again = np.asarray(one.method.function(**inputs), dtype=float).ravel()
        np.testing.assert_allclose(again, one.values, rtol=1e-9, atol=1e-15, err_msg=one.key)


def test_what_is_not_worked_by_hand_is_the_work_of_a_machine(known):
    derived = [one for one in known.trail.figures.values() if one.origin is Origin.DERIVED and one.method]
    assert {one.method.name for one in derived if not one.parameters} <= BY_MACHINE


@pytest.fixture(scope="module", params=JOBS)
def all_judged(request):
    """Every way of every area of a demonstration, the one chosen or not, with the trail that records it."""
    choice = choose_for(load_job(demonstration(request.param)))
    return [(decision.area.trail, way) for decision in choice.decisions for way in decision.ways]


def inputs_of(trail, way, ending):
    total = trail.figures[f"{trail.prefix}{way.line.key}.{ending}"]
    return total, {key.rsplit(".", 1)[1]: trail.figures[key] for key in total.inputs}


def test_rows_listed_under_carbon_add_up_to_it(all_judged):
    for trail, way in all_judged:
        total, rows = inputs_of(trail, way, "carbon")
        for end in ("low", "centre", "high"):
            assert sum(getattr(row, end) for row in rows.values()) == pytest.approx(getattr(total, end))


def test_rows_listed_under_price_with_contingency_then_tax_come_to_it(all_judged):
    for trail, way in all_judged:
        total, inputs = inputs_of(trail, way, "price")
        shares = [inputs.pop(name).centre for name in ("contingency", "tax") if name in inputs]
        for end in ("low", "centre", "high"):
            net = sum(getattr(row, end) for row in inputs.values())
            assert net * math.prod(1.0 + share for share in shares) == pytest.approx(getattr(total, end))


def printed(known, ending):
    """What a reader sees of a figure of the chosen base in one draw: its own value, and those of its inputs."""
    key = next(key for key in known.trail.figures if key.startswith(known.chosen[0]) and key.endswith(ending))
    steps = traced_answer(known.trail, key, "", draw=1234).steps
    there = {step.figure.key: si(step.example) for step in steps}
    return there[key], [there[one.key] for one in steps[0].inputs]


def si(text):
    number, unit = re.fullmatch(r"(-?[\d,.]+) ?(.*)", text).groups()
    return float(number.replace(",", "")) * TO_SI[unit]


def test_punching_is_worked_by_hand_from_what_is_printed(allotment):
    # q = min(3 c₁ k H/B + 6.05 c₂, 6.05 c₁) + p, c₁ = max(½ q_u, c₂)
    found, (strength, holds, below, thickness, diameter, surcharge) = printed(
        allotment, ".bearing.crust.resistance"
    )
    crust = max(0.5 * strength, below)
    by_hand = min(3.0 * crust * holds * thickness / diameter + 6.05 * below, 6.05 * crust) + surcharge
    assert found == pytest.approx(by_hand, rel=2e-3)


def test_bearing_of_the_ground_is_worked_by_hand_from_what_is_printed(allotment):
    found, (strength, surcharge) = printed(allotment, ".bearing.ground.resistance")
    assert found == pytest.approx((math.pi + 2.0) * strength * 1.2 + surcharge, rel=2e-3)


@pytest.mark.parametrize(
    "ending", [".bearing.crust.stress", ".bearing.ground.stress", ".cracking.crushing.stress"]
)
def test_stress_is_worked_by_hand_from_what_is_printed(allotment, ending):
    found, factors = printed(allotment, ending)
    assert found == pytest.approx(math.prod(factors), rel=2e-3)


def test_bearing_governs_where_more_of_the_capacity_is_used(allotment):
    stress, (first, first_stood, second, second_stood) = printed(allotment, ".bearing.ground_stress")
    stood, _ = printed(allotment, ".bearing.resistance")
    assert stress / stood == pytest.approx(max(first / first_stood, second / second_stood), rel=4e-3)


def test_settlement_is_worked_by_hand_from_what_is_printed(allotment):
    # s = s₀ + s₁ where the load stays and the ground does not drain
    found, (at_once, slowly, stays, drains) = printed(allotment, ".settlement.sinking.in_all")
    assert found == pytest.approx(at_once + slowly * stays * (1.0 - drains), rel=2e-3)


@pytest.mark.slow
def test_part_of_a_key_finds_the_chance_of_the_way_that_was_chosen():
    job = load_job(demonstration(JOBS[0]))
    answer = why_figure(job, "base.frost")
    assert answer.steps[0].figure.key.endswith(".frost.chance")


@pytest.mark.slow
def test_a_name_that_fits_both_areas_is_answered_with_the_check_of_each_first():
    with pytest.raises(JobProblems) as raised:
        why_figure(load_job(demonstration(JOBS[0])), "frost")
    (problem,) = raised.value.problems
    first, second, *_ = problem.accepted.split(": ", 1)[1].split("; ")
    assert {first.split(".")[0], second.split(".")[0]} == {"base", "path"}
    assert all(".frost.chance (" in one for one in (first, second))


@pytest.mark.slow
def test_the_dose_of_a_trial_says_what_moves_it(changed):
    influences = why_figure(changed(), "trial.dose").influences
    assert [line.figure.key for line in influences] == ["trial.soil_response", "trial.site_ratio"]
    assert sum(line.share for line in influences) == pytest.approx(1.0, abs=1e-3)  # the parts of one variance
    assert not any(line.rising for line in influences)  # a stronger soil or site takes less cement


def test_hours_and_spoil_of_every_way_are_the_sums_of_the_inputs_they_list(all_judged):
    for trail, way in all_judged:
        hours, tasks = inputs_of(trail, way, "hours")
        for end in ("low", "centre", "high"):
            assert sum(getattr(one, end) for one in tasks.values()) == pytest.approx(getattr(hours, end))
        spoil, soils = inputs_of(trail, way, "spoil")
        assert set(soils) == {"topsoil", "subsoil"}
        assert sum(one.centre for one in soils.values()) == pytest.approx(spoil.centre)
