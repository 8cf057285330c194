"""What can go wrong with a job file.

JobError
├── JobProblems    the file does not say what a job file has to say: every problem, located
│   └── NoWayPasses    the file can be read, but nothing it allows passes every check
└── JobNotSaved    the file was left as it was
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong in a job file.

    Attributes
    ----------
    where : the field as written in the file, entries of a list counted from 1; empty for the whole file.
    found : what stands there.
    accepted : what may stand there.
    line : line of the file, counted from 1; None where there is no line to point at.
    suggestion : what was probably meant.
    """

    where: str
    found: str
    accepted: str
    line: int | None = None
    suggestion: str = ""

    def __str__(self) -> str:
        at = f"line {self.line}" if self.line is not None else "the file"
        place = f"{at}, {self.where}" if self.where else at
        hint = f" ({self.suggestion})" if self.suggestion else ""
        return f"{place}: found {self.found}; accepted: {self.accepted}{hint}"


class JobError(Exception):
    """Anything wrong with a job file."""


class JobProblems(JobError):  # noqa: N818 (reads as what happened)
    """Everything wrong in one job file, in the order of its lines."""

    def __init__(self, problems: Sequence[Problem], name: str = "") -> None:
        self.problems = tuple(sorted(problems, key=lambda p: (p.line or 0, p.where)))
        self.name = name
        super().__init__("\n".join(str(problem) for problem in self.problems))


class NoWayPasses(JobProblems):
    """The file can be read, but no way of building passes every check; ``headline`` says on which areas."""

    def __init__(self, headline: str, problems: Sequence[Problem], name: str = "") -> None:
        self.headline = headline
        super().__init__(problems, name)


class JobNotSaved(JobError):  # noqa: N818 (reads as what happened)
    """The job file was left as it was."""
