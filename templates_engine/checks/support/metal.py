"""Measures between the holes of a face and its edges, its lips and one another.

::

      u = 0            flat metal             u = width
        +----+-----------------------------+----+   v = 0, back edge
        |    |          back lip           |    |
        |    +-----------------------------+    |
        |start         o  hole           |  end |
        |lip |                             | lip|
        |    +-----------------------------+    |
        |    |          front lip          |    |
        +----+-----------------------------+----+   v = depth
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from templates_engine.geometry import Circle, Interval, gap_between_circles
from templates_engine.job import fitted
from templates_engine.layout.model import FaceLayout, Hole


def flat_along(face: FaceLayout) -> Interval:
    """The stretch of u between the lips or side walls, inches."""
    return face.job.flat_u


def flat_across(face: FaceLayout) -> Interval:
    """The stretch of v between back lip or wall and front lip, inches."""
    return face.job.flat_v


def pairs(face: FaceLayout) -> Iterator[tuple[Hole, Hole]]:
    """Every two holes of a face, over all its rows."""
    return combinations(face.holes, 2)


def is_punched(hole: Hole) -> bool:
    """Whether a punch is used; at a concentric knockout a ring is knocked out instead."""
    return fitted.is_punched(hole.raceway)


def gap(one: Hole, other: Hole, one_diameter_in: float, other_diameter_in: float) -> float:
    """Clear distance between round things centred on two holes, inches; negative when they overlap."""
    return gap_between_circles(Circle(one.centre, one_diameter_in), Circle(other.centre, other_diameter_in))
