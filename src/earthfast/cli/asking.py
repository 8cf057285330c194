"""What the verbs share: the job argument, the JSON switch, and how an answer ends."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from pydantic import BaseModel

job_argument = click.argument(
    "job_path", metavar="JOB.toml", type=click.Path(exists=True, dir_okay=False, path_type=Path)
)
json_switch = click.option(
    "--json", "as_json", is_flag=True, help="Print one JSON document and nothing else."
)


def sheet_ending(_: click.Context, option: click.Parameter, path: Path | None) -> Path | None:
    """Refuse a sheet of another ending before any work is done."""
    if path is None:
        return None
    from earthfast.sheets import SheetError, require_ending

    try:
        require_ending(path)
    except SheetError as error:
        raise click.BadParameter(str(error), param=option) from error
    return path


def print_json(answer: BaseModel) -> None:
    """Print an answer as one JSON document."""
    click.echo(answer.model_dump_json(indent=2))
