"""Cuts one face into tiles, its sheets to be, for one size of view; face_plan.py joins them.

::

    +--------+--------+
    |   1    |   2    |      cells: the parts the joints cut the bounds into, numbered as one reads;
    +--------+--------+      a sheet's window is its cell and half the overlap past each joint
    |   3    |   4    |
    +--------+--------+

Places down the face are -y here, so that both axes rise in reading order.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Iterator
from functools import cache, cached_property

from templates_engine.geometry import Circle, Interval, Rect, gap_circle_rect
from templates_engine.layout.model import FaceLayout, Hole
from templates_engine.sheets.empty_sheets import Cell, kept_cells
from templates_engine.sheets.face_lines import keep_out_rect
from templates_engine.sheets.joints import Axis, BestJoints, fewest, joint_places, least_harm, windows
from templates_engine.sheets.model import CROSS_ARM_IN, Plane
from templates_engine.sheets.obstacles import CIRCLE_HARM, Obstacle
from templates_engine.sheets.paper_pages import View
from templates_engine.values import Struct

BORDER_IN = 0.40
"""Paper shown past each edge of the face, for the edges' words and creases."""
LEAST_BORDER_IN = 0.08
"""The border where a wider one would cost a sheet or a hole: the edge's line is still whole."""
_BORDER_STEP_IN = 0.01
_TINY = 1e-9


class AxisCut(Struct, frozen=True, dict=True):
    """One axis of a face, with a border past either edge, and the joints across it."""

    axis: Axis
    border_in: float
    harmless: BestJoints

    @property
    def harm(self) -> int:
        """What the joints do to the holes."""
        return self.harmless.harm

    @property
    def cuts(self) -> int:
        """The harm without joints that only come near a hole."""
        return self.harm // CIRCLE_HARM

    @cached_property
    def joints(self) -> tuple[float, ...]:
        return joint_places(self.axis, self.harmless)

    @cached_property
    def cells(self) -> tuple[Interval, ...]:
        """What lies between the joints."""
        return windows(self.axis.extent, self.joints, 0.0)

    @cached_property
    def shown(self) -> tuple[Interval, ...]:
        """What each sheet shows."""
        return windows(self.axis.extent, self.joints, self.axis.overlap_in)

    def cells_over(self, low: float, high: float) -> range:
        """The numbers of the cells that a stretch shares more than an end with."""
        return range(bisect_right(self.joints, low + _TINY), bisect_left(self.joints, high - _TINY) + 1)


class Tile(Struct, frozen=True):
    """A sheet before it has a page: its place in the grid, its cell and its window in the sheet plane."""

    column: int
    band: int
    cell: Rect
    window: Rect


class FaceGrid(Struct, frozen=True, dict=True):
    """A face cut into tiles, and what its joints do to the holes."""

    layout: FaceLayout
    plane: Plane
    across: AxisCut
    down: AxisCut
    leave_out_empty: bool = False

    @property
    def columns(self) -> int:
        return self.across.axis.count

    @property
    def bands(self) -> int:
        return self.down.axis.count

    @property
    def sheets(self) -> int:
        """How many are printed."""
        return len(self.printed) if self.leave_out_empty else self.columns * self.bands

    @property
    def harm(self) -> int:
        return self.across.harm + self.down.harm

    @property
    def cuts(self) -> int:
        """Its harm without the joints that only come near a hole."""
        return self.across.cuts + self.down.cuts

    @property
    def missing_border_in(self) -> float:
        """By how much its borders fall short of BORDER_IN, both axes together."""
        return round(2 * BORDER_IN - self.across.border_in - self.down.border_in, 6)

    @property
    def bounds(self) -> Rect:
        """The face and its borders, in the sheet plane."""
        across, down = self.across.axis.extent, self.down.axis.extent
        return Rect(across.low, -down.high, across.high, -down.low)

    @cached_property
    def cut_holes(self) -> tuple[str, ...]:
        """The ids of holes whose circle a joint crosses."""
        joints = self.across.joints, self.down.joints
        return tuple(
            hole.id
            for hole in self.layout.holes
            if any(
                obstacle.is_cut(joint)
                for obstacle, places in zip(_obstacles(self.plane, hole), joints, strict=True)
                for joint in places
            )
        )

    @cached_property
    def tiles(self) -> tuple[Tile, ...]:
        """Those printed: band after band from the top, each from left to right."""
        return tuple(self._tile(cell) for cell in self._cells() if cell in self.printed)

    @cached_property
    def left_out(self) -> tuple[Tile, ...]:
        return tuple(self._tile(cell) for cell in self._cells() if cell not in self.printed)

    @cached_property
    def printed(self) -> frozenset[Cell]:
        """All cells; or those that show something, the one with the rulers' zero, and what joins them."""
        if not self.leave_out_empty:
            return frozenset(self._cells())
        zero = (0 if self.plane.u_runs_right else self.columns - 1, 0)
        return kept_cells(zero, self._needed())

    def _needed(self) -> Iterator[Cell]:
        """The cells that show a part of a hole, of its cross-lines or of a keep-out."""
        for hole in self.layout.holes:
            circle = Circle(self.plane.from_face(hole.centre), hole.hole_diameter_in + 2 * CROSS_ARM_IN)
            (x, y), r = circle.centre, circle.radius
            for cell in self._cells_over(Rect(x - r, y - r, x + r, y + r)):
                if gap_circle_rect(circle, self._tile(cell).cell) < -_TINY:
                    yield cell
        for keep_out in self.layout.job.keep_outs:
            yield from self._cells_over(keep_out_rect(self.plane, keep_out))

    def _cells_over(self, rect: Rect) -> Iterator[Cell]:
        for band in self.down.cells_over(-rect.top, -rect.bottom):
            for column in self.across.cells_over(rect.left, rect.right):
                yield column, band

    def _cells(self) -> Iterator[Cell]:
        return ((column, band) for band in range(self.bands) for column in range(self.columns))

    def _tile(self, cell: Cell) -> Tile:
        column, band = cell
        part, shown = (
            Rect(across.low, -down.high, across.high, -down.low)
            for across, down in (
                (self.across.cells[column], self.down.cells[band]),
                (self.across.shown[column], self.down.shown[band]),
            )
        )
        return Tile(column, band, part, shown)


