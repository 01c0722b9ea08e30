"""Turns a face's tiles into its FacePlan: numbered sheets, joints and marks; the cutting is for tiles."""

from __future__ import annotations

from collections.abc import Iterator

from templates_engine.geometry import Circle, Point, Rect
from templates_engine.job.model import Job
from templates_engine.sheets.fingerprint import sheets_fingerprint
from templates_engine.sheets.marks import marks_on
from templates_engine.sheets.model import Corrected, FacePlan, Joint, Sheet
from templates_engine.sheets.tiles import FaceGrid, Tile


def put_on_pages(grid: FaceGrid, view: Rect, job: Job, corrected: Corrected | None = None) -> FacePlan:
    """The face's sheets on pages with that view, each window at the view's upper left corner."""
    butt = job.printing.joints == "butt"
    joints = tuple(_joints(grid, butt))
    sheets = tuple(
        Sheet(
            number,
            tile.column,
            tile.band,
            tile.window,
            Point(view.left - tile.window.left, view.top - tile.window.top),
            tuple(joint for joint in joints if number in (joint.first, joint.second)),
            tile.cell,
        )
        for number, tile in enumerate(grid.tiles, 1)
    )
    left_out = tuple(tile.cell for tile in grid.left_out)
    return FacePlan(
        grid.layout,
        grid.plane,
        grid.bounds,
        sheets,
        joints,
        grid.columns,
        grid.bands,
        grid.cut_holes,
        left_out,
        job.enclosure.back_gap_in,
        sheets_fingerprint(grid.layout.fingerprint, [sheet.own for sheet in sheets], joints, corrected),
    )


def _joints(grid: FaceGrid, butt: bool) -> Iterator[Joint]:
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
                yield Joint(first, second, start, end, marks, butt)


def _shared_line(tile: Tile, later: Tile) -> tuple[Point, Point] | None:
    """The line between a tile and its right or lower neighbour: from the top down, or from the left."""
    cell, other = tile.cell, later.cell
    if tile.band == later.band and later.column == tile.column + 1:
        return Point(other.left, cell.top), Point(other.left, cell.bottom)
    left, right = max(cell.left, other.left), min(cell.right, other.right)
    if later.band == tile.band + 1 and left < right:
        return Point(left, cell.bottom), Point(right, cell.bottom)
    return None
