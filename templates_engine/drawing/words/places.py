"""Yields places for blocks of words, best first: round a circle, along a line, farther off."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from functools import cache

from templates_engine.drawing.words.ink import CLEAR_IN
from templates_engine.geometry import Circle, Interval, Point, Rect
from templates_engine.values import Struct

FARTHEST_IN = 2.30
"""From a circle to the farthest place for its words without a leader."""
LED_IN = 3.0
"""From a thing to the farthest place that a leader may lead to."""
_STEP_IN = 0.2
SLID_IN, _SLIDE_IN = 1.2, 0.1
"""From a circle to the farthest place found in small steps, and the steps."""


def is_nearest(rect: Rect, own: Circle, others: Iterable[Circle]) -> bool:
    """Whether words there belong to ``own`` at a glance: no other circle's line is nearer to their middle."""
    x, y = rect.middle
    off_own = math.hypot(x - own.centre.x, y - own.centre.y) - own.diameter / 2
    for centre, diameter in others:  # asked a hundred thousand times for a crowded face
        if math.hypot(x - centre.x, y - centre.y) - diameter / 2 <= off_own and centre != own.centre:
            return False
    return True


def places_round(
    circle: Circle, width: float, height: float, arm: float, farthest: float = FARTHEST_IN
) -> Iterator[Rect]:
    """Places for a block of words at a circle with cross-lines: in its quadrants, then outside, nearest
    first.

    ``arm`` is how far the cross-lines run past the circle; none lies more than about ``farthest`` off it.

    ::

              |  3 |          quadrants inside: front right, front left, back right, back left;
           ---+----+---       outside the same four corners, then below, above and beside the arms
              |    |
    """
    x, y = circle.centre
    corners = ((1, -1), (-1, -1), (1, 1), (-1, 1))
    for sx, sy in corners:
        for inset in (0.08, 0.12, 0.18):
            yield _corner_rect((x + sx * inset, y + sy * inset), (sx, sy), width, height)
    radius = circle.radius
    for further in (0.05, 0.15, 0.30, 0.50, 0.80, 1.20, 1.70, FARTHEST_IN):
        if further > farthest:
            return
        diagonal = (radius + further) / math.sqrt(2)
        for sx, sy in corners:
            yield _corner_rect((x + sx * diagonal, y + sy * diagonal), (sx, sy), width, height)
        for sx, sy in corners:
            yield _corner_rect((x + sx * 0.08, y + sy * (radius + further)), (sx, sy), width, height)
            yield _corner_rect((x + sx * (radius + further), y + sy * 0.08), (sx, sy), width, height)
        for sy in (-1, 1):
            yield _corner_rect((x - width / 2, y + sy * (radius + arm + further)), (1, sy), width, height)


def _corner_rect(corner: tuple[float, float], out: tuple[int, int], width: float, height: float) -> Rect:
    """The rectangle with the corner nearest the circle that reaches out in the directions given."""
    left = corner[0] if out[0] > 0 else corner[0] - width
    bottom = corner[1] if out[1] > 0 else corner[1] - height
    return Rect(left, bottom, left + width, bottom + height)


def places_round_in_steps(circle: Circle, width: float, height: float) -> Iterator[Rect]:
    """Places outside the circle in small steps all round it, nearest first."""
    x, y = circle.centre
    for left, bottom in _steps_round(round(circle.radius, 3), round(width, 2), round(height, 2)):
        yield Rect(x + left, y + bottom, x + left + width, y + bottom + height)


@cache
def _steps_round(radius: float, width: float, height: float) -> tuple[tuple[float, float], ...]:
    """Lower left corners about the circle's centre, those with least white between first."""
    found = []
    far = radius + SLID_IN
    for column in range(math.ceil((far + width) / _SLIDE_IN) + math.floor(far / _SLIDE_IN) + 1):
        left = -far - width + column * _SLIDE_IN
        for row in range(math.ceil((far + height) / _SLIDE_IN) + math.floor(far / _SLIDE_IN) + 1):
            bottom = -far - height + row * _SLIDE_IN
            near = math.hypot(max(left, 0.0, -left - width), max(bottom, 0.0, -bottom - height))
            if radius + CLEAR_IN < near < far:
                # Of places as near, those right under or beside the hole are read best.
                aside = math.hypot(left + width / 2, bottom + height / 2)
                found.append((round(near + aside / 4, 3), left, bottom))
    return tuple((left, bottom) for _, left, bottom in sorted(found))


def places_within(area: Rect, width: float, height: float, near: Point) -> Iterator[Rect]:
    """A grid of places over an area, those with their middle nearest to a point first."""
    for dx, dy in offsets(round(LED_IN / _STEP_IN), _STEP_IN):
        x, y = near.x + dx, near.y + dy
        if area.left <= x <= area.right and area.bottom <= y <= area.top:  # most are not; quick to say
            place = Rect(x - width / 2, y - height / 2, x + width / 2, y + height / 2)
            if area.contains(place):
                yield place


@cache
def offsets(count: int, step: float) -> tuple[tuple[float, float], ...]:
    """``count`` steps away from a point on all sides, nearest first."""
    steps = range(-count, count + 1)
    found = ((dx * step, dy * step) for dx in steps for dy in steps)
    return tuple(sorted(found, key=lambda one: math.hypot(*one)))


class LineSide(Struct, frozen=True):
    """One side of a level or upright line: above or left of it, or ``is_after`` it, below or right."""

    line: Rect
    is_after: bool
    ends_in: float = 0.0
    """What is left free at either end."""
    step_in: float = 0.1
    is_from_start: bool = False
    """Whether the best place is at the start of the line, not in its middle."""

    @property
    def along(self) -> Interval:
        """Where the line begins and ends."""
        return self.along_of(self.line)

    def along_of(self, rect: Rect) -> Interval:
        """Where something beside the line begins and ends."""
        if self.line.width == 0:
            return Interval(rect.bottom, rect.top)
        return Interval(rect.left, rect.right)

    def places(self, along: float, across: float, gap: float) -> Iterator[Rect]:
        """Those ``gap`` off it for something so long and so thick, the best first."""
        low, high = self.along.low + self.ends_in, self.along.high - self.ends_in
        count = math.floor((high - low - along) / self.step_in + 1e-9) + 1
        starts = [low + index * self.step_in for index in range(max(count, 0))]
        wanted = self.along.low if self.is_from_start else (self.along.low + self.along.high) / 2
        for start in sorted(starts, key=lambda start: abs(start + along / 2 - wanted)):
            yield self._place(along, across, start, gap)

    def _place(self, along: float, across: float, start: float, gap: float) -> Rect:
        line = self.line
        if line.width == 0:
            left = line.left + gap if self.is_after else line.left - gap - across
            return Rect(left, start, left + across, start + along)
        bottom = line.bottom - gap - across if self.is_after else line.bottom + gap
        return Rect(start, bottom, start + along, bottom + across)
