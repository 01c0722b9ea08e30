"""Draws rulers from a face's corners inside its edges: along the back and both ends, off all holes."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

from templates_engine.drawing.rulers import RulerNumber, numbers, ticks
from templates_engine.drawing.shapes import Shape
from templates_engine.geometry import Circle, Point, Rect
from templates_engine.sheets.model import FacePlan
from templates_engine.sheets.scale_bars import RULER_IN
from templates_engine.units import Unit

HOLE_CLEAR_IN = 0.05
"""From a tick to a knockout's line."""
_Place = Callable[[float, float], Point]


def face_ticks(plan: FacePlan, unit: Unit) -> Iterator[Shape]:
    """The ticks of all three rulers, but for those whose tip would lie in a knockout."""
    for length_in, place in _rulers(plan):
        yield from ticks(length_in, unit, place, _hidden(plan, length_in, place))


def face_numbers(plan: FacePlan, unit: Unit) -> Iterator[RulerNumber]:
    """The numbers at those ticks."""
    for length_in, place in _rulers(plan):
        hidden = _hidden(plan, length_in, place)
        yield from (number for number in numbers(length_in, unit, place) if not hidden(number.tip))


def _rulers(plan: FacePlan) -> Iterator[tuple[float, _Place]]:
    """How long each ruler is, and its places by the distance along it and off its edge."""
    plane = plan.plane
    yield plane.width_in, lambda along, across: plane.from_face(Point(along, across))
    yield plane.depth_in, lambda along, across: plane.from_face(Point(across, along))
    yield plane.depth_in, lambda along, across: plane.from_face(Point(plane.width_in - across, along))


def _hidden(plan: FacePlan, length_in: float, place: _Place) -> Callable[[Point], bool]:
    """Whether a tick's tip lies in a knockout or too near its line."""
    a, b = place(0.0, 0.0), place(length_in, RULER_IN)
    strip = Rect(min(a.x, b.x), min(a.y, b.y), max(a.x, b.x), max(a.y, b.y))
    by_inch: dict[int, list[Circle]] = {}  # a long row has many holes, and each tick few of them near
    for hole in plan.layout.holes:
        (x, y), reach = plan.centre_of(hole), hole.hole_diameter_in / 2 + HOLE_CLEAR_IN
        if strip.overlaps(Rect(x, y, x, y).grown(reach)):
            for inch in range(math.floor(x - reach), math.floor(x + reach) + 1):
                by_inch.setdefault(inch, []).append(Circle(Point(x, y), 2 * reach))

    def hidden(tip: Point) -> bool:
        near = by_inch.get(math.floor(tip.x), ())
        return any(math.dist(tip, circle.centre) < circle.radius for circle in near)

    return hidden
