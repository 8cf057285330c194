"""What would have to be true for the other way to win: a price, a haul, the strength of the ground."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from earthfast.checks import CHECKS, CheckName, Method, Way
from earthfast.choice.search import Candidate, Merit, best_of, weighted_cost
from earthfast.choice.setting import Setting
from earthfast.estimate import Floats, Quantity, Trail

MODULUS_EXPONENT = 0.64  # of the modulus with the strength of the ground
FACTORS = np.geomspace(0.25, 4.0, 9)
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


def level_within(now: float, gap: Callable[[float], float], low: float, high: float) -> Level:
    """Value nearest to that of now at which a gap that bends or jumps with it changes sign, between two bounds.

    Parameters
    ----------
    now : float
        The value as things are. [-]
    gap : callable
        What one way costs more than the other at a value. [-]
    low, high : float
        Between these the value is sought. [-]

    Returns
    -------
    level : Level
        With no value needed where the gap keeps its sign. [-]

    Notes
    -----
    g(x) = 0 is bracketed on 33 even points and then halved (Brent); of a jump, the place of the jump is found.

    References
    ----------
    definition, root of a function [C]
    """
    from scipy.optimize import brentq  # noqa: PLC0415 (a tenth of a second, only where a break-even is asked for)

    places = np.linspace(low, high, 33)
    signs = np.sign([gap(float(x)) for x in places])
    turns = [float(x) for x, sign in zip(places, signs, strict=True) if sign == 0.0]
    closeness = 1e-9 * max(abs(high), abs(low))
    turns.extend(
        float(brentq(gap, places[left], places[left + 1], xtol=closeness))
        for left in np.flatnonzero(signs[:-1] * signs[1:] < 0.0)
    )
    return Level(now, min(turns, key=lambda x: abs(x - now), default=None))


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


def ground_to_level(
    candidates: Sequence[Candidate],
    setting: Setting,
    targets: Mapping[CheckName, float],
    weights: Merit,
    methods: tuple[Method, Method],
) -> Level:
    """How strong the ground would have to be, over what it is, for the second method to win over the first.

    A method none of whose ways passes loses. The factor nearest to 1 is sought between a quarter and four, to within a twelfth;
    where the two never change places there is none.
    """
    cost = weighted_cost(candidates, weights)

    def second_wins(factor: float) -> bool:
        least = [_least(candidates, on_other_ground(setting, factor), targets, cost, one) for one in methods]
        return least[1] < least[0]

    now = second_wins(1.0)
    rising, falling = FACTORS[FACTORS > 1.0], FACTORS[FACTORS < 1.0][::-1]
    found = []
    for side in (rising, falling):
        last = 1.0
        for factor in side.tolist():
            if second_wins(factor) != now:
                found.append(_halved(second_wins, last, factor, now))
                break
            last = factor
    return Level(1.0, min(found, key=lambda factor: abs(np.log(factor)), default=None))


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
        silent = Trail(recording=False)
        (batch,) = on_other_ground(setting, factor).batches((way,), silent)
        for name in GO_WITH_STRENGTH:
            result = CHECKS[name].judge(batch.case, silent)
            if result.applies[0] and result.chance[0] > targets[name]:
                return name
        return None

    near, far = 1.0, float(FACTORS[0])
    falls_in = falls(far)
    if falls_in is None:
        return Weakest(None, None)
    for _ in range(HALVINGS):
        middle = float(np.sqrt(near * far))
        found = falls(middle)
        near, far = (middle, far) if found is None else (near, middle)
        falls_in = found or falls_in
    return Weakest(near, falls_in)


def _halved(second_wins: Callable[[float], bool], near: float, far: float, now: bool) -> float:
    for _ in range(HALVINGS):
        middle = float(np.sqrt(near * far))
        near, far = (middle, far) if second_wins(middle) == now else (near, middle)
    return far


def _least(
    candidates: Sequence[Candidate],
    setting: Setting,
    targets: Mapping[CheckName, float],
    cost: Floats,
    method: Method,
) -> float:
    found = best_of(candidates, setting, targets, cost, method)
    return np.inf if found is None else float(cost[found])
