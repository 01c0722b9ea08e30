"""Turns a solved face into numbers for a drawing on a screen: as one stands before it, the wall at the top.

Places are inches: x to the right, y downward from the can's back edge, so that y is the face's own v.

::

      y < 0     wall ============================
      y = 0          +-- back edge -------------+
                     |    ( )      ( )          |       x = u, or the face's width less u where the sheet
      y = depth      +-- front edge ------------+       for this side is mirrored
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

from templates_engine.geometry import Point, Rect
from templates_engine.job.model import FaceJob, KeepOut
from templates_engine.layout.frame import u_runs_right
from templates_engine.layout.model import FaceLayout, Hole, Layout, PlacedRow
from templates_engine.units import MM_PER_INCH, LengthFormat
from templates_engine.values import Struct

MARGIN_IN = 0.9
"""Room round the face at the least, for words."""
LETTERS_ACROSS = 62
"""How many letters' heights make the width of the drawing: the size of its words."""


class HoleView(Struct, frozen=True):
    """One hole: its circle, its raceway's outside, and what is said of it."""

    id: str
    x: float
    y: float
    radius: float
    body_radius: float
    raceway_name: str
    from_start: str
    from_back: str
    exact: str
    hole: str
    pilot: str
    to: str
    entry: str
    """The raceway's entry in the job file, "faces[1].rows[1].raceways[2]"."""
    nth: int
    """Which of the entry's raceways it is, counted from 0."""
    is_pinned: bool
    bushing: str


class GapView(Struct, frozen=True):
    """The clear gap between two neighbours, at the middle of it."""

    x: float
    y: float
    words: str
    width: float
    pair: tuple[str, str]


class KeepOutView(Struct, frozen=True):
    """A keep-out as its rectangle, round where it is a circle, and how far things stay away; ``label`` is its
    name where no hole stands in its middle.
    """

    name: str
    label: str
    x: float
    y: float
    width: float
    height: float
    clear: float
    is_round: bool


class RowView(Struct, frozen=True):
    """The line a row stands on, and the strut it stands for."""

    name: str
    y: float
    words: str
    strut_top: float | None
    """Where the strut begins, at the wall; None without strut."""


class FaceView(Struct, frozen=True):
    """All that is drawn of a face."""

    word: str
    side: str
    width: float
    depth: float
    wall: float
    """y of the wall: the back gap, above the back edge."""
    left_word: str
    right_word: str
    start_is_left: bool
    lips: tuple[tuple[str, float, float, float, float], ...]
    """(edge, x, y, width, height) of each lip."""
    keep_outs: tuple[KeepOutView, ...]
    rows: tuple[RowView, ...]
    holes: tuple[HoleView, ...]
    gaps: tuple[GapView, ...]
    letter: float
    """Height of the words, inches on the drawing."""
    step: float
    """The tape's graduation, to which a dragged hole keeps, inches."""
    unit: str

    @property
    def box(self) -> tuple[float, float, float, float]:
        """The drawing's own corner and size: x, y, width, height."""
        side = max(MARGIN_IN, 3.2 * self.letter)
        top = self.wall - 2.2 * self.letter
        bottom = self.depth + 8.5 * self.letter
        return -side, top, self.width + 2 * side, bottom - top


def letter_height_in(width_in: float) -> float:
    """The height of the words on the drawing of a face so wide, inches."""
    return max(width_in, 8.0) / LETTERS_ACROSS


def face_view(layout: Layout, face: FaceLayout) -> FaceView:
    """The drawing of one face, seen from the side it is marked from."""
    job, lengths = face.job, layout.job.lengths
    to_right = u_runs_right(job.face, job.mark_from)
    edges = (job.face.start_edge, job.face.end_edge)
    left_word, right_word = edges if to_right else edges[::-1]
    gap_in = layout.job.enclosure.back_gap_in
    turn = _Turn(job, to_right)
    return FaceView(
        word=job.face.value,
        side=job.mark_from.value,
        width=job.width_in,
        depth=job.depth_in,
        wall=-gap_in,
        left_word=left_word,
        right_word=right_word,
        start_is_left=to_right,
        lips=tuple(_lips(job, turn)),
        keep_outs=tuple(_keep_out(one, face, turn) for one in job.keep_outs),
        rows=tuple(_row(row, gap_in) for row in face.rows),
        holes=tuple(_holes(face, turn, lengths)),
        gaps=tuple(_gaps(face, turn, lengths)),
        letter=letter_height_in(job.width_in),
        step=1.0 / layout.job.denominator if layout.job.unit == "in" else 1.0 / MM_PER_INCH,
        unit=layout.job.unit,
    )


