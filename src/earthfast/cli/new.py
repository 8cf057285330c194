"""`earthfast new`."""

from __future__ import annotations

import sys
from pathlib import Path

import click


@click.command()
@click.argument("job_path", metavar="JOB.toml", type=click.Path(dir_okay=False, path_type=Path))
@click.option("--title", help="What the job is called.")
@click.option("--length", help="Length of the area, such as '4.2 m'.")
@click.option("--width", help="Width of the area, such as '3 m'.")
@click.option("--load", "loads", multiple=True, help="What will stand on it, by its listed name; repeatable.")
@click.option("--thumb", help="How far a thumb goes into the ground, in words.")
def new(
    job_path: Path,
    title: str | None,
    length: str | None,
    width: str | None,
    loads: tuple[str, ...],
    thumb: str | None,
) -> int:
    """Write a commented job file from flags, or by asking; never overwrites."""
    from earthfast.job import NewJobAnswers, new_job_text, read_job

    if job_path.exists():
        click.echo(f"{job_path} is there already; it is left as it is. Choose another name.", err=True)
        return 2
    asks = sys.stdin.isatty()
    answers = NewJobAnswers(
        title=title or _asked("What is the job called?", job_path.stem.replace("-", " "), asks),
        length=length or _asked("How long is the area, with its unit?", "4 m", asks),
        width=width or _asked("How wide is it?", "3 m", asks),
        loads=loads or _loads(asks),
        thumb=thumb or _thumb(asks),
    )
    text = new_job_text(answers)
    read_job(text, job_path)
    with job_path.open("x", encoding="utf-8") as file:
        file.write(text)
    click.echo(f"Wrote {job_path}. Open it, fill in what you know, then: earthfast look {job_path}")
    return 0


def _asked(question: str, usual: str, asks: bool) -> str:
    return str(click.prompt(question, default=usual, err=True)) if asks else usual


def _loads(asks: bool) -> tuple[str, ...]:
    from earthfast.loads import load_library

    if not asks:
        return ("person",)
    click.echo(f"What will stand or roll on it? Listed: {', '.join(load_library())}", err=True)
    named = click.prompt("Names, with commas between", default="person", err=True)
    return tuple(name.strip() for name in named.split(",") if name.strip())


def _thumb(asks: bool) -> str:
    from earthfast.ground import OBSERVATION_KINDS

    (field,) = (f for f in OBSERVATION_KINDS["thumb"].fields if f.choices)
    usual = field.choices[len(field.choices) // 2]
    if not asks:
        return str(usual)
    for number, words in enumerate(field.choices, start=1):
        click.echo(f"  {number}. {words}", err=True)
    picked = click.prompt(
        "Push a thumb into the ground about 300 mm down: which is it?",
        type=click.IntRange(1, len(field.choices)),
        default=len(field.choices) // 2 + 1,
        err=True,
    )
    return str(field.choices[picked - 1])
