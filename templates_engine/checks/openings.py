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
        away = [p - c for p, c in zip(point, self.centre, strict=True)]
        along = sum(a * n for a, n in zip(away, self.normal, strict=True))
        flat = [a - n * along for a, n in zip(away, self.normal, strict=True)]
        length = math.hypot(*flat)
        share = self.radius / length if length > self.radius else 1.0
        x, y, z = (c + f * share for c, f in zip(self.centre, flat, strict=True))
        return x, y, z


def distance(one: Disc, other: Disc) -> float:
    """The distance between two discs, inches; by projecting to and fro, as both are convex."""
    there = other.centre
    for _ in range(_ROUNDS):
        here = one.nearest_to(there)
        there = other.nearest_to(here)
    return math.dist(one.nearest_to(there), there)
