"""Turns a row of a face into numbers: what each raceway needs and where it may stand; place_row.py places it.

::

    start edge                                                            end edge
      |<-lip->|<------------------------- flat --------------------->|<-lip->|
              |<-r->+ lowest centre       (keep-out)    highest centre +<-r->|     r = half the hole
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from functools import cached_property

from templates_engine.geometry import TOLERANCE_IN, Interval
from templates_engine.job.model import Centred, FaceJob, FromEdge, KeepOut, Row
from templates_engine.layout.hole_spec import HoleSpec
from templates_engine.layout.model import RowLine
from templates_engine.layout.row.allowed_places import forbidden_stretch, free_stretches
from templates_engine.layout.row.fitted_row import FittedRow
from templates_engine.layout.row.snap_grid import SnapGrid
from templates_engine.layout.row.spacing import Spacing, spacings_of
from templates_engine.units import LengthFormat
from templates_engine.values import Struct, replace


class GivenPlace(Struct, frozen=True):
    """A place given by the job, u in inches, and how it was given."""

    at_in: float
    words: str


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
    lengths: LengthFormat

    def id(self, index: int) -> str:
        return self.cuts[index].raceway.id

    @cached_property
    def grid(self) -> SnapGrid:
        """What the row snaps to."""
        return SnapGrid(self.row.snap_in)

    def centres_between(self, first: int, last: int) -> float:
        """The least distance from the centre of one raceway to that of a later one."""
        return sum(spacing.centres_in for spacing in self.spacings[first:last])

    # --- where a raceway may stand --------------------------------------------------------------------------

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

    def met_by(self, index: int, u_in: float, keep_out: KeepOut) -> Interval | None:
        """The stretch that a keep-out takes from this raceway, where the centre at ``u_in`` is in it."""
        taken = self.forbidden_by(index, keep_out)
        if taken is not None and taken.low + TOLERANCE_IN < u_in < taken.high - TOLERANCE_IN:
            return taken
        return None

    def allowed(self, index: int, grid: SnapGrid) -> tuple[Interval, ...]:
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

    # --- places that the job gives --------------------------------------------------------------------------

    @cached_property
    def given(self) -> dict[int, GivenPlace]:
        """Every raceway whose place the job gives; where it gives one two places, the pin."""
        return self.start | {
            index: GivenPlace(at_in, _pinned(cut.raceway.factory_knockout, self.lengths.say(at_in)))
            for index, cut in enumerate(self.cuts)
            if (at_in := cut.raceway.at_in) is not None
        }

    @cached_property
    def start(self) -> dict[int, GivenPlace]:
        """The end raceway that starts the row from an edge, at its place; empty for other placings.

        To its centre the job's distance is kept as written. To its near side, a row that snaps starts on the
        next graduation away from the edge.
        """
        placing, grid, face = self.row.placing, self.grid, self.face
        if not isinstance(placing, FromEdge) or not self.cuts:
            return {}
        is_at_start = placing.edge == "start"
        index = 0 if is_at_start else len(self.cuts) - 1
        distance_in = placing.distance_in + (self.cuts[index].reach_in if placing.to == "near side" else 0.0)
        at_in = distance_in if is_at_start else face.width_in - distance_in
        edge = face.face.start_edge if is_at_start else face.face.end_edge
        words = f"starts the row {self.lengths.say(placing.distance_in)} from the {edge} edge"
        if placing.to == "near side":
            at_in = grid.inches(grid.up(at_in) if is_at_start else grid.down(at_in))
            words += f" with its near side, centre at {self.lengths.say(at_in)}"
        return {index: GivenPlace(at_in, words)}

    # --- the same row otherwise -----------------------------------------------------------------------------

    def with_keep_outs(self, keep_outs: Sequence[KeepOut]) -> RowConstraints:
        """The same row on a face with these keep-outs alone."""
        return replace(self, keep_outs=tuple(keep_outs))

    def without_start(self) -> RowConstraints:
        """The same row free to start anywhere."""
        return replace(self, row=replace(self.row, placing=Centred()))

    def without_snap(self) -> RowConstraints:
        return replace(self, row=replace(self.row, snap_in=None))

    def without_pins(self, indexes: Collection[int]) -> RowConstraints:
        """The same row where these raceways may stand anywhere."""
        cuts = (
            replace(cut, raceway=replace(cut.raceway, at_in=None)) if index in indexes else cut
            for index, cut in enumerate(self.cuts)
        )
        return replace(self, cuts=tuple(cuts))


def row_constraints(
    face: FaceJob, row: FittedRow, line: RowLine, rooms_in: tuple[float, ...] | None = None
) -> RowConstraints:
    """A row of the face in numbers; without ``rooms_in`` only holes and raceways stay off keep-outs."""
    return RowConstraints(
        face,
        row.row,
        row.cuts,
        spacings_of(face, row, line),
        line,
        face.keep_outs,
        tuple(_limit_gap(row, index) for index in range(len(row.cuts))),
        rooms_in or tuple(cut.radius_in for cut in row.cuts),
        row.job.lengths,
    )


def _limit_gap(row: FittedRow, index: int) -> float:
    """What a raceway keeps from a limit of a spread row."""
    if row.row.gap != "fittings":
        return row.row.gap
    return row.fitted[index].beside_in if index in row.fitted else 0.0


def _pinned(knockout: str, at: str) -> str:
    return f"is in the factory knockout {knockout} at {at}" if knockout else f"is pinned at {at}"
