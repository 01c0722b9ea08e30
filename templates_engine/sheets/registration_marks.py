"""Places registration marks on a joint: on its line, far apart, clear of holes and rulers.

Drawing draws them.

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
    stops = sorted(
        {
            *(END_CLEAR_IN, joint.length - END_CLEAR_IN, NEAR_END_IN, joint.length - NEAR_END_IN),
            *_stops(start, end, joint.near, face),
        }
    )
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
    """A joint, and what a mark at a place along it would stand on."""

    def __init__(self, start: Point, end: Point, face: Rect, holes: Sequence[Circle]) -> None:
        self._start, self._end = start, end
        self.length = math.dist(start, end)
        self.near = [
            hole for hole in holes if _distance_to_line(hole.centre, start, end) < hole.radius + HOLE_CLEAR_IN
        ]
        self._crossings = _crossings(start, end, face)

    def at(self, along: float) -> Point:
        """The place so far along the joint."""
        start, end = self._start, self._end
        if start.x == end.x:
            return Point(start.x, start.y + along * (end.y - start.y) / self.length)
        return Point(start.x + along * (end.x - start.x) / self.length, start.y)

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
        return all(_is_outside(self.at(along), hole) for hole in self.near)

    def _off_lines(self, along: float) -> bool:
        return all(_is_off_lines(self.at(along), hole) for hole in self.near)

    def _off_edges(self, along: float) -> bool:
        return all(abs(along - place) >= EDGE_CLEAR_IN - _TINY for place in self._crossings)

    def _on_face(self, along: float) -> bool:
        first, last = self._crossings
        return first + FACE_CLEAR_IN - _TINY <= along <= last - FACE_CLEAR_IN + _TINY


def _is_outside(place: Point, hole: Circle) -> bool:
    """Whether a mark is clear of the whole knockout."""
    return math.dist(place, hole.centre) >= hole.radius + HOLE_CLEAR_IN - _TINY


def _is_off_lines(place: Point, hole: Circle) -> bool:
    """Whether a mark is clear of the circle's line and centre, though it may stand inside a large circle."""
    distance = math.dist(place, hole.centre)
    return distance >= HOLE_CLEAR_IN - _TINY and abs(distance - hole.radius) >= HOLE_CLEAR_IN - _TINY


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


def _stops(start: Point, end: Point, holes: Sequence[Circle], face: Rect) -> Iterator[float]:
    """Places along the joint where a wish begins or ends to be met."""
    for hole in holes:
        aside, along = _distance_to_line(hole.centre, start, end), _along(hole.centre, start, end)
        for reach in (hole.radius + HOLE_CLEAR_IN, hole.radius - HOLE_CLEAR_IN, HOLE_CLEAR_IN):
            if reach > aside:
                half = math.sqrt(reach * reach - aside * aside)
                yield from (along - half, along + half)
    for place in _crossings(start, end, face):
        for reach in (EDGE_CLEAR_IN, FACE_CLEAR_IN):
            yield from (place - reach, place + reach)


def _crossings(start: Point, end: Point, face: Rect) -> tuple[float, float]:
    """Where along the joint the face's two edges across it lie."""
    if start.x == end.x:
        return start.y - face.top, start.y - face.bottom
    return face.left - start.x, face.right - start.x


def _distance_to_line(place: Point, start: Point, end: Point) -> float:
    return abs(place.x - start.x) if start.x == end.x else abs(place.y - start.y)


def _along(place: Point, start: Point, end: Point) -> float:
    """How far along the joint the foot of ``place`` lies."""
    return start.y - place.y if start.x == end.x else place.x - start.x


def _letters(index: int) -> str:
    """a, b, ... z, aa, ab, ..."""
    head = "" if index < 26 else _letters(index // 26 - 1)
    return head + chr(ord("a") + index % 26)
