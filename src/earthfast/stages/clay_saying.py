"""What clay does to a way with the seasons, in a sentence."""

from __future__ import annotations

import numpy as np

from earthfast.checks import Case, seasonal_movement, shrinkable_index
from earthfast.frost import VolumeChange, volume_change_class
from earthfast.stages.clay_season import REACH, tree_closeness, trees_seen
from earthfast.stages.judged import JudgedWay
from earthfast.stages.understanding import Area, Understanding

MILLI = 1000.0
DEEPER = 0.10  # m


def clay_sentences(area: Area, shown: JudgedWay, understanding: Understanding) -> tuple[str, ...]:
    """Volume change class, movement of the edge, what more depth would bring, and trees near enough to matter."""
    line = next((check for check in shown.line.checks if check.name == "shrink-swell"), None)
    if line is None:
        return ()
    case = area.setting.alone(shown.way)
    index = float(np.median(shrinkable_index(case.ground.plasticity_index.values, case.ground.fines.values)))
    change = volume_change_class(index, float(np.median(case.ground.fines.values)))
    if change is VolumeChange.NONE:
        return ()
    now, deeper = (_high_movement(case, shown.way.build_up.thickness + more) for more in (0.0, DEEPER))
    said = (
        f"The clay is of {change.value} volume change (modified plasticity index {index:.0%}): in the driest summer of its "
        f"life the edge drops {line.demand.text} against the inside; {line.capacity.text} is stood. {DEEPER * MILLI:.0f} mm more "
        f"depth, dug out or treated, would take the upper end from {now * MILLI:.0f} to {deeper * MILLI:.0f} mm."
    )
    return (said, *_trees(understanding))


def _high_movement(case: Case, cover: float) -> float:
    ground = case.ground
    index = shrinkable_index(ground.plasticity_index.values, ground.fines.values)
    movement = seasonal_movement(index, cover, ground.drying_depth.values, ground.drying.values)
    return float(np.quantile(movement, 0.95))


def _trees(understanding: Understanding) -> tuple[str, ...]:
    near = [
        tree
        for tree in trees_seen(understanding.profile)
        if tree_closeness(tree.distance, REACH[tree.water_demand] * tree.height) > 0.0
    ]
    return tuple(
        f"A tree {tree.height:.0f} m high of {tree.water_demand.value} water demand, {tree.distance:.0f} m off, dries the clay "
        f"under the near edge: it reaches {REACH[tree.water_demand] * tree.height:.0f} m."
        for tree in near
    )
