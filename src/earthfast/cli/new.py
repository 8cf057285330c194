"""`earthfast new`."""

from __future__ import annotations

import shlex
import sys
from pathlib import Path

import click


@click.command()
@click.argument("job_path", metavar="JOB.toml", type=click.Path(dir_okay=False, path_type=Path))
@click.option("--title", help="What the job is called; the name of the file where it is left out.")
@click.option("--length", help="Length of the area, such as '4.2 m'.")
@click.option("--width", help="Width of the area, such as '3 m'.")
@click.option("--load", "loads", multiple=True, help="What will stand on it, by its listed name; repeatable.")
@click.option("--thumb", help="How far a thumb goes into the ground, in words or by its number, such as 3.")
def new(
    job_path: Path,
    title: str | None,
    length: str | None,
    width: str | None,
    loads: tuple[str, ...],
    thumb: str | None,
) -> int:
    """Write a commented job file from flags, or by asking; never overwrites.

    On a terminal, what no flag says is asked. Elsewhere nothing is asked and nothing made up: without a length, a
    width, a load and a thumb test no file is written.
    """
    from earthfast.cli.first_answers import FirstAnswers, job_text

    path = job_path if job_path.suffix == ".toml" else job_path.with_name(f"{job_path.name}.toml")
    if path.exists():
        raise click.UsageError(f"{path} is there already and is left as it is; choose another name.")
    given = FirstAnswers(title or path.stem.replace("-", " "), length, width, loads, thumb)
    text = job_text(given.asked() if sys.stdin.isatty() else given)
    with path.open("x", encoding="utf-8") as file:
        file.write(text)
    click.echo(f"Wrote {path}. Open it, fill in what you know, then: earthfast look {shlex.quote(str(path))}")
    return 0
