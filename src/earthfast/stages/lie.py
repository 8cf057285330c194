"""How the place lies, as the German frost rule counts it: local climate, cutting or bank, drains at the edge, who uses it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from earthfast.estimate import Meaning, Origin, Trail
from earthfast.frost import GermanCondition, frost_proof_addition_german
from earthfast.job import FrostRule, Job
from earthfast.job import Lie as TypedLie
from earthfast.loads import Load, Motion
from earthfast.sources import source_note

TAKEN = {
    "climate": "usual climate",
    "ground": "natural level",
    "drained_by": "open sides",
}
SOURCES = (
    source_note("rsto_12, the amounts in copies of lectures [S]"),
    source_note("from_memory, when each holds [M]"),
)


@dataclass(frozen=True, slots=True)
class Lie:
    """What the German rule asks of a place.

    Attributes
    ----------
    conditions : those that hold, by the job.
    taken : what the job does not tell, as it is taken.
    is_footway : no vehicle drives there and everything on it moves.
    """

    conditions: tuple[GermanCondition, ...]
    taken: tuple[str, ...]
    is_footway: bool


def lie_of(job: Job, loads: Sequence[Load], trail: Trail) -> Lie:
    """How an area lies and who uses it."""
    typed = (job.site.lie if job.site else None) or TypedLie()
    told = {field: getattr(typed, field) for field in TAKEN}
    words = [value.value for value in told.values() if value is not None]
    lie = Lie(
        conditions=tuple(condition for condition in GermanCondition if condition.value in words),
        taken=tuple(TAKEN[field] for field, value in told.items() if value is None),
        is_footway=all(load.motion is Motion.ROLLING and not load.needs_engineer for load in loads),
    )
    if words or (job.choose and job.choose.frost_rule is FrostRule.GERMAN):
        _record(lie, words, trail.under("site"))
    return lie


def _record(lie: Lie, words: Sequence[str], steps: Trail) -> None:
    """Record what the place adds where the German rule is asked about."""
    steps.enter(
        "german_addition",
        Meaning("What the place adds to the German minimum thickness", "m", "mm"),
        frost_proof_addition_german(lie.conditions),
        Origin.ASSUMED if lie.taken else Origin.GIVEN,
        "; ".join((*words, *(f"{taken} taken" for taken in lie.taken))),
        SOURCES,
    )
