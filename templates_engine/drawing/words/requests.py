"""Says what asks for room on a sheet: its places from best to worst, and how much it is needed."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from enum import IntEnum
from functools import cached_property

from templates_engine.drawing.shapes import Layer
from templates_engine.drawing.style import SMALL_PT, capital_height_in, line_height_in
from templates_engine.drawing.words.ink import CLEAR_IN, ON_PAPER, Ink
from templates_engine.drawing.words.typesetting import width_in
from templates_engine.geometry import Point, Rect
from templates_engine.values import Struct

_PART_IN = 0.06


class Priority(IntEnum):
    """Who chooses first. What comes later never takes a place from what comes before."""

    MARK = 1
    EDGE = 2
    HOLE_FIGURES = 3
    """Before the ids, which find room anywhere."""
    HOLE = 4
    LIP = 5
    KEEP_OUT = 6
    JOINT = 7
    BACK_LINE = 8
    RULER = 9
    TAPE = 10


class Leader(Struct, frozen=True, dict=True):
    """A fine line from a thing to its words, and what it must not cross."""

    start: Point
    tip: Point
    avoid: int

    @cached_property
    def parts(self) -> tuple[Rect, ...]:
        """Small squares along it, clear of its start."""
        (x, y), length = self.start, math.dist(self.start, self.tip)
        share = _PART_IN / length if length else 0.0
        dx, dy, half = (self.tip.x - x) * share, (self.tip.y - y) * share, _PART_IN / 2
        return tuple(
            Rect(x + dx * n - half, y + dy * n - half, x + dx * n + half, y + dy * n + half)
            for n in range(1, int(length / _PART_IN))
        )


class Spot(Struct, frozen=True):
    """One place something may stand: what it says there, and what is in its way."""

    rect: Rect
    lines: tuple[str, ...] = ()
    angle: float = 0.0
    """0, or 90 and -90 for words along an upright line."""
    avoid: int = ON_PAPER
    clear_in: float = CLEAR_IN
    leader: Leader | None = None


class LabelRequest(Struct, frozen=True):
    """Something to be placed once. ``spots`` gives its places, best first."""

    key: tuple[object, ...]
    need: Priority
    spots: Callable[[], Iterable[Spot]]
    must_stand: bool
    """Where no spot is free, others move; where they cannot, the least crowded spot is taken."""
    kind: Ink = Ink.WORDS
    size_pt: float = SMALL_PT
    bold: bool = False
    layer: Layer = "words"
    is_told_elsewhere: bool = False
    """Whether it rather stays away than stands where something is in the way."""


class Placed(Struct, frozen=True):
    """A request and the spot it was given."""

    request: LabelRequest
    spot: Spot
    is_clear: bool = True
    """Whether nothing of what it avoids is in the way."""


def block_size(lines: Iterable[str], size_pt: float = SMALL_PT, bold: bool = False) -> tuple[float, float]:
    """Width and height of lines under each other, from the first's capitals to the last's base line."""
    all_lines = tuple(lines)
    width = max(width_in(line, size_pt, bold) for line in all_lines)
    return width, capital_height_in(size_pt) + line_height_in(size_pt) * (len(all_lines) - 1)
