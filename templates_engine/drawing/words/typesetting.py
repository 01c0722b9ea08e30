"""Turns plain text into runs with proper fractions, and into lines that fit a width."""

from __future__ import annotations

import re
from functools import lru_cache

from templates_engine.drawing.shapes import Fraction, Layer, Run, Words
from templates_engine.drawing.style import SMALL_CAPITAL_IN, SMALL_PT
from templates_engine.drawing.text_width import text_width
from templates_engine.geometry import Point

# Only graduations of a tape and trade sizes: "13/16" and "1-1/4", never "208Y/120", "3/0" or a page "2/5".
_FRACTION = re.compile(r"(?<![\d/.])(?:(\d+)-)?(\d+)/(2|4|8|16|32|64)(?![\d/])")


@lru_cache(maxsize=10_000)  # a table's cells are measured, shortened and set
def set_words(text: str) -> tuple[Run, ...]:
    """The text with every tape fraction as a Fraction: "2-13/16 in" gives ("2", 13/16, " in")."""
    runs: list[Run] = []
    end = 0
    for match in _FRACTION.finditer(text):
        whole, numerator, denominator = match.groups()
        if int(numerator) >= int(denominator):
            continue
        before = text[end : match.start()] + (whole or "")
        if before:
            runs.append(before)
        runs.append(Fraction(int(numerator), int(denominator)))
        end = match.end()
    if text[end:]:
        runs.append(text[end:])
    return tuple(runs)


def width_in(text: str, size_pt: float, bold: bool = False) -> float:
    """How wide the text comes out with its fractions set, inches."""
    return size_pt * _width_at_1_pt(text, bold)


@lru_cache(maxsize=10_000)
def _width_at_1_pt(text: str, bold: bool) -> float:
    return text_width(set_words(text), 1.0, bold)


def wrapped(text: str, size_pt: float, room_in: float, bold: bool = False) -> tuple[str, ...]:
    """The text broken at spaces into lines no wider than ``room_in``; a longer word is broken where it
    must be.
    """
    lines: list[str] = []
    line = ""
    for word in text.split():
        trial = f"{line} {word}" if line else word
        if width_in(trial, size_pt, bold) <= room_in:
            line = trial
            continue
        if line:
            lines.append(line)
        rest = word
        while width_in(rest, size_pt, bold) > room_in and len(rest) > 1:
            head = _head(rest, size_pt, room_in, bold) or rest[0]
            lines.append(head)
            rest = rest[len(head) :]
        line = rest
    if line:
        lines.append(line)
    return tuple(lines)


def shortened(text: str, size_pt: float, room_in: float, bold: bool = False) -> str:
    """The text, or as much of it as fits with an ellipsis."""
    if width_in(text, size_pt, bold) <= room_in:
        return text
    return _head(text, size_pt, room_in, bold, "…").rstrip() + "…"


def centred(
    text: str, middle: Point, angle: float = 0.0, layer: Layer = "words", bold: bool = False
) -> Words:
    """Small words whose capitals have their middle there; level, or turned by 90 or -90 degrees."""
    (x, y), lift = middle, SMALL_CAPITAL_IN / 2
    at = {0.0: Point(x, y - lift), 90.0: Point(x + lift, y), -90.0: Point(x - lift, y)}[angle]
    return Words(at, set_words(text), SMALL_PT, layer, "middle", bold, angle)


def _head(text: str, size_pt: float, room_in: float, bold: bool, ending: str = "") -> str:
    """As much of the text as fits with its ending."""
    while text and width_in(text + ending, size_pt, bold) > room_in:
        text = text[:-1]
    return text
