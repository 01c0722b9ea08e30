"""Says where a face's (u, v) stands in space and which way it reads on paper, by the frame and not by cases.

::

        Y up                                 stand facing the front: X runs right, Z comes toward you
        |   +--------+
        |  /  top   /|
        | +--------+ |  right      u on top and bottom: +X     u on left and right: -Y
        | |        | |             v on every face: +Z, from the back edge to the front
        | |        | +
        | +--------+/
        +------------- X
"""

from __future__ import annotations

from templates_engine.geometry import Point
from templates_engine.job.model import Enclosure, Face, MarkFrom

Vector = tuple[float, float, float]

_U: dict[Face, Vector] = {
    Face.TOP: (1, 0, 0),
    Face.BOTTOM: (1, 0, 0),
    Face.LEFT: (0, -1, 0),
    Face.RIGHT: (0, -1, 0),
}
_V: Vector = (0, 0, 1)
_OUTWARD: dict[Face, Vector] = {
    Face.TOP: (0, 1, 0),
    Face.BOTTOM: (0, -1, 0),
    Face.LEFT: (-1, 0, 0),
    Face.RIGHT: (1, 0, 0),
}


def _cross(a: Vector, b: Vector) -> Vector:
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])


def _dot(a: Vector, b: Vector) -> float:
    return sum(p * q for p, q in zip(a, b, strict=True))


def u_runs_right(face: Face, mark_from: MarkFrom) -> bool:
    """Whether u grows to the right on a sheet whose top is the back edge, as the person taping it sees it.

    The sheet's own right is (its up) x (the direction toward the viewer); its up is -v.
    """
    toward_viewer = _OUTWARD[face] if mark_from is MarkFrom.OUTSIDE else _scaled(_OUTWARD[face], -1)
    right = _cross(_scaled(_V, -1), toward_viewer)
    return _dot(_U[face], right) > 0


def _scaled(a: Vector, factor: float) -> Vector:
    return (a[0] * factor, a[1] * factor, a[2] * factor)


def to_space(enclosure: Enclosure, face: Face, place: Point) -> Vector:
    """(u, v) on a face as (X, Y, Z) inches: X from the can's left, Y from its bottom, Z from the wall."""
    left, right, bottom, top = 0.0, enclosure.width_in, 0.0, enclosure.height_in
    corner: Vector = {
        Face.TOP: (left, top, enclosure.back_gap_in),
        Face.BOTTOM: (left, bottom, enclosure.back_gap_in),
        Face.LEFT: (left, top, enclosure.back_gap_in),
        Face.RIGHT: (right, top, enclosure.back_gap_in),
    }[face]
    along, out = _scaled(_U[face], place.x), _scaled(_V, place.y)
    return (corner[0] + along[0] + out[0], corner[1] + along[1] + out[1], corner[2] + along[2] + out[2])
