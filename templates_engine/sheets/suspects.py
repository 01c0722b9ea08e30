"""What can be wrong with taped sheets, its effect on a reading, and how well it explains all readings.

::

    | 1         | 2         | 3         |     a printer off scale stretches everything along x or y;
    |   o   o   |  o   o    |   o    o  |     a slip at joint 1-2 moves 2 and 3 together, a slip of 2 alone
    +-----------+-----------+-----------+     opens one joint and closes the other; one sheet may be off scale
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Literal

from templates_engine.geometry import Point, Rect
from templates_engine.sheets.model import FacePlan
from templates_engine.sheets.readings import Span, Taken

Axis = Literal["x", "y"]
MOST_SLIP_IN = 0.5
"""Nobody tapes marks this far apart."""
MOST_SCALE = 0.15
"""No print is this far off without being seen."""
MOST_BODIES_IN_PAIRS = 60
"""Pairs of slips are tried only for templates of few sheets."""


@dataclass(frozen=True)
class Suspect:
    """One thing that may be wrong: the ``scale`` of the whole print along ``axis``, the scale of one sheet
    (``axis`` None), or a ``slip`` of ``sheets`` along ``axis`` against all others."""

    kind: Literal["scale", "sheet scale", "slip"]
    axis: Axis | None
    sheets: tuple[int, ...] = ()

    def is_plausible(self, amount: float) -> bool:
        return abs(amount) <= (MOST_SLIP_IN if self.kind == "slip" else MOST_SCALE)


@dataclass(frozen=True)
class Explanation:
    """One or two suspects with their amounts (scale as a share, slip in inches), and what they leave over."""

    suspects: tuple[Suspect, ...]
    amounts: tuple[float, ...]
    left_in: tuple[float, ...]
    within: tuple[float, ...]
    """How far each amount may be off for a reading that is off by one inch, root of squares."""

    @property
    def worst_in(self) -> float:
        return max(map(abs, self.left_in))

    @property
    def squares_in2(self) -> float:
        return sum(left * left for left in self.left_in)


class Cells:
    """Which sheet's ink is seen where: each shows its own part once all are taped."""

    def __init__(self, plan: FacePlan) -> None:
        self.cells = {sheet.number: sheet.own for sheet in plan.sheets}
        self._found: dict[Point, int] = {}

    def sheet_at(self, place: Point) -> int:
        """The sheet a place is seen on; on a joint, the one that lies over it. Outside, the nearest."""
        if place not in self._found:
            self._found[place] = min(
                self.cells, key=lambda number: (_outside(self.cells[number], place), -number)
            )
        return self._found[place]

    def effect(self, suspect: Suspect, span: Span) -> float:
        """By how much a reading grows for one unit of what is suspected."""
        along = span.along
        if suspect.kind == "scale":
            return span.length_in * (along.x if suspect.axis == "x" else along.y) ** 2
        if suspect.kind == "sheet scale":
            return _length_within(self.cells[suspect.sheets[0]], span)
        moved = (self.sheet_at(span.end) in suspect.sheets) - (self.sheet_at(span.start) in suspect.sheets)
        return moved * (along.x if suspect.axis == "x" else along.y)


def suspects_of(plan: FacePlan) -> Iterator[Suspect]:
    """Everything that may be wrong with the sheets of a face, the commonest first."""
    yield Suspect("scale", "x")
    yield Suspect("scale", "y")
    bodies = [suspect.sheets for suspect in joint_slips(plan)]
    bodies += [(sheet.number,) for sheet in plan.sheets]
    axes: tuple[Axis, Axis] = ("x", "y")
    for body in dict.fromkeys(bodies):
        for axis in axes:
            yield Suspect("slip", axis, body)
    if len(plan.sheets) > 1:
        for sheet in plan.sheets:
            yield Suspect("sheet scale", None, (sheet.number,))


def joint_slips(plan: FacePlan) -> Iterator[Suspect]:
    """The slip across each joint line: of the rest of a band at an upright one, else of all lower bands."""
    for band in range(plan.bands):
        row = [sheet.number for sheet in plan.sheets if sheet.band == band]
        for index in range(1, len(row)):
            yield Suspect("slip", "x", tuple(row[index:]))
        below = tuple(sheet.number for sheet in plan.sheets if sheet.band >= band)
        if band:
            yield Suspect("slip", "y", below)


def explanations(
    taken: Sequence[Taken], suspects: Sequence[Suspect], cells: Cells, how_many: int
) -> Iterator[Explanation]:
    """Each plausible way that ``how_many`` suspects (one or two) come to the readings, by least squares."""
    columns = {one: [cells.effect(one, each.span) for each in taken] for one in suspects}
    offs = [each.off_in for each in taken]
    for group in _groups(suspects, how_many):
        fitted = _least_squares([columns[one] for one in group], offs)
        if fitted is None:
            continue
        amounts, within = fitted
        if all(one.is_plausible(amount) for one, amount in zip(group, amounts, strict=True)):
            sums = (
                sum(columns[one][row] * amount for one, amount in zip(group, amounts, strict=True))
                for row in range(len(taken))
            )
            left = tuple(off - explained for off, explained in zip(offs, sums, strict=True))
            yield Explanation(tuple(group), amounts, left, within)


def _groups(suspects: Sequence[Suspect], how_many: int) -> Iterator[tuple[Suspect, ...]]:
    if how_many == 1:
        yield from ((one,) for one in suspects)
        return
    few = len(suspects) <= MOST_BODIES_IN_PAIRS
    for pair in combinations(suspects, 2):
        if few or any(one.kind == "scale" for one in pair):
            yield pair


def _least_squares(
    columns: Sequence[Sequence[float]], wanted: Sequence[float]
) -> tuple[tuple[float, ...], tuple[float, ...]] | None:
    """The amounts of one or two columns that leave the least squares, and the root of each one's variance for
    readings of variance 1; None when the readings do not tell them apart."""
    squares = [sum(value * value for value in column) for column in columns]
    if min(squares) < 1e-6:
        return None
    right = [sum(a * b for a, b in zip(column, wanted, strict=True)) for column in columns]
    if len(columns) == 1:
        return (right[0] / squares[0],), (1 / math.sqrt(squares[0]),)
    cross = sum(a * b for a, b in zip(columns[0], columns[1], strict=True))
    determinant = squares[0] * squares[1] - cross * cross
    if determinant < 1e-4 * squares[0] * squares[1]:
        return None
    first = (right[0] * squares[1] - right[1] * cross) / determinant
    second = (right[1] * squares[0] - right[0] * cross) / determinant
    return (first, second), (math.sqrt(squares[1] / determinant), math.sqrt(squares[0] / determinant))


def _outside(cell: Rect, place: Point) -> float:
    dx = max(cell.left - place.x, 0.0, place.x - cell.right)
    dy = max(cell.bottom - place.y, 0.0, place.y - cell.top)
    return round(math.hypot(dx, dy), 9)


def _length_within(cell: Rect, span: Span) -> float:
    """The length of the part of a span that lies over a cell, inches."""
    enter, leave = 0.0, 1.0
    for start, delta, low, high in (
        (span.start.x, span.end.x - span.start.x, cell.left, cell.right),
        (span.start.y, span.end.y - span.start.y, cell.bottom, cell.top),
    ):
        if abs(delta) < 1e-12:
            if not low <= start <= high:
                return 0.0
            continue
        first, last = sorted(((low - start) / delta, (high - start) / delta))
        enter, leave = max(enter, first), min(leave, last)
    return max(leave - enter, 0.0) * span.length_in
