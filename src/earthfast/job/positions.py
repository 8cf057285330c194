"""On which line of a TOML text every key and every entry of a list stands."""

from __future__ import annotations

import bisect
import re
import tomllib
from typing import TypeAlias

Path: TypeAlias = tuple[str | int, ...]

_KEY = re.compile(r"""[ \t]*(?P<part>"(?:[^"\\]|\\.)*"|'[^']*'|[A-Za-z0-9_-]+)[ \t]*(?P<dot>\.)?""")
_BLANK = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")
_STRING = re.compile(
    r'"""(?:[^"\\]|\\.|"(?!""))*"{3,5}' r"|'''(?:[^']|'(?!''))*'{3,5}" r'|"(?:[^"\\]|\\.)*"' r"|'[^']*'",
    re.DOTALL,
)
_BARE = re.compile(r"[^,\]}#\r\n]*")


def line_map(text: str) -> dict[Path, int]:
    """Line of every key and list entry of a text that is valid TOML, by its path."""
    return _Scanner(text).scan()


def line_of(lines: dict[Path, int], path: Path) -> int | None:
    """Line of a path, or of the nearest table around it."""
    for length in range(len(path), 0, -1):
        if path[:length] in lines:
            return lines[path[:length]]
    return None


def path_words(path: Path) -> str:
    """A path as a person writes it, entries of a list counted from 1."""
    words = ""
    for part in path:
        words += f"[{part + 1}]" if isinstance(part, int) else f".{part}" if words else part
    return words


class _Scanner:
    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.lines: dict[Path, int] = {}
        self.entries: dict[Path, int] = {}  # how many tables each [[list]] has so far
        self.newlines = [match.start() for match in re.finditer("\n", text)]

    def scan(self) -> dict[Path, int]:
        table: Path = ()
        while self.skip_blank() < len(self.text):
            start = self.at
            if self.text.startswith("[", self.at):
                table = self.header()
                for length in range(1, len(table) + 1):
                    self.note(table[:length], start)
            else:
                self.pair(table)
        return self.lines

    def skip_blank(self) -> int:
        match = _BLANK.match(self.text, self.at)
        self.at = match.end() if match else self.at
        return self.at

    def note(self, path: Path, start: int) -> None:
        line = bisect.bisect_left(self.newlines, start) + 1
        self.lines.setdefault(path, line)

    def key(self) -> Path:
        parts: list[str] = []
        while match := _KEY.match(self.text, self.at):
            part = match["part"]
            parts.append(tomllib.loads(f"k={part}")["k"] if part[0] in "\"'" else part)
            self.at = match.end()
            if not match["dot"]:
                break
        return tuple(parts)

    def header(self) -> Path:
        brackets = 2 if self.text.startswith("[[", self.at) else 1
        self.at += brackets
        parts = self.key()
        self.at = self.text.index("]", self.at) + brackets
        path: Path = ()
        for part in parts[:-1]:
            path = self.latest((*path, part))
        path = (*path, parts[-1])
        if brackets == 2:
            self.entries[path] = self.entries.get(path, 0) + 1
        return self.latest(path)

    def latest(self, path: Path) -> Path:
        return (*path, self.entries[path] - 1) if path in self.entries else path

    def pair(self, table: Path) -> None:
        start = self.at
        parts = self.key()
        path = (*table, *parts)
        for length in range(len(table) + 1, len(path) + 1):
            self.note(path[:length], start)
        self.at = self.text.index("=", self.at) + 1
        self.value(path)

    def value(self, path: Path) -> None:
        self.skip_blank()
        opening = self.text[self.at]
        if opening == "[":
            self.several(path, "]")
        elif opening == "{":
            self.several(path, "}")
        else:
            match = (_STRING if opening in "\"'" else _BARE).match(self.text, self.at)
            self.at = match.end() if match else self.at + 1

    def several(self, path: Path, closing: str) -> None:
        self.at += 1
        index = 0
        while self.text[self.skip_blank()] != closing:
            if self.text[self.at] == ",":
                self.at += 1
            elif closing == "}":
                self.pair(path)
            else:
                self.note((*path, index), self.at)
                self.value((*path, index))
                index += 1
        self.at += 1
