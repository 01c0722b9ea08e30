"""Finds room for the names on the lead page's reduced view; the sheets' words are placed by the words folder.

A candidate place is a rectangle. It is taken when it crosses no ring and touches no rectangle that is taken
already. What cannot be placed is left to the caller.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, field

from templates_engine.drawing.words.ink import CLEAR_IN
from templates_engine.drawing.words.places import is_nearest, places_round
from templates_engine.geometry import Circle, Rect

__all__ = ["CLEAR_IN", "Room", "first_free", "is_nearest", "places_round"]


@dataclass
class Room:
    """What stands on a drawing so far: rings (only their line is in the way) and rectangles (all of them
    is).
    """

    rings: list[Circle] = field(default_factory=list)
    taken: list[Rect] = field(default_factory=list)

    def near(self, area: Rect) -> Room:
        """Only what touches the area; a smaller room to search in."""
        rings = [ring for ring in self.rings if area.overlaps(_square(ring))]
        left, bottom, right, top = area.left, area.bottom, area.right, area.top
        return Room(
            rings,
            [
                rect
                for rect in self.taken
                if left < rect.right and rect.left < right and bottom < rect.top and rect.bottom < top
            ],
        )

    def is_free(self, rect: Rect, clear_in: float = CLEAR_IN) -> bool:
        """Whether words may fill the rectangle, with that much white round them."""
        grown = rect.grown(clear_in)
        return not any(map(grown.overlaps, self.taken)) and not any(
            _crosses(grown, ring) for ring in self.rings
        )

    def take(self, rect: Rect) -> None:
        self.taken.append(rect)


def first_free(room: Room, places: Iterable[Rect]) -> Rect | None:
    """The first of the places that is free, or None."""
    return next((place for place in places if room.is_free(place)), None)


def _square(ring: Circle) -> Rect:
    return Rect(*ring.centre, *ring.centre).grown(ring.radius)


def _crosses(rect: Rect, ring: Circle) -> bool:
    """Whether the ring's line passes through the rectangle: its nearest point is inside and its farthest
    outside.
    """
    cx, cy = ring.centre
    near = math.hypot(max(rect.left - cx, 0.0, cx - rect.right), max(rect.bottom - cy, 0.0, cy - rect.top))
    far = math.hypot(max(cx - rect.left, rect.right - cx), max(cy - rect.bottom, rect.top - cy))
    return near <= ring.radius <= far
