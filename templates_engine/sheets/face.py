"""Cuts one face into the sheets that show it and their joints; paper and way round is for plan.

::

    +--------+--------+
    |   1    |   2    |      cells: the parts the joints cut the bounds into, numbered as one reads;
    +--------+--------+      a sheet's window is its cell and half the overlap past each joint
    |   3    |   4    |
    +--------+--------+
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from templates_engine.geometry import Circle, Interval, Point, Rect
from templates_engine.layout.frame import u_runs_right
from templates_engine.layout.model import FaceLayout, Layout
from templates_engine.sheets.joints import Obstacle, fewest, harm_at, joint_places, windows
from templates_engine.sheets.marks import marks_on
from templates_engine.sheets.model import FacePlan, Joint, Plane, Sheet
from templates_engine.sheets.papers import View

BORDER_IN = 0.40
"""Paper shown past each edge of the face, for the edges' words and creases."""
LEAST_BORDER_IN = 0.08
"""The border where a wider one would cost a sheet: the edge's line is still whole."""
_BORDER_STEP_IN = 0.01


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
    columns: int
    bands: int
    harm: int
    cut_holes: tuple[str, ...]

    @property
    def missing_border_in(self) -> float:
        """By how much its borders fall short of BORDER_IN, both axes together."""
        return round(2 * BORDER_IN + self.bounds.left + self.bounds.bottom, 6)


def sheets_needed(face: FaceLayout, view: View) -> int:
    """How many sheets the face takes at the least."""
    across = fewest(face.job.width_in + 2 * LEAST_BORDER_IN, view.width_in, view.overlap_in)
    down = fewest(face.job.depth_in + 2 * LEAST_BORDER_IN, view.height_in, view.overlap_in)
    return across * down


def total_sheets(layout: Layout, view: View) -> int:
    """How many sheets all faces take at the least."""
    return sum(sheets_needed(face, view) for face in layout.faces)


def cut_into_tiles(face: FaceLayout, view: View) -> FaceGrid:
    """The face's tiles: fewest, then with the least harm to holes, then most even."""
    plane = Plane(face.job.width_in, face.job.depth_in, u_runs_right(face.job.face, face.job.mark_from))
    beside = border(plane.width_in, view.width_in, view.overlap_in)
    above = border(plane.depth_in, view.height_in, view.overlap_in)
    bounds = Rect(-beside, -above, plane.width_in + beside, plane.depth_in + above)
    across, down = _obstacles(face, plane)
    # Downward places are -y, so that both axes rise in reading order.
    level = joint_places(Interval(-bounds.top, -bounds.bottom), view.height_in, view.overlap_in, down)
    upright = joint_places(Interval(bounds.left, bounds.right), view.width_in, view.overlap_in, across)
    harm = sum(harm_at(place, down) for place in level) + sum(harm_at(place, across) for place in upright)
    cut = tuple(
        hole.id
        for hole, by_upright, by_level in zip(face.holes, across, down, strict=True)
        if any(map(by_upright.is_cut, upright)) or any(map(by_level.is_cut, level))
    )
    tiles = tuple(
        tile
        for band, (rows, shown) in enumerate(_bands(bounds, level, view.overlap_in))
        for tile in _tiles_of_band(band, rows, shown, bounds, upright, view.overlap_in)
    )
    return FaceGrid(face, plane, bounds, tiles, len(upright) + 1, len(level) + 1, harm, cut)


def put_on_pages(grid: FaceGrid, view: Rect) -> FacePlan:
    """The face's sheets on pages with that view, each window at the view's upper left corner."""
    joints = tuple(_joints(grid))
    sheets = tuple(
        Sheet(
            number,
            tile.column,
            tile.band,
            tile.window,
            Point(view.left - tile.window.left, view.top - tile.window.top),
            tuple(joint for joint in joints if number in (joint.first, joint.second)),
        )
        for number, tile in enumerate(grid.tiles, 1)
    )
    return FacePlan(
        grid.layout, grid.plane, grid.bounds, sheets, joints, grid.columns, grid.bands, grid.cut_holes
    )


