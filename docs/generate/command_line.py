"""The page of the command line, read from the commands themselves."""

from __future__ import annotations

from collections.abc import Iterator

import click

from docs.generate.markdown import page, table
from earthfast.cli.verbs import VERBS, group

OPENING = """# Command line

`earthfast VERB JOB.toml`, in the order of the work. This page is made from the program.

Standard output is the answer, standard error the talk. A readable answer starts with a sentence; colour is off where
it is not read on a terminal. With `--json` one document stands on standard output and nothing else; its shape is on the
page on [answers](answers.md).
"""
ENDINGS = (
    ("0", "done"),
    (
        "1",
        "done, but something falls short: a check that fails, a dose that is not enough, no way that passes",
    ),
    (
        "2",
        "the job file or the command cannot be read as it stands; the message names line, field, finding and what is accepted",
    ),
    ("3", "a fault of the program"),
)


def command_line_page() -> str:
    """Every verb with its arguments and flags."""
    context = click.Context(group, info_name="earthfast", **group.context_settings)
    blocks = [table(("verb", "does"), ((f"[`{verb}`](#{verb})", words) for verb, words in VERBS.items()))]
    for verb in VERBS:
        command = group.get_command(context, verb)
        assert command is not None
        blocks += _verb(verb, command, context)
    endings = ["## How it ends", table(("status", "means"), ENDINGS)]
    own = ["## Flags of `earthfast` itself", _parameters(group, context)]
    return page(OPENING, *blocks, *own, *endings)


def _verb(verb: str, command: click.Command, parent: click.Context) -> Iterator[str]:
    context = click.Context(command, info_name=verb, parent=parent)
    usage = " ".join(command.collect_usage_pieces(context))
    yield f"## `{verb}`"
    yield f"```sh\nearthfast {verb} {usage}\n```"
    yield from (" ".join(part.split()) for part in (command.help or "").split("\n\n"))
    yield _parameters(command, context)


def _parameters(command: click.Command, context: click.Context) -> str:
    rows = [_row(parameter, context) for parameter in command.get_params(context)]
    return table(("argument or flag", "takes", "means"), rows)


def _row(parameter: click.Parameter, context: click.Context) -> tuple[str, str, str]:
    if isinstance(parameter, click.Argument):
        name = parameter.make_metavar(context)
        return (
            f"`{name.strip('[]')}`",
            "" if parameter.required else "may be left out",
            ARGUMENTS[parameter.name or ""],
        )
    assert isinstance(parameter, click.Option)
    flags = ", ".join(f"`{flag}`" for flag in parameter.opts)
    means = parameter.help or ""
    if parameter.show_default:
        means = f"{means} Usual: `{parameter.default}`.".strip()
    return flags, _takes(parameter, context), means


ARGUMENTS = {"job_path": "The job file.", "figure": "Key of a figure, or a part that fits one key only."}


def _takes(option: click.Option, context: click.Context) -> str:
    if option.is_flag:
        return ""
    if isinstance(option.type, click.Choice):
        return "one of " + ", ".join(f"`{choice}`" for choice in option.type.choices)
    words = f"`{option.make_metavar(context)}`"
    return f"{words}, repeatable" if option.multiple else words
