"""From demand and capacity to the chance of failure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from earthfast.checks.registry import CheckName
from earthfast.checks.situation import CheckResult
from earthfast.estimate import FloatLike, Floats, Meaning, Quantity, Trail

MOST_MARGIN = 1000.0
MOST_OF = 0.5  # of the share of the check that fails most often


def margin(capacity: FloatLike, demand: FloatLike) -> Floats:
    """How many times the capacity holds the demand.

    Parameters
    ----------
    capacity : array-like
        What is there. [-]
    demand : array-like
        What is asked, in the same unit. [-]

    Returns
    -------
    margin : array-like
        Capacity over demand, draw by draw. [-]

    Notes
    -----
    m = R/S, R capacity and S demand, but no more than 1,000, which stands for next to nothing asked; it fails where m < 1.

    References
    ----------
    definition, ratio of capacity to demand [C]
    """
    floor = 1e-12  # no load at all leaves all room there is
    return np.minimum(np.asarray(capacity) / np.maximum(demand, floor), MOST_MARGIN)


def chance_of_failure(margin: FloatLike) -> Floats:
    """Share of draws in which the demand exceeds the capacity.

    Parameters
    ----------
    margin : array-like
        Capacity over demand, one a draw. [-]

    Returns
    -------
    chance : array-like
        Chance of failure over the design life. [-]

    Notes
    -----
    P = n(m < 1)/n over quasi-random draws of everything uncertain, m the margin. A count can say no less than one draw.

    References
    ----------
    definition, probability by counting [C]
    """
    return np.asarray(np.mean(np.less(margin, 1.0)))


@dataclass(frozen=True, slots=True)
class AnyChance:
    """Chance that at least one of several checks fails, counted in their common draws.

    Attributes
    ----------
    chance : share of draws in which at least one fails.
    standard_error : of that share; where none fails, a third of what it may be by the rule of three.
    shares : for each check, its share of the draws that fail.
    """

    chance: float
    standard_error: float
    shares: dict[CheckName, float]

    @property
    def leading(self) -> tuple[CheckName, ...]:
        """The fewest checks that take part in most of what fails, the first foremost."""
        order = sorted(self.shares, key=lambda name: -self.shares[name])
        first = self.shares[order[0]] if order else 0.0
        return tuple(name for name in order if self.shares[name] >= MOST_OF * first > 0.0)


def any_chance(results: Mapping[CheckName, CheckResult]) -> AnyChance:
    """Chance that at least one check fails over the design life.

    Parameters
    ----------
    results : mapping
        Results of one way by check, all in the same draws. [-]

    Returns
    -------
    chance : AnyChance
        Chance, its standard error, and which checks take part. [-]

    Notes
    -----
    P = n(any m < 1)/n, a union draw by draw and no sum: checks that fail together count once. Its standard error is
    √(P(1 − P)/n), an upper one for quasi-random draws; of none in n draws the 95 % limit is 3/n.

    References
    ----------
    definition, probability by counting [C]
    from_memory, rule of three [M]
    """
    fails = {name: result.fails[0] > 0.0 for name, result in results.items()}
    together = np.logical_or.reduce(list(fails.values()))
    chance, count = float(together.mean()), together.size
    error = float(np.sqrt(chance * (1.0 - chance) / count)) if chance > 0.0 else 1.0 / count
    shares = {name: float(one.sum() / max(together.sum(), 1)) for name, one in fails.items()}
    return AnyChance(chance, error, shares)


def record_chance(result: CheckResult, trail: Trail) -> Quantity:
    """Record margin and chance of the single way of a result in the trail."""
    room = trail.derive(
        "margin",
        Meaning("Capacity over demand", "-", "-"),
        margin,
        {"capacity": result.capacity, "demand": result.demand},
    )
    return trail.follow(
        "chance",
        Meaning(f"Chance of failure over the design life, counted in {result.fails.size:,} draws", "-", "%"),
        float(result.chance[0]),
        chance_of_failure,
        lambda: {"margin": room},
    )
