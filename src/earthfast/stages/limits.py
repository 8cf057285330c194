"""Limits that the job sets to what a way may cost."""

from __future__ import annotations

from earthfast.checks import Way
from earthfast.choice import Merit
from earthfast.job import Choosing


def within_limits(way: Way, merit: Merit, limits: Choosing | None, bank_density: float) -> bool:
    """Whether a way keeps within what the job allows it to cost; spoil is measured in the ground, kg/m³."""
    if limits is None:
        return True
    bounds = (
        (merit.price, limits.most_price.high if limits.most_price else None),
        (merit.carbon, limits.most_carbon.centre if limits.most_carbon else None),
        (merit.spoil / bank_density, limits.most_spoil.centre if limits.most_spoil else None),
        (merit.days, limits.most_days),
        (way.build_up.thickness, limits.deepest_dig.centre if limits.deepest_dig else None),
    )
    return all(most is None or value <= most for value, most in bounds)
