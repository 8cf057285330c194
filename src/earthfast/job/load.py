"""A job file read: one LoadedJob, or every problem in it with its line."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from pathlib import Path as FilePath
from typing import Any

from pydantic import TypeAdapter, ValidationError

from earthfast.estimate import Caution
from earthfast.job.consistency import CONSISTENCY_CHECKS
from earthfast.job.document import SCHEMA_VERSION, Job
from earthfast.job.entry_checks import entry_clashes
from earthfast.job.errors import JobProblems, Problem
from earthfast.job.fields import in_toml_words
from earthfast.job.positions import Path, line_map, line_of, path_words
from earthfast.job.prices import PriceList
from earthfast.job.problems import problems_of
from earthfast.job.stated_dose import dose_cautions

LARGEST = 1_000_000  # bytes; 240 soundings with forty blows each fit several times
DEEPEST = 12  # brackets within brackets, or dots in a key
_OPAQUE = re.compile(
    r'"""(?:[^"\\]|\\.|"(?!""))*"{3,5}'
    r"|'''(?:[^']|'(?!''))*'{3,5}"
    r'|"(?:[^"\\\n]|\\.)*"'
    r"|'[^'\n]*'|#[^\n]*",
    re.DOTALL,
)
_DEEP_KEY = re.compile(rf"(?:\.[ \t]*[A-Za-z0-9_-]+[ \t]*){{{DEEPEST},}}")
_TOML_PLACE = re.compile(
    r"\s*\(at (?:line (?P<line>[0-9]+), column (?P<column>[0-9]+)|(?P<end>end of document))\)$"
)


@dataclass(frozen=True, slots=True)
class LoadedJob:
    """A job with the text it was read from.

    Attributes
    ----------
    job : the document.
    text : the file as typed.
    path : where it lies; None when it came from elsewhere.
    cautions : doubts about what was typed that are no errors.
    lines : line of every key, for pointing at the file.
    """

    job: Job
    text: str
    path: FilePath | None
    cautions: tuple[Caution, ...]
    lines: dict[Path, int]

    def line(self, *path: str | int) -> int | None:
        """Line of a field, or of the nearest table around it."""
        return line_of(self.lines, path)


def load_job(path: FilePath | str) -> LoadedJob:
    """Read a job file; raise JobProblems with everything that is wrong in it."""
    file = FilePath(path)
    return read_job(read_text(file), file)


def read_job(text: str, path: FilePath | None = None) -> LoadedJob:
    """Read the text of a job; raise JobProblems with everything that is wrong in it."""
    name = str(path) if path else ""
    content = _parsed(text, name)
    lines = line_map(text)
    version = content.get("schema_version")
    if "schema_version" in content and (version != SCHEMA_VERSION or isinstance(version, bool)):
        accepted = f"{SCHEMA_VERSION}, the only shape this version of Earthfast reads"
        found = in_toml_words(version)
        raise JobProblems(
            [Problem("schema_version", found, accepted, line_of(lines, ("schema_version",)))], name
        )
    problems, job = _validated(content, lines)
    if problems or job is None:
        raise JobProblems(problems, name)
    return LoadedJob(job, text, path, dose_cautions(job), lines)


def load_price_list(path: FilePath | str) -> PriceList:
    """Read a file of prices; raise JobProblems with everything that is wrong in it."""
    file = FilePath(path)
    text = read_text(file)
    content = _parsed(text, str(file))
    try:
        prices = PriceList.model_validate(content)
    except ValidationError as error:
        raise JobProblems(problems_of(error, line_map(text), PriceList), str(file)) from None
    accepted = f"a price in {prices.currency}, the currency of the list"
    strange = [
        Problem(f"price[{number}].price", f"'{row.price}'", accepted)
        for number, row in enumerate(prices.rows, start=1)
        if row.price.currency != prices.currency
    ]
    if strange:
        raise JobProblems(strange, str(file))
    return prices


