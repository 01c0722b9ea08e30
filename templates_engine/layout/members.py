"""A row of a face as numbers: what each raceway needs and where it may stand; where it does, row.py says.

::

    start edge                                                            end edge
      |<-lip->|<------------------------- flat --------------------->|<-lip->|
              |<-r->+ lowest centre       (keep-out)    highest centre +<-r->|     r = half the hole
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from templates_engine.geometry import Interval
from templates_engine.job.model import FaceJob, KeepOut, Row
from templates_engine.layout.allowed import forbidden, without
from templates_engine.layout.cut import Cut
from templates_engine.layout.spacing import Spacing, between


@dataclass(frozen=True)
class Members:
    """A row's raceways in order of u, with everything the search for their places needs.

    ``spacings[i]`` is between raceway i and i + 1.
    """

    face: FaceJob
    row: Row
    cuts: tuple[Cut, ...]
    spacings: tuple[Spacing, ...]
    back_line_in: float
    keep_outs: tuple[KeepOut, ...]

    def id(self, index: int) -> str:
        return self.cuts[index].raceway.id

    def flat(self, index: int) -> tuple[float, float]:
        """The lowest and highest centre, inches, that keep this hole on the flat; they may cross."""
        radius, lips = self.cuts[index].diameter_in / 2, self.face.lips
        return lips.start_in + radius, self.face.width_in - lips.end_in - radius

    def forbidden_by(self, index: int, keep_out: KeepOut) -> Interval | None:
        """The open stretch of u that a keep-out takes from this raceway's centre."""
        cut = self.cuts[index]
        return forbidden(cut.centre_v(self.back_line_in), cut.radius_in, keep_out)

    def allowed(self, index: int) -> tuple[Interval, ...]:
        """Where this raceway's centre may stand, its neighbours left aside."""
        low, high = self.flat(index)
        taken = (self.forbidden_by(index, keep_out) for keep_out in self.keep_outs)
        return without(low, high, (stretch for stretch in taken if stretch is not None))

    def centres_between(self, first: int, last: int) -> float:
        """The least distance from the centre of one raceway to that of a later one."""
        return sum(spacing.centres_in for spacing in self.spacings[first:last])

    def with_keep_outs(self, keep_outs: Sequence[KeepOut]) -> Members:
        """The same row on a face with these keep-outs alone."""
        return replace(self, keep_outs=tuple(keep_outs))


def members(face: FaceJob, row: Row, cuts: Sequence[Cut], back_line_in: float) -> Members:
    """Puts a row together; raises RowError when a gap cannot be worked out."""
    spacings = tuple(between(row, one, other) for one, other in pairwise(cuts))
    return Members(face, row, tuple(cuts), spacings, back_line_in, face.keep_outs)
