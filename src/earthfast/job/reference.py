"""The reference page of the job file, made from its models: every key, what it accepts, what it means."""

from __future__ import annotations

from collections.abc import Iterator

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from earthfast.ground.observation import OBSERVATION_KINDS
from earthfast.job.document import Job
from earthfast.job.observations import OBSERVATION_MODELS, ObservationEntry
from earthfast.job.prices import PriceList
from earthfast.job.units import Dimension, dimension_note, units_of
from earthfast.job.wording import accepted_words, field_shape, model_of
from earthfast.loads.library import load_library

OPENING = """# Job file

One TOML file is one job. This page is made from the program; every key it reads stands here.

- A quantity is text in quotes, a number and its unit: `"100 mm"`, `"1 1/2 in"`, `"36 kN"`, `"18 %"`.
- A range may stand wherever a quantity may: `"4..9 %"`. It is read as the 5..95 % band.
- Bare numbers stand only for counts, ratios and the corners of an outline.
- Money names its currency, a price also what it buys: `"7.50 GBP"`, `"60 GBP/t"`, `"£7.50/bag"`.
- What is left out is decided by the program and listed under "Assumed" with its source.
- An unknown key is an error, with a suggestion. Entries of a list are counted from 1 in messages.
"""


def job_reference() -> str:
    """The reference page of the job file, in Markdown."""
    blocks = [
        OPENING,
        "## Sections\n",
        *_tables(Job, ""),
        "## Observations\n",
        "Every `[[observation]]` has a `kind`. These keys may stand in any kind:\n",
        _table(ObservationEntry, skip=()),
        *_observations(),
        "## Price list\n",
        "The file that `list` under `[prices]` names:\n",
        *_tables(PriceList, ""),
        "## Loads\n",
        _loads(),
        "## Units\n",
        _units(),
    ]
    return "\n".join(blocks).rstrip() + "\n"


def _tables(model: type[BaseModel], heading: str) -> Iterator[str]:
    if heading:
        yield f"### `{heading}`\n"
        yield f"{(model.__doc__ or '').strip()}\n"
    yield _table(model, skip=())
    bare = heading.strip("[]")
    for name, field in model.model_fields.items():
        inner = model_of(field_shape(field))
        if inner is not None and not issubclass(inner, ObservationEntry):
            key = f"{bare}.{field.alias or name}".lstrip(".")
            yield from _tables(inner, f"[[{key}]]" if field_shape(field).many else f"[{key}]")


def _table(model: type[BaseModel], skip: tuple[str, ...]) -> str:
    lines = ["| key | needed | accepts | means |", "| --- | --- | --- | --- |"]
    for name, field in model.model_fields.items():
        if name not in skip:
            lines.append(_row(field.alias or name, field))
    return "\n".join(lines) + "\n"


def _row(key: str, field: FieldInfo) -> str:
    shape = field_shape(field)
    if model_of(shape) is not None:
        accepts = f"`[[{key}]]` tables" if shape.many else f"a `[{key}]` table"
    else:
        accepts = accepted_words(shape)
    needed = "yes" if field.is_required() else ""
    return f"| `{key}` | {needed} | {accepts} | {field.description or ''} |".replace("|  |", "| |")


def _observations() -> Iterator[str]:
    common = tuple(ObservationEntry.model_fields)
    for name, model in OBSERVATION_MODELS.items():
        kind = OBSERVATION_KINDS[name]
        yield f"### `{name}`\n"
        yield f"{kind.question} {kind.how} About {kind.minutes:g} minutes; down to {kind.deepest}.\n"
        yield _table(model, skip=common)


def _loads() -> str:
    rows = [f"| `{load.key}` | {load.words} |" for load in load_library().values()]
    return "\n".join(["| name | is |", "| --- | --- |", *rows]) + "\n"


def _units() -> str:
    rows = []
    for dimension in Dimension:
        note = dimension_note(dimension)
        spellings = ", ".join(f"`{spelling}`" for unit in units_of(dimension) for spelling in unit.spellings)
        one_in = "`1 in 60`, " if note.reciprocal else ""
        rows.append(f"| {note.wanted} | {one_in}{spellings} | `{note.example}` |")
    return "\n".join(["| quantity | units | example |", "| --- | --- | --- |", *rows]) + "\n"
