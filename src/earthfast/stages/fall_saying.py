"""Which fall would shed the water of a way that holds it, in a sentence."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from earthfast.checks import CHECKS, CheckName
from earthfast.estimate import Quantity, Trail
from earthfast.stages.judged import JudgedWay
from earthfast.stages.understanding import Area, Understanding
from earthfast.stages.wording import capitalised, chance_words

STEEPER = (60, 50, 40, 30, 25, 20)  # one in so many; beyond 1 in 20 a surface is a ramp


def fall_sentences(area: Area, ways: Sequence[JudgedWay], understanding: Understanding) -> tuple[str, ...]:
    """For each way shown that would hold water, the flattest fall at which it would not."""
    held = [
        way for way in ways if any(c.name == CheckName.DRAINAGE and not c.passes for c in way.line.checks)
    ]
    return tuple(_sentence(area, way, understanding) for way in held)


def _sentence(area: Area, way: JudgedWay, understanding: Understanding) -> str:
    title, target = capitalised(way.line.title), area.usage.targets[CheckName.DRAINAGE]
    now = float(np.median(area.setting.drainage.fall.values))
    for one_in in STEEPER:
        chance = _chance(area, way, 1.0 / one_in) if 1.0 / one_in > now else 1.0
        if chance <= target:
            words = chance_words(chance, area.setting.draws.count)
            return (
                f"{title} would shed its water at a fall of 1 in {one_in} (chance of standing water {words})"
                f"{_room(understanding, one_in)}."
            )
    return (
        f"{title} would hold water at any fall up to 1 in {STEEPER[-1]}: give it a drained course under the bedding, "
        "or an outlet."
    )


def _chance(area: Area, way: JudgedWay, fall: float) -> float:
    drainage = area.setting.drainage
    set_out = Quantity(drainage.fall.key, np.full(1, fall))
    steeper = replace(area.setting, drainage=replace(drainage, fall=set_out))
    judged = CHECKS[CheckName.DRAINAGE].judge(steeper.alone(way.way), Trail(recording=False))
    return float(judged.chance[0])


def _room(understanding: Understanding, one_in: int) -> str:
    """Whether the levels allow that fall, where the job says what they allow."""
    site = understanding.loaded.job.site
    available = site.falls.available if site and site.falls else None
    if available is None:
        return ""
    if available.centre >= 1.0 / one_in - 1e-9:
        return f"; the levels allow {available.text}"
    return f", steeper than the {available.text} that the levels allow: give it an outlet instead"