def border(length_in: float, view_in: float, overlap_in: float) -> float:
    """The border along one axis: BORDER_IN, unless that costs a sheet.

    Then it is what a single view has room for, and LEAST_BORDER_IN with several, to leave the joints freedom.
    """
    count = fewest(length_in + 2 * LEAST_BORDER_IN, view_in, overlap_in)
    if fewest(length_in + 2 * BORDER_IN, view_in, overlap_in) == count:
        return BORDER_IN
    steps = math.floor((view_in - length_in) / 2 / _BORDER_STEP_IN)
    return max(steps * _BORDER_STEP_IN, LEAST_BORDER_IN)


def _obstacles(face: FaceLayout, plane: Plane) -> tuple[tuple[Obstacle, ...], tuple[Obstacle, ...]]:
    """Every hole as upright joints meet it (along x), and as level joints do (along -y)."""
    across, down = [], []
    for hole in face.holes:
        centre, radius = plane.from_face(hole.centre), hole.hole_diameter_in / 2
        spots = (centre, *map(plane.from_face, hole.quarter_points_in))
        across.append(Obstacle(centre.x - radius, centre.x + radius, tuple(spot.x for spot in spots)))
        down.append(Obstacle(-centre.y - radius, -centre.y + radius, tuple(-spot.y for spot in spots)))
    return tuple(across), tuple(down)


def _bands(bounds: Rect, joints: tuple[float, ...], overlap: float) -> Iterator[tuple[Interval, Interval]]:
    """Each band's cell and window along -y, top band first."""
    extent = Interval(-bounds.top, -bounds.bottom)
    return zip(_cells(extent, joints), windows(extent, joints, overlap), strict=True)


def _tiles_of_band(
    band: int, rows: Interval, shown: Interval, bounds: Rect, joints: tuple[float, ...], overlap: float
) -> Iterator[Tile]:
    """A band's tiles from left to right; its upright joints are its own, whatever other bands have."""
    extent = Interval(bounds.left, bounds.right)
    pairs = zip(_cells(extent, joints), windows(extent, joints, overlap), strict=True)
    for column, (cell, window) in enumerate(pairs):
        yield Tile(
            column,
            band,
            Rect(cell.low, -rows.high, cell.high, -rows.low),
            Rect(window.low, -shown.high, window.high, -shown.low),
        )


def _cells(extent: Interval, joints: tuple[float, ...]) -> tuple[Interval, ...]:
    return windows(extent, joints, 0.0)


def _joints(grid: FaceGrid) -> Iterator[Joint]:
    """Every stretch of line that two cells share, with its marks, in the order of the sheets' numbers."""
    holes = tuple(
        Circle(grid.plane.from_face(hole.centre), hole.hole_diameter_in) for hole in grid.layout.holes
    )
    numbered = list(enumerate(grid.tiles, 1))
    for first, tile in numbered:
        for second, other in numbered[first:]:
            if other.band > tile.band + 1:
                break
            shared = _shared_line(tile, other)
            if shared:
                start, end = shared
                marks = marks_on(start, end, f"{first}-{second}", holes, grid.plane.rect)
                yield Joint(first, second, start, end, marks)


def _shared_line(tile: Tile, later: Tile) -> tuple[Point, Point] | None:
    """The line between a tile and its right or lower neighbour: from the top down, or from the left."""
    cell, other = tile.cell, later.cell
    if tile.band == later.band and later.column == tile.column + 1:
        return Point(other.left, cell.top), Point(other.left, cell.bottom)
    left, right = max(cell.left, other.left), min(cell.right, other.right)
    if later.band == tile.band + 1 and left < right:
        return Point(left, cell.bottom), Point(right, cell.bottom)
    return None
