"""A job file written: whole or not at all, comments kept, the version before kept beside it."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Sequence
from datetime import date
from pathlib import Path

import tomlkit
from tomlkit.items import AoT, Table

from earthfast.job.errors import JobNotSaved
from earthfast.job.load import read_job, read_text
from earthfast.job.trials import SpecimenEntry


def previous_version(path: Path) -> Path:
    """Where the version before the last save is kept."""
    return path.with_name(f"{path.name}.previous")


def save_job(path: Path, text: str, *, read_as: str) -> None:
    """Put a text in place of a job file, whole or not at all, and keep the version before beside it.

    ``read_as`` is the text the change started from; a file that says something else by now is left alone.
    """
    file = path.resolve()
    read_job(text, path)
    if read_text(file) != read_as:
        raise JobNotSaved(f"{path} was changed by somebody else in the meantime; it is left as it is")
    try:
        with tempfile.NamedTemporaryFile(
            "w", encoding="utf-8", newline="\n", dir=file.parent, prefix=f".{file.name}.", delete=False
        ) as stream:
            stream.write(text)
            stream.flush()
            os.fsync(stream.fileno())
        written = Path(stream.name)
    except OSError as error:
        raise JobNotSaved(f"{path} could not be written ({error.strerror}); it is left as it is") from None
    try:
        shutil.copymode(file, written)
        shutil.copy2(file, previous_version(file))
        written.replace(file)
    except OSError as error:
        written.unlink(missing_ok=True)
        raise JobNotSaved(f"{path} could not be replaced ({error.strerror}); it is left as it is") from None


def with_specimens(text: str, specimens: Sequence[SpecimenEntry]) -> str:
    """The text of a job with specimens added at the end of its trial; everything else stays as typed."""
    document = tomlkit.parse(text)
    if "trial" not in document:
        document.add("trial", tomlkit.table(is_super_table=True))
    trial = document["trial"]
    if not isinstance(trial, Table):
        raise JobNotSaved("`trial` is written in one line; write it as a [trial] table to add specimens")
    entries = trial.setdefault("specimen", tomlkit.aot())
    if not isinstance(entries, AoT):
        raise JobNotSaved("`specimen` is written in one line; write [[trial.specimen]] tables to add to them")
    for specimen in specimens:
        entries.append(_table(specimen))
    return tomlkit.dumps(document)


def _table(specimen: SpecimenEntry) -> Table:
    table = tomlkit.table()
    for key, value in specimen.model_dump(by_alias=True, exclude_none=True).items():
        table.add(key, value if isinstance(value, (bool, date)) else str(value))
    table.add(tomlkit.nl())
    return table
