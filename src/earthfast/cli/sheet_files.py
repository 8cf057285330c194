"""Sheets of a built job, written beside one another."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from earthfast.sheets import CalculationCheck
    from earthfast.stages import Built


def write_sheets(built: Built, folder: Path, stem: str, paper: str, as_html: bool) -> tuple[Path, ...]:
    """Write comparison, build and calculation sheets; return what was written."""
    from earthfast.sheets import (
        Paper,
        write_build_sheet,
        write_calculation_sheet,
        write_comparison_sheet,
    )

    folder.mkdir(parents=True, exist_ok=True)
    size = Paper[paper.upper()]
    written = []
    for ending in ("pdf", "html") if as_html else ("pdf",):
        comparison, build, calculation = (
            folder / f"{stem}-{name}.{ending}" for name in ("comparison", "build", "calculation")
        )
        write_comparison_sheet(built.choice.answer, comparison, size)
        write_build_sheet(built.answer, build, size)
        write_calculation_sheet(built.answer, calculation_checks(built), calculation, size)
        written += [comparison, build, calculation]
    return tuple(written)


def calculation_checks(built: Built) -> tuple[CalculationCheck, ...]:
    """Every check of every chosen way with its trail."""
    from earthfast.sheets import CalculationCheck
    from earthfast.stages import middle_draw, traced_answer

    trail = built.choice.understanding.trail
    checks = []
    for area in built.answer.areas:
        weakest = max(area.checks, key=lambda check: check.chance / check.target)
        draw = middle_draw(trail, weakest.key)
        for check in area.checks:
            traced = traced_answer(trail, check.key, built.answer.job, draw)
            checks.append(
                CalculationCheck(
                    area=area.name,
                    way=area.title,
                    check=check,
                    steps=traced.steps,
                    influences=traced.influences,
                    draw=traced.draw,
                )
            )
    return tuple(checks)
