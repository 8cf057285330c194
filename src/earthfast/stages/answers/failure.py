"""What a verb answers when it could not do what was asked."""

from __future__ import annotations

from pydantic import Field

from earthfast.stages.answers.parts import Part


class ProblemLine(Part):
    """One thing wrong in a job file, or in what was typed after the verb."""

    field: str = Field(
        description="Field as written in the file, entries of a list counted from 1; or the flag or argument."
    )
    line: int | None = Field(default=None, description="Line of the file, where there is one to point at.")
    found: str = Field(description="What stands there.")
    accepted: str = Field(description="What may stand there; empty where `found` says all there is.")
    suggestion: str = Field(default="", description="What was probably meant.")


class FailureAnswer(Part):
    """What `--json` prints when a verb fails: every problem of the file at once."""

    schema_version: int = 1
    verb: str
    earthfast: str = Field(description="Version of Earthfast.")
    file: str = Field(description="File that the problems are in; empty where they are in no file.")
    headline: str = Field(description="What went wrong, in one sentence.")
    problems: tuple[ProblemLine, ...] = Field(description="Each in the order of the file's lines.")
    exit_status: int = Field(
        description="1 where no way passes, 2 for something to put right, 3 for a fault of the program."
    )
