"""Where a treated soil stands among known bound materials, in words."""

from __future__ import annotations

from scipy.constants import day

from earthfast.estimate import Caution, CautionCode
from earthfast.mixes import (
    BoundGroup,
    Rung,
    age_factor_power,
    bound_group,
    rungs_reached,
    strength_as_cylinder,
    strength_ladder,
)
from earthfast.mixes.ladder import AGE_EXPONENT
from earthfast.sources import SourceNote, Status
from earthfast.stages.answers import RungLine
from earthfast.stages.showing import source_lines

MEGA = 1e6
CRACKS_FROM = 3.0e6  # Pa at 28 days. S: austroads_ap_r434, heavily bound
LEAN_CONCRETE = 5.17107e6  # Pa, cylinder at 28 days. S: crrel_sr_97_13, econocrete
ONE = 1.0
GROUP_WORDS = {
    BoundGroup.MODIFIED: "a firmer soil rather than a bound layer",
    BoundGroup.LIGHTLY_BOUND: "lightly bound: the strength of treated layers that stand in for crushed stone",
    BoundGroup.HEAVILY_BOUND: "heavily bound: more than crushed stone asks for, and it cracks as it shrinks",
}


def ladder_lines(strength_28d: float) -> tuple[RungLine, ...]:
    """Every rung brought to 28 days and slenderness 1, weakest first."""
    reached = {rung.rung for rung in rungs_reached(strength_28d)}
    lines = [_line(rung, is_reached=rung.rung in reached) for rung in strength_ladder().rows]
    return tuple(sorted(lines, key=lambda line: (line.low_mpa, line.high_mpa)))


def _line(rung: Rung, *, is_reached: bool) -> RungLine:
    share = float(strength_as_cylinder(ONE, ONE)) if rung.shape == "cylinder" else ONE
    share *= float(age_factor_power(rung.age_days * day, AGE_EXPONENT))
    note = SourceNote(rung.source, "", Status(rung.status))
    return RungLine(
        material=rung.rung,
        low_mpa=round(rung.low / share / MEGA, 3),
        high_mpa=round(rung.high / share / MEGA, 3),
        told_as=f"{rung.low / MEGA:.3g} to {rung.high / MEGA:.3g} MPa at {rung.age_days:.0f} days, "
        f"{rung.shape}",
        is_reached=is_reached,
        source=source_lines((note,))[0],
    )


def ladder_words(strength_28d: float) -> str:
    """What the place on the ladder means."""
    if is_lean_concrete(strength_28d):
        return "a weak concrete: more than a base needs, and it will crack as it shrinks"
    week = strength_28d * float(age_factor_power(7.0 * day, AGE_EXPONENT))
    return GROUP_WORDS[bound_group(week)]


def is_lean_concrete(strength_28d: float) -> bool:
    """Whether it reaches the strength of lean concrete bases."""
    return float(strength_as_cylinder(strength_28d, ONE)) >= LEAN_CONCRETE


def ladder_cautions(strength_28d: float, dose_words: str) -> tuple[Caution, ...]:
    """A caution where the strength is that of a weak concrete, or high enough to crack."""
    if is_lean_concrete(strength_28d):
        text = f"{dose_words} makes a weak concrete: dear, brittle, and cracked by its own shrinkage"
        return (Caution(CautionCode.LEAN_CONCRETE_TERRITORY, text, "dose", "crrel_sr_97_13, econocrete"),)
    if strength_28d >= CRACKS_FROM:
        text = f"{dose_words} is heavily bound at 28 days: expect shrinkage cracks"
        return (Caution(CautionCode.LEAN_CONCRETE_TERRITORY, text, "dose", "austroads_ap_r434, table 3"),)
    return ()
