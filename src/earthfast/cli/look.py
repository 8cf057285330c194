"""`earthfast look`."""

from __future__ import annotations

from pathlib import Path

import click

from earthfast.cli.asking import job_argument, json_switch, print_json


@click.command()
@job_argument
@json_switch
def look(job_path: Path, as_json: bool) -> int:
    """Say what the observations tell about the ground, and whether it can be treated."""
    from earthfast.job import load_job
    from earthfast.stages import look_at

    answer = look_at(load_job(job_path)).answer
    if as_json:
        print_json(answer)
    else:
        from earthfast.cli.showing import show_look

        show_look(answer)
    return answer.exit_status
