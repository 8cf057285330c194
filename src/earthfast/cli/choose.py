"""`earthfast choose`."""

from __future__ import annotations

from pathlib import Path

import click

from earthfast.cli.asking import job_argument, json_switch, print_json, sheet_ending


@click.command()
@job_argument
@json_switch
@click.option(
    "--sheet",
    "sheet_path",
    type=click.Path(dir_okay=False, path_type=Path),
    callback=sheet_ending,
    help="Also write the comparison sheet (PDF or HTML, by its ending).",
)
def choose(job_path: Path, as_json: bool, sheet_path: Path | None) -> int:
    """Check and rank all ways of building, and say why the rejected ones fell."""
    from earthfast.job import load_job
    from earthfast.stages import choose_for

    answer = choose_for(load_job(job_path)).answer
    if sheet_path:
        from earthfast.sheets import write_comparison_sheet

        write_comparison_sheet(answer, sheet_path)
    if as_json:
        print_json(answer)
    else:
        from earthfast.cli.showing import show_choose, show_files

        show_choose(answer, job_path)
        show_files([str(sheet_path)] if sheet_path else [])
    return answer.exit_status
