"""Fine lines that lead from a thing to its name where the name cannot stand at it."""

from __future__ import annotations

import math
from dataclasses import dataclass

from templates_engine.drawing.labels import Room
from templates_engine.geometry import Point, Rect

_STEP_IN, _HALF_IN, _CLEAR_IN = 0.05, 0.005, 0.01


@dataclass(frozen=True)
class Leader:
    """A line; ``parts`` are small squares along it, clear of its start."""

    start: Point
    tip: Point
    parts: tuple[Rect, ...]

    def is_clear(self, room: Room) -> bool:
        """Whether the line crosses nothing in the room."""
        return all(room.is_free(part, clear_in=_CLEAR_IN) for part in self.parts)


def leader(start: Point, tip: Point) -> Leader:
    """The line from one point to another."""
    length = math.dist(start, tip)
    count = max(int(length / _STEP_IN), 1)
    share = _STEP_IN / length if length else 0.0
    along = (
        Point(start.x + (tip.x - start.x) * share * number, start.y + (tip.y - start.y) * share * number)
        for number in range(1, count)
    )
    return Leader(start, tip, tuple(Rect(at.x, at.y, at.x, at.y).grown(_HALF_IN) for at in along))
