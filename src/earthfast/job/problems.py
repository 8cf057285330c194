"""Pydantic's errors told as problems of the file: where, what was found, what is accepted."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from earthfast.job.document import Job
from earthfast.job.errors import Problem
from earthfast.job.fields import Section, in_toml_words
from earthfast.job.meant import meant
from earthfast.job.observations import OBSERVATION_MODELS
from earthfast.job.positions import Path, line_of, path_words
from earthfast.job.wording import Shape, accepted_words, model_of, shapes_along, toml_names


@dataclass(frozen=True, slots=True)
class Saying:
    """What was found, what is accepted, what was probably meant."""

    found: str
    accepted: str
    suggestion: str = ""


def problems_of(error: ValidationError, lines: dict[Path, int], root: type[Section] = Job) -> list[Problem]:
    """Every error of a validation as a located problem."""
    return [_problem(detail, lines, root) for detail in error.errors(include_url=False) if not _echo(detail)]


def _echo(detail: ErrorDetails) -> bool:
    """A list that is long enough counts as too short when its entries failed: they have been told already."""
    value = detail["input"]
    return (
        detail["type"] == "too_short"
        and isinstance(value, list)
        and len(value) >= detail["ctx"]["min_length"]
    )


def _problem(detail: ErrorDetails, lines: dict[Path, int], root: type[Section]) -> Problem:
    path, kind = _without_tag(detail["loc"])
    if detail["type"] == "union_tag_invalid":
        path = (*path, "kind")
    shapes = [Shape(root), *shapes_along(path, kind, root)]
    said = SAYINGS.get(detail["type"], _other)(detail, path, shapes)
    return Problem(path_words(path), said.found, said.accepted, line_of(lines, path), said.suggestion)


def _without_tag(loc: tuple[int | str, ...]) -> tuple[Path, str]:
    """The path in the file: pydantic puts the kind of an observation into it as if it were a key."""
    if len(loc) > 2 and loc[0] == "observation" and loc[2] in OBSERVATION_MODELS:
        return (*loc[:2], *loc[3:]), str(loc[2])
    return loc, ""


def _refused(detail: ErrorDetails, _path: Path, _shapes: list[Shape]) -> Saying:
    context = detail["ctx"]
    return Saying(context["found"], context["accepted"], context["suggestion"])


def _missing(_detail: ErrorDetails, path: Path, shapes: list[Shape]) -> Saying:
    return Saying("nothing", accepted_words(shapes[-1]), f"add `{path[-1]}`")


def _unknown(_detail: ErrorDetails, path: Path, shapes: list[Shape]) -> Saying:
    model = model_of(shapes[len(path) - 1])
    names = toml_names(model) if model else ()
    return Saying(f"the unknown key '{path[-1]}'", ", ".join(names), meant(path[-1], names))


def _unknown_kind(detail: ErrorDetails, _path: Path, _shapes: list[Shape]) -> Saying:
    value = detail["input"]
    kind = value.get("kind") if isinstance(value, dict) else None
    listed = ", ".join(f"'{name}'" for name in OBSERVATION_MODELS)
    if kind is None:
        return Saying("no `kind`", f"one of {listed}", "add `kind`")
    return Saying(in_toml_words(kind), f"one of {listed}", meant(kind, OBSERVATION_MODELS))


def _length(detail: ErrorDetails, _path: Path, shapes: list[Shape]) -> Saying:
    least, most = detail["ctx"].get("min_length"), detail["ctx"].get("max_length")
    limit = f"at least {least}" if least is not None else f"at most {most}"
    value = detail["input"]
    one = 1 in {least, most}
    unit = (
        ("character" if one else "characters") if isinstance(value, str) else ("entry" if one else "entries")
    )
    counted = isinstance(value, (list, tuple)) and len(value) > 0
    found = f"a list of {len(value)}" if counted else in_toml_words(value)
    return Saying(found, f"{limit} {unit}; {accepted_words(shapes[-1])}")


def _other(detail: ErrorDetails, _path: Path, shapes: list[Shape]) -> Saying:
    value = detail["input"]
    accepted = accepted_words(shapes[-1]) if shapes else detail["msg"]
    choices = [str(one) for one in shapes[-1].kind] if detail["type"] == "enum" else []
    return Saying(in_toml_words(value), accepted, meant(value, choices))


SAYINGS: dict[str, Callable[[ErrorDetails, Path, list[Shape]], Saying]] = {
    "refused": _refused,
    "missing": _missing,
    "extra_forbidden": _unknown,
    "union_tag_invalid": _unknown_kind,
    "union_tag_not_found": _unknown_kind,
    "too_short": _length,
    "too_long": _length,
    "string_too_short": _length,
    "string_too_long": _length,
}
