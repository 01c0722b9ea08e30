"""Finds room for words beside circles and lines, so that nothing printed crosses anything else; tries
places in order.

A candidate place is a rectangle. It is taken when it crosses no ring, covers no line, and touches no
rectangle that is
taken already. What cannot be placed is left to the caller.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable
from dataclasses import dataclass, field

from templates_engine.geometry import Circle, Rect

FARTHEST_IN = 2.30
"""From a circle to the farthest place for its words."""
CLEAR_IN = 0.04
"""White left between words and anything else."""


@dataclass
class Room:
    """What stands on a drawing so far: rings (only their line is in the way) and rectangles (all of them
    is).
    """

    rings: list[Circle] = field(default_factory=list)
    taken: list[Rect] = field(default_factory=list)
    keep_outs: list[Rect] = field(default_factory=list)
    """Where no words of a hole may stand, though words about the paper may."""
    names: dict[tuple[str, int], Rect] = field(default_factory=dict)
    """Where the names of registration marks stand, by mark and sheet."""
    joint_words: dict[tuple[int, int, int], tuple[str, Rect]] = field(default_factory=dict)
    """What to do at a joint and where that stands, by the joint's first and second sheet and the sheet."""
    tape: dict[tuple[int, int], tuple[Rect, ...]] = field(default_factory=dict)
    """Where pieces of tape go across a joint, by its first and second sheet."""
    bars: dict[int, Rect] = field(default_factory=dict)
    """Strips for upright scale bars over the face, by sheet; none where pages keep a strip beside it."""

    def near(self, area: Rect) -> Room:
        """Only what touches the area; a smaller room to search in."""
        left, bottom, right, top = area.left, area.bottom, area.right, area.top
        rings = []
        for ring in self.rings:
            (x, y), radius = ring.centre, ring.diameter / 2
            if left < x + radius and x - radius < right and bottom < y + radius and y - radius < top:
                rings.append(ring)

        def touching(rects: list[Rect]) -> list[Rect]:
            return [  # written out, like is_free: a long face asks this of a hundred thousand rectangles
                rect
                for rect in rects
                if left < rect.right and rect.left < right and bottom < rect.top and rect.bottom < top
            ]

        return Room(rings, touching(self.taken), touching(self.keep_outs))

    def on_paper(self) -> Room:
        """The room as words about the paper see it, which may stand in a keep-out."""
        return Room(self.rings, self.taken)

    def foreign(self, sheets: Collection[int]) -> set[Rect]:
        """What is taken but shown on no page of those sheets: names, words and bars of others."""
        return {
            *(rect for (_, number), rect in self.names.items() if number not in sheets),
            *(rect for (*_, number), (_, rect) in self.joint_words.items() if number not in sheets),
            *(rect for number, rect in self.bars.items() if number not in sheets),
        }

    def without(self, rects: Collection[Rect]) -> Room:
        """The room as if nothing stood in those rectangles."""
        return Room(self.rings, [rect for rect in self.taken if rect not in rects], self.keep_outs)

    def without_lines(self, upright: bool, places: Collection[float]) -> Room:
        """The room without the upright or level lines at those places; for words such a line does not cut."""

        def is_one(rect: Rect) -> bool:
            if upright:
                return rect.width == 0 and rect.left in places
            return rect.height == 0 and rect.bottom in places

        return Room(self.rings, [rect for rect in self.taken if not is_one(rect)], self.keep_outs)

    def is_free(self, rect: Rect, clear_in: float = CLEAR_IN) -> bool:
        """Whether words may fill the rectangle, with that much white round them."""
        left, bottom, right, top = (
            rect.left - clear_in,
            rect.bottom - clear_in,
            rect.right + clear_in,
            rect.top + clear_in,
        )
        for taken in (self.taken, self.keep_outs):
            for other in taken:  # written out: this is asked tens of thousands of times for a long face
                if left < other.right and other.left < right and bottom < other.top and other.bottom < top:
                    return False
        for ring in self.rings:
            (x, y), radius = ring.centre, ring.diameter / 2
            is_off = left - x > radius or x - right > radius or bottom - y > radius or y - top > radius
            if not is_off and _crosses(Rect(left, bottom, right, top), ring):
                return False
        return True

    def take(self, rect: Rect) -> None:
        self.taken.append(rect)

    def take_bar(self, sheet: int, strip: Rect) -> None:
        """Keeps the strip of a sheet's upright bar free."""
        self.bars[sheet] = strip
        self.take(strip)


def is_nearest(rect: Rect, own: Circle, others: Iterable[Circle]) -> bool:
    """Whether words there belong to ``own`` at a glance: no other circle's line is nearer to their middle."""
    middle = (rect.left + rect.right) / 2, (rect.bottom + rect.top) / 2
    off_own = math.dist(middle, own.centre) - own.radius
    for other in others:
        if math.dist(middle, other.centre) - other.diameter / 2 <= off_own and other.centre != own.centre:
            return False
    return True


def first_free(room: Room, places: Iterable[Rect]) -> Rect | None:
    """The first of the places that is free, or None."""
    return next((place for place in places if room.is_free(place)), None)


def places_round(
    circle: Circle, width: float, height: float, arm: float, farthest: float = FARTHEST_IN
) -> Iterable[Rect]:
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
            yield _corner_rect(x + sx * inset, y + sy * inset, sx, sy, width, height)
    radius = circle.radius
    for further in (0.05, 0.15, 0.30, 0.50, 0.80, 1.20, 1.70, FARTHEST_IN):
        if further > farthest:
            return
        diagonal = (radius + further) / math.sqrt(2)
        for sx, sy in corners:
            yield _corner_rect(x + sx * diagonal, y + sy * diagonal, sx, sy, width, height)
        for sx, sy in corners:
            yield _corner_rect(x + sx * 0.08, y + sy * (radius + further), sx, sy, width, height)
            yield _corner_rect(x + sx * (radius + further), y + sy * 0.08, sx, sy, width, height)
        for sy in (-1, 1):
            yield _corner_rect(x - width / 2, y + sy * (radius + arm + further), 1, sy, width, height)


def _corner_rect(x: float, y: float, sx: int, sy: int, width: float, height: float) -> Rect:
    """The rectangle that has (x, y) as the corner nearest the circle and reaches out in the directions
    given.
    """
    left = x if sx > 0 else x - width
    bottom = y if sy > 0 else y - height
    return Rect(left, bottom, left + width, bottom + height)


def _crosses(rect: Rect, ring: Circle) -> bool:
    """Whether the ring's line passes through the rectangle: its nearest point is inside and its farthest
    outside.
    """
    cx, cy = ring.centre
    near = math.hypot(max(rect.left - cx, 0.0, cx - rect.right), max(rect.bottom - cy, 0.0, cy - rect.top))
    far = math.hypot(max(cx - rect.left, rect.right - cx), max(cy - rect.bottom, rect.top - cy))
    return near <= ring.radius <= far
