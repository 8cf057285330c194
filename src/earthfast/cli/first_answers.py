"""The few answers that a new job file starts from: flags, questions, and complaints in the words of the flags."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

import click

FLAGS = {
    "job.title": "--title",
    "plan.area[1].length": "--length",
    "plan.area[1].width": "--width",
    "observation[1].result": "--thumb",
}


@dataclass(frozen=True, slots=True)
class FirstAnswers:
    """Answers as typed; None or empty where there is none yet."""

    title: str
    length: str | None
    width: str | None
    loads: tuple[str, ...]
    thumb: str | None

    def asked(self) -> FirstAnswers:
        """The answers with questions asked for those that are missing."""
        return replace(
            self,
            length=self.length or _asked_length("How long is the area, with its unit?", "4 m"),
            width=self.width or _asked_length("How wide is it?", "3 m"),
            loads=self.loads or _asked_loads(),
            thumb=self.thumb or _asked_thumb(),
        )


def job_text(given: FirstAnswers) -> str:
    """The text of the new job file; a complaint names the flag, for there is no file yet."""
    from earthfast.job import JobProblems, NewJobAnswers, new_job_text

    complaints = _missing(given)
    if complaints:
        raise click.UsageError("\n".join(complaints))
    assert given.length is not None
    assert given.width is not None
    assert given.thumb is not None
    answers = NewJobAnswers(given.title, given.length, given.width, given.loads, _thumb_words(given.thumb))
    try:
        return new_job_text(answers)
    except JobProblems as problems:
        lines = [
            re.sub(r"^line [0-9]+, [^:]+", FLAGS.get(one.where, "--load"), str(one))
            for one in problems.problems
        ]
        raise click.UsageError("\n".join(lines)) from None


def _missing(given: FirstAnswers) -> list[str]:
    from earthfast.job import Dimension
    from earthfast.job.units import dimension_note
    from earthfast.loads import load_library

    length = dimension_note(Dimension.LENGTH).accepted_as("4.2 m")
    accepted = {
        "--length": (given.length, length),
        "--width": (given.width, length),
        "--load": (given.loads, f"one of {'; '.join(load_library())}"),
        "--thumb": (given.thumb, f"one of {'; '.join(_thumb_choices())}; or its number, counted from 1"),
    }
    return [
        f"{flag}: found nothing; accepted: {words}"
        for flag, (answer, words) in accepted.items()
        if not answer
    ]


def _asked_length(question: str, usual: str) -> str:
    return str(click.prompt(question, default=usual, err=True, value_proc=_length))


def _length(text: str) -> str:
    from earthfast.job import Dimension, QuantityError, read_quantity

    try:
        read_quantity(text, Dimension.LENGTH)
    except QuantityError as problem:
        raise click.UsageError(f"found {problem}") from None
    return text


def _asked_loads() -> tuple[str, ...]:
    from earthfast.loads import load_library

    click.echo(f"What will stand or roll on it? Listed: {'; '.join(load_library())}", err=True)
    named = click.prompt("Names, with a semicolon between", default="person", err=True, value_proc=_loads)
    return tuple(named)


def _loads(text: str) -> tuple[str, ...]:
    from earthfast.job.meant import meant
    from earthfast.loads import load_library

    names = tuple(name.strip() for name in text.split(";") if name.strip())
    for name in names:
        if name not in load_library():
            raise click.UsageError(f"'{name}' is not listed. {meant(name, load_library()).capitalize()}")
    return names


def _thumb_choices() -> tuple[str, ...]:
    from earthfast.ground import OBSERVATION_KINDS

    (field,) = (one for one in OBSERVATION_KINDS["thumb"].fields if one.choices)
    return tuple(str(choice) for choice in field.choices)


def _thumb_words(typed: str) -> str:
    choices = _thumb_choices()
    picked = int(typed) if typed.strip().isdecimal() else 0
    return choices[picked - 1] if 1 <= picked <= len(choices) else typed


def _asked_thumb() -> str:
    choices = _thumb_choices()
    for number, words in enumerate(choices, start=1):
        click.echo(f"  {number}. {words}", err=True)
    picked = click.prompt(
        "Push a thumb into the ground about 300 mm down: which is it?",
        type=click.IntRange(1, len(choices)),
        err=True,
    )
    return choices[picked - 1]
