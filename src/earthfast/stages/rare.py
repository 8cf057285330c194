"""Chances of the chosen way too small to count among the draws, followed into the tail and said in a sentence."""

from __future__ import annotations

import numpy as np

from earthfast.checks import CheckName
from earthfast.choice import FOLLOWED, RARE, rare_chance, reliability_index
from earthfast.stages.answers import CheckLine
from earthfast.stages.judged import JudgedWay
from earthfast.stages.understanding import Area
from earthfast.stages.wording import chance_words

SAMPLES = 2000  # a level
FINEST = 1e-6  # below it what the models leave out matters more than the draws


def checks_with_tails(judged: JudgedWay, area: Area, seed: np.random.SeedSequence) -> tuple[CheckLine, ...]:
    """The checks of a way; those counting calls rare also say what following the tail gives."""
    return tuple(_with_tail(check, judged, area, np.random.default_rng(seed)) for check in judged.line.checks)


def _with_tail(check: CheckLine, judged: JudgedWay, area: Area, generator: np.random.Generator) -> CheckLine:
    name = CheckName(check.name)
    if check.chance >= RARE:
        return check
    if name not in FOLLOWED:
        return _counted(check, area, "it rests on the ground alone, which is drawn so often and no finer")
    tail = rare_chance(judged.way, name, area.setting, SAMPLES, generator)
    if tail.chance < FINEST:
        found = "less than 1 in 1,000,000, where what the models leave out matters more than the draws"
    else:
        found = (
            f"{chance_words(tail.chance, SAMPLES**2)} (coefficient of variation {tail.variation:.0%}, "
            f"reliability index {float(reliability_index(tail.chance)):.1f})"
        )
    return _counted(
        check,
        area,
        f"subset simulation into the tail, with ground no weaker than the weakest drawn, gives {found}",
    )


def _counted(check: CheckLine, area: Area, more: str) -> CheckLine:
    counted = f"Counted among {area.setting.draws.count:,} draws; {more}."
    return check.model_copy(update={"sentence": f"{check.sentence} {counted}"})
