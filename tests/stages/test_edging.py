"""Edgings follow the wheels that come to them, are paid for, and are told."""

from earthfast.checks import restraints
from earthfast.stages.build import build_for
from earthfast.stages.choose import choose_for
from earthfast.works import Goods

PATH = 'name = "wheelbarrow"\npasses = "20..60 per week"'
LORRY = (PATH, 'name = "refuse lorry"\npasses = "1 per week"')
KEPT_OFF = ('name = "path"\ndesign_life', 'name = "path"\nwheels_keep_off_edges = true\ndesign_life')
LOW, _, KERB = restraints()
BOUND = "Keep the bound layer back from the strip it takes, or cut it out while fresh."


def edge_of(way):
    return next((check for check in way.checks if check.name == "edge"), None)


def test_a_barrow_leaves_the_low_edging_and_nothing_to_say(changed):
    decision = choose_for(changed()).decisions[1]
    assert decision.area.costing.basis.edging == decision.area.setting.restraint == LOW
    assert edge_of(decision.chosen.line).passes
    assert not [one for one in decision.line.says if "edges take" in one or "edging listed" in one]


def test_a_lorry_gets_a_kerb_that_is_bought_told_and_set_with_care(changed):
    decision = choose_for(changed(LORRY)).decisions[1]
    assert decision.area.costing.basis.edging == KERB
    assert all(way.cost.take_off.line(Goods.EDGING) is None for way in decision.ways)
    kerbed = [way for way in decision.ways if way.cost.take_off.edge > 0.0]
    assert all(way.cost.take_off.line(Goods.KERB).net == way.cost.take_off.edge for way in kerbed)
    (said,) = [one for one in decision.line.says if "kerbs " in one]
    # 0.150 x 0.400 + 0.030 m2 along a metre is 90 litres, 0.075 x 0.200 + 0.005 m2 is 20, by hand
    both = "kerbs in 90 litres of concrete to the metre, since wheels would push out edgings in 20 litres"
    if edge_of(kerbed[0].line).passes:
        assert both in said
    else:
        assert said.startswith("No edging listed")
        assert KERB.words in said


def test_wheels_kept_off_leave_no_edge_to_judge(changed):
    decision = choose_for(changed(LORRY, KEPT_OFF)).decisions[1]
    assert decision.area.costing.basis.edging == LOW
    assert all(edge_of(way.line) is None for way in decision.ways)


def test_the_build_sheet_gives_the_sizes_of_the_concrete(changed):
    built = build_for(changed())
    (step,) = [one for one in built.answer.areas[0].steps if one.step.startswith("Set the edging")]
    # 225 mm deep: below 40 + 30 + 80 mm it meets the treated soil, whose underside is deeper still
    assert step.step == f"Set the edging {LOW.words}. {BOUND}"


def test_a_kerb_in_a_thin_build_up_asks_for_a_trench_and_care(changed):
    built = build_for(changed(LORRY, ("[weights]", '[choose]\nway = "sand-bed"\n\n[weights]')))
    area = built.answer.areas[1]
    (step,) = [one for one in area.steps if one.step.startswith("Set the kerb")]
    below = round(1000.0 * KERB.depth - sum(course.thickness_mm for course in area.courses))
    assert f"Dig a trench for it, {below} mm deeper than the formation." in step.step
    assert step.step.endswith(KERB.lifting)
    assert step.hold.startswith("kerb firm")


def test_where_no_kerb_holds_the_ways_shown_are_those_that_fall_by_their_edges_alone(changed):
    strict = ("[weights]", '[choose.chance]\nedge = "0.1 %"\nrutting = "50 %"\n\n[weights]')
    choice = choose_for(changed(LORRY, strict))
    decision = choice.decisions[1]
    assert decision.chosen is None
    assert choice.answer.exit_status == 1
    assert any(one.startswith("No edging listed") for one in decision.line.says)
    stone = next(way for way in decision.ways if way.line.key.startswith("stone"))
    assert [check.name for check in stone.line.checks if not check.passes] == ["edge"]
