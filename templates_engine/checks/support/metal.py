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

import math
from collections.abc import Iterator
from itertools import combinations, pairwise

from templates_engine.geometry import Circle, Interval, gap_between_circles
from templates_engine.job import fitted
from templates_engine.layout.model import FaceLayout, Hole

MOST_ASKED_IN = 1.0
"""More than any check asks for between two holes."""


def flat_along(face: FaceLayout) -> Interval:
    """The stretch of u between the lips or side walls, inches."""
    return face.job.flat_u


def flat_across(face: FaceLayout) -> Interval:
    """The stretch of v between back lip or wall and front lip, inches."""
    return face.job.flat_v


def pairs(face: FaceLayout, widest_in: float = 0.0) -> Iterator[tuple[Hole, Hole]]:
    """Every two holes of a face, over all its rows, that can be short of room or closest together.

    ``widest_in`` is the largest thing round a hole, where that is more than hole and raceway. Two holes
    farther apart along the face than this keeps have more room between them than any two next to each other
    along it, and more than any check asks for.
    """
    along = sorted(hole.centre for hole in face.holes)
    steps = (math.dist(one, other) for one, other in pairwise(along))
    widths = (max(hole.hole_diameter_in, hole.outside_diameter_most_in) for hole in face.holes)
    reach_in = max(steps, default=0.0) + max(widest_in, *widths, 0.0) + MOST_ASKED_IN
    return (
        (one, other)
        for one, other in combinations(face.holes, 2)
        if -reach_in <= one.u_in - other.u_in <= reach_in
    )


def is_punched(hole: Hole) -> bool:
    """Whether a punch is used; at a concentric knockout a ring is knocked out instead."""
    return fitted.is_punched(hole.raceway)


def gap(one: Hole, other: Hole, one_diameter_in: float, other_diameter_in: float) -> float:
    """Clear distance between round things centred on two holes, inches; negative when they overlap."""
    return gap_between_circles(Circle(one.centre, one_diameter_in), Circle(other.centre, other_diameter_in))
