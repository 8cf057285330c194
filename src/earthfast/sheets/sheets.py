"""The sheets that are handed to people."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from earthfast.sheets.build_contents import build_contents
from earthfast.sheets.calculation_contents import CalculationCheck, calculation_contents
from earthfast.sheets.comparison_contents import comparison_contents
from earthfast.sheets.ink import Paper
from earthfast.sheets.press import write_sheet
from earthfast.stages.answers import BuildAnswer, ChooseAnswer


def write_comparison_sheet(answer: ChooseAnswer, path: Path, paper: Paper = Paper.A4) -> None:
    """Write the sheet for the person who pays, as PDF or HTML by the ending of the path."""
    write_sheet("comparison", comparison_contents(answer, paper), path, paper)


def write_build_sheet(answer: BuildAnswer, path: Path, paper: Paper = Paper.A4) -> None:
    """Write the sheet for the site, as PDF or HTML by the ending of the path."""
    write_sheet("build", build_contents(answer, paper), path, paper)


def write_calculation_sheet(
    answer: BuildAnswer, checks: Sequence[CalculationCheck], path: Path, paper: Paper = Paper.A4
) -> None:
    """Write the sheet for the checking engineer, as PDF or HTML by the ending of the path.

    The answer gives the job, the doubts and the assumptions; the checks give the figures.
    """
    write_sheet("calculation", calculation_contents(answer, checks, paper), path, paper)
