"""Turns a line of text into its width in inches, from the font files alone; setting it is the writers' part.

A fraction is set from small digits, the numerator raised and the denominator lowered, about a slanted slash:

::

      1 3   /        top of the numerator   its rise + the small digits' height
     ------/------   ...
          / 1 6      base of the denominator  its drop below the base line
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

# The typeface draws its own 1/2 with digits at 0.63 of full size; 0.65 keeps those of 9 point text at 5.85.
FRACTION_SCALE = 0.65
"""Size of a fraction's digits over the size of the text around it."""
_FRACTION_RAISE, _FRACTION_DROP = 0.31, 0.07
"""How far the numerator's base line stands above the text's, and the denominator's below, over the type size.
"""
_FRACTION_SLASH = "\N{FRACTION SLASH}"
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
            parts = fraction_parts(run)
            width += FRACTION_GAP * needs_gap(before) + sum(font.of(text) * scale for text, scale, _ in parts)
            before = str(run.denominator)
        else:
            width += font.of(run)
            before = run or before
    return width * size_pt / _POINTS_PER_INCH


def needs_gap(before: str) -> bool:
    """Whether a fraction after this text would run into its last digit."""
    return before[-1:].isdigit()


def fraction_parts(fraction: Fraction) -> tuple[tuple[str, float, float], ...]:
    """What is set one after the other: its text, its size and its rise over the base line, both over the type
    size.
    """
    return (
        (str(fraction.numerator), FRACTION_SCALE, _FRACTION_RAISE),
        (_FRACTION_SLASH, 1.0, 0.0),
        (str(fraction.denominator), FRACTION_SCALE, -_FRACTION_DROP),
    )


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
    """Character code to glyph number of the Basic Multilingual Plane, from the font's format 12 table."""
    start = _format_12_start(data, cmap)
    group_count = struct.unpack_from(">I", data, start + 12)[0]
    glyphs: dict[int, int] = {}
    for first, last, glyph in struct.iter_unpack(">III", data[start + 16 : start + 16 + 12 * group_count]):
        glyphs.update((code, glyph + code - first) for code in range(first, min(last, 0xFFFF) + 1))
    return glyphs


def _format_12_start(data: bytes, cmap: int) -> int:
    count = struct.unpack_from(">H", data, cmap + 2)[0]
    for row in range(count):
        offset = cmap + int(struct.unpack_from(">4xI", data, cmap + 4 + 8 * row)[0])
        if struct.unpack_from(">H", data, offset)[0] == 12:
            return offset
    raise ValueError("the font file has no character table of format 12; install templates-engine again")
