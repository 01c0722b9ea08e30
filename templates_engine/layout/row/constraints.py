"""Turns a row of a face into numbers: what each raceway needs and where it may stand; place_row.py places it.

::

    start edge                                                            end edge
      |<-lip->|<------------------------- flat --------------------->|<-lip->|
              |<-r->+ lowest centre       (keep-out)    highest centre +<-r->|     r = half the hole
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import cached_property
from itertools import pairwise

from templates_engine.geometry import Interval
from templates_engine.job.model import FaceJob, KeepOut, Row
from templates_engine.layout.hole_spec import HoleSpec
from templates_engine.layout.model import RowLine
from templates_engine.layout.row.allowed_places import forbidden_stretch, free_stretches
from templates_engine.layout.row.fitting_gaps import (
    FittedRaceway,
    RequiredSpacing,
    lug_side,
    pair_asks,
    side_by_side,
)
from templates_engine.layout.row.snap_grid import ANYWHERE, SnapGrid
from templates_engine.layout.row.spacing import Spacing, spacing_of
from templates_engine.layout.tolerance import TOLERANCE_IN
from templates_engine.values import Struct, replace


class RowConstraints(Struct, frozen=True, dict=True):
    """A row's raceways in order of u, with everything the search for their places needs.

    ``spacings[i]`` is between raceway i and i + 1; ``limit_gaps_in[i]`` is what raceway i keeps from a limit
    of a spread row; ``rooms_in[i]`` is how far its fittings reach, for keep-outs that give no clear distance.
    """

    face: FaceJob
    row: Row
    cuts: tuple[HoleSpec, ...]
    spacings: tuple[Spacing, ...]
    line: RowLine
    keep_outs: tuple[KeepOut, ...]
    limit_gaps_in: tuple[float, ...]
    rooms_in: tuple[float, ...]

    def id(self, index: int) -> str:
        return self.cuts[index].raceway.id

    def flat(self, index: int) -> tuple[float, float]:
        """The lowest and highest centre, inches, that keep this hole on the flat; they may cross."""
        radius, flat = self.cuts[index].diameter_in / 2, self.face.flat_u
        return flat.low + radius, flat.high - radius

    def forbidden_by(self, index: int, keep_out: KeepOut) -> Interval | None:
        """The open stretch of u that a keep-out takes from this raceway's centre."""
        cut = self.cuts[index]
        if keep_out.is_factory and cut.raceway.factory_knockout:
            return None  # the maker keeps them apart
        reach_in = self.rooms_in[index] if keep_out.clear_in is None else cut.radius_in
        return forbidden_stretch(cut.centre_v(self.line), reach_in, keep_out)

    def allowed(self, index: int, grid: SnapGrid = ANYWHERE) -> tuple[Interval, ...]:
        """Where this raceway's centre may stand, its neighbours left aside, in numbers of the grid."""
        cut = self.cuts[index]
        like = (
            cut.diameter_in,
            cut.radius_in,
            cut.centre_v(self.line),
            bool(cut.raceway.factory_knockout),
            self.rooms_in[index],
            grid.step_in,
        )
        if like not in self._allowed:
            low, high = self.flat(index)
            taken = (self.forbidden_by(index, keep_out) for keep_out in self.keep_outs)
            free = free_stretches(low, high, (stretch for stretch in taken if stretch is not None))
            self._allowed[like] = grid.inward(free)
        return self._allowed[like]

    @cached_property
    def _allowed(self) -> dict[tuple[float | None, ...], tuple[Interval, ...]]:
        """What was worked out already: the many raceways of a row are of few sizes."""
        return {}

    def centres_between(self, first: int, last: int) -> float:
        """The least distance from the centre of one raceway to that of a later one."""
        return sum(spacing.centres_in for spacing in self.spacings[first:last])

    def with_keep_outs(self, keep_outs: Sequence[KeepOut]) -> RowConstraints:
        """The same row on a face with these keep-outs alone."""
        return replace(self, keep_outs=tuple(keep_outs))


def row_constraints(
    face: FaceJob,
    row: Row,
    cuts: Sequence[HoleSpec],
    line: RowLine,
    fitted: Mapping[int, FittedRaceway],
    rooms_in: Sequence[float] | None = None,
) -> RowConstraints:
    """A row of a face with what each raceway needs and where it may stand.

    ``fitted`` holds the raceways whose gaps are worked out from fittings; without ``rooms_in`` only holes and
    raceways stay off keep-outs.
    """
    first, last = row is face.rows[0], row is face.rows[-1]
    lugs = {index: lug_side(one, face, line, first=first, last=last) for index, one in fitted.items()}

    def need(one: int, other: int) -> RequiredSpacing | None:
        if not all(pair_asks(row, index) for index in range(one, other)):
            return None
        return side_by_side(fitted[one], fitted[other], line, (lugs[one], lugs[other]))

    spacings = [
        spacing_of(row, one, other, need(index, index + 1))
        for index, (one, other) in enumerate(pairwise(cuts))
    ]
    most_in = max((2 * one.farthest_in + one.kept_in for one in fitted.values()), default=0.0)
    _clear_past_small_ones(spacings, need, most_in)
    limits, rooms = tuple(_limit_gaps(row, len(cuts), fitted)), rooms_in or [cut.radius_in for cut in cuts]
    return RowConstraints(face, row, tuple(cuts), tuple(spacings), line, face.keep_outs, limits, tuple(rooms))


def _limit_gaps(row: Row, count: int, fitted: Mapping[int, FittedRaceway]) -> Iterator[float]:
    """What each raceway keeps from a limit of a spread row."""
    for index in range(count):
        if row.gap != "fittings":
            yield row.gap
        else:
            yield fitted[index].beside_in if index in fitted else 0.0


def _clear_past_small_ones(
    spacings: list[Spacing], need: Callable[[int, int], RequiredSpacing | None], most_in: float
) -> None:
    """Widens the gaps round small raceways where the fittings on both sides of them would else meet.

    ``most_in`` is more than any two raceways need.
    """
    for first in range(len(spacings)):
        for last in range(first + 2, len(spacings) + 1):
            apart_in = sum(spacing.centres_in for spacing in spacings[first:last])
            if apart_in >= most_in:
                break
            far = need(first, last)
            lack_in = 0.0 if far is None else far.centres_in - apart_in
            if far is not None and lack_in > TOLERANCE_IN:
                share_in = lack_in / (last - first)
                spacings[first:last] = [one.widened(share_in, far) for one in spacings[first:last]]
