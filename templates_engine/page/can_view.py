"""Draws the can in space with one face of it hatched, so that nobody takes left for right.

The front is drawn true, the depth runs away to that side from which the face can be seen.
"""

from __future__ import annotations

import math

from templates_engine.geometry import Point
from templates_engine.job.model import Enclosure, Face
from templates_engine.layout.frame import to_space
from templates_engine.layout.model import FaceLayout, Hole, Layout
from templates_engine.values import Struct

_AWAY = 0.5
"""How long a length in depth is drawn."""
_ROUND = 20
"""Sides of a circle in space."""

_ROUND_A_WALL = ((0, 0), (1, 0), (1, 1), (0, 1))
"""The corners of a wall in order, as shares of its two lengths."""

Pair = tuple[float, float]


class CanView(Struct, frozen=True):
    """Polygons of (x, y), y downward, each scaled to a drawing 100 wide."""

    outline: tuple[tuple[Pair, ...], ...]
    """The walls that can be seen: front, one side, top or bottom."""
    hidden: tuple[tuple[Pair, Pair], ...]
    """Edges behind them."""
    face: tuple[Pair, ...]
    holes: tuple[tuple[Pair, ...], ...]
    front: Pair
    """Where the word FRONT stands."""
    back: tuple[Pair, Pair]
    """An edge of the back, for the word WALL."""
    width: float
    height: float


def can_view(layout: Layout, face: FaceLayout) -> CanView:
    """The can of a layout with one of its faces."""
    can = layout.job.enclosure
    sees_left, sees_bottom = face.job.face is Face.LEFT, face.job.face is Face.BOTTOM
    draw = _Projection(can, -1.0 if sees_left else 1.0, 1.0 if sees_bottom else -1.0)
    corners = {
        (x, y, z): draw(x * can.width_in, y * can.height_in, z * can.depth_in)
        for x in (0, 1)
        for y in (0, 1)
        for z in (0, 1)
    }
    side, level = (0 if sees_left else 1), (0 if sees_bottom else 1)
    front = tuple(corners[x, y, 1] for x, y in _ROUND_A_WALL)
    flank = tuple(corners[side, y, z] for y, z in _ROUND_A_WALL)
    cover = tuple(corners[x, level, z] for x, z in _ROUND_A_WALL)
    far = corners[1 - side, 1 - level, 0]
    ends = ((side, 1 - level, 0), (1 - side, level, 0), (1 - side, 1 - level, 1))
    wide, deep = face.job.width_in, face.job.depth_in
    view = CanView(
        outline=(front, flank, cover),
        hidden=tuple((far, corners[end]) for end in ends),
        face=tuple(draw(*_in_space(layout, face, Point(u * wide, v * deep))) for u, v in _ROUND_A_WALL),
        holes=tuple(_round_hole(draw, layout, face, hole) for hole in face.holes),
        front=((front[0][0] + front[2][0]) / 2, (front[0][1] + front[2][1]) / 2),
        back=(corners[0, level, 0], corners[1, level, 0]),
        width=1.0,
        height=1.0,
    )
    return _fitted(view, [point for wall in (front, flank, cover) for point in wall] + [far])


def _round_hole(draw: _Projection, layout: Layout, face: FaceLayout, hole: Hole) -> tuple[Pair, ...]:
    """A hole's circle as a polygon of the drawing."""
    places = (_on_circle(hole.centre, hole.hole_diameter_in / 2, turn) for turn in range(_ROUND))
    return tuple(draw(*_in_space(layout, face, place)) for place in places)


class _Projection(Struct, frozen=True):
    """Oblique: the front true, depth away to one side and up or down."""

    can: Enclosure
    to_right: float
    down: float

    def __call__(self, x: float, y: float, z: float) -> Pair:
        away = (self.can.depth_in - z) * _AWAY
        return x + self.to_right * away, -y + self.down * away


def _in_space(layout: Layout, face: FaceLayout, place: Point) -> tuple[float, float, float]:
    """(u, v) as (X, Y, Z) from the can's own back."""
    x, y, z = to_space(layout.job.enclosure, face.job.face, place)
    return x, y, z - layout.job.enclosure.back_gap_in


def _on_circle(centre: Point, radius: float, turn: int) -> Point:
    angle = 2 * math.pi * turn / _ROUND
    return Point(centre.x + radius * math.cos(angle), centre.y + radius * math.sin(angle))


def _fitted(view: CanView, shown: list[Pair]) -> CanView:
    """The same moved and scaled, 100 wide or 100 high, whichever is more."""
    left, top = min(x for x, _ in shown), min(y for _, y in shown)
    wide, high = max(x for x, _ in shown) - left, max(y for _, y in shown) - top
    scale = 100.0 / max(wide, high)

    def at(point: Pair) -> Pair:
        return round((point[0] - left) * scale, 2), round((point[1] - top) * scale, 2)

    return CanView(
        outline=tuple(tuple(map(at, wall)) for wall in view.outline),
        hidden=tuple((at(a), at(b)) for a, b in view.hidden),
        face=tuple(map(at, view.face)),
        holes=tuple(tuple(map(at, hole)) for hole in view.holes),
        front=at(view.front),
        back=(at(view.back[0]), at(view.back[1])),
        width=wide * scale,
        height=high * scale,
    )
