"""Leave one soil out: how well a treated soil is foretold from other soils and a few specimens of its own.

Run as a program, it writes the table in docs/explanation/treated-soil-strength.md.
"""

from __future__ import annotations

import csv
import itertools
import re
from pathlib import Path
from typing import NamedTuple

import numpy as np
from scipy.constants import day, psi

from earthfast.mixes import (
    MixState,
    PriorRow,
    StrengthBelief,
    Workmanship,
    belief_after_trial,
    crushed,
    spread_for_new_soil,
    trial_scatter,
)
from earthfast.mixes.soil_prior import group_belief

ROOT = Path(__file__).parent.parent.parent
PUBLISHED = ROOT / "tests" / "published"
PAGE = ROOT / "docs" / "explanation" / "treated-soil-strength.md"
START, END = "<!-- scores: start -->", "<!-- scores: end -->"
SPECIMEN_COUNTS = (0, 1, 2, 4)
MOST_CHOICES = 12
COLUMNS = (("ucs_7d_soaked_psi", 7, 0), ("ucs_28d_soaked_psi", 28, 0), ("ucs_7d_unsoaked_psi", 7, 1))


def read_rows(name):
    lines = [line for line in (PUBLISHED / name).read_text(encoding="utf-8").splitlines() if line[0] != "#"]
    return list(csv.DictReader(lines))


def iowa_soils():
    soils = {}
    for row in read_rows("treated_soils_iowa.csv"):
        if float(row["cement_percent"]) > 0.0:
            soils.setdefault(row["soil"], []).append(row)
    return soils


def level_and_exponent(rows):
    """Level at 6 % (ln Pa, 7 days, soaked) and exponent of dose of one soil."""
    dose = np.log([float(row["cement_percent"]) / 6.0 for row in rows])
    strength = np.log([float(row["ucs_7d_soaked_psi"]) * psi for row in rows])
    exponent, level = np.polyfit(dose, strength, 1)
    return level, exponent


def growth_to_28_days(soils):
    """Mean ln ratio of 28 to 7-day soaked strength."""
    return float(
        np.mean(
            [
                np.log(float(row["ucs_28d_soaked_psi"]) / float(row["ucs_7d_soaked_psi"]))
                for rows in soils.values()
                for row in rows
                if row["ucs_28d_soaked_psi"]
            ]
        )
    )


def group_rows(soils):
    """Fitted (level, exponent) of the soils of each group."""
    groups = {}
    for rows in soils.values():
        groups.setdefault(rows[0]["group"], []).append(level_and_exponent(rows))
    return {group: np.array(fits) for group, fits in groups.items()}


def pooled_sd(groups):
    several = [fits for fits in groups.values() if len(fits) > 1]
    squares = sum(((fits - fits.mean(axis=0)) ** 2).sum(axis=0) for fits in several)
    return np.sqrt(squares / sum(len(fits) - 1 for fits in several))


def prior_without(soils, name):
    """Belief about one soil from the others alone; a soil alone in its group borrows from all."""
    others = {other: rows for other, rows in soils.items() if other != name}
    groups, group = group_rows(others), soils[name][0]["group"]
    fits, spread = groups.get(group), pooled_sd(groups)
    if fits is None:
        fits = np.concatenate(list(groups.values()))
        spread = fits.std(axis=0, ddof=1)
    level = spread_for_new_soil(fits[:, 0], spread[0])
    exponent = spread_for_new_soil(fits[:, 1], spread[1])
    median = float(np.exp(level.mean + growth_to_28_days(others)))
    row = PriorRow(group, len(fits), median, level.sd, exponent.mean, exponent.sd, 0.06, 0.0)
    return StrengthBelief((group_belief(row, 1.0),))


def specimens_of(rows):
    cells = [
        (float(row["cement_percent"]) / 100.0, age * day, unsoaked, float(row[column]) * psi)
        for row in rows
        for column, age, unsoaked in COLUMNS
        if row[column]
    ]
    return [
        crushed(MixState(dose, age, 1.0, unsoaked), strength, number)
        for number, (dose, age, unsoaked, strength) in enumerate(cells)
    ]


class Score(NamedTuple):
    specimens: int
    soils: int
    predictions: int
    median_error: float
    coverage: float


def score(soils, count):
    """Errors in ln strength and coverage of 90 % bands, each soil counting the same."""
    scatter = trial_scatter(Workmanship.LABORATORY)
    errors, covered, predictions = [], [], 0
    for name, rows in soils.items():
        made = specimens_of(rows)
        if len(made) <= count:
            continue
        prior = prior_without(soils, name)
        choices = list(itertools.combinations(range(len(made)), count))
        picks = np.random.default_rng(7).permutation(len(choices))[:MOST_CHOICES]
        gaps, inside = [], []
        for chosen in (choices[pick] for pick in picks):
            (group,) = belief_after_trial(prior, [made[i] for i in chosen], scatter).groups
            for i, specimen in enumerate(made):
                if i in chosen or specimen.state.unsoaked:
                    continue
                variance = group.log_variance(specimen.state) + scatter.specimen**2 + scatter.batch**2
                gap = abs(np.log(specimen.strength_low) - group.log_mean(specimen.state))
                gaps.append(gap)
                inside.append(gap < 1.6449 * np.sqrt(variance))
        errors.append(np.median(gaps))
        covered.append(np.mean(inside))
        predictions += len(gaps)
    return Score(count, len(errors), predictions, float(np.median(errors)), float(np.mean(covered)))


def table():
    soils = iowa_soils()
    lines = [
        "| own specimens | soils | predictions | median error in ln strength | inside the 90 % band |",
        "| ---: | ---: | ---: | ---: | ---: |",
    ]
    lines += [
        f"| {found.specimens} | {found.soils} | {found.predictions} "
        f"| {found.median_error:.2f} | {100.0 * found.coverage:.0f} % |"
        for found in (score(soils, count) for count in SPECIMEN_COUNTS)
    ]
    return "\n".join(lines)


def write_page():
    text = PAGE.read_text(encoding="utf-8")
    fresh = re.sub(f"{START}.*{END}", f"{START}\n{table()}\n{END}", text, flags=re.DOTALL)
    PAGE.write_text(fresh, encoding="utf-8")


if __name__ == "__main__":
    write_page()
