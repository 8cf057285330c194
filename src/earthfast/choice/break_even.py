"""What would have to be true for the other way to win: a price, a haul, the strength of the ground."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from earthfast.checks import CHECKS, CheckName, Material, Way
from earthfast.choice.judging import judge_until
from earthfast.choice.search import Candidate, beaten
from earthfast.choice.setting import Setting
from earthfast.estimate import Floats, Quantity, Trail

MODULUS_EXPONENT = 0.64  # of the modulus with the strength of the ground
FARTHEST = 0.25  # of the strength of the ground as it is
HALVINGS = 4
GO_WITH_STRENGTH = (
    CheckName.BEARING,
    CheckName.SOFTENING,
    CheckName.CRACKING,
    CheckName.RUTTING,
    CheckName.SETTLEMENT,
)


@dataclass(frozen=True, slots=True)
class Level:
    """Where two ways come level.

    Attributes
    ----------
    now : the value as things are.
    needed : the value at which they are level; None where no value brings them there.
    """

    now: float
    needed: float | None

    @property
    def factor(self) -> float | None:
        """The value needed over the value now."""
        return None if self.needed is None or self.now == 0.0 else self.needed / self.now


def level_value(now: float, gap: float, gap_per_unit: float) -> Level:
    """Value at which a gap that goes with it in a straight line closes, as with a price or a haul.

    Parameters
    ----------
    now : float
        The value as things are. [-]
    gap : float
        What one way costs more than the other. [-]
    gap_per_unit : float
        How much the gap grows for one unit more. [-]

    Returns
    -------
    level : Level
        With no value needed where the gap does not depend on it, or only a value below 0 would do. [-]

    Notes
    -----
    x = x₀ − g/g', in the order of the arguments.

    References
    ----------
    definition, straight line [C]
    """
    if gap_per_unit == 0.0:
        return Level(now, None)
    needed = now - gap / gap_per_unit
    return Level(now, needed if needed >= 0.0 else None)


def on_other_ground(setting: Setting, factor: float) -> Setting:
    """The same setting on ground so many times as strong, its stiffness going with a power of its strength.

    Modulus goes with strength to the 0.64, as in the power law of modulus with the bearing ratio.
    """
    stiffer = factor**MODULUS_EXPONENT

    def scaled(one: Quantity, by: float) -> Quantity:
        return Quantity(one.key, one.values * by)

    grounds = tuple(
        replace(
            step,
            draws=replace(
                step.draws,
                strength=scaled(step.draws.strength, factor),
                strength_wet=scaled(step.draws.strength_wet, factor),
                modulus=scaled(step.draws.modulus, stiffer),
                modulus_wet=scaled(step.draws.modulus_wet, stiffer),
            ),
        )
        for step in setting.grounds
    )
    return replace(setting, grounds=grounds)


@dataclass(frozen=True, slots=True)
class Weakest:
    """The weakest ground a way passes on, over what it is, and the check it falls in below that.

    Attributes
    ----------
    factor : None where it passes on ground a quarter as strong.
    falls_in : None likewise.
    """

    factor: float | None
    falls_in: CheckName | None


def weakest_ground(way: Way, setting: Setting, targets: Mapping[CheckName, float]) -> Weakest:
    """How weak the ground may be, over what it is, for a way that passes to go on passing in what carries.

    Sought down to a quarter, to within a twelfth. Frost, clay, water and the soil's taking of binder do not go with strength.
    """

    def falls(factor: float) -> CheckName | None:
        return _fall_in((way,), on_other_ground(setting, factor), targets)[0]

    near, far = 1.0, FARTHEST
    falls_in = falls(far)
    if falls_in is None:
        return Weakest(None, None)
    for _ in range(HALVINGS):
        middle = float(np.sqrt(near * far))
        found = falls(middle)
        near, far = (middle, far) if found is None else (near, middle)
        falls_in = found or falls_in
    return Weakest(near, falls_in)


def weaker_ground_to_win(
    candidates: Sequence[Candidate],
    setting: Setting,
    targets: Mapping[CheckName, float],
    cost: Floats,
    best: tuple[int, int],
) -> float | None:
    """How weak the ground would have to be, over what it is, for the next method to win over the best.

    `best` are the places of the best way and of the best way of another method, both of which pass. On weaker ground dearer ways
    of the best method take over, up to the cost of the next: where the last of them falls, the next method wins if its way still
    carries there. Of those ways only the fullest are looked at, than which none has more of every course. Sought down to a
    quarter, to within a twelfth. None where that is not weak enough, or where neither carries: what would win there is not known
    without a search.
    """
    first, other = best
    if _fall_in((candidates[first].way,), on_other_ground(setting, FARTHEST), targets)[0] is None:
        return None
    method = candidates[first].way.method
    left = _fullest(
        one.way
        for place, one in enumerate(candidates)
        if one.way.method is method and cost[first] <= cost[place] < cost[other]
    )
    passing = judge_until(left, setting, targets).passes(targets)
    left = [way for way, passes in zip(left, passing, strict=True) if passes]
    near, far = 1.0, FARTHEST

    def carrying(factor: float) -> list[Way]:
        falls = _fall_in(left, on_other_ground(setting, factor), targets)
        return [way for way, fall in zip(left, falls, strict=True) if fall is None]

    if not left or carrying(far):
        return None
    for _ in range(HALVINGS):
        middle = float(np.sqrt(near * far))
        found = carrying(middle)
        near, far, left = (middle, far, found) if found else (near, middle, left)
    (falls,) = _fall_in((candidates[other].way,), on_other_ground(setting, far), targets)
    return far if falls is None else None


def _fullest(ways: Iterable[Way]) -> list[Way]:
    """Ways than which no other has as much of every course and of binder, and more of one."""
    ways = list(ways)
    rows = np.array([[*(way.build_up.thickness_of(one) for one in Material), _dose(way)] for way in ways])
    return [way for way, less in zip(ways, beaten(-rows), strict=True) if not less]


def _dose(way: Way) -> float:
    return way.build_up.treated.dose if way.build_up.treated else 0.0


def _fall_in(
    ways: Sequence[Way], setting: Setting, targets: Mapping[CheckName, float]
) -> list[CheckName | None]:
    """For each way the first check in which it falls, of those that go with strength."""
    silent = Trail(recording=False)
    found: list[CheckName | None] = [None] * len(ways)
    for batch in setting.batches(tuple(ways), silent):
        for name in GO_WITH_STRENGTH:
            result = CHECKS[name].judge(batch.case, silent)
            over = (result.applies > 0.0) & (result.chance > targets[name])
            for place in np.flatnonzero(over):
                found[batch.places[place]] = found[batch.places[place]] or name
    return found
