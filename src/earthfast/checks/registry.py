"""The list of checks: adding one is adding one file that registers itself here."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from enum import StrEnum

from earthfast.checks.situation import Case, CheckResult
from earthfast.estimate import Trail


class CheckName(StrEnum):
    """Each way in which a build-up can disappoint."""

    BEARING = "bearing"
    SOFTENING = "softening"
    CRACKING = "cracking"
    RUTTING = "rutting"
    SETTLEMENT = "settlement"
    EDGE = "edge"
    FROST = "frost"
    SHRINK_SWELL = "shrink-swell"
    DURABILITY = "durability"
    DRAINAGE = "drainage"
    SUITABILITY = "suitability"


Judge = Callable[[Case, Trail], CheckResult]
Prepare = Callable[[Sequence[Case], Sequence[Case]], None]


@dataclass(frozen=True, slots=True)
class Check:
    """One check.

    Attributes
    ----------
    name : its name.
    question : the plain question it answers.
    falls : ends the sentence 'it falls because ...'.
    judge : the function that judges a batch of ways.
    prepare : works out for many cases at once what `judge` would else work out batch by batch, and puts off what a
        second lot of cases may ask until one of them does.
    """

    name: CheckName
    question: str
    falls: str
    judge: Judge
    prepare: Prepare | None = None


CHECKS: dict[CheckName, Check] = {}


def check(
    name: CheckName, question: str, falls: str, prepare: Prepare | None = None
) -> Callable[[Judge], Judge]:
    """Register a judging function as a check; ``falls`` ends the sentence 'it falls because ...'."""

    def register(judge: Judge) -> Judge:
        if name in CHECKS:
            raise ValueError(f"the check '{name}' is registered twice")
        CHECKS[name] = Check(name, question, falls, judge, prepare)
        return judge

    return register
