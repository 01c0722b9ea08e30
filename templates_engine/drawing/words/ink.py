"""Keeps what stands on a sheet, by kind and in small cells, and tells what is in the way of words."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from enum import IntEnum
from typing import NamedTuple

from templates_engine.drawing.shapes import DrawnCircle, DrawnRect, Line, Shape
from templates_engine.drawing.style import QUARTER
from templates_engine.geometry import Circle, Rect
from templates_engine.sheets.face_lines import line_rect

CLEAR_IN = 0.04
"""White left between words and anything else."""
_CELL_IN = 0.5


class Ink(IntEnum):
    """Kinds of things on a sheet, a bit each, so that words can say which are in their way."""

    CIRCLE = 1
    """The line of a knockout, a pilot or a round keep-out; what is inside it is free."""
    CROSS = 2
    LINE = 4
    """Edges of the face, lips, back lines."""
    JOINT = 8
    MARK = 16
    MARK_ROOM = 32
    """The square round a registration mark."""
    KEEP_OUT = 64
    """All that is inside a keep-out: no hole's words belong there."""
    KNOCKOUT = 128
    """All that is inside a knockout: only its own words belong there."""
    RULER = 256
    """The strip that a ruler's numbers want."""
    TICKS = 512
    BAR = 1024
    WORDS = 2048
    LEADER = 4096
    TAPE = 8192
    OUTLINE = 16384
    """The outline of a keep-out."""


ANYTHING = sum(Ink)
ON_PAPER = ANYTHING & ~(Ink.KEEP_OUT | Ink.KNOCKOUT)
"""For words about the paper or the row, and a hole's own: a line is in their way, an area is not."""

_FILLED = int(Ink.KNOCKOUT)  # not as a member, whose every use would be made anew
PLACED = Ink.WORDS | Ink.LEADER | Ink.TAPE
"""Kinds that the placer itself puts on a sheet; all else stands there from the first."""


class Stroke(NamedTuple):
    """One thing: its rectangle; where it is round its circle, else None; and the key of the words it is."""

    left: float
    bottom: float
    right: float
    top: float
    kind: int
    circle: Circle | None = None
    key: object = None

    @property
    def rect(self) -> Rect:
        return Rect(self.left, self.bottom, self.right, self.top)


def stroke(rect: Rect, kind: int, key: object = None) -> Stroke:
    """A rectangle, or a straight line as a rectangle without thickness."""
    return Stroke(rect.left, rect.bottom, rect.right, rect.top, int(kind), None, key)


def round_stroke(circle: Circle, kind: Ink) -> Stroke:
    """A circle: its line alone, or all inside it for a KNOCKOUT."""
    (x, y), radius = circle.centre, circle.radius
    return Stroke(x - radius, y - radius, x + radius, y + radius, int(kind), circle)


def strokes_of(shapes: Iterable[Shape]) -> Iterator[Stroke]:
    """A face's circles and lines, less ruler ticks and quarter marks, which lie on lines that stand here."""
    for shape in shapes:
        match shape:
            case DrawnCircle():
                yield round_stroke(Circle(shape.centre, shape.diameter), Ink.CIRCLE)
            case DrawnRect():
                kind = Ink.LINE if shape.layer == "edge" else Ink.OUTLINE
                yield from (stroke(side, kind) for side in shape.rect.sides())
            case Line() if shape.layer != "ruler" and shape.pen is not QUARTER:
                kind = Ink.CROSS if shape.layer == "centre" else Ink.LINE
                yield stroke(line_rect(shape.start, shape.end), kind)


class SheetInk:
    """All that stands on one sheet, as strokes. Only the placer changes it."""

    def __init__(self, strokes: Iterable[Stroke] = ()) -> None:
        self._cells: dict[tuple[int, int], list[Stroke]] = {}
        self._strokes: dict[Stroke, None] = {}
        for one in strokes:
            self.add(one)

    def add(self, one: Stroke) -> None:
        if one not in self._strokes:
            self._strokes[one] = None
            for cell in _cells(one.left, one.bottom, one.right, one.top):
                self._cells.setdefault(cell, []).append(one)

    def remove(self, one: Stroke) -> None:
        del self._strokes[one]
        for cell in _cells(one.left, one.bottom, one.right, one.top):
            self._cells[cell].remove(one)

    def blockers(self, rect: Rect, avoid: int = ANYTHING, clear_in: float = CLEAR_IN) -> Iterator[Stroke]:
        """What of these kinds touches the rectangle or the white round it; some may come twice."""
        zone = rect.grown(clear_in)
        left, bottom, right, top = zone
        cells = self._cells
        for cell in _cells(left, bottom, right, top):
            for one in cells.get(cell, ()):
                # Written out: this is asked tens of thousands of times for a crowded sheet.
                a, b, c, d, kind, circle, _ = one
                is_near = kind & avoid and left < c and a < right and bottom < d and b < top
                if is_near and (circle is None or _meets(zone, circle, kind)):
                    yield one

    def is_free(self, rect: Rect, avoid: int = ANYTHING, clear_in: float = CLEAR_IN) -> bool:
        """Whether words that avoid these kinds may fill the rectangle."""
        return next(self.blockers(rect, avoid, clear_in), None) is None


def _cells(left: float, bottom: float, right: float, top: float) -> Iterator[tuple[int, int]]:
    low, high = math.floor(bottom / _CELL_IN), math.floor(top / _CELL_IN) + 1
    for column in range(math.floor(left / _CELL_IN), math.floor(right / _CELL_IN) + 1):
        for row in range(low, high):
            yield column, row


def _meets(rect: Rect, circle: Circle, kind: int) -> bool:
    """Whether a circle's line passes through the rectangle: its nearest point is inside, its farthest not.
    For a knockout the nearest alone counts.
    """
    (left, bottom, right, top), (x, y), radius = rect, circle.centre, circle.radius
    if math.hypot(max(left - x, 0.0, x - right), max(bottom - y, 0.0, y - top)) > radius:
        return False
    is_filled = kind & _FILLED != 0
    return is_filled or radius <= math.hypot(max(x - left, right - x), max(y - bottom, top - y))
