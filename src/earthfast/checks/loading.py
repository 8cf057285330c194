"""How heavy a load is in each draw, and how often it comes."""

from __future__ import annotations

import numpy as np

from earthfast.checks.situation import Case
from earthfast.checks.worst import Worst
from earthfast.estimate import Floats, Meaning, Origin, Quantity, Trail
from earthfast.loads import Load
from earthfast.sources import source_note

FACTOR = Meaning("Load over its usual value", "-", "-")
TIMES = Meaning("Times it is loaded over the design life", "-", "-")


def load_factor(case: Case, load: Load) -> Floats:
    """Force of a load over its central force, one a draw.

    All loads of a job are heavy together: they share one score, each with its own spread.
    """
    return np.asarray(case.draws.of("load", load.force) / load.force.centre)


def passes_of(case: Case, load: Load) -> Floats:
    """Times a load comes over the design life, at least once, one a draw."""
    yearly = case.draws.of("passes", load.passes_per_year)
    return np.maximum(yearly * case.years, 1.0)


def enter_factor(case: Case, worst: Worst, trail: Trail, key: str = "load") -> Quantity:
    """Enter how heavy the load is that asks most."""
    return trail.enter(
        key,
        FACTOR,
        worst.of(lambda act: load_factor(case, act.load)),
        Origin.ASSUMED,
        f"{worst.usual[0].act.load.key}: loads differ from day to day; spread as in the list of loads",
        (source_note("earthfast_proposal, spread of loads [P]"),),
    )


def enter_passes(case: Case, worst: Worst, trail: Trail, key: str = "passes") -> Quantity:
    """Enter how often the load comes that asks most."""
    return trail.enter(
        key,
        TIMES,
        worst.of(lambda act: passes_of(case, act.load)),
        Origin.ASSUMED,
        f"{worst.usual[0].act.load.key}: times a year as given or listed, over the design life",
        (source_note("earthfast_proposal, passes of the list of loads [P]"),),
    )
