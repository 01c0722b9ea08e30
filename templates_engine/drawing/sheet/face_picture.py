"""Turns one planned face into a true-scale Picture without words: edges, holes with their cross-lines,
keep-outs, rulers' ticks. Its words are each sheet's own; see face_words.py.

Coordinates are the sheet plane's. Every number comes from the Layout through the plan's plane.
"""

from __future__ import annotations

from collections.abc import Iterator

from templates_engine.drawing.shapes import DrawnCircle, DrawnRect, Line, Picture, Shape
from templates_engine.drawing.sheet.face_rulers import face_ticks
from templates_engine.drawing.style import BACK_LINE, CROSS, EDGE, HOLE, INSIDE, KEEP_OUT, LIP, PILOT, QUARTER
from templates_engine.geometry import Point, cross_lines
from templates_engine.job.model import KeepOut
from templates_engine.layout.model import Hole, PlacedRow
from templates_engine.sheets.face_lines import inside_corner, keep_out_rect, lip_lines
from templates_engine.sheets.model import CROSS_ARM_IN, FacePlan, Plane
from templates_engine.units import Unit

QUARTER_IN = 0.16
"""Half length of the heavy stroke through each quarter point."""


def face_picture(plan: FacePlan, unit: Unit) -> Picture:
    """The face as it is seen on paper, at true scale."""
    shapes = (*outline_shapes(plan), *face_ticks(plan, unit), *inner_shapes(plan))
    return Picture(f"face-{plan.layout.job.face.value}", plan.bounds, shapes)


def outline_shapes(plan: FacePlan) -> Iterator[Shape]:
    """The face's edges, from inside the corner the sheet is pushed into, and its lips."""
    yield DrawnRect(plan.plane.rect, EDGE, "edge")
    if inner := inside_corner(plan):
        yield DrawnRect(inner, INSIDE, "edge")
    yield from (Line(start, end, LIP, "edge") for start, end in lip_lines(plan))


def inner_shapes(plan: FacePlan) -> Iterator[Shape]:
    """Keep-outs, the rows' lines and the holes."""
    for keep_out in plan.layout.job.keep_outs:
        yield keep_out_shape(plan.plane, keep_out)
    for row in plan.layout.rows:
        yield from _row_line(plan, row)
    for hole in plan.layout.holes:
        yield from hole_marks(plan, hole)


def keep_out_shape(plane: Plane, keep_out: KeepOut) -> DrawnRect | DrawnCircle:
    """The outline of the place."""
    rect = keep_out_rect(plane, keep_out)
    if keep_out.diameter_in is None:
        return DrawnRect(rect, KEEP_OUT, "frame")
    return DrawnCircle(rect.middle, keep_out.diameter_in, KEEP_OUT, "frame")


def hole_marks(plan: FacePlan, hole: Hole) -> Iterator[Shape]:
    """The knockout circle, the pilot circle, cross-lines past the circle and a heavy stroke at each
    quarter point. What is to be knocked out is shown to be found, not to be cut: a fine circle and its
    cross-lines.
    """
    centre = plan.centre_of(hole)
    reach = hole.hole_diameter_in / 2 + CROSS_ARM_IN
    if hole.pilot_diameter_in is None:
        yield DrawnCircle(centre, hole.hole_diameter_in, PILOT, "centre")
    else:
        yield DrawnCircle(centre, hole.hole_diameter_in, HOLE, "cut")
        yield DrawnCircle(centre, hole.pilot_diameter_in, PILOT, "centre")
    yield from (Line(start, end, CROSS, "centre") for start, end in cross_lines(centre, reach))
    for start, end in quarter_lines(plan, hole, QUARTER_IN):
        yield Line(start, end, QUARTER, "centre")


def quarter_lines(plan: FacePlan, hole: Hole, half_in: float) -> Iterator[tuple[Point, Point]]:
    """Along the cross-lines over each quarter point, so far to either side; none where nothing is cut."""
    centre = plan.centre_of(hole)
    for quarter in () if hole.is_knocked_out else hole.quarter_points_in:
        at = plan.plane.from_face(quarter)
        level, upright = cross_lines(at, half_in)
        yield level if abs(at.x - centre.x) > abs(at.y - centre.y) else upright


def _row_line(plan: FacePlan, row: PlacedRow) -> Iterator[Shape]:
    v = row.line.at_in
    if 0 < v < plan.plane.depth_in:
        start, end = (plan.plane.from_face(Point(u, v)) for u in (0.0, plan.plane.width_in))
        yield Line(start, end, BACK_LINE, "frame")
