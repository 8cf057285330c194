"""The shipped typeface: where its files are, how wide its letters run, and as a web font."""

from __future__ import annotations

import base64
import struct
import zlib
from dataclasses import dataclass
from functools import cache
from pathlib import Path

FAMILY = "Fira Sans"
WEIGHTS = {400: "FiraSans-Regular.ttf", 600: "FiraSans-SemiBold.ttf"}


@dataclass(frozen=True, slots=True)
class Typeface:
    """Advance widths by character, as fractions of the letter size."""

    widths: dict[int, float]

    def width(self, text: str) -> float:
        """Width of a line of text, as a multiple of its size; kerning left out."""
        return sum(self.widths.get(ord(letter), 0.6) for letter in text)

    def missing(self, text: str) -> frozenset[str]:
        """Characters of the text that the typeface cannot print."""
        return frozenset(letter for letter in text if letter.isprintable() and ord(letter) not in self.widths)


def font_folder() -> Path:
    """Folder of the typeface's files."""
    import fontpkg_fira_sans  # noqa: PLC0415 (loaded only when something is drawn)

    return Path(fontpkg_fira_sans.ROOT) / "files"


@cache
def typeface(weight: int = 400) -> Typeface:
    """Read the letters and their widths from the font file of a weight."""
    content = (font_folder() / WEIGHTS[weight]).read_bytes()
    tables = _tables(content)
    units_per_em = struct.unpack_from(">H", tables["head"], 18)[0]
    measured = struct.unpack_from(">H", tables["hhea"], 34)[0]
    advances = [
        struct.unpack_from(">H", tables["hmtx"], 4 * glyph)[0] / units_per_em for glyph in range(measured)
    ]
    glyphs = _glyphs(tables["cmap"])
    return Typeface({code: advances[min(glyph, measured - 1)] for code, glyph in glyphs.items()})


@cache
def web_font(weight: int) -> str:
    """Give the font of a weight as a base64 WOFF file, so that a page needs nothing beside it."""
    content = (font_folder() / WEIGHTS[weight]).read_bytes()
    flavour = content[:4]
    count = struct.unpack_from(">H", content, 4)[0]
    entries, body, offset = b"", b"", 44 + 20 * count
    full_size = 12 + 16 * count
    for index in range(count):
        tag, checksum, start, length = struct.unpack_from(">4sLLL", content, 12 + 16 * index)
        packed = zlib.compress(content[start : start + length], 9)
        stored = packed if len(packed) < length else content[start : start + length]
        entries += struct.pack(">4sLLLL", tag, offset + len(body), len(stored), length, checksum)
        body += stored + bytes(-len(stored) % 4)
        full_size += length + (-length % 4)
    head = struct.pack(
        ">4s4sLHHLHHLLLLL", b"wOFF", flavour, offset + len(body), count, 0, full_size, 1, 0, *[0] * 5
    )
    return base64.b64encode(head + entries + body).decode("ascii")


def _tables(content: bytes) -> dict[str, bytes]:
    count = struct.unpack_from(">H", content, 4)[0]
    tables = {}
    for index in range(count):
        tag, _, start, length = struct.unpack_from(">4sLLL", content, 12 + 16 * index)
        tables[tag.decode("ascii")] = content[start : start + length]
    return tables


def _glyphs(cmap: bytes) -> dict[int, int]:
    """Glyph by character, from the segment table (format 4) that every Unicode font carries."""
    count = struct.unpack_from(">H", cmap, 2)[0]
    for index in range(count):
        platform, _, start = struct.unpack_from(">HHL", cmap, 4 + 8 * index)
        if platform in {0, 3} and struct.unpack_from(">H", cmap, start)[0] == 4:
            return _segments(cmap, start)
    raise ValueError("the font file has no Unicode character map of format 4")


def _segments(cmap: bytes, start: int) -> dict[int, int]:
    double = struct.unpack_from(">H", cmap, start + 6)[0]
    ends, starts = start + 14, start + 16 + double
    deltas, ranges = starts + double, starts + 2 * double
    glyphs = {}
    for step in range(0, double, 2):
        last, first, delta, reach = (
            struct.unpack_from(">H", cmap, at + step)[0] for at in (ends, starts, deltas, ranges)
        )
        for code in range(first, min(last, 0xFFFE) + 1):
            glyph = code
            if reach:
                glyph = struct.unpack_from(">H", cmap, ranges + step + reach + 2 * (code - first))[0]
            if glyph or not reach:
                glyphs[code] = (glyph + delta) & 0xFFFF
    return {code: glyph for code, glyph in glyphs.items() if glyph}
