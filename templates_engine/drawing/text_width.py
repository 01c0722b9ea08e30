"""Turns a line of text into its width in inches, from the font files alone; setting it is the writers' part.

A fraction is set from small digits, the numerator raised and the denominator lowered, about a slanted slash:

::

      1 3   /        top of the numerator   FRACTION_RAISE + the small digits' height
     ------/------   ...
          / 1 6      base of the denominator  FRACTION_DROP (below the base line)
     |gap| num |slash| den |
"""

from __future__ import annotations

import struct
from collections.abc import Sequence
from functools import cache
from typing import NamedTuple

from templates_engine.drawing.shapes import Fraction, Run
from templates_engine.resources import folder

FONT_FILES = {False: "DejaVuSans.ttf", True: "DejaVuSans-Bold.ttf"}
"""File name in the fonts folder by ``bold``."""

REPLACEMENT = "\N{REPLACEMENT CHARACTER}"
"""Stands, visibly, for every character the font lacks."""

FRACTION_SLASH = "\N{FRACTION SLASH}"

# The typeface draws its own 1/2 with digits at 0.63 of full size; 0.65 keeps those of 9 point text at 5.85.
FRACTION_SCALE = 0.65
"""Size of a fraction's digits over the size of the text around it."""
FRACTION_RAISE = 0.31
"""How far the numerator's base line stands above the text's, over the type size."""
FRACTION_DROP = 0.07
"""How far the denominator's base line stands below the text's, over the type size."""
FRACTION_GAP = 0.09
"""Space between a digit and a fraction that follows it without a hyphen, over the type size."""

_POINTS_PER_INCH = 72.0


class Metrics(NamedTuple):
    """Advance widths of a font by character code, over the type size."""

    advances: dict[int, float]

    def lacks(self, character: str) -> bool:
        return ord(character) not in self.advances

    def of(self, text: str) -> float:
        """Width of a text over its type size; characters the font lacks count as the replacement sign."""
        advances = self.advances
        try:
            return sum(map(advances.__getitem__, map(ord, text)))
        except KeyError:
            lacking = advances[ord(REPLACEMENT)]
            return sum(advances.get(code, lacking) for code in map(ord, text))


def text_width(runs: Sequence[Run], size_pt: float, bold: bool = False) -> float:
    """Width of one line of text, inches; ``size_pt`` is its type size (1/72 in)."""
    font = metrics(bold)
    width, before = 0.0, ""
    for run in runs:
        if isinstance(run, Fraction):
            width += FRACTION_GAP * needs_gap(before) + _fraction_width(run, font)
            before = str(run.denominator)
        else:
            width += font.of(run)
            before = run or before
    return width * size_pt / _POINTS_PER_INCH


def needs_gap(before: str) -> bool:
    """Whether a fraction after this text would run into its last digit."""
    return before[-1:].isdigit()


def _fraction_width(fraction: Fraction, font: Metrics) -> float:
    digits = font.of(f"{fraction.numerator}{fraction.denominator}")
    return FRACTION_SCALE * digits + font.of(FRACTION_SLASH)


@cache
def metrics(bold: bool) -> Metrics:
    """The advance widths of the plain or the bold font, read once."""
    data = (folder("fonts") / FONT_FILES[bold]).read_bytes()
    tables = _tables(data)
    units_per_em = struct.unpack_from(">H", data, tables["head"] + 18)[0]
    glyph_advances = _glyph_advances(data, tables)
    glyphs = _character_glyphs(data, tables["cmap"])
    return Metrics({code: glyph_advances[glyph] / units_per_em for code, glyph in glyphs.items()})


def _tables(data: bytes) -> dict[str, int]:
    """Offset of every table of a TrueType file, by its tag."""
    count = struct.unpack_from(">H", data, 4)[0]
    rows = (struct.unpack_from(">4s4xI", data, 12 + 16 * row) for row in range(count))
    return {tag.decode("ascii"): offset for tag, offset in rows}


def _glyph_advances(data: bytes, tables: dict[str, int]) -> list[int]:
    """Advance of every glyph in font units; the last one written holds for all after it."""
    glyph_count = struct.unpack_from(">H", data, tables["maxp"] + 4)[0]
    written = struct.unpack_from(">H", data, tables["hhea"] + 34)[0]
    pairs = struct.unpack_from(f">{2 * written}H", data, tables["hmtx"])
    advances = list(pairs[::2])
    return advances + [advances[-1]] * (glyph_count - written)


def _character_glyphs(data: bytes, cmap: int) -> dict[int, int]:
    """Character code to glyph number from the font's format 4 table (the Basic Multilingual Plane)."""
    start = _format_4_start(data, cmap)
    doubled = struct.unpack_from(">H", data, start + 6)[0]
    segments = doubled // 2
    ends, starts, deltas, range_offsets = (
        struct.unpack_from(f">{segments}H", data, start + at)
        for at in (14, 16 + doubled, 16 + 2 * doubled, 16 + 3 * doubled)
    )
    glyphs: dict[int, int] = {}
    for segment, (first, last) in enumerate(zip(starts, ends, strict=True)):
        if range_offsets[segment] == 0:
            glyphs.update({code: (code + deltas[segment]) & 0xFFFF for code in range(first, last + 1)})
            continue
        place = start + 16 + 3 * doubled + 2 * segment + range_offsets[segment]
        numbers = struct.unpack_from(f">{last - first + 1}H", data, place)
        for code, number in enumerate(numbers, first):
            glyphs[code] = (number + deltas[segment]) & 0xFFFF if number else 0
    return {code: glyph for code, glyph in glyphs.items() if glyph and code != 0xFFFF}


def _format_4_start(data: bytes, cmap: int) -> int:
    count = struct.unpack_from(">H", data, cmap + 2)[0]
    for row in range(count):
        offset = struct.unpack_from(">4xI", data, cmap + 4 + 8 * row)[0]
        if struct.unpack_from(">H", data, cmap + offset)[0] == 4:
            return cmap + int(offset)
    raise ValueError("the font file has no character table of format 4; install templates-engine again")
