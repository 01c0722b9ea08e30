"""Lists what can be wrong with taped sheets, and its effect on a reading; how well it explains is for others.

::

    | 1         | 2         | 3         |     a printer off scale stretches everything along x or y;
    |   o   o   |  o   o    |   o    o  |     a slip at joint 1-2 moves 2 and 3 together, a slip of 2 alone
    +-----------+-----------+-----------+     opens one joint and closes the other; one sheet may be off
                                              scale; all together may lie off or turned on the can; a reading
                                              may be wrong
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Literal

from templates_engine.geometry import Point, Rect
from templates_engine.sheets.model import FacePlan
from templates_engine.values import Struct
from templates_engine.verify.distances import Axis, Distance

Kind = Literal["scale", "sheet scale", "lean", "slip", "turn", "misread"]
_AXES: tuple[Axis, Axis] = ("x", "y")


class HowLikely(Struct, frozen=True):
    """How often one kind of cause is met, and how large it is then (from memory, not measured)."""

    odds: float
    """That any one cause of the kind is there."""
    usual: float
    """As large as half of them are, in the unit of its amount."""
    most: float
    """None is larger: it would be seen at once, or no printer and no tape does that."""


HOW_LIKELY: dict[Kind, HowLikely] = {
    "slip": HowLikely(0.05, 0.12, 0.6),
    "scale": HowLikely(0.05, 0.01, 0.15),
    "turn": HowLikely(0.02, 0.004, 0.02),
    "misread": HowLikely(0.02, 0.12, math.inf),
    "sheet scale": HowLikely(0.02, 0.02, 0.15),
    "lean": HowLikely(0.02, 0.004, 0.015),
}
"""Slips and misreadings in inches, scales as a share, turn and lean in inches over an inch."""


class Cause(Struct, frozen=True):
    """One thing that may be wrong: the ``scale`` of the whole print along ``axis``, the scale of one sheet
    (``axis`` None), a ``lean`` of the whole print, a ``slip`` of ``sheets`` along ``axis`` against all others
    and the can, a ``turn`` of all sheets about the rulers' zero, or a ``misread`` reading, by its number.
    """

    kind: Kind
    axis: Axis | None = None
    sheets: tuple[int, ...] = ()
    reading: int = -1
    is_all: bool = False
    """Whether its sheets are all there are: then it is how they lie on the can."""

    def is_possible(self, amount: float) -> bool:
        return abs(amount) <= HOW_LIKELY[self.kind].most

    def log_odds(self, amount: float) -> float:
        """The logarithm of how likely it is there with that amount, as a density with long tails."""
        how = HOW_LIKELY[self.kind]
        return math.log(how.odds / (math.pi * how.usual * (1 + (amount / how.usual) ** 2)))


class Effects:
    """Which sheet's ink is seen where: each shows its own part once all are taped."""

    def __init__(self, plan: FacePlan) -> None:
        self.cells = {sheet.number: sheet.own for sheet in plan.sheets}
        self._found: dict[Point, int] = {}
        rect = plan.rule_edges or plan.plane.rect
        self._zero = Point(rect.left if plan.plane.u_runs_right else rect.right, rect.top)

    def sheet_at(self, place: Point) -> int:
        """The sheet a place is seen on; on a joint, the one that lies over it. Outside, the nearest."""
        if place not in self._found:
            self._found[place] = min(
                self.cells, key=lambda number: (_outside(self.cells[number], place), -number)
            )
        return self._found[place]

    def effect(self, cause: Cause, distance: Distance) -> float:
        """By how much a reading grows for one unit of what is suspected."""
        if distance.bar is not None:
            sheet, axis = distance.bar
            is_whole = cause.kind == "scale" and cause.axis == axis
            is_own = cause.kind == "sheet scale" and sheet in cause.sheets
            return distance.length_in if is_whole or is_own else 0.0
        if cause.kind == "slip":  # of all that is asked, asked the most by far
            start_on_can, end_on_can = distance.on_can
            end_slips = not end_on_can and self.sheet_at(distance.end) in cause.sheets
            moves = end_slips - (not start_on_can and self.sheet_at(distance.start) in cause.sheets)
            return moves * (distance.along.x if cause.axis == "x" else distance.along.y) if moves else 0.0
        if cause.kind == "misread":
            return 0.0
        if cause.kind == "sheet scale" and not any(distance.on_can):
            return _length_within(self.cells[cause.sheets[0]], distance.start, distance.end)
        along = distance.along
        start, end = (
            Point(0.0, 0.0) if on_can else self._moved(cause, place)
            for place, on_can in zip((distance.start, distance.end), distance.on_can, strict=True)
        )
        return (end.x - start.x) * along.x + (end.y - start.y) * along.y

    def _moved(self, cause: Cause, place: Point) -> Point:
        """Where the ink of a place goes for one unit of what is suspected; the rulers' zero stays."""
        dx, dy = place.x - self._zero.x, place.y - self._zero.y
        if cause.kind == "lean":
            return Point(dy, 0.0)
        if cause.kind == "turn":
            return Point(-dy, dx)
        if cause.kind == "sheet scale":
            cell = self.cells[cause.sheets[0]]
            wide = _length_within(cell, Point(self._zero.x, place.y), place)
            high = _length_within(cell, Point(place.x, self._zero.y), place)
            return Point(math.copysign(wide, dx), math.copysign(high, dy))
        return Point(dx, 0.0) if cause.axis == "x" else Point(0.0, dy)