class FaceCutter:
    """Cuts one face up for views of any size."""

    def __init__(self, face: FaceLayout) -> None:
        self.face = face
        self._plane = Plane.of(face.job)
        obstacles = [_obstacles(self._plane, hole) for hole in face.holes]
        self._across = _FaceAxis(self._plane.width_in, tuple(across for across, _ in obstacles), False)
        self._down = _FaceAxis(self._plane.depth_in, tuple(down for _, down in obstacles), True)

    def least_grid(self, view: View) -> tuple[int, int]:
        """How many columns and bands of sheets the face takes at the least, none left out.

        No way of cutting a rectangle into rectangles does with fewer: mark points a little more than a view
        less overlap apart along both axes, from edge to edge; there are so many, and no sheet has two of them
        its own.
        """
        across = least_count(self._plane.width_in, view.width_in, view.overlap_in)
        return across, least_count(self._plane.depth_in, view.height_in, view.overlap_in)

    def grid(
        self, view: View, columns: int = 0, bands: int = 0, leave_out_empty: bool = False
    ) -> FaceGrid | None:
        """The face in so many columns and bands more than the fewest; None where it is too small for them.

        The joints do the least harm to holes, then make the most even sheets.
        """
        across = self._across.cut(view.width_in, view.overlap_in, columns)
        down = self._down.cut(view.height_in, view.overlap_in, bands)
        return FaceGrid(self.face, self._plane, across, down, leave_out_empty) if across and down else None


class _FaceAxis:
    """One axis of a face; what was cut once is not cut again."""

    def __init__(self, length_in: float, obstacles: tuple[Obstacle, ...], is_down: bool) -> None:
        self._length_in, self._obstacles, self._is_down = length_in, obstacles, is_down
        self.cut = cache(self._best_cut)

    def _best_cut(self, view_in: float, overlap_in: float, more: int) -> AxisCut | None:
        """The axis in so many windows more than the fewest; None where it is too short for them.

        The border is as wide as the number of windows allows; the narrowest is tried where a joint cuts a
        hole.
        """
        length = self._length_in
        wide = _border(length, view_in, overlap_in, more)
        count = least_count(length, view_in, overlap_in) + more
        best: AxisCut | None = None
        for edge in (wide, LEAST_BORDER_IN) if count > 1 else (wide,):
            low, high = (-length - edge, edge) if self._is_down else (-edge, length + edge)
            axis = Axis(Interval(low, high), view_in, overlap_in, count)
            if not axis.has_room:
                continue
            made = AxisCut(axis, edge, least_harm(axis, self._obstacles))
            if best is None or made.cuts < best.cuts:
                best = made
            if best.cuts == 0:
                break
        return best


def _border(length_in: float, view_in: float, overlap_in: float, more: int) -> float:
    """The widest border along one axis, BORDER_IN at most, that costs no sheet besides ``more``."""
    count = least_count(length_in, view_in, overlap_in) + more
    spare = count * (view_in - overlap_in) + overlap_in - length_in
    if spare >= 2 * BORDER_IN:
        return BORDER_IN
    return max(math.floor(spare / 2 / _BORDER_STEP_IN + _TINY) * _BORDER_STEP_IN, LEAST_BORDER_IN)


def least_count(length_in: float, view_in: float, overlap_in: float) -> int:
    """How many windows a length takes at the least, its borders as narrow as they may be."""
    return fewest(length_in + 2 * LEAST_BORDER_IN, view_in, overlap_in)


def _obstacles(plane: Plane, hole: Hole) -> tuple[Obstacle, Obstacle]:
    """A hole as upright joints meet it, along x, and as level ones do, along -y."""
    spots = [plane.from_face(spot) for spot in (hole.centre, *hole.quarter_points_in)]
    radius = hole.hole_diameter_in / 2

    def along(places: list[float]) -> Obstacle:
        return Obstacle(places[0] - radius, places[0] + radius, tuple(sorted(set(places))))

    return along([spot.x for spot in spots]), along([-spot.y for spot in spots])
