"""`earthfast demo`."""

from __future__ import annotations

import shutil
from importlib.resources import as_file, files
from pathlib import Path

import click

DEMONSTRATIONS = ("fernhill-allotments", "marl-lane-hall")


@click.command()
@click.option(
    "--into",
    "folder",
    type=click.Path(file_okay=False, path_type=Path),
    default=Path("earthfast-demo"),
    show_default=True,
    help="Folder for the job file and its sheets.",
)
@click.option("--job", type=click.Choice(DEMONSTRATIONS), default=DEMONSTRATIONS[0], show_default=True)
def demo(folder: Path, job: str) -> int:
    """Copy a demonstration job and run the whole chain on it: look, choose, build."""
    from earthfast.cli.sheet_files import write_sheets
    from earthfast.cli.showing import show_build, show_choose, show_look
    from earthfast.job import load_job
    from earthfast.stages import build_for, look_at

    folder.mkdir(parents=True, exist_ok=True)
    path = folder / f"{job}.toml"
    with as_file(files("earthfast.job") / "demonstrations" / f"{job}.toml") as source:
        shutil.copyfile(source, path)
    loaded = load_job(path)
    click.secho(f"\n— earthfast look {path}", bold=True)
    show_look(look_at(loaded).answer)
    built = build_for(loaded)
    click.secho(f"\n— earthfast choose {path}", bold=True)
    show_choose(built.choice.answer, path)
    written = write_sheets(built, folder, job, "A4", as_html=False)
    click.secho(f"\n— earthfast build {path}", bold=True)
    show_build(built.answer.model_copy(update={"files": tuple(str(file) for file in written)}))
    return built.answer.exit_status
