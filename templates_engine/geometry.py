"""Measures points, circles and rectangles of a plane in inches, by closed formulas.

Knows no word of the trade.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from typing import NamedTuple

TOLERANCE_IN = 1e-9
"""How far two computed places may lie apart and still be one, inches. Rounding in the last digits of a float
stays below 1e-12 on any face; no rule or cutter comes near 1e-6.
"""


class Point(NamedTuple):
    """A place in the plane, inches."""

    x: float
    y: float

    def moved(self, dx: float, dy: float) -> Point:
        return Point(self.x + dx, self.y + dy)

    def scaled(self, by_x: float, by_y: float) -> Point:
        return Point(self.x * by_x, self.y * by_y)


class Interval(NamedTuple):
    """A closed stretch of a line, inches, ``low <= high``."""

    low: float
    high: float


class Circle(NamedTuple):
    """A circle, inches."""

    centre: Point
    diameter: float

    @property
    def radius(self) -> float:
        return self.diameter / 2


class Rect(NamedTuple):
    """An axis-parallel rectangle, inches.

    ::

        (left, top)  +---------+ (right, top)
                     |         |
        (left, bottom) +-------+ (right, bottom)      y runs up, so bottom <= top
    """

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        return self.right - self.left

    @property
    def height(self) -> float:
        return self.top - self.bottom

    @property
    def middle(self) -> Point:
        return Point((self.left + self.right) / 2, (self.bottom + self.top) / 2)

    def sides(self) -> Iterator[Rect]:
        """The four sides, as rectangles without any thickness."""
        yield Rect(self.left, self.bottom, self.right, self.bottom)
        yield Rect(self.left, self.top, self.right, self.top)
        yield Rect(self.left, self.bottom, self.left, self.top)
        yield Rect(self.right, self.bottom, self.right, self.top)

    def grown(self, by: float) -> Rect:
        """The rectangle with every side moved outward by ``by`` inches (inward when negative)."""
        return Rect(self.left - by, self.bottom - by, self.right + by, self.top + by)

    def moved(self, dx: float, dy: float) -> Rect:
        return Rect(self.left + dx, self.bottom + dy, self.right + dx, self.top + dy)

    def scaled(self, by_x: float, by_y: float) -> Rect:
        return Rect(self.left * by_x, self.bottom * by_y, self.right * by_x, self.top * by_y)

    def holds(self, point: Point) -> bool:
        """Whether the point lies inside or on the edge."""
        return self.left <= point.x <= self.right and self.bottom <= point.y <= self.top

    def nearest(self, point: Point) -> Point:
        """The point of the rectangle that lies nearest: the point itself when it lies inside."""
        return Point(min(max(point.x, self.left), self.right), min(max(point.y, self.bottom), self.top))

    def common(self, other: Rect) -> Rect:
        """What the two share; it has no room where they share nothing."""
        return Rect(
            max(self.left, other.left),
            max(self.bottom, other.bottom),
            min(self.right, other.right),
            min(self.top, other.top),
        )

    def contains(self, other: Rect) -> bool:
        """Whether all of the other lies inside or on the edge."""
        return (
            self.left <= other.left
            and other.right <= self.right
            and self.bottom <= other.bottom
            and other.top <= self.top
        )

    def overlaps(self, other: Rect) -> bool:
        """Whether the two share more than an edge."""
        return (
            self.left < other.right
            and other.left < self.right
            and self.bottom < other.top
            and other.bottom < self.top
        )


def cross_lines(centre: Point, reach: float) -> tuple[tuple[Point, Point], tuple[Point, Point]]:
    """The level and the upright line through a point, so far to either side."""
    x, y = centre
    level = Point(x - reach, y), Point(x + reach, y)
    return level, (Point(x, y - reach), Point(x, y + reach))


def gap_between_circles(a: Circle, b: Circle) -> float:
    """Clear distance between two circles, inches; negative where they overlap along the line of centres."""
    return math.dist(a.centre, b.centre) - a.radius - b.radius


def gap_circle_rect(circle: Circle, rect: Rect) -> float:
    """Clear distance from a circle to a filled rectangle, inches; negative when they overlap."""
    dx = max(rect.left - circle.centre.x, 0.0, circle.centre.x - rect.right)
    dy = max(rect.bottom - circle.centre.y, 0.0, circle.centre.y - rect.top)
    outside = math.hypot(dx, dy)
    if outside > 0:
        return outside - circle.radius
    depth = min(
        circle.centre.x - rect.left,
        rect.right - circle.centre.x,
        circle.centre.y - rect.bottom,
        rect.top - circle.centre.y,
    )
    return -depth - circle.radius


def near_pairs(places: Sequence[Point], reach_in: float) -> Iterator[tuple[int, int]]:
    """Every two places at most that far apart, by their numbers, in order; far ones are never compared."""
    by_x = sorted(range(len(places)), key=lambda index: places[index].x)
    xs = [places[index].x for index in by_x]
    for one, place in enumerate(places):
        low, high = bisect_left(xs, place.x - reach_in), bisect_right(xs, place.x + reach_in)
        for other in sorted(by_x[low:high]):
            if other > one and math.dist(place, places[other]) <= reach_in:
                yield one, other
