"""Edgings follow the wheels that come to them, are paid for, and are told."""

from earthfast.checks import restraints
from earthfast.stages.build import build_for
from earthfast.stages.choose import choose_for
from earthfast.works import Goods

PATH = 'name = "wheelbarrow"\npasses = "20..60 per week"'
LORRY = (PATH, 'name = "refuse lorry"\npasses = "1 per week"')
KEPT_OFF = ('name = "path"\ndesign_life', 'name = "path"\nwheels_keep_off_edges = true\ndesign_life')
LOW, _, KERB = restraints()


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
    steps = [step.step for area in built.answer.areas for step in area.steps]
    assert f"Set the edging {LOW.words}." in steps
