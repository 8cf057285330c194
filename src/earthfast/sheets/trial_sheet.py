"""The trial sheet: for the bench and the file."""

from __future__ import annotations

from pathlib import Path

from earthfast.sheets.ink import Paper
from earthfast.sheets.press import write_sheet
from earthfast.sheets.trial_contents import trial_contents
from earthfast.stages.answers import TryAnswer


def write_trial_sheet(answer: TryAnswer, path: Path, paper: Paper = Paper.A4) -> None:
    """Write the trial sheet, as PDF or HTML by the ending of the path."""
    write_sheet("trial", trial_contents(answer), path, paper)
