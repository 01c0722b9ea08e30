"""Turns a face's tiles into its FacePlan: numbered sheets, joints and marks; tiles.py cuts it."""

from __future__ import annotations

from collections.abc import Iterator

from templates_engine.geometry import Circle, Point, Rect
from templates_engine.job.model import Job
from templates_engine.sheets.fingerprint import sheets_fingerprint
from templates_engine.sheets.model import FacePlan, Joint, PrinterCorrection, Sheet
from templates_engine.sheets.registration_marks import marks_on
from templates_engine.sheets.tiles import FaceGrid


def face_plan(grid: FaceGrid, view: Rect, job: Job, corrected: PrinterCorrection | None = None) -> FacePlan:
    """Each tile of the grid as a sheet, its window at the upper left corner of the page's view."""
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
    """The lines between each sheet and its right neighbour, from the top down, and its lower one, from
    the left; each with its marks.
    """
    holes = [Circle(grid.plane.from_face(hole.centre), hole.hole_diameter_in) for hole in grid.layout.holes]
    numbers = {(tile.column, tile.band): number for number, tile in enumerate(grid.tiles, 1)}
    for tile in grid.tiles:
        first, cell = numbers[tile.column, tile.band], tile.cell
        right = numbers.get((tile.column + 1, tile.band))
        below = numbers.get((tile.column, tile.band + 1))
        lines = (
            (right, Point(cell.right, cell.top), Point(cell.right, cell.bottom)),
            (below, Point(cell.left, cell.bottom), Point(cell.right, cell.bottom)),
        )
        for second, start, end in lines:
            if second is not None:
                marks = marks_on(start, end, f"{first}-{second}", holes, grid.plane.rect)
                yield Joint(first, second, start, end, marks, butt)
