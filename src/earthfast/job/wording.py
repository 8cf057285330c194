"""What a field of the job accepts, in words: one place for messages, reference page and schema."""

from __future__ import annotations

import types
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from earthfast.job.document import Job
from earthfast.job.fields import Example, Section, TypedText
from earthfast.job.observations import OBSERVATION_MODELS, ObservationEntry
from earthfast.job.positions import Path


@dataclass(frozen=True, slots=True)
class Shape:
    """What stands at one place of the document: an annotation without its wrappers, and its limits."""

    kind: Any  # Any: a type or a typing construct
    reader: TypedText | None = None
    least: float | None = None
    most: float | None = None
    example: str = ""
    fewest: int = 1
    many: bool = False
    of_each: Any = None  # Any: annotation of the entries of a list


def shape_of(annotation: object, metadata: tuple[Any, ...] = ()) -> Shape:  # Any: annotations
    """The shape behind an annotation."""
    reader = next((one for one in metadata if isinstance(one, TypedText)), None)
    if reader is not None:
        return Shape(annotation, reader)
    origin = get_origin(annotation)
    if origin is Annotated:
        inner, *extra = get_args(annotation)
        return shape_of(inner, (*metadata, *_flat(extra)))
    if origin in (Union, types.UnionType):
        options = [one for one in get_args(annotation) if one is not type(None)]
        return shape_of(options[0], metadata)
    if origin is tuple:
        fewest = next((one.min_length for one in metadata if hasattr(one, "min_length")), 1)
        return Shape(annotation, many=True, fewest=fewest, of_each=get_args(annotation)[0])
    if origin is dict:
        return Shape(annotation, of_each=get_args(annotation)[1])
    least = max((one.ge for one in metadata if hasattr(one, "ge")), default=None)
    most = min((one.le for one in metadata if hasattr(one, "le")), default=None)
    example = next((one for one in metadata if isinstance(one, Example)), None)
    return Shape(annotation, least=least, most=most, example=example.text if example else "")


def _flat(metadata: list[object]) -> Iterator[object]:
    for one in metadata:
        yield from one.metadata if isinstance(one, FieldInfo) else (one,)


def field_shape(field: FieldInfo) -> Shape:
    """The shape of a model's field."""
    return shape_of(field.annotation, tuple(field.metadata))


def accepted_words(shape: Shape) -> str:
    """What may be written there, in a phrase."""
    if shape.reader is not None:
        return shape.reader.accepted
    if shape.of_each is not None:
        each = accepted_words(shape_of(shape.of_each))
        return f"a list; each entry: {each}" if shape.many else f"a table; each value: {each}"
    if get_origin(shape.kind) is Literal:
        return " or ".join(repr(one) for one in get_args(shape.kind))
    if issubclass(shape.kind, StrEnum):
        return f"one of {', '.join(repr(str(one)) for one in shape.kind)}"
    if issubclass(shape.kind, BaseModel):
        return f"a table with {', '.join(toml_names(shape.kind))}"
    more = "" if shape.least is None else f", {shape.least:g} or more"
    if shape.most is not None and shape.most < UNTOLD:
        more = f"{more} and {shape.most:g} or less"
    like = f" such as '{shape.example}'" if shape.example else ""
    return f"{PLAIN_WORDS[shape.kind]}{more}{like}"


UNTOLD = 1.0e3  # limits of numbers from here on only keep nonsense out, and are not worth a word

PLAIN_WORDS: dict[type, str] = {
    str: "text in quotes, not empty",
    bool: "true or false",
    int: "a whole number without quotes",
    float: "a finite number without quotes",
    date: "a date as year-month-day, such as 2026-11-25",
}


def toml_names(model: type[BaseModel]) -> tuple[str, ...]:
    """The keys of a table as written in the file."""
    return tuple(field.alias or name for name, field in model.model_fields.items())


def field_named(model: type[BaseModel], key: str) -> FieldInfo | None:
    """The field of a model by its key in the file."""
    return next((f for name, f in model.model_fields.items() if (f.alias or name) == key), None)


def model_of(shape: Shape) -> type[Section] | None:
    """The model of a table or of each entry of a list of tables."""
    inner = shape_of(shape.of_each) if shape.many else shape
    return inner.kind if isinstance(inner.kind, type) and issubclass(inner.kind, Section) else None


def shapes_along(path: Path, kind: str = "", root: type[BaseModel] = Job) -> Iterator[Shape]:
    """The shapes met on the way to a place of the document; an observation's kind picks its model."""
    model: type[BaseModel] | None = root
    shape = Shape(root)
    for part in path:
        if isinstance(part, int) or model is None:
            if shape.of_each is None:
                return
            shape = shape_of(shape.of_each)
        else:
            field = field_named(model, part)
            if field is None:
                return
            shape = field_shape(field)
        model = model_of(shape) if not shape.many else None
        if model is not None and issubclass(model, ObservationEntry):
            model = OBSERVATION_MODELS.get(kind, model)
            shape = Shape(model)
        yield shape
