"""A chosen slab is shown with slab theory's answer at its edge beside the layered one."""

import re

import pytest

from earthfast.checks import Method
from earthfast.stages.choose import choose_for

SLAB = (
    'kind = "flags"\nthickness = "40 mm"\nlength = "600 mm"\nwidth = "600 mm"\nbedding = "30 mm"',
    'kind = "concrete"',
)


def test_edge_by_slab_theory_stands_beside_the_layered_answer(changed):
    decision = choose_for(changed(SLAB)).decisions[1]
    assert decision.chosen.way.method is Method.SLAB
    (sentence,) = [one for one in decision.line.says if "Westergaard" in one]
    layered, springs = (float(found) for found in re.findall(r"([\d.]+) MPa", sentence))
    # each theory is the other's referee: a slab on springs knows nothing of the layers, nor they of an edge
    assert springs == pytest.approx(layered, rel=0.35)


def test_no_slab_no_sentence(changed):
    for area in choose_for(changed()).answer.areas:
        assert not [one for one in area.says if "Westergaard" in one]
