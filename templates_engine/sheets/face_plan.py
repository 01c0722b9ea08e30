"""Turns a face's tiles into its FacePlan: numbered sheets, joints and marks; or a face into one sheet."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence

from templates_engine.geometry import Circle, Point, Rect
from templates_engine.job.model import Job, MarkFrom
from templates_engine.layout.fingerprint import length_text, letters_of
from templates_engine.layout.model import FaceLayout
from templates_engine.sheets.model import FacePlan, Joint, Plane, PrinterCorrection, Sheet
from templates_engine.sheets.registration_marks import marks_on
from templates_engine.sheets.tiles import BORDER_IN, FaceGrid
from templates_engine.values import replace


def whole_face(face: FaceLayout, seen_from: MarkFrom) -> FacePlan:
    """The face on one sheet as large as itself, for exports, as seen from that side, whichever side the job
    marks it from.
    """
    job = replace(face.job, mark_from=seen_from)
    plane = Plane.of(job)
    bounds = plane.rect.grown(BORDER_IN)
    sheet = Sheet(1, 0, 0, bounds, Point(0.0, 0.0), (), bounds)
    return FacePlan(replace(face, job=job), plane, bounds, (sheet,), (), 1, 1, ())


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
        _fingerprint(grid.layout.fingerprint, sheets, joints, corrected),
    )


def _fingerprint(
    of_layout: str, sheets: Sequence[Sheet], joints: Sequence[Joint], corrected: PrinterCorrection | None
) -> str:
    """The layout's, "K7QM-2XWD", and "-4QP": over the sheets' own parts, how they join, the correction.

    Sheets of two prints with the same fingerprint fit each other, whichever of them is printed again.
    """
    factors = (corrected.correction.across, corrected.correction.down) if corrected else (1.0, 1.0)
    own = (sheet.own for sheet in sheets)
    said = [
        [[length_text(side) for side in (part.left, part.bottom, part.right, part.top)] for part in own],
        [[joint.first, joint.second, joint.is_butt] for joint in joints],
        [length_text(factor) for factor in factors],
    ]
    return f"{of_layout}-{letters_of(json.dumps(said, separators=(',', ':')), 3)}"


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
