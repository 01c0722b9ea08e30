"""Cuts one face into tiles, its sheets to be, for one size of view; their joints and pages are for face.

::

    +--------+--------+
    |   1    |   2    |      cells: the parts the joints cut the bounds into, numbered as one reads;
    +-----+--+--------+      a sheet's window is its cell and half the overlap past each joint
    |  3  |     4     |
    +-----+-----------+
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from templates_engine.geometry import Circle, Interval, Point, Rect
from templates_engine.job.model import KeepOut
from templates_engine.layout.frame import u_runs_right
from templates_engine.layout.model import FaceLayout, Hole, Layout
from templates_engine.sheets.bands import best_joints
from templates_engine.sheets.field import Field, HoleSpots, Joints
from templates_engine.sheets.joints import CIRCLE_HARM, Axis, Obstacle, can_spare_all, fewest, windows
from templates_engine.sheets.leave_out import Cell, kept
from templates_engine.sheets.model import CROSS_ARM_IN, Plane
from templates_engine.sheets.papers import View

BORDER_IN = 0.40
"""Paper shown past each edge of the face, for the edges' words and creases."""
LEAST_BORDER_IN = 0.08
"""The border where a wider one would cost a sheet or a hole: the edge's line is still whole."""
_BORDER_STEP_IN = 0.01
_TINY = 1e-9


@dataclass(frozen=True)
class Tile:
    """A sheet before it has a page: its place in the grid, its cell and its window in the sheet plane."""

    column: int
    band: int
    cell: Rect
    window: Rect


@dataclass(frozen=True)
class FaceGrid:
    """A face cut into tiles, in reading order, and what its joints do to the holes."""

    layout: FaceLayout
    plane: Plane
    bounds: Rect
    tiles: tuple[Tile, ...]
    left_out: tuple[Tile, ...]
    columns: int
    bands: int
    harm: int
    cut_holes: tuple[str, ...]

    @property
    def cuts(self) -> int:
        """Its harm without the joints that only come near a hole."""
        return self.harm // CIRCLE_HARM

    @property
    def missing_border_in(self) -> float:
        """By how much its borders fall short of BORDER_IN, both axes together."""
        return round(2 * BORDER_IN + self.bounds.left + self.bounds.bottom, 6)


def sheets_needed(face: FaceLayout, view: View) -> int:
    """How many sheets the face takes at the least, none left out.

    No way of cutting a rectangle into rectangles does with fewer: mark points a little more than a view less
    overlap apart along both axes, from edge to edge; there are so many, and no sheet has two of them its own.
    """
    columns, bands = least_grid(face, view)
    return columns * bands


def least_grid(face: FaceLayout, view: View) -> tuple[int, int]:
    """How many columns and bands of sheets the face takes at the least."""
    across = _least_count(face.job.width_in, view.width_in, view.overlap_in)
    return across, _least_count(face.job.depth_in, view.height_in, view.overlap_in)


def total_sheets(layout: Layout, view: View) -> int:
    """How many sheets all faces take at the least, none left out."""
    return sum(sheets_needed(face, view) for face in layout.faces)


def cut_into_tiles(face: FaceLayout, view: View, leave_out_empty: bool = False) -> FaceGrid:
    """The face's tiles: fewest, then with the least harm to holes, then most even.

    Borders are as wide as the number of sheets allows; narrower ones are tried where a joint cuts a hole.
    """
    grid = cut_with_more(face, view, 0, 0, leave_out_empty)
    assert grid is not None
    return grid


def cut_with_more(
    face: FaceLayout, view: View, columns: int, bands: int, leave_out_empty: bool = False
) -> FaceGrid | None:
    """The face's tiles in so many columns and bands more than the fewest; None where it is too small."""
    plane = _plane(face)
    best: FaceGrid | None = None
    for field in _fields_to_try(face, plane, view, columns, bands):
        grid = _cut(face, plane, field)
        if best is None or grid.cuts < best.cuts:
            best = grid
        if best.cuts == 0:
            break
    return without_empty(best) if best and leave_out_empty else best


def clears_holes(face: FaceLayout, view: View, columns: int = 0, bands: int = 0) -> bool:
    """Whether the fewest sheets, or so many columns and bands more, cut no hole with joints straight through;
    sooner told than cut.
    """
    fields = _fields_to_try(face, _plane(face), view, columns, bands)
    return any(
        can_spare_all(field.down, field.level_obstacles)
        and can_spare_all(field.across, tuple(hole.across for hole in field.holes))
        for field in fields
    )


def border(length_in: float, view_in: float, overlap_in: float, more: int = 0) -> float:
    """The widest border along one axis, BORDER_IN at most, that costs no sheet besides ``more``."""
    count = fewest(length_in + 2 * LEAST_BORDER_IN, view_in, overlap_in) + more
    spare = count * (view_in - overlap_in) + overlap_in - length_in
    if spare >= 2 * BORDER_IN:
        return BORDER_IN
    return max(math.floor(spare / 2 / _BORDER_STEP_IN + _TINY) * _BORDER_STEP_IN, LEAST_BORDER_IN)


