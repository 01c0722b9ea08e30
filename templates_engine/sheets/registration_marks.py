"""Places registration marks on a joint: on its line, far apart, clear of holes and rulers.

::

    start                                    end
      |----+-----------( hole )-----------+----|       both neighbours show every mark; laid one on the
          1-2a                           1-2b          other they put the later sheet in its place
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence

from templates_engine.geometry import Circle, Point, Rect
from templates_engine.sheets.model import RegistrationMark

END_CLEAR_IN = 0.60
"""From a mark to its joint's ends: others meet it there, and a name must be nearest its own mark."""
NEAR_END_IN = 0.35
"""At the least, where a mark would else stand inside a knockout."""
FACE_CLEAR_IN = 0.10
"""From a mark to the face's edges at the least: what lies past them is folded or cut off."""
HOLE_CLEAR_IN = 0.30
"""From a mark to a knockout circle and to a centre."""
EDGE_CLEAR_IN = 0.60
"""From a mark to the face's edges, whose rulers it would hide."""
LEAST_SHARE = 0.5
"""Two marks nearer than this share of their joint let a sheet turn."""
LEAST_SHARE_AT_HOLES = 0.2
"""Still better than a mark inside a knockout: line laid on line keeps a sheet straight too."""
MOST_APART_IN = 12.0
"""A longer stretch between two marks gets another between them, so that long paper does not bow."""
_TINY = 1e-9

_Test = Callable[[float], bool]


def marks_on(
    start: Point, end: Point, name: str, holes: Sequence[Circle], face: Rect
) -> tuple[RegistrationMark, ...]:
    """At least two marks on the joint from ``start`` to ``end``, named ``name`` with a letter.

    A mark inside a knockout could be punched for a centre, so that is the last wish but one to be given up.
    Wishes that leave no two places a good part of the joint apart are dropped: rulers first, then half the
    distance to the ends, then a good part, then holes, then their lines, then ends.
    """
    joint = _JointLine(start, end, face, holes)
    stops = sorted(set(joint.stops()))
    for wishes, clear_in, share in joint.tries():
        places = [
            along
            for along in stops
            if clear_in - _TINY <= along <= joint.length - clear_in + _TINY
            and all(wish(along) for wish in wishes)
        ]
        if places and max(places) - min(places) >= joint.length * share:
            spread = _spread(min(places), max(places), places, wishes)
            break
    else:
        spread = [joint.length / 4, joint.length * 3 / 4]
    return tuple(
        RegistrationMark(f"{name}{_letters(index)}", joint.at(along)) for index, along in enumerate(spread)
    )


class _JointLine:
    """A joint, level or upright and downward, and what a mark at a place along it would stand on."""

    def __init__(self, start: Point, end: Point, face: Rect, holes: Sequence[Circle]) -> None:
        self._start, self._end = start, end
        self._is_upright = start.x == end.x
        self.length = math.dist(start, end)
        self._near = [hole for hole in holes if self._aside(hole.centre) < hole.radius + HOLE_CLEAR_IN]
        corners = Point(face.left, face.top), Point(face.right, face.bottom)
        self._crossings = self._along(corners[0]), self._along(corners[1])
        """Where along the joint the face's two edges across it lie."""

    def at(self, along: float) -> Point:
        """The place so far along the joint."""
        start, end = self._start, self._end
        if self._is_upright:
            return Point(start.x, start.y + along * (end.y - start.y) / self.length)
        return Point(start.x + along * (end.x - start.x) / self.length, start.y)

    def _along(self, place: Point) -> float:
        """How far along the joint the foot of ``place`` lies."""
        return self._start.y - place.y if self._is_upright else place.x - self._start.x

    def _aside(self, place: Point) -> float:
        """How far ``place`` lies from the joint's line."""
        return abs(place.x - self._start.x) if self._is_upright else abs(place.y - self._start.y)

    def stops(self) -> Iterator[float]:
        """Places along the joint where a wish begins or ends to be met."""
        for clear_in in (END_CLEAR_IN, NEAR_END_IN):
            yield from (clear_in, self.length - clear_in)
        for hole in self._near:
            aside, along = self._aside(hole.centre), self._along(hole.centre)
            for reach in (hole.radius + HOLE_CLEAR_IN, hole.radius - HOLE_CLEAR_IN, HOLE_CLEAR_IN):
                if reach > aside:
                    half = math.sqrt(reach * reach - aside * aside)
                    yield from (along - half, along + half)
        for place in self._crossings:
            for reach in (EDGE_CLEAR_IN, FACE_CLEAR_IN):
                yield from (place - reach, place + reach)

    def tries(self) -> tuple[tuple[tuple[_Test, ...], float, float], ...]:
        """(wishes, least distance to the ends, least share of the joint between marks), the best first."""
        outside = (self._outside_holes, self._on_face)
        return (
            ((*outside, self._off_edges), END_CLEAR_IN, LEAST_SHARE),
            (outside, END_CLEAR_IN, LEAST_SHARE),
            (outside, NEAR_END_IN, LEAST_SHARE),
            (outside, NEAR_END_IN, LEAST_SHARE_AT_HOLES),
            ((self._off_lines, self._on_face), END_CLEAR_IN, LEAST_SHARE),
            ((), END_CLEAR_IN, LEAST_SHARE),
        )

    def _outside_holes(self, along: float) -> bool:
        """Whether a mark is clear of all of every knockout."""
        place = self.at(along)
        return all(
            math.dist(place, hole.centre) >= hole.radius + HOLE_CLEAR_IN - _TINY for hole in self._near
        )

    def _off_lines(self, along: float) -> bool:
        """Whether a mark is clear of all circles' lines and centres; it may stand in a large circle."""
        distances = ((math.dist(self.at(along), hole.centre), hole.radius) for hole in self._near)
        return all(min(far, abs(far - radius)) >= HOLE_CLEAR_IN - _TINY for far, radius in distances)

    def _off_edges(self, along: float) -> bool:
        return all(abs(along - place) >= EDGE_CLEAR_IN - _TINY for place in self._crossings)

    def _on_face(self, along: float) -> bool:
        first, last = self._crossings
        return first + FACE_CLEAR_IN - _TINY <= along <= last - FACE_CLEAR_IN + _TINY


def _spread(low: float, high: float, places: list[float], wishes: Sequence[_Test]) -> list[float]:
    """``low``, ``high`` and as many between as MOST_APART_IN asks, each moved to the nearest clear place."""
    pieces = math.ceil((high - low) / MOST_APART_IN - _TINY)
    chosen = [low]
    for index in range(1, pieces):
        wanted = low + (high - low) * index / pieces
        if not all(wish(wanted) for wish in wishes):
            wanted = min(places, key=lambda place: abs(place - wanted))
        if chosen[-1] < wanted < high:
            chosen.append(wanted)
    return [*chosen, high]


def _letters(index: int) -> str:
    """a, b, ... z, aa, ab, ..."""
    head = "" if index < 26 else _letters(index // 26 - 1)
    return head + chr(ord("a") + index % 26)
