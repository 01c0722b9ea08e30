"""Finds paper by name or by size, in inches.

Which paper a face is printed on is for the sheet plan to choose.
"""

from __future__ import annotations

import re

from templates_engine.trade.not_in_tables import nearest
from templates_engine.units import MM_PER_INCH, LengthError, Unit, read_length
from templates_engine.values import Struct

LEAST_SIDE_IN = 4.0
"""No sheet smaller than this carries a view and its title strip."""
MOST_SIDE_IN = 200.0
"""The longest page every PDF reader takes: 14 400 points (ISO 32000-1:2008, annex C)."""

_SAME_IN = 0.01
_MM = 1 / MM_PER_INCH


class Paper(Struct, frozen=True):
    """A sheet's short and long side, inches; ``long_in`` is None for a roll, whose width is ``short_in``."""

    name: str
    short_in: float
    long_in: float | None


PAPERS: tuple[Paper, ...] = (
    Paper("letter", 8.5, 11.0),  # ANSI/ASME Y14.1, size A (from memory)
    Paper("legal", 8.5, 14.0),  # common practice, no source
    Paper("tabloid", 11.0, 17.0),  # ANSI/ASME Y14.1, size B (from memory)
    Paper("A4", 210 * _MM, 297 * _MM),  # ISO 216 (from memory)
    Paper("A3", 297 * _MM, 420 * _MM),  # ISO 216 (from memory)
)

CALLED_HERE: dict[str, tuple[str, ...]] = {
    "letter": ("us letter", "ansi a", "a size", "size a"),
    "tabloid": ("ledger", "ansi b", "b size", "size b"),  # ledger is tabloid lying on its side
    "legal": ("us legal",),
    "17 x 22 in": ("ansi c",),  # C to E: ANSI/ASME Y14.1 (from memory)
    "22 x 34 in": ("ansi d",),
    "34 x 44 in": ("ansi e",),
    "9 x 12 in": ("arch a",),  # Arch A to E1: common practice, no source
    "12 x 18 in": ("arch b",),
    "18 x 24 in": ("arch c",),
    "24 x 36 in": ("arch d",),
    "36 x 48 in": ("arch e",),
    "30 x 42 in": ("arch e1",),
    "7-1/4 x 10-1/2 in": ("executive",),
    "5-1/2 x 8-1/2 in": ("half letter", "statement"),
    "841 x 1189 mm": ("a0",),  # A0 to A5: ISO 216 (from memory)
    "594 x 841 mm": ("a1",),
    "420 x 594 mm": ("a2",),
    "148 x 210 mm": ("a5",),
}
"""What to write for names that offices use; C, D and E alone may be ANSI's or the architects'."""
_SERIES = {
    "c": ("17 x 22 in", "18 x 24 in"),
    "d": ("22 x 34 in", "24 x 36 in"),
    "e": ("34 x 44 in", "36 x 48 in"),
}


def paper_of_size(width_in: float, height_in: float) -> str:
    """The name of a sheet of that size, whichever way it lies: "letter", or "8 x 10 in"."""
    short, long = sorted((width_in, height_in))
    for paper in PAPERS:
        if paper.long_in is not None and abs(paper.short_in - short) + abs(paper.long_in - long) < _SAME_IN:
            return paper.name
    return f"{short:g} x {long:g} in"


class PaperError(ValueError):
    """A text that names no paper; ``message`` says what is wrong and ``remedy`` what to write instead."""

    def __init__(self, message: str, remedy: str) -> None:
        self.message = message
        self.remedy = remedy
        super().__init__(f"{message} {remedy}")


_NAMES = tuple(paper.name for paper in PAPERS)
_REMEDY = (
    f'Write {", ".join(_NAMES)}, or a size such as "24 x 36 in" or "610 x 914 mm", '
    'or a roll by its width, such as "24 in roll".'
)
_LONGEST_NAME = 40
_BETWEEN_SIDES = re.compile(r"\s*(?:[x×]|\bby\b)\s*", re.IGNORECASE)
_ROLL = re.compile(r"(.*?)\s*\broll", re.IGNORECASE)
_UNIT_AT_END = re.compile(r"(?:[a-z]+|[\"'″′”’]+)$", re.IGNORECASE)


def read_paper(text: str, default_unit: Unit = "in") -> Paper:
    """The paper that ``text`` names: one of PAPERS, or a size: "24 x 36 in", "610 x 914 mm", "24 in roll".

    A unit after the last number holds for both sides; a size without any unit is in ``default_unit``.
    Raises PaperError.
    """
    name = " ".join(text.split())
    for paper in PAPERS:
        if name.lower() == paper.name.lower():
            return paper
    _refuse_other_name(name)
    if len(name) > _LONGEST_NAME or not any(sign.isdigit() for sign in name):
        raise _unknown(name)
    roll = _ROLL.fullmatch(name)
    if roll:
        return Paper(name, _side(name, roll.group(1), default_unit), None)
    sides = _BETWEEN_SIDES.split(name)
    if len(sides) != 2 or not all(sides):
        raise _unknown(name)
    first, second = sides
    unit = _UNIT_AT_END.search(second)
    if unit and not _UNIT_AT_END.search(first):
        first = f"{first} {unit.group()}"
    short, long = sorted((_side(name, first, default_unit), _side(name, second, default_unit)))
    return Paper(name, short, long)


def _refuse_other_name(name: str) -> None:
    """Raises PaperError for a usual name that is not the one used here."""
    plain = " ".join(re.sub(r"[-_.]|\b(paper|sheet)\b", " ", name.lower()).split())
    for here, others in CALLED_HERE.items():
        if plain in others:
            sizes = {paper.name: f"{paper.short_in:g} x {paper.long_in:g} in" for paper in PAPERS}
            how = f"called {here} here ({sizes[here]})" if here in sizes else "written by its size here"
            raise PaperError(f'"{name}" is {how}.', f'Write "{here}".')
    series = re.fullmatch(r"(?:size ([cde])|([cde])(?: size)?)", plain)
    if series:
        ansi, arch = _SERIES[series[1] or series[2]]
        raise PaperError(f'"{name}" may be either of two sizes.', f'Write "{ansi}" or "{arch}".')


def _unknown(name: str) -> PaperError:
    shown = name if len(name) <= _LONGEST_NAME else f"{name[:_LONGEST_NAME]}..."
    like = nearest(name[:_LONGEST_NAME], _NAMES) if name else None
    guess = f'Is "{like}" meant? ' if like else ""
    return PaperError(f'"{shown}" names no paper known here.', guess + _REMEDY)


def _side(name: str, text: str, default_unit: Unit) -> float:
    """One side of the paper ``name``, inches."""
    try:
        side_in = read_length(text, default_unit)
    except LengthError as error:
        raise PaperError(f'"{name}" names no paper: {error.message}', _REMEDY) from error
    if side_in < LEAST_SIDE_IN:
        raise PaperError(
            f'"{name}" is too small to carry a view and its title strip.',
            f"Give paper of at least {LEAST_SIDE_IN:g} in ({LEAST_SIDE_IN * MM_PER_INCH:g} mm) each way.",
        )
    if side_in > MOST_SIDE_IN:
        raise PaperError(
            f'"{name}" is too large: a page of a PDF file is at most {MOST_SIDE_IN:g} in '
            f"({MOST_SIDE_IN * MM_PER_INCH:g} mm) each way.",
            "Give a smaller sheet; a face too large for one is laid out over several.",
        )
    return side_in
