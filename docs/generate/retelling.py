"""Runs retold in pages written by hand: their commands are run, and what they print is shown in excerpts.

A block of commands opens with three backticks and `console`; its lines that begin with `$ ` are run in order, in
a folder of the page's own that holds the demonstration jobs. A comment on the line before the block says which lines of
the last command's output are shown, as patterns in order, `first .. last` for a stretch, with bars between:

    <!-- shows: ^Base: .. invented | ^ +check .. suitability -->

With `ends: 1` before `shows` the last command has to end with that status; all others end with 0.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from importlib.resources import as_file, files
from pathlib import Path
from tempfile import TemporaryDirectory

ROOT = Path(__file__).parents[2]
ELISION = "[...]"
BLOCK = re.compile(
    r"(?:^<!-- (?:ends: (?P<status>\d) )?shows: (?P<shows>.*?) -->\n)?^```console\n(?P<body>.*?)^```$",
    re.MULTILINE | re.DOTALL,
)
NUMBER = re.compile(r"\d[\d,]*(?:\.\d+)?")
NUMBERS_AGREE = 0.02  # another processor may round otherwise; words have to be the same


@dataclass(frozen=True, slots=True)
class Printed:
    """What a command printed on both streams, and how it ended."""

    lines: tuple[str, ...]
    status: int


def told_pages() -> tuple[Path, ...]:
    """Pages with commands that are run."""
    pages = [ROOT / "README.md", *sorted((ROOT / "docs").rglob("*.md"))]
    return tuple(path for path in pages if BLOCK.search(path.read_text(encoding="utf-8")))


def retold(text: str) -> str:
    """The page with its commands run again and its excerpts renewed."""
    parts, end = [], 0
    for match, shown in _run(text):
        parts += [text[end : match.start("body")], shown]
        end = match.end("body")
    return "".join([*parts, text[end:]])


def agrees(old: str, new: str) -> bool:
    """Whether two pages say the same: the same words, and numbers within a fiftieth."""
    if NUMBER.sub("#", old) != NUMBER.sub("#", new):
        return False
    pairs = zip(NUMBER.findall(old), NUMBER.findall(new), strict=True)
    return all(_near(_number(one), _number(other)) for one, other in pairs)


def _number(text: str) -> float:
    return float(text.replace(",", ""))


def _near(one: float, other: float) -> bool:
    return abs(one - other) <= NUMBERS_AGREE * max(abs(one), abs(other))


def _run(text: str) -> Iterator[tuple[re.Match[str], str]]:
    with TemporaryDirectory() as folder:
        place = Path(folder)
        with as_file(files("earthfast.job") / "demonstrations") as jobs:
            shutil.copytree(jobs, place, dirs_exist_ok=True)
        for match in BLOCK.finditer(text):
            told = []
            commands = [line[2:] for line in match["body"].splitlines() if line.startswith("$ ")]
            for number, command in enumerate(commands, start=1):
                is_last = number == len(commands)
                wanted = int(match["status"] or 0) if is_last else 0
                if command.startswith("cd "):
                    place /= command.removeprefix("cd ")
                    printed = Printed((), 0)
                else:
                    printed = _printed(command, place)
                if printed.status != wanted:
                    said = "\n".join(printed.lines)
                    raise RuntimeError(f"'{command}' ended with {printed.status}, not {wanted}:\n{said}")
                told += [f"$ {command}", *(_excerpt(printed.lines, match["shows"] or "") if is_last else ())]
            yield match, "".join(f"{line}\n" for line in told)


def _printed(command: str, folder: Path) -> Printed:
    own = Path(sys.executable).parent
    environment = os.environ | {
        "PATH": f"{own}{os.pathsep}{os.environ['PATH']}",
        "COLUMNS": "88",
        "NO_COLOR": "1",
    }
    done = subprocess.run(  # noqa: S602 (commands of our own pages)
        command,
        shell=True,
        cwd=folder,
        env=environment,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        encoding="utf-8",
        check=False,
    )
    return Printed(tuple(line.rstrip() for line in done.stdout.splitlines()), done.returncode)


def _excerpt(lines: tuple[str, ...], shows: str) -> list[str]:
    shown: list[str] = []
    start = 0
    for piece in filter(None, (part.strip() for part in shows.split(" | "))):
        first, _, last = (part.strip() for part in piece.partition(" .. "))
        opens = _find(lines, first, start)
        closes = _find(lines, last, opens) if last else opens
        if opens > start:
            shown.append(ELISION)
        shown += lines[opens : closes + 1]
        start = closes + 1
    return [*shown, ELISION] if shows and start < len(lines) else shown


def _find(lines: tuple[str, ...], pattern: str, start: int) -> int:
    place = next((n for n in range(start, len(lines)) if re.search(pattern, lines[n])), None)
    if place is None:
        raise RuntimeError(f"no line from {start} on matches '{pattern}':\n" + "\n".join(lines))
    return place
