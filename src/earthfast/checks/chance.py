"""From demand and capacity to the chance of failure."""

from __future__ import annotations

import numpy as np

from earthfast.checks.situation import CheckResult
from earthfast.estimate import FloatLike, Floats, Meaning, Quantity, Trail

MOST_MARGIN = 1000.0


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
