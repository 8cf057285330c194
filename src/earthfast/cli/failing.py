"""How a failure is told: as text on standard error, or with `--json` as one document on standard output."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from earthfast.stages.answers import FailureAnswer, ProblemLine

FALLS_SHORT, BAD_INPUT, OWN_FAULT = 1, 2, 3
LOCATED = re.compile(
    r"(?P<field>[^:]+): found (?P<found>.+?); accepted: (?P<accepted>.+?)(?: \((?P<suggestion>[^()]+)\))?"
)
STOPPED = "Stopped."
SPACES = "A name with spaces goes in quotes: 'my patio.toml'."


def told(failure: Exception, words: Sequence[str]) -> int:
    """Tell a failure of the command line ``words`` and give the status to end with."""
    if "--json" in words:
        from earthfast.cli.asking import print_json

        answer = failure_answer(failure, words)
        print_json(answer)
        return answer.exit_status
    if isinstance(failure, click.ClickException):
        failure.show()
        if _is_cut_at_a_space(failure, words):
            click.echo(SPACES, err=True)
        return BAD_INPUT
    answer = failure_answer(failure, words)
    click.echo(answer.headline, err=True)
    for problem in answer.problems:
        click.echo(f"  {_sentence(problem)}", err=True)
    return answer.exit_status


def _is_cut_at_a_space(failure: click.ClickException, words: Sequence[str]) -> bool:
    """Whether a file's name was likely typed with a space and without quotes."""
    if "unexpected extra argument" in failure.message:
        return True
    missing = "does not exist" in failure.message
    return missing and any(w.endswith(".toml") and w not in failure.message for w in words)


def failure_answer(failure: Exception, words: Sequence[str]) -> FailureAnswer:
    """What went wrong, in the published shape."""
    from earthfast import __version__
    from earthfast.cli.verbs import VERBS
    from earthfast.job import JobProblems
    from earthfast.stages.answers import FailureAnswer

    problems = _problems(failure)
    return FailureAnswer(
        verb=next((word for word in words if word in VERBS), ""),
        earthfast=__version__,
        file=failure.name if isinstance(failure, JobProblems) else "",
        headline=_headline(failure, len(problems)),
        problems=problems,
        exit_status=_status(failure),
    )


def _status(failure: Exception) -> int:
    from earthfast.job import NoWayPasses

    if isinstance(failure, NoWayPasses):
        return FALLS_SHORT
    return BAD_INPUT if _is_to_put_right(failure) else OWN_FAULT


def _is_to_put_right(failure: Exception) -> bool:
    from earthfast.job import JobError

    return isinstance(failure, (JobError, click.ClickException, click.exceptions.Abort, OSError))


def _headline(failure: Exception, count: int) -> str:
    from earthfast.job import JobProblems, NoWayPasses

    if isinstance(failure, NoWayPasses):
        return failure.headline
    if isinstance(failure, JobProblems):
        counted = "one problem" if count == 1 else f"{count} problems"
        return f"{failure.name or 'The job'} cannot be used as it stands: {counted}."
    if isinstance(failure, OSError):
        return "A file could not be read or written."
    if isinstance(failure, click.exceptions.Abort):
        return STOPPED
    if _is_to_put_right(failure):
        return str(failure).split("\n")[0]
    return (
        f"Earthfast failed: {type(failure).__name__}: {failure}. "
        "This is a fault of the program, not of your job file."
    )


def _problems(failure: Exception) -> tuple[ProblemLine, ...]:
    from earthfast.job import JobProblems
    from earthfast.stages.answers import ProblemLine

    if isinstance(failure, JobProblems):
        return tuple(
            ProblemLine(
                field=one.where,
                line=one.line,
                found=one.found,
                accepted=one.accepted,
                suggestion=one.suggestion,
            )
            for one in failure.problems
        )
    if isinstance(failure, OSError):
        found = f"{failure.filename or 'a file'}: {(failure.strerror or str(failure)).lower()}"
        accepted = "a file that may be read, in a folder that is there and may be written to"
        return (ProblemLine(field="", found=found, accepted=accepted),)
    if isinstance(failure, click.ClickException):
        located = [match for line in failure.message.split("\n") if (match := LOCATED.fullmatch(line))]
        if located:
            return tuple(ProblemLine(**match.groupdict(default="")) for match in located)
        return (ProblemLine(field=_parameter(failure), found=failure.message, accepted=""),)
    return ()


def _parameter(failure: click.ClickException) -> str:
    """The flag or argument that a complaint is about."""
    if isinstance(failure, click.BadParameter) and failure.param is not None:
        return failure.param.get_error_hint(failure.ctx or click.get_current_context()).strip("'")
    return failure.option_name if isinstance(failure, click.NoSuchOption) else ""


def _sentence(problem: ProblemLine) -> str:
    at = f"line {problem.line}" if problem.line is not None else ""
    place = ", ".join(filter(None, (at, problem.field)))
    found = f"found {problem.found}" if problem.accepted else problem.found
    accepted = f"; accepted: {problem.accepted}" if problem.accepted else ""
    hint = f" ({problem.suggestion})" if problem.suggestion else ""
    return f"{place}: {found}{accepted}{hint}" if place else f"{found}{accepted}{hint}"
