"""`earthfast build`."""

from __future__ import annotations

from pathlib import Path

import click

from earthfast.cli.asking import job_argument, json_switch, print_json


@click.command()
@job_argument
@json_switch
@click.option(
    "--into",
    "folder",
    type=click.Path(file_okay=False, path_type=Path),
    help="Folder for the sheets; the job file's own where not given.",
)
@click.option("--html", "as_html", is_flag=True, help="Write HTML sheets as well as PDF.")
@click.option("--paper", type=click.Choice(["A4", "Letter"]), default="A4", show_default=True)
@click.option("--open", "open_sheet", is_flag=True, help="Open the build sheet when it is written.")
def build(
    job_path: Path, as_json: bool, folder: Path | None, as_html: bool, paper: str, open_sheet: bool
) -> int:
    """Write the sheets for the chosen way: what to buy, set out and do."""
    from earthfast.cli.sheet_files import write_sheets
    from earthfast.job import load_job
    from earthfast.stages import build_for

    built = build_for(load_job(job_path))
    files = write_sheets(built, folder or job_path.parent, job_path.stem, paper, as_html)
    answer = built.answer.model_copy(update={"files": tuple(str(file) for file in files)})
    if as_json:
        print_json(answer)
    else:
        from earthfast.cli.showing import show_build

        show_build(answer)
    if open_sheet:
        click.launch(str(next(file for file in files if "build" in file.name)))
    return answer.exit_status