def _fields_to_try(
    face: FaceLayout, plane: Plane, view: View, columns: int = 0, bands: int = 0
) -> Iterator[Field]:
    """The face with its widest borders, then with narrow ones along an axis that has joints, then both.

    It takes so many columns and bands more than the fewest; none where it is too small for them.
    """
    least_across, least_down = least_grid(face, view)
    beside = border(plane.width_in, view.width_in, view.overlap_in, columns)
    above = border(plane.depth_in, view.height_in, view.overlap_in, bands)
    narrow_beside = LEAST_BORDER_IN if plane.width_in + 2 * beside > view.width_in or columns else beside
    narrow_above = LEAST_BORDER_IN if plane.depth_in + 2 * above > view.height_in or bands else above
    holes = tuple(_hole_spots(plane, hole) for hole in face.holes)
    pairs = [(beside, above), (narrow_beside, above), (beside, narrow_above), (narrow_beside, narrow_above)]
    for x, y in dict.fromkeys(pairs):
        field = Field(
            Axis(Interval(-x, plane.width_in + x), view.width_in, view.overlap_in, least_across + columns),
            # Downward places are -y, so that both axes rise in reading order.
            Axis(Interval(-plane.depth_in - y, y), view.height_in, view.overlap_in, least_down + bands),
            holes,
        )
        if field.across.has_room and field.down.has_room:
            yield field


def _least_count(length_in: float, view_in: float, overlap_in: float) -> int:
    """How many windows a length takes at the least, its borders as narrow as they may be."""
    return fewest(length_in + 2 * LEAST_BORDER_IN, view_in, overlap_in)


def _plane(face: FaceLayout) -> Plane:
    return Plane(face.job.width_in, face.job.depth_in, u_runs_right(face.job.face, face.job.mark_from))


def _cut(face: FaceLayout, plane: Plane, field: Field) -> FaceGrid:
    joints = best_joints(field)
    cut = tuple(
        hole.id for hole, spots in zip(face.holes, field.holes, strict=True) if field.cuts(joints, spots)
    )
    across, down = field.across, field.down
    bounds = Rect(across.extent.low, -down.extent.high, across.extent.high, -down.extent.low)
    tiles = tuple(_tiles(field, joints))
    return FaceGrid(face, plane, bounds, tiles, (), across.count, down.count, field.harm(joints), cut)


def _hole_spots(plane: Plane, hole: Hole) -> HoleSpots:
    """A hole as upright joints meet it (along x), and as level joints do (along -y)."""
    centre, radius = plane.from_face(hole.centre), hole.hole_diameter_in / 2
    spots = (centre, *map(plane.from_face, hole.quarter_points_in))
    return HoleSpots(
        Obstacle(centre.x - radius, centre.x + radius, tuple(spot.x for spot in spots)),
        Obstacle(-centre.y - radius, -centre.y + radius, tuple(-spot.y for spot in spots)),
    )


def _tiles(field: Field, joints: Joints) -> Iterator[Tile]:
    """Band after band from the top, each from left to right."""
    overlap = field.across.overlap_in
    shown_rows = windows(field.down.extent, joints.level, overlap)
    for band, rows in enumerate(field.bands(joints.level)):
        shown, upright = shown_rows[band], joints.upright[band]
        cells = windows(field.across.extent, upright, 0.0)
        views = windows(field.across.extent, upright, overlap)
        for column, (cell, window) in enumerate(zip(cells, views, strict=True)):
            yield Tile(
                column,
                band,
                Rect(cell.low, -rows.high, cell.high, -rows.low),
                Rect(window.low, -shown.high, window.high, -shown.low),
            )


def without_empty(grid: FaceGrid) -> FaceGrid:
    """The grid without the sheets that nobody needs."""
    circles = [
        Circle(grid.plane.from_face(hole.centre), hole.hole_diameter_in + 2 * CROSS_ARM_IN)
        for hole in grid.layout.holes
    ]
    rects = [_rect(grid.plane, keep_out) for keep_out in grid.layout.job.keep_outs]
    cells = [Cell(tile.column, tile.band, tile.cell) for tile in grid.tiles]
    numbers = kept(cells, circles, rects)
    return replace(
        grid,
        tiles=tuple(tile for index, tile in enumerate(grid.tiles) if index in numbers),
        left_out=tuple(tile for index, tile in enumerate(grid.tiles) if index not in numbers),
    )


def _rect(plane: Plane, keep_out: KeepOut) -> Rect:
    a = plane.from_face(Point(keep_out.u_low_in, keep_out.v_low_in))
    b = plane.from_face(Point(keep_out.u_high_in, keep_out.v_high_in))
    return Rect(min(a.x, b.x), min(a.y, b.y), max(a.x, b.x), max(a.y, b.y))