def read_text(file: FilePath) -> str:
    """The text of a file, refused when it is no text or too large to be a job."""
    name = str(file)
    accepted = f"a text file in UTF-8 of up to {LARGEST // 1000} kB"
    try:
        if not file.is_file():
            found = "a folder" if file.is_dir() else "no such file"
            raise JobProblems([Problem("", found, "the path of a job file")], name)
        with file.open("rb") as stream:
            content = stream.read(LARGEST + 1)
    except OSError as error:
        found = f"a file that cannot be read ({error.strerror})"
        raise JobProblems([Problem("", found, "a file that may be read")], name) from None
    if len(content) > LARGEST:
        raise JobProblems([Problem("", f"more than {LARGEST // 1000} kB", accepted)], name)
    if b"\0" in content:
        raise JobProblems([Problem("", "a binary file", accepted)], name)
    try:
        return content.decode("utf-8-sig").replace("\r\n", "\n")
    except UnicodeDecodeError as error:
        line = content[: error.start].count(b"\n") + 1
        raise JobProblems([Problem("", "bytes that are not UTF-8", accepted, line)], name) from None


def _parsed(text: str, name: str) -> dict[str, Any]:  # Any: TOML, judged by the models
    if not text.strip():
        raise JobProblems(
            [Problem("", "an empty file", "a job; `earthfast new` writes one to start from")], name
        )
    _refuse_deep(text, name)
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise JobProblems([_syntax_problem(str(error), text)], name) from None
    except (RecursionError, ValueError) as error:  # ValueError: a whole number of thousands of digits
        raise JobProblems([Problem("", f"text that cannot be read ({error})", "a TOML file")], name) from None


def _refuse_deep(text: str, name: str) -> None:
    plain = _OPAQUE.sub(lambda match: "s" + "\n" * match[0].count("\n"), text)
    line = depth = 0
    for line, content in enumerate(plain.split("\n"), start=1):
        for sign in re.findall(r"[\[\]{}]", content):
            depth = depth + 1 if sign in "[{" else max(depth - 1, 0)
            if depth > DEEPEST:
                break
        if depth > DEEPEST or _DEEP_KEY.search(content):
            found = f"more than {DEEPEST} levels, one inside the other"
            raise JobProblems([Problem("", found, "the tables and lists of the job file", line)], name)


def _syntax_problem(message: str, text: str) -> Problem:
    place = _TOML_PLACE.search(message)
    last = text.rstrip("\n").count("\n") + 1
    line = int(place["line"]) if place and place["line"] else last
    reason = _TOML_PLACE.sub("", message)
    row = text.split("\n")[line - 1].strip() if line <= text.count("\n") + 1 else ""
    if re.search(r"overwrite|declare|twice|immutable|already", reason):
        key = row.split("=")[0].strip(" []") or row
        return Problem(key[:60], "the same key or table a second time", "each key and table once", line)
    shown = f"'{row[:60]}'" if row else "the end of the file"
    at = f" at column {place['column']}" if place and place["column"] else ""
    accepted = "TOML: `key = value` lines, text in quotes, [tables]"
    return Problem("", f"{shown}, which is not TOML{at}: {reason[:1].lower()}{reason[1:]}", accepted, line)


def _validated(
    content: dict[str, Any], lines: dict[Path, int]
) -> tuple[list[Problem], Job | None]:  # Any: TOML
    try:
        job = Job.model_validate(content)
        problems, failed = [], frozenset[str]()
    except ValidationError as error:
        problems = problems_of(error, lines)
        failed = frozenset(str(detail["loc"][0]) for detail in error.errors(include_url=False))
        job = _readable_part(content, failed)
    clashes = [*entry_clashes(content if failed else job)]
    for check in CONSISTENCY_CHECKS:
        if not check.sections & failed:
            clashes += check.clashes(job)
    problems += [
        Problem(
            path_words(clash.path), clash.found, clash.accepted, line_of(lines, clash.path), clash.suggestion
        )
        for clash in clashes
    ]
    return problems, job


def _readable_part(content: dict[str, Any], failed: frozenset[str]) -> Job:  # Any: TOML
    """The sections that could be read, so that checks between their fields still speak."""
    sections: dict[str, Any] = {}  # Any: one type for each section
    for name, field in Job.model_fields.items():
        key = field.alias or name
        if key in content and key not in failed:
            annotation: Any = field.rebuild_annotation()
            sections[name] = TypeAdapter(annotation).validate_python(content[key])
    return Job.model_construct(**sections)
