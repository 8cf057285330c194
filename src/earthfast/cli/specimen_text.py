"""A trial result typed on the command line, read into a specimen and written into the job file."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import click
from pydantic import ValidationError

from earthfast.job import (
    Dimension,
    Job,
    JobNotSaved,
    JobProblems,
    Problem,
    QuantityError,
    SpecimenEntry,
    SpecimenKind,
    load_job,
    previous_version,
    read_job,
    read_quantity,
    save_job,
    with_specimens,
)
from earthfast.job.meant import meant
from earthfast.job.problems import problems_of
from earthfast.job.wording import toml_names
from earthfast.stages import Choice, choose_for
from earthfast.stages.try_ import asks_for_lime

KEY = re.compile(r"(?:^|[\s,;])([A-Za-z_]+)\s*=\s*")
SHORT = {
    "load": "failure_load",
    "hung": "hung_mass",
    "drop": "dropped",
    "brush": "brushed",
    "lime": "lime_dose",
    "cured": "cured_at",
}
OTHER_WORDS = {
    "water_test": "in_water",
    "shape": "kind",
    "side": "length",
    "edge": "length",
    "high": "height",
    "wide": "width",
}
LONG = {**SHORT, **OTHER_WORDS}
KEYS = {name: name for name in toml_names(SpecimenEntry)} | {long: short for short, long in SHORT.items()}
SIZES = {"length", "width", "height", "diameter", "span"}
PRESSED = {"failure_load", "hung_mass", "strength"}
YES_NO = {"yes": True, "true": True, "no": False, "false": False}
UNSAID_LIME = (
    "lime: found nothing, and this job is planned with lime before the cement; accepted: the share mixed in, such as "
    "'lime=3 %', or 'lime=0 %' if there is none"
)
EXAMPLE = "dose=6 % lime=3 % age=7 days load=12.6 kN diameter=100 mm height=200 mm soaked=yes"


class NotAddedError(click.ClickException):
    """A result that could not be written; the job file is as it was."""

    def __init__(self, reasons: Sequence[str], typed: Sequence[str]) -> None:
        kept = "\n".join(f"  --add '{text}'" for text in typed)
        super().__init__("\n".join([*reasons, "Nothing was written. You typed:", kept]))


def chance_from(text: str) -> float:
    """A chance typed as '90 %' or '9 in 10' is a share between 0 and 1."""
    try:
        share = read_quantity(text, Dimension.FRACTION).centre
    except QuantityError as problem:
        raise click.UsageError(f"--confidence: found {problem}") from None
    if not 0.01 <= share <= 0.999:
        raise click.UsageError(
            f"--confidence: found '{text}'; accepted: from 1 % up to 99.9 %, such as '90 %'"
        )
    return share


@dataclass(frozen=True, slots=True)
class Added:
    """What was written, in words, and what Choose makes of the job with it."""

    words: str
    choice: Choice


def add_specimens(path: Path, typed: Sequence[str]) -> Added:
    """Write results into a job file, whole or not at all."""
    entries, reasons = [], []
    for number, text in enumerate(typed, start=1):
        try:
            entries.append(specimen_from(text))
        except _ReadError as problem:
            reasons += [f"--add {number}, {reason}" for reason in problem.reasons]
    if reasons:
        raise NotAddedError(reasons, typed)
    loaded = load_job(path)
    before = len(loaded.job.trial.specimens) if loaded.job.trial else 0
    try:
        text = with_specimens(loaded.text, entries)
        choice = choose_for(read_job(text, path))
        _refuse_unsaid_lime(choice, loaded.job, entries, typed)
        save_job(path, text, read_as=loaded.text)
    except JobProblems as problems:
        raise NotAddedError([_as_typed(str(one), before) for one in problems.problems], typed) from None
    except JobNotSaved as problem:
        raise NotAddedError([str(problem)], typed) from None
    count = f"specimen {before + 1}" if len(entries) == 1 else f"{len(entries)} specimens"
    return Added(f"Wrote {count} into {path}; the file before is {previous_version(path)}.", choice)


def _refuse_unsaid_lime(
    choice: Choice, before: Job, entries: Sequence[SpecimenEntry], typed: Sequence[str]
) -> None:
    """Where lime goes in before the cement, a specimen without a word on lime could be of either mix."""
    unsaid = [number for number, entry in enumerate(entries, start=1) if entry.lime_dose is None]
    if unsaid and asks_for_lime(choice, before):
        raise NotAddedError([f"--add {number}, {UNSAID_LIME}" for number in unsaid], typed)


def _as_typed(problem: str, before: int) -> str:
    """A problem of the new text told of what was typed: the line is not in any file."""
    told = re.sub(r"^line [0-9]+, ", "", problem)
    return re.sub(
        r"^trial\.specimen\[([0-9]+)\]\.?", lambda match: f"--add {int(match[1]) - before} ", told
    ).replace(" : ", ": ")


class _ReadError(ValueError):
    def __init__(self, reasons: Sequence[str]) -> None:
        super().__init__("; ".join(reasons))
        self.reasons = reasons


def specimen_from(text: str) -> SpecimenEntry:
    """A specimen from 'key=value key=value'; values may hold spaces."""
    parts = KEY.split(text)
    if parts[0].strip(" ,;") or len(parts) < 3:
        raise _ReadError([f"found '{text[:60]}'; accepted: key=value pairs, such as '{EXAMPLE}'"])
    values: dict[str, object] = {}
    for key, value in zip(parts[1::2], parts[2::2], strict=True):
        name = LONG.get(key, key)
        if name in values:
            raise _ReadError([f"{key}: found twice; accepted: each key once"])
        plain = value.strip(" ,;\t\n").strip("'\"")
        values[name] = YES_NO.get(plain.lower(), plain) if name == "soaked" else plain
    unknown = [_unknown(name) for name in values if name not in KEYS]
    known = {name: value for name, value in values.items() if name in KEYS}
    try:
        entry = SpecimenEntry.model_validate(_with_shape(known))
    except ValidationError as error:
        problems = problems_of(error, {}, SpecimenEntry)
        as_typed = KEYS | {LONG.get(key, key): key for key in parts[1::2]}
        told = [str(replace(one, where=as_typed.get(one.where, one.where))) for one in problems]
        raise _ReadError([*unknown, *(one.removeprefix("the file, ") for one in told)]) from None
    if unknown:
        raise _ReadError(unknown)
    return entry


def _unknown(key: str) -> str:
    """An unknown key, with the keys as they are typed here."""
    keys = list(KEYS.values())
    problem = Problem(key, f"the unknown key '{key}'", ", ".join(keys), suggestion=meant(key, keys))
    return str(problem).removeprefix("the file, ")


def _with_shape(values: dict[str, object]) -> dict[str, object]:
    """The shape follows from the sizes where it is not said; a cylinder's length is its height."""
    found = dict(values)
    if "kind" not in found:
        if not PRESSED & found.keys() and not SIZES & found.keys():
            found["kind"] = SpecimenKind.LUMP.value
        elif "diameter" in found or "strength" in found:
            found["kind"] = SpecimenKind.CYLINDER.value
        elif "span" in found:
            found["kind"] = SpecimenKind.BEAM.value
        elif "width" in found:
            found["kind"] = SpecimenKind.LUMP.value
        else:
            found["kind"] = SpecimenKind.CUBE.value
    if (
        found["kind"] in (SpecimenKind.CYLINDER, SpecimenKind.CORE)
        and "height" not in found
        and "length" in found
    ):
        found["height"] = found.pop("length")
    return found
