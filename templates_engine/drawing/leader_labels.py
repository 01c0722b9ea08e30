"""Sets names upright along an edge, each joined by a leader to its place, where there is no room beside it.

::

        A1 A2 A3 A4 A5 A6      names stand on end, evenly where they crowd
         \\  \\  |  /  /  /       leaders from the place to the name's foot
       ---o--o-o-o-o--o----    the edge, and the places
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Literal

from templates_engine.drawing.shapes import Line, Shape, Words
from templates_engine.drawing.style import HATCH, SMALL_CAPITAL_IN, SMALL_PT
from templates_engine.drawing.words import width_in
from templates_engine.geometry import Interval, Point
from templates_engine.values import Struct

FAN_IN = 0.22
"""From the edge to the names, for the leaders to spread in."""
CLEAR_IN = 0.035
"""White on each side of a name."""
MOST_TIERS = 4


class LeaderLabels(Struct, frozen=True):
    """Names in the order they stand along the edge, left to right, in one tier or several."""

    names: tuple[str, ...]
    places: tuple[Point, ...]
    feet: tuple[float, ...]
    """Where along the edge each name stands."""
    tiers: int

    @property
    def height_in(self) -> float:
        """Room it takes beyond the edge."""
        return FAN_IN + self.tiers * self._tier_in if self.names else 0.0

    @property
    def _tier_in(self) -> float:
        return max(width_in(name, SMALL_PT, True) for name in self.names) + 0.06

    def shapes(self, edge: float, way: Literal[1, -1]) -> Iterator[Shape]:
        """Its names above an edge (``way`` 1) or below it (-1); all read upward."""
        half = SMALL_CAPITAL_IN / 2
        for number, (name, place, foot) in enumerate(zip(self.names, self.places, self.feet, strict=True)):
            start = edge + way * FAN_IN
            tier = start + way * self._tier_in * (number % self.tiers)
            yield Line(place, Point(foot, start), HATCH, "frame")
            if tier != start:
                yield Line(Point(foot, start), Point(foot, tier), HATCH, "frame")
            length = width_in(name, SMALL_PT, True)
            base = tier + 0.03 if way > 0 else tier - 0.03 - length
            yield Words(Point(foot + half, base), (name,), SMALL_PT, bold=True, angle=90.0)


NO_LABELS = LeaderLabels((), (), (), 1)
"""For an edge along which no names stand."""


def upright_labels(named: Sequence[tuple[str, Point]], along: Interval) -> LeaderLabels | None:
    """The names along that stretch of an edge, in as few tiers as will do; None where they do not fit."""
    ordered = sorted(named, key=lambda one: (one[1].x, -one[1].y))
    names, places = tuple(name for name, _ in ordered), tuple(place for _, place in ordered)
    for tiers in range(1, MOST_TIERS + 1):
        pitch = _pitch(tiers)
        if len(names) * pitch <= along.high - along.low:
            feet = _spread([place.x for place in places], pitch, along)
            return LeaderLabels(names, places, tuple(feet), tiers)
    return None


def _pitch(tiers: int) -> float:
    """From one name to the next, which stands a tier further out: past a name the others' leaders run."""
    return (SMALL_CAPITAL_IN + 2 * CLEAR_IN + (tiers - 1) * CLEAR_IN) / tiers


def _spread(wanted: Sequence[float], pitch: float, along: Interval) -> list[float]:
    """Places at least a pitch apart, in order, within the stretch, as near to those wanted as may be.

    Neighbours that crowd are one block about the middle of what they want (least squares).
    """
    blocks: list[tuple[float, int]] = []  # (sum of the first place each member wants for the block, members)
    for number, at in enumerate(wanted):
        blocks.append((at - number * pitch, 1))
        while len(blocks) > 1 and blocks[-2][0] / blocks[-2][1] >= blocks[-1][0] / blocks[-1][1]:
            (one, few), (other, more) = blocks[-2:]
            blocks[-2:] = [(one + other, few + more)]
    low, high = along.low + pitch / 2, along.high - pitch / 2 - (len(wanted) - 1) * pitch
    starts = [max(low, min(total / count, high)) for total, count in blocks for _ in range(count)]
    return [start + number * pitch for number, start in enumerate(starts)]
