"""Write docs/explanation/coverage.md: how often the 5..95 % bands of a stratum hold the truth.

Run as `python benchmarks/coverage_of_bands.py`; takes about five minutes on one core.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np

from earthfast.ground import coverage_study, stratum_prior

PAGE = Path(__file__).parent.parent / "docs" / "explanation" / "coverage.md"
STUDIES = 1024
SETS = {
    "hand tests": (
        "thread",
        "dry strength",
        "dilatancy",
        "ribbon",
        "thumb",
        "boot heel",
        "colour and smell",
        "moisture",
    ),
    "hand tests and three soundings": (
        "thread",
        "ribbon",
        "jar",
        "thumb",
        "mottling",
        *["cone penetrometer"] * 3,
    ),
    "laboratory": (
        "liquid limit",
        "plastic limit",
        "grading",
        "water content",
        "organic content",
        "cbr",
        "cone penetrometer",
        "sulfate",
    ),
}
INTRODUCTION = f"""# Do the bands hold what they promise?

Ground is drawn evenly from the prior, observed with the scatter, the shared errors and the lapses that the
likelihoods declare, and estimated again, {STUDIES} times for each set of observations. A 5..95 % band should
hold the truth in 90 % of them; with {STUDIES} studies, two standard errors are 1.9 points. This shows that the
arithmetic is honest. It cannot show that the declared scatter is that of real hands on real ground: those
figures carry their own status, on the page on evidence.

Written by `benchmarks/coverage_of_bands.py`; do not edit.

"""


def page() -> str:
    columns = {
        name: coverage_study(kinds, stratum_prior(), STUDIES, np.random.default_rng(7), count=2048)
        for name, kinds in SETS.items()
    }
    lines = ["| property | " + " | ".join(SETS) + " |", "| --- |" + " --- |" * len(SETS)]
    for rows in zip(*columns.values(), strict=True):
        shares = " | ".join(f"{100 * row.covered:.1f} %" for row in rows)
        lines.append(f"| {rows[0].property.value.replace('_', ' ')} | {shares} |")
    made = "\n".join(f"- {name}: {', '.join(kinds)}" for name, kinds in SETS.items())
    return INTRODUCTION + "\n".join(lines) + "\n\nObservations made each time:\n\n" + made + "\n"


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
