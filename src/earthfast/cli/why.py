"""`earthfast why`."""

from __future__ import annotations

from pathlib import Path

import click

from earthfast.cli.asking import job_argument, json_switch, print_json


@click.command()
@job_argument
@click.argument("figure", required=False)
@json_switch
def why(job_path: Path, figure: str | None, as_json: bool) -> int:
    """Trace one FIGURE back: formula, inputs, sources, and which input matters most.

    Without FIGURE, list the keys there are. Part of a key is enough where only one fits.
    """
    from earthfast.job import load_job
    from earthfast.stages import figures_of, why_figure

    job = load_job(job_path)
    if figure is None:
        listed = figures_of(job)
        if as_json:
            print_json(listed)
            return 0
        for one in listed.figures:
            click.echo(f"{one.key:<44} {one.label}: {one.text}")
        return 0
    answer = why_figure(job, figure)
    if as_json:
        print_json(answer)
    else:
        from earthfast.cli.showing import show_why

        show_why(answer)
    return 0
