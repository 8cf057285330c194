"""`earthfast try`."""

from __future__ import annotations

from pathlib import Path

import click

from earthfast.cli.asking import job_argument, json_switch, print_json, sheet_ending


@click.command("try")
@job_argument
@json_switch
@click.option(
    "--add",
    "typed",
    multiple=True,
    metavar="RESULT",
    help="Write a specimen into the job file first, as 'dose=6 % lime=3 % age=7 days load=12.6 kN diameter=100 mm "
    "height=200 mm soaked=yes'; lime=0 % if there is none. May be given several times. The file before is kept "
    "beside it.",
)
@click.option("--confidence", metavar="SHARE", help="Chance wanted of reaching the strength, as '90 %'.")
@click.option(
    "--chart",
    "chart_path",
    type=click.Path(dir_okay=False, path_type=Path),
    help="Also draw strength against dose and age, as SVG.",
)
@click.option(
    "--sheet",
    "sheet_path",
    type=click.Path(dir_okay=False, path_type=Path),
    callback=sheet_ending,
    help="Also write the trial sheet (PDF or HTML, by its ending).",
)
def try_(
    job_path: Path,
    as_json: bool,
    typed: tuple[str, ...],
    confidence: str | None,
    chart_path: Path | None,
    sheet_path: Path | None,
) -> int:
    """Plan a trial; with specimens, say strength, the dose wanted and what to make next.

    The strength wanted stands in the job file as trial.target_strength, with trial.target_age.
    """
    from earthfast.cli.specimen_text import add_specimens, chance_from
    from earthfast.job import load_job
    from earthfast.stages import choose_for
    from earthfast.stages.try_ import try_on

    chance = chance_from(confidence) if confidence else None
    if typed:
        added = add_specimens(job_path, typed)
        click.echo(added.words, err=True)
        choice = added.choice
    else:
        choice = choose_for(load_job(job_path))
    answer = try_on(choice, chance).answer
    if chart_path or sheet_path:
        from earthfast.sheets.strength_chart import write_strength_charts
        from earthfast.sheets.trial_sheet import write_trial_sheet

        write_strength_charts(answer, chart_path) if chart_path else None
        write_trial_sheet(answer, sheet_path) if sheet_path else None
    if as_json:
        print_json(answer)
    else:
        from earthfast.cli.showing import show_files
        from earthfast.cli.showing_try import show_try

        show_try(answer)
        show_files([str(path) for path in (chart_path, sheet_path) if path])
    return answer.exit_status
