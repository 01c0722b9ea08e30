"""Gives a rule what it may look at: one face of a finished layout, the job, and what its raceways carry."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator
from functools import cached_property
from itertools import pairwise

from templates_engine.geometry import Circle, gap_between_circles, near_pairs
from templates_engine.job.model import Job
from templates_engine.layout.model import FaceLayout, Hole, Layout
from templates_engine.trade.conductors import is_at_least, rank
from templates_engine.units import LengthFormat
from templates_engine.values import Struct
from templates_engine.wiring import Conductors, Contents, RacewayContents

LARGE = "4"
"""The size from which bushings and pull boxes are ruled: 4 AWG (NEC 300.4(G), 314.28(A))."""

MOST_ASKED_IN = 1.0
"""More than any rule asks for between two holes."""


class HoleContents(Struct, frozen=True):
    """A hole and what its raceway carries, None where the job does not say."""

    hole: Hole
    contents: RacewayContents | None

    @property
    def has_large(self) -> bool | None:
        """Whether an insulated conductor of 4 AWG or larger, grounds too, is in it; None when unknown."""
        return self._has_large(("phase", "neutral", "ground"))

    @property
    def has_large_circuit(self) -> bool | None:
        """The same of circuit conductors alone, which a ground is none of (NEC 300.4(G))."""
        return self._has_large(("phase", "neutral"))

    def _has_large(self, uses: Collection[str]) -> bool | None:
        asked = (group for group in self.groups if group.use in uses and _is_insulated(group))
        if any(is_at_least(group.wire.size, LARGE) for group in asked):
            return True
        return None if self.missing else False

    @property
    def groups(self) -> tuple[Conductors, ...]:
        """The conductors that are known."""
        return () if self.contents is None else self.contents.groups

    @property
    def missing(self) -> tuple[str, ...]:
        """The inputs without which its conductors cannot be counted."""
        return ("circuits or conductors",) if self.contents is None else self.contents.missing

    @property
    def largest(self) -> str | None:
        """The size of the largest conductor that comes to a terminal, None when it is not known."""
        if self.contents is None or self.contents.missing:
            return None
        return max((wire.size for wire in self.contents.phase_wires), key=rank, default=None)


def _is_insulated(group: Conductors) -> bool:
    """Bare grounds do not count for 314.28(A), which speaks of conductors that must be insulated."""
    return not group.wire.insulation.lower().startswith("bare")


class CheckedFace(Struct, frozen=True, dict=True):
    """One face of a layout, and all else a rule may ask."""

    layout: Layout
    face: FaceLayout
    contents: Contents

    @property
    def job(self) -> Job:
        return self.layout.job

    @property
    def word(self) -> str:
        """The face's word."""
        return self.face.job.face.value

    @property
    def lengths(self) -> LengthFormat:
        """How lengths are said to this job's reader."""
        return self.job.lengths

    @cached_property
    def hole_contents(self) -> tuple[HoleContents, ...]:
        """Every hole of the face with what it carries."""
        return tuple(HoleContents(hole, self.contents.get((self.word, hole.id))) for hole in self.face.holes)

    @property
    def to_opposite_wall_in(self) -> float:
        """From this face's wall to the one opposite, by the enclosure's nominal size."""
        enclosure = self.job.enclosure
        return enclosure.width_in if self.face.job.face.is_side else enclosure.height_in

    def at(self, face: FaceLayout) -> CheckedFace:
        """Another face of the same layout."""
        return CheckedFace(self.layout, face, self.contents)

    def pairs(self, widest_in: float = 0.0) -> Iterator[tuple[Hole, Hole]]:
        """Every two holes of the face, over all its rows, that can be short of room or closest together.

        ``widest_in`` is the largest thing round a hole, where that is more than hole and raceway. Two holes
        farther apart than this keeps have more room between them than the closest two that stand next to each
        other along the face, and more than any rule asks for.
        """
        holes = self.face.holes
        centres = [hole.centre for hole in holes]
        steps = (math.dist(one, other) for one, other in pairwise(sorted(centres)))
        widths = (max(hole.hole_diameter_in, hole.outside_diameter_most_in) for hole in holes)
        reach_in = min(steps, default=0.0) + max(widest_in, *widths, 0.0) + MOST_ASKED_IN
        return ((holes[one], holes[other]) for one, other in near_pairs(centres, reach_in))

    def to_edges(self, hole: Hole, radius_in: float) -> Iterator[tuple[str, float]]:
        """Each edge's word and how much flat metal stays between it and a circle round a hole.

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
        along, across, words = self.face.job.flat_u, self.face.job.flat_v, self.face.job.face
        yield "back", hole.v_in - radius_in - across.low
        yield "front", across.high - hole.v_in - radius_in
        yield words.start_edge, hole.u_in - radius_in - along.low
        yield words.end_edge, along.high - hole.u_in - radius_in


def gap(one: Hole, other: Hole, one_diameter_in: float, other_diameter_in: float) -> float:
    """Clear distance between round things centred on two holes, inches; negative when they overlap."""
    return gap_between_circles(Circle(one.centre, one_diameter_in), Circle(other.centre, other_diameter_in))
