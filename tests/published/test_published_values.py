"""Every row of every TOML file here is a value from outside our code; see README.md beside this file."""

from __future__ import annotations

import importlib
import tomllib
from pathlib import Path

import numpy as np
import pytest

from earthfast.sources import Status, bibliography

HERE = Path(__file__).parent
FIELDS = {
    *("id", "function", "arguments", "result", "printed", "scale", "tolerance", "relative"),
    *("source", "status", "entered", "note"),
}


def published_rows():
    for path in sorted(HERE.glob("*.toml")):
        for row in tomllib.loads(path.read_text(encoding="utf-8"))["value"]:
            yield pytest.param(row, id=f"{path.stem}-{row['id']}")


def as_arrays(arguments):
    return {name: np.asarray(v, dtype=float) if isinstance(v, list) else v for name, v in arguments.items()}


def half_last_digit(printed):
    decimals = len(printed.partition(".")[2]) if "e" not in printed.lower() else 0
    return 0.5 * 10.0**-decimals


def computed(row):
    module, _, name = row["function"].rpartition(".")
    outcome = getattr(importlib.import_module(module), name)(**as_arrays(row["arguments"]))
    for part in filter(None, row.get("result", "").split(".")):
        outcome = outcome[int(part)] if part.lstrip("-").isdigit() else getattr(outcome, part)
    return outcome


@pytest.mark.parametrize("row", list(published_rows()))
def test_value_agrees_with_its_source(row, record_property):
    outcome = computed(row)
    printed = row["printed"]
    if (
        isinstance(printed, str)
        and not printed.replace(".", "").replace("-", "").replace("e", "").replace("+", "").isdigit()
    ):
        assert str(outcome) == printed
        return
    printed_values = printed if isinstance(printed, list) else [printed]
    found = np.ravel(np.asarray(outcome, dtype=float)) * row.get("scale", 1.0)
    assert found.size == len(printed_values)
    for text, value in zip(printed_values, found, strict=True):
        expected = float(text)
        tolerance = row.get("tolerance", half_last_digit(text))
        if "relative" in row:
            tolerance = row["relative"] * abs(expected)
        error = abs(value - expected)
        digits = 15.0 if error == 0 else -np.log10(error / max(abs(expected), 1e-300))
        record_property("matching_digits", round(float(digits), 1))
        assert error <= tolerance * (1 + 1e-9), (
            f"{row['id']}: got {value}, printed {text}, tolerance {tolerance}"
        )


@pytest.mark.parametrize("row", list(published_rows()))
def test_row_names_its_source_and_status(row):
    assert set(row) <= FIELDS
    assert row["source"].split(",")[0] in bibliography()
    assert Status(row["status"])
    assert row["entered"]


def test_there_are_enough_outside_checks():
    assert sum(1 for _ in published_rows()) >= 60
