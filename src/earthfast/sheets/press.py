"""Printing: contents and a template become a PDF or a page of HTML that needs nothing beside it."""

from __future__ import annotations

import json
import re
from dataclasses import asdict, dataclass
from datetime import UTC, datetime
from enum import StrEnum
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import TYPE_CHECKING

from earthfast.sheets.ink import PAPER_SIZES, Ink, Paper
from earthfast.sheets.lettering import FAMILY, WEIGHTS, font_folder, web_font

if TYPE_CHECKING:
    import jinja2
    import typst
    from _typeshed import DataclassInstance


class SheetFormat(StrEnum):
    """How a sheet is written, by the ending of its file's name."""

    PDF = ".pdf"
    HTML = ".html"


@dataclass(frozen=True, slots=True)
class FontFace:
    """A weight of the typeface, carried in the page."""

    weight: int
    woff: str


class SheetError(ValueError):
    """A sheet that cannot be written as asked."""


def require_ending(path: Path) -> None:
    """Refuse a path whose ending names no form of sheet."""
    endings = [form.value for form in SheetFormat]
    if path.suffix not in endings:
        raise SheetError(f"a sheet is written as {' or '.join(endings)}; found '{path.name}'")


def write_sheet(template: str, contents: DataclassInstance, path: Path, paper: Paper) -> None:
    """Write a sheet as the ending of the path asks."""
    require_ending(path)
    if path.suffix == SheetFormat.PDF:
        path.write_bytes(printed(template, contents, paper))
    else:
        path.write_text(page(template, contents, paper), encoding="utf-8", newline="\n")


def printed(template: str, contents: DataclassInstance, paper: Paper) -> bytes:
    """Print contents as PDF: the same contents give the same bytes."""
    import typst  # noqa: PLC0415 (loaded only when a sheet is printed)

    folder = Path(str(files("earthfast.sheets") / "templates"))
    inks = {ink.name.lower().replace("_", "-"): ink.value for ink in Ink}
    inputs = {
        "contents": json.dumps(asdict(contents), ensure_ascii=False),
        "look": json.dumps({"paper": paper.value, "family": FAMILY, "inks": inks}),
    }
    output, warnings = typst.compile_with_warnings(
        folder / f"{template}.typ",
        root=folder,
        font_paths=_fonts(),
        ignore_system_fonts=True,
        sys_inputs=inputs,
        timestamp=datetime(1970, 1, 1, tzinfo=UTC),
    )
    if warnings:
        raise SheetError("; ".join(warning.message for warning in warnings))
    return bytes(output)


def page(template: str, contents: DataclassInstance, paper: Paper) -> str:
    """Write contents as one HTML page with its fonts inside."""
    return (
        _environment()
        .get_template(f"{template}.html.jinja")
        .render(
            sheet=contents,
            ink=Ink,
            family=FAMILY,
            fonts=[FontFace(weight, web_font(weight)) for weight in WEIGHTS],
            paper=paper,
            size=PAPER_SIZES[paper],
        )
    )


def inlined(svg: str) -> str:
    """Give an SVG drawing as it stands inside a page, where it needs no namespace addresses."""
    return re.sub(r' xmlns(?::\w+)?="[^"]*"', "", svg)


@cache
def _fonts() -> typst.Fonts:
    import typst  # noqa: PLC0415 (loaded only when a sheet is printed)

    # Without the fonts that the printer itself carries: a missing letter must not turn into a serif.
    return typst.Fonts(
        include_system_fonts=False, include_embedded_fonts=False, font_paths=[str(font_folder())]
    )


@cache
def _environment() -> jinja2.Environment:
    import jinja2  # noqa: PLC0415 (loaded only when a page is written)

    environment = jinja2.Environment(
        loader=jinja2.PackageLoader("earthfast.sheets", "templates"),
        autoescape=True,
        undefined=jinja2.StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    environment.filters["inlined"] = inlined
    return environment
