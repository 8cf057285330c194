from __future__ import annotations

import gc
import io
import shutil
import sys
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass
from importlib.resources import as_file, files
from pathlib import Path

import pytest

from earthfast.cli import main

DEMONSTRATIONS = ("fernhill-allotments", "marl-lane-hall")


@dataclass(frozen=True)
class Ran:
    status: int
    out: str
    err: str


_RAN: dict[tuple[str, ...], Ran] = {}
READS_ONLY = ("look", "choose", "why")


@pytest.fixture
def run(monkeypatch):
    """Run the program as a user does and give what it printed; a verb that only reads runs once for a file's text."""

    def ran(*arguments):
        words = tuple(map(str, arguments))
        files_read = tuple(Path(word).read_text(encoding="utf-8") for word in words if Path(word).is_file())
        named = tuple(Path(word).name if Path(word).is_file() else word for word in words)
        if words[0] not in READS_ONLY:
            return _printed(monkeypatch, words)
        if (named + files_read) not in _RAN:
            _RAN[named + files_read] = _printed(monkeypatch, words)
        return _RAN[named + files_read]

    return ran


def _printed(monkeypatch, words):
    out, err = io.StringIO(), io.StringIO()
    monkeypatch.setattr(sys, "argv", ["earthfast", *words])
    with redirect_stdout(out), redirect_stderr(err), pytest.raises(SystemExit) as ended:
        main()
    gc.enable()
    return Ran(ended.value.code or 0, out.getvalue(), err.getvalue())


@pytest.fixture(params=DEMONSTRATIONS)
def job_path(request, tmp_path):
    return demonstration(request.param, tmp_path)


@pytest.fixture
def allotment(tmp_path):
    return demonstration("fernhill-allotments", tmp_path)


def demonstration(name, folder):
    path = folder / f"{name}.toml"
    with as_file(files("earthfast.job") / "demonstrations" / f"{name}.toml") as source:
        shutil.copyfile(source, path)
    return path
