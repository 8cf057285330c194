"""The verbs, each loaded only when it is asked for, so that help comes at once."""

from __future__ import annotations

import gc
import os
import sys
from importlib import import_module
from keyword import iskeyword

import click

VERBS = {
    "new": "write a commented job file from a few answers",
    "look": "what the observations say about the ground",
    "choose": "all ways of building, checked and ranked",
    "try": "which specimens to make, or what they say: strength, dose, what to make next",
    "build": "what to buy, set out and do on the day, as sheets",
    "why": "one figure traced back to its formula, inputs and sources",
    "demo": "copy a demonstration job and run the whole chain on it",
}


class VerbGroup(click.Group):
    """Group that knows its verbs by name and imports one when it is used."""

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002 (click's signature)
        """Verbs in the order of the work."""
        return list(VERBS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:  # noqa: ARG002
        """Import the verb's own file."""
        if cmd_name not in VERBS:
            return None
        name = f"{cmd_name}_" if iskeyword(cmd_name) else cmd_name
        verb = getattr(import_module(f"earthfast.cli.{name}"), name)
        assert isinstance(verb, click.Command)
        return verb

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:  # noqa: ARG002
        """List the verbs without importing them."""
        with formatter.section("Verbs"):
            formatter.write_dl(list(VERBS.items()))


@click.group(cls=VerbGroup, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="earthfast", message="%(prog)s %(version)s")
def group() -> None:
    """Decide what goes between paving and the natural ground, then build it and check it.

    Start with `earthfast new JOB.toml`, or see it work with `earthfast demo`.
    """


def main() -> None:
    """Run the command line; a job with problems ends with status 2 and no traceback."""
    # many small matrices: more threads cost more than they bring, and one gives the same bytes everywhere
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    gc.disable()  # one answer and the process ends: looking for garbage on the way costs a tenth and finds next to none
    try:
        status = group.main(standalone_mode=False)
    except BrokenPipeError:
        sys.stderr.close()
        sys.exit(0)
    except Exception as failure:  # noqa: BLE001 (the outermost edge: no traceback reaches a user)
        from earthfast.cli.failing import told

        sys.exit(told(failure, sys.argv[1:]))
    sys.exit(status if isinstance(status, int) else 0)
