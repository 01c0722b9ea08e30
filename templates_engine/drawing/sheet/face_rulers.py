"""Draws rulers from a face's corners inside its edges, along the back and both ends, off all holes: ticks
true to scale, and requests for room for their numbers.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import partial

from templates_engine.drawing.shapes import Line, Shape
from templates_engine.drawing.style import SMALL_CAPITAL_IN, SMALL_PT, TICK
from templates_engine.drawing.words import width_in
from templates_engine.drawing.words.ink import ON_PAPER, Ink
from templates_engine.drawing.words.requests import LabelRequest, Priority, Spot
from templates_engine.geometry import Circle, Point, Rect
from templates_engine.sheets.face_lines import line_rect
from templates_engine.sheets.model import FacePlan, Sheet
from templates_engine.sheets.scale_bars import RULER_IN
from templates_engine.units import MM_PER_INCH, Unit, feet_inches
from templates_engine.values import Struct

LONGEST_TICK_IN = 0.24
_INCH_TICKS = ((16, LONGEST_TICK_IN), (8, 0.18), (4, 0.13), (2, 0.09), (1, 0.06))
_MM_TICKS = ((10, LONGEST_TICK_IN), (5, 0.15), (1, 0.09))
_TOLD_IN_FEET_IN = 6
"""So near each other that most sheets show one."""
NUMBER_GAP_IN = 0.06
"""Between a tick's tip and its number."""
END_CLEAR_IN = 0.2
"""From a ruler's end back to its last number."""
HOLE_CLEAR_IN = 0.05
"""From a tick to a knockout's line."""
_NUMBER_AVOIDS = (ON_PAPER | Ink.KNOCKOUT) & ~Ink.RULER

_Place = Callable[[float, float], Point]


class _Ruler(Struct, frozen=True):
    """One edge's: ``place(along, across)`` gives the point ``along`` inches from its zero and ``across``
    inches off the edge.
    """

    length_in: float
    place: _Place
    circles: dict[int, list[Circle]]
    """Where no tick may end, by the inches of x: a long row has many holes, and each tick few near it."""

    def ticks(self, marks: Iterable[_Graduation]) -> Iterator[tuple[_Graduation, Point, Point]]:
        """Each with its start and its tip, but for those whose tip would lie in a knockout."""
        for mark in marks:
            tip = self.place(mark.at_in, mark.length_in)
            near = self.circles.get(math.floor(tip.x), ())
            if not any(math.dist(tip, circle.centre) < circle.radius for circle in near):
                yield mark, self.place(mark.at_in, 0.0), tip


class _Graduation(Struct, frozen=True):
    """One tick: its distance from the ruler's zero and its length, inches."""

    at_in: float
    length_in: float
    numbers: tuple[str, ...]
    """What may be written at it, the fullest first; nothing at most ticks."""


def face_ticks(plan: FacePlan, unit: Unit) -> Iterator[Shape]:
    """The ticks of all three rulers."""
    for ruler in _rulers(plan):
        ticks = ruler.ticks(_graduations(ruler.length_in, unit))
        yield from (Line(start, tip, TICK, "ruler") for _, start, tip in ticks)


def face_numbers(plan: FacePlan, unit: Unit) -> Iterator[tuple[Spot, ...]]:
    """The level numbers at those ticks, but for the ends: each in all ways to write it, the fullest first."""
    height = SMALL_CAPITAL_IN
    for ruler in _rulers(plan):
        marks = (mark for mark in _graduations(ruler.length_in, unit) if mark.numbers)
        between = (mark for mark in marks if 0 < mark.at_in < ruler.length_in - END_CLEAR_IN)
        for mark, start, tip in ruler.ticks(between):
            ways = []
            for number in mark.numbers:
                width = width_in(number, SMALL_PT)
                half = (width if abs(tip.x - start.x) > abs(tip.y - start.y) else height) / 2
                x, y = ruler.place(mark.at_in, mark.length_in + NUMBER_GAP_IN + half)
                box = Rect(x - width / 2, y - height / 2, x + width / 2, y + height / 2)
                ways.append(Spot(box, (number,), avoid=_NUMBER_AVOIDS))
            yield tuple(ways)


def number_requests(sheet: Sheet, numbers: Sequence[tuple[Spot, ...]]) -> Iterator[LabelRequest]:
    """A number that would stand on something, or be cut by the sheet's edge, is left out: its neighbours tell
    it.
    """
    for index, ways in enumerate(numbers):
        shown = [spot for spot in ways if sheet.window.contains(spot.rect)]
        if shown:
            yield LabelRequest(("ruler", index), Priority.RULER, partial(iter, shown), False, layer="ruler")


def _rulers(plan: FacePlan) -> Iterator[_Ruler]:
    plane = plan.plane
    edges: tuple[tuple[float, _Place], ...] = (
        (plane.width_in, lambda along, across: plane.from_face(Point(along, across))),
        (plane.depth_in, lambda along, across: plane.from_face(Point(across, along))),
        (plane.depth_in, lambda along, across: plane.from_face(Point(plane.width_in - across, along))),
    )
    for length_in, place in edges:
        strip = line_rect(place(0.0, 0.0), place(length_in, RULER_IN))
        circles: dict[int, list[Circle]] = {}
        for hole in plan.layout.holes:
            (x, y), reach = plan.centre_of(hole), hole.hole_diameter_in / 2 + HOLE_CLEAR_IN
            if strip.overlaps(Rect(x, y, x, y).grown(reach)):
                for inch in range(math.floor(x - reach), math.floor(x + reach) + 1):
                    circles.setdefault(inch, []).append(Circle(Point(x, y), 2 * reach))
        yield _Ruler(length_in, place, circles)


def _graduations(length_in: float, unit: Unit) -> Iterator[_Graduation]:
    """Every 1/16 in with the inches numbered, or every millimetre with the centimetres numbered in mm,
    zero included. From a foot on, every half foot is told in feet and inches too.
    """
    step, levels = (1 / 16, _INCH_TICKS) if unit == "in" else (1 / MM_PER_INCH, _MM_TICKS)
    for index in range(int(length_in / step + 1e-6) + 1):
        length = next(tick for every, tick in levels if index % every == 0)
        yield _Graduation(index * step, length, _numbers(index, unit) if index % levels[0][0] == 0 else ())


def _numbers(index: int, unit: Unit) -> tuple[str, ...]:
    """At an inch, or at a centimetre: "18 = 1'-6\"", "18"."""
    if unit == "mm":
        return (str(index),)
    inches = index // 16
    if inches < 12 or inches % _TOLD_IN_FEET_IN:
        return (str(inches),)
    return f"{inches} = {feet_inches(inches)}", str(inches)
