"""Edges that hold against wheels: statics by hand, published pushes, and monotone facts."""

from __future__ import annotations

import importlib
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
    cracking_moment,
    edge_push,
    edging_resistance,
    restraints,
    sliding_resistance,
    tipping_resistance,
)
from earthfast.estimate import Trail, exact
from earthfast.loads import load_library

SILENT = Trail(recording=False)
LOW, _, KERB = restraints()


@pytest.fixture
def exactly(monkeypatch):
    """Spreads of the check, each by name at one value."""

    def held(**values):
        module = importlib.import_module("earthfast.checks.edge")
        for name, value in values.items():
            monkeypatch.setattr(module, name, exact(value))

    return held


def judged(case, restraint=LOW, trail=SILENT):
    return CHECKS[CheckName.EDGE].judge(replace(case, restraint=restraint), trail)


def test_concrete_of_every_section_is_its_drawn_area():
    # bed and back, by hand: 200 · 75 + 100 · 50, 300 · 100 + 200 · 100, 400 · 150 + 200 · 150 mm²
    assert [one.concrete for one in restraints()] == pytest.approx([0.020, 0.050, 0.090])
    # a bed under an upright whose top is level with the paving
    assert [one.depth for one in restraints()] == pytest.approx([0.225, 0.250, 0.405])


def test_a_wall_slides_and_tips_where_statics_says():
    # 10 kN/m on 0.6 with 4 kN/m in front; a metre wide, earth 0.9 m high, pushed 2 m up: 10 kN/m and (5 + 1.2)/2 kN/m, by hand
    assert float(sliding_resistance(10e3, 0.6, 4e3)) == pytest.approx(10e3)
    assert float(tipping_resistance(10e3, 1.0, 4e3, 0.9, 2.0)) == pytest.approx(3.1e3)


def test_a_strip_pushed_in_its_middle_cracks_where_a_beam_on_a_yielding_bed_does():
    # 0.7 MPa on 75 by 200 mm: 350 N·m; held by 0.8 kN/m it cracks at √(8 · 350 · 800) = 1,497 N, by hand
    moment = cracking_moment(0.7e6, 0.075, 0.2)
    assert float(moment) == pytest.approx(350.0)
    pushed = float(edging_resistance(0.8e3, 2.0e3, moment, 1.0))
    assert pushed == pytest.approx(1496.7, abs=0.1)
    # the beam itself: reactions of 0.8 kN/m over the length that carries the push, moments summed in its middle
    half = pushed / 0.8e3 / 2.0
    places = np.linspace(0.0, half, 20001)
    assert np.trapezoid(0.8e3 * places, places) == pytest.approx(350.0, rel=1e-6)


def test_braking_wheels_of_the_code_axle_push_with_six_tenths_of_their_weight():
    # two axles of 300 kN brake with 360 kN; en_1991_2, 4.4.1, without its part by length, from memory
    assert float(edge_push(600e3, 1.0, 0.6, 1.0)) == pytest.approx(360e3)


def test_what_the_low_back_stands_is_worked_by_hand(case_of, stone_way, exactly):
    # 0.0275 m² · 23 kN/m³ = 0.6325 kN/m; ½ · 17 · 0.2² · tan² 59° = 0.9417 kN/m; flags 40 mm thick, lever 0.205 m:
    # (0.6325 · 0.1 + 0.9417 · 0.0667)/0.205 = 0.6148 kN/m, less than 0.6 · 0.6325 + 0.9417; √(8 · 350 · 614.8) = 1,312 N
    exactly(MODEL_ERROR=1.0, GIVEN_BACK=1.0)
    found = judged(case_of(stone_way(0.15), loads=("car",)))
    assert found.capacity.values == pytest.approx(1312.0, rel=1e-3)


def test_beside_a_slope_only_its_weight_holds_an_edging(case_of, stone_way, exactly):
    # as above without the verge: 0.6325 · 0.1/0.205 = 0.3085 kN/m; √(8 · 350 · 308.5) = 929 N, by hand
    exactly(MODEL_ERROR=1.0, GIVEN_BACK=1.0)
    found = judged(replace(case_of(stone_way(0.15), loads=("car",)), has_verge=False))
    assert found.capacity.values == pytest.approx(929.4, rel=1e-3)


def test_only_wheels_near_one_another_push_together(case_of, stone_way, exactly):
    exactly(SIDEWAYS=1.0, REACHES=1.0)
    # wheels of a car stand 1.55 m apart, those of a bin 0.5 m
    for key, wheels in (("wheelbarrow", 1), ("car", 1), ("wheeled bin", 2)):
        found = judged(case_of(stone_way(0.15), loads=(key,)))
        usual = load_library()[key].force.centre
        assert np.median(found.demand.values) == pytest.approx(wheels * usual, rel=0.02)


def test_more_concrete_never_raises_the_chance_and_heavier_wheels_never_lower_it(case_of, stone_way):
    loads = ("person", "wheelbarrow", "car", "van", "refuse lorry")
    chances = np.array(
        [
            [judged(case_of(stone_way(0.15), loads=(one,)), held).chance[0] for one in loads]
            for held in restraints()
        ]
    )
    assert np.all(np.diff(chances, axis=0) <= 0.0)
    assert np.all(np.diff(chances[:, 1:], axis=1) >= 0.0)
    assert chances[0, 0] == chances[0, 1] == 0.0
    # lorries push out an edging of any back: common practice, no source, gives them a kerb
    assert chances[1, -1] > 0.1 > chances[2, -1]


def test_nothing_that_only_stands_no_loose_top_and_no_wheel_kept_off_is_judged(case_of, stone_way):
    gravel = Way(Method.STONE, BuildUp((Course(Material.GRAVEL, 0.04), Course(Material.CRUSHED_STONE, 0.15))))
    assert judged(case_of(stone_way(0.15), loads=("hot tub",))).applies[0] == 0.0
    assert judged(case_of(gravel, loads=("car",))).applies[0] == 0.0
    assert judged(case_of(stone_way(0.15), loads=("car",)), None).applies[0] == 0.0
    assert judged(case_of(stone_way(0.15), loads=("car",))).applies[0] == 1.0


def test_an_edge_is_told_with_what_its_resistance_rests_on(case_of, stone_way):
    trail = Trail()
    result = judged(case_of(stone_way(0.15), loads=("car",)), KERB, trail)
    figures = trail.tell_all().figures
    assert result.governed_by == ("car, wheels, braking or turning",)
    names = ("weight", "thrust", "sliding", "tipping", "moment", "held", "push")
    assert {f"edge.{name}" for name in names} <= set(figures)
    assert KERB.words in figures["edge.weight"].because
