"""The page of the answers, read from their models: what `--json` prints and what the sheets are made from."""

from __future__ import annotations

import inspect
import types
from collections.abc import Iterator
from typing import get_args, get_origin

from pydantic import BaseModel

from docs.generate.markdown import page, table
from earthfast.stages import answers as module

OPENING = """# Answers

Each verb with `--json` prints one of these documents. The sheets are made from the same ones. This page is made from the
program.

Names end in their unit. A figure carries its median, its band from 5 to 95 percent where it is uncertain, its unit, the
text that a person reads, and the key that `earthfast why` takes. Nothing but finite numbers stands in an answer.
"""
PLAIN = {str: "text", float: "number", int: "whole number", bool: "true or false", type(None): "null"}


def answers_page() -> str:
    """Every model that an answer is made of."""
    models = [
        model for _, model in inspect.getmembers(module, inspect.isclass) if issubclass(model, BaseModel)
    ]
    verbs = [model for model in models if "verb" in model.model_fields and model is not module.Answer]
    parts = [model for model in models if model not in verbs]
    blocks = [text for model in verbs for text in _model(model)]
    return page(
        OPENING, "## One for each verb", *blocks, "## Parts", *(text for p in parts for text in _model(p))
    )


def _model(model: type[BaseModel]) -> Iterator[str]:
    yield f"### `{model.__name__}`"
    yield inspect.getdoc(model) or ""
    rows = []
    for name, field in model.model_fields.items():
        rows.append((f"`{name}`", type_words(field.annotation), field.description or ""))
    yield table(("field", "holds", "means"), rows)


def type_words(annotation: object) -> str:
    """A field's type in words, with a link where it is another model."""
    if annotation in PLAIN:
        return PLAIN[annotation]
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return f"[`{annotation.__name__}`](#{annotation.__name__.lower()})"
    parts = get_args(annotation)
    if get_origin(annotation) is tuple:
        return (
            f"list of {type_words(parts[0])}" if parts[-1] is Ellipsis else f"pair of {type_words(parts[0])}"
        )
    if get_origin(annotation) is types.UnionType:
        return " or ".join(type_words(part) for part in parts)
    raise TypeError(f"no words yet for the type {annotation}")
