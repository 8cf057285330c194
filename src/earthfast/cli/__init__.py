"""The command line: one file a verb."""

from earthfast.cli.verbs import main

__all__ = ["main"]
