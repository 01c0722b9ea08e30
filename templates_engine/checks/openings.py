r"""Finds the shortest way between two round openings in the walls of a box, wherever those walls are.

::

        +----( a )----+        a, b: discs, each in the plane of its wall
        |      \      |        the way runs edge to edge
        |       \    (b)
        +-------------+
"""

from __future__ import annotations

import math

from templates_engine.values import Struct

Vector = tuple[float, float, float]

_ROUNDS = 400
"""Enough for the alternating projections below to settle to far under any tape."""


class Disc(Struct, frozen=True):
    """A filled circle in space; ``normal`` is a unit vector across its plane. Inches."""

    centre: Vector
    normal: Vector
    radius: float

    def nearest_to(self, point: Vector) -> Vector:
        """The disc's point nearest to another point."""
        away = _minus(point, self.centre)
        along = sum(p * q for p, q in zip(away, self.normal, strict=True))
        flat = _minus(away, _times(self.normal, along))
        length = math.hypot(*flat)
        if length > self.radius:
            flat = _times(flat, self.radius / length)
        return _plus(self.centre, flat)


def distance(one: Disc, other: Disc) -> float:
    """The distance between two discs, inches; by projecting to and fro, as both are convex."""
    there = other.centre
    for _ in range(_ROUNDS):
        here = one.nearest_to(there)
        there = other.nearest_to(here)
    return math.dist(one.nearest_to(there), there)


def _plus(a: Vector, b: Vector) -> Vector:
    return (a[0] + b[0], a[1] + b[1], a[2] + b[2])


def _minus(a: Vector, b: Vector) -> Vector:
    return (a[0] - b[0], a[1] - b[1], a[2] - b[2])


def _times(a: Vector, factor: float) -> Vector:
    return (a[0] * factor, a[1] * factor, a[2] * factor)
