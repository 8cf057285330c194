"""Tables and anchors of Markdown."""

from __future__ import annotations

from collections.abc import Iterable, Sequence


def table(columns: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """A table, with what would end a cell or a line taken out."""
    lines = [columns, ["---"] * len(columns), *rows]
    return "\n".join(f"| {' | '.join(_cell(cell) for cell in line)} |" for line in lines) + "\n"


def _cell(text: str) -> str:
    return " ".join(text.split()).replace("|", "\\|")


def page(*blocks: str) -> str:
    """Blocks with an empty line between, and one line end at the end."""
    return "\n\n".join(block.strip("\n") for block in blocks if block) + "\n"