def possible_causes(plan: FacePlan, from_can: bool) -> Iterator[Cause]:
    """Everything that may be wrong with the sheets of a face, the commonest first.

    ``from_can``: something was measured from the can, so it shows which sheets lie true on it.
    """
    everything = tuple(sheet.number for sheet in plan.sheets)
    yield from (Cause("scale", axis) for axis in _AXES)
    beyond = [cause.sheets for cause in joint_slips(plan)]
    bodies = [*beyond, *(cause.sheets for cause in lone_slips(plan))]
    if from_can:
        bodies.append(everything)
        bodies += (tuple(number for number in everything if number not in body) for body in beyond)
    for body in dict.fromkeys(body for body in bodies if body and (from_can or body != everything)):
        yield from (Cause("slip", axis, body, is_all=body == everything) for axis in _AXES)
    yield Cause("lean")
    if from_can:
        yield Cause("turn", None, everything, is_all=True)
    if len(everything) > 1:
        yield from (Cause("sheet scale", None, (number,)) for number in everything)


def joint_slips(plan: FacePlan) -> Iterator[Cause]:
    """The slip across each joint line: of the rest of a band at an upright one, else of all lower bands."""
    for band in range(plan.bands):
        row = [sheet.number for sheet in plan.sheets if sheet.band == band]
        for index in range(1, len(row)):
            yield Cause("slip", "x", tuple(row[index:]))
        below = tuple(sheet.number for sheet in plan.sheets if sheet.band >= band)
        if band:
            yield Cause("slip", "y", below)


def lone_slips(plan: FacePlan) -> Iterator[Cause]:
    """The slip of each sheet alone and of each band, which opens one joint and closes another."""
    bands = (tuple(sheet.number for sheet in plan.sheets if sheet.band == band) for band in range(plan.bands))
    for body in dict.fromkeys((*((sheet.number,) for sheet in plan.sheets), *bands)):
        yield from (Cause("slip", axis, body) for axis in _AXES)


def _outside(cell: Rect, place: Point) -> float:
    dx = max(cell.left - place.x, 0.0, place.x - cell.right)
    dy = max(cell.bottom - place.y, 0.0, place.y - cell.top)
    return round(math.hypot(dx, dy), 9)


def _length_within(cell: Rect, start: Point, end: Point) -> float:
    """The length of the part of a line that lies over a cell, inches."""
    enter, leave = 0.0, 1.0
    for at, delta, low, high in (
        (start.x, end.x - start.x, cell.left, cell.right),
        (start.y, end.y - start.y, cell.bottom, cell.top),
    ):
        if abs(delta) < 1e-12:
            if not low <= at <= high:
                return 0.0
            continue
        first, last = sorted(((low - at) / delta, (high - at) / delta))
        enter, leave = max(enter, first), min(leave, last)
    return max(leave - enter, 0.0) * math.dist(start, end)
