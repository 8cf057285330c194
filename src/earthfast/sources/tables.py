"""Published tables as data files: each carries its source, its status and who entered it."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any, Generic, TypeVar

from earthfast.sources.status import Status

Row = TypeVar("Row")


@dataclass(frozen=True, slots=True)
class Table(Generic[Row]):
    """A table of rows with its provenance.

    Attributes
    ----------
    title : what the table holds, with units.
    source : bibliography key and place, as "key, table 3".
    status : how the figures came to us.
    rows : the rows, in the order of the file.
    """

    title: str
    source: str
    status: Status
    rows: tuple[Row, ...]


@cache
def read_table(name: str, row_type: type[Row]) -> Table[Row]:
    """Read ``tables/NAME.toml`` into rows of a dataclass whose fields are the file's column names."""
    text = (files("earthfast.sources") / "tables" / f"{name}.toml").read_text(encoding="utf-8")
    content: dict[str, Any] = tomllib.loads(text)  # Any: the file's own shape, checked by row_type below
    rows = tuple(row_type(**row) for row in content["row"])
    return Table(content["title"], content["source"], Status(content["status"]), rows)