class _Turn(Struct, frozen=True):
    """How u runs on the drawing."""

    job: FaceJob
    to_right: bool

    def x(self, u: float) -> float:
        return u if self.to_right else self.job.width_in - u

    def rect(self, u_low: float, u_high: float, v_low: float, v_high: float) -> Rect:
        xs = sorted((self.x(u_low), self.x(u_high)))
        return Rect(xs[0], v_low, xs[1], v_high)


def _lips(job: FaceJob, turn: _Turn) -> Iterator[tuple[str, float, float, float, float]]:
    lips, width, depth = job.lips, job.width_in, job.depth_in
    spans = (
        ("back", lips.back_in, (0.0, width, 0.0, lips.back_in)),
        ("front", lips.front_in, (0.0, width, depth - lips.front_in, depth)),
        (job.face.start_edge, lips.start_in, (0.0, lips.start_in, 0.0, depth)),
        (job.face.end_edge, lips.end_in, (width - lips.end_in, width, 0.0, depth)),
    )
    for edge, lip, span in spans:
        if lip > 0:
            area = turn.rect(*span)
            yield edge, area.left, area.bottom, area.width, area.height


def _keep_out(one: KeepOut, face: FaceLayout, turn: _Turn) -> KeepOutView:
    area = turn.rect(one.u_low_in, one.u_high_in, one.v_low_in, one.v_high_in)
    is_round = one.diameter_in is not None
    clear = one.clear_in or 0.0
    middle = Point((one.u_low_in + one.u_high_in) / 2, (one.v_low_in + one.v_high_in) / 2)
    is_round_a_hole = any(math.dist(middle, hole.centre) < hole.hole_diameter_in / 2 for hole in face.holes)
    label = "" if is_round_a_hole else one.name
    return KeepOutView(one.name, label, area.left, area.bottom, area.width, area.height, clear, is_round)


def _row(row: PlacedRow, gap_in: float) -> RowView:
    stands_on_strut = row.row.strut is not None and row.line.through == "backs"
    words = f"{row.line.whose}, {row.line.words}"
    return RowView(row.row.name, row.line.at_in, words, -gap_in if stands_on_strut else None)


def _holes(face: FaceLayout, turn: _Turn, lengths: LengthFormat) -> Iterator[HoleView]:
    seen: dict[str, int] = {}
    for hole in face.holes:
        entry = hole.raceway.place.key
        nth = seen.get(entry, 0)
        seen[entry] = nth + 1
        yield _hole(hole, nth, turn, lengths)


def _hole(hole: Hole, nth: int, turn: _Turn, lengths: LengthFormat) -> HoleView:
    start = turn.job.face.start_edge
    return HoleView(
        id=hole.id,
        x=turn.x(hole.u_in),
        y=hole.v_in,
        radius=hole.hole_diameter_in / 2,
        body_radius=hole.body.radius,
        raceway_name=hole.raceway_name,
        from_start=f"{lengths.mark(hole.u_in)} from the {start}",
        from_back=f"{lengths.mark(hole.v_in)} from the back",
        exact=f"{lengths.exact(hole.u_in)}, {lengths.exact(hole.v_in)} {lengths.unit}",
        hole=f"{lengths.drill(hole.hole_diameter_in)} {lengths.unit}",
        pilot=hole.pilot_said(lengths) + ("" if hole.is_knocked_out else f" {lengths.unit}"),
        to=hole.raceway.to,
        entry=hole.raceway.place.key,
        nth=nth,
        is_pinned=hole.raceway.at_in is not None,
        bushing=hole.raceway.bushing or "",
    )


def _gaps(face: FaceLayout, turn: _Turn, lengths: LengthFormat) -> Iterator[GapView]:
    for row in face.rows:
        for one, other in pairwise(row.holes):
            clear = other.u_in - one.u_in - one.body.radius - other.body.radius
            middle = (one.u_in + one.body.radius + other.u_in - other.body.radius) / 2
            y = min(one.v_in - one.body.radius, other.v_in - other.body.radius)
            yield GapView(turn.x(middle), y, lengths.mark(clear), clear, (one.id, other.id))
