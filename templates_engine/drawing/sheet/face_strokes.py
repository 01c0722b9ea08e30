"""Turns what one sheet shows of a face into the SheetInk among which its words find room."""

from __future__ import annotations

from collections.abc import Iterator

from templates_engine.drawing.rulers import LONGEST_TICK_IN
from templates_engine.drawing.sheet.joint_marks import MARK_ARM_IN, MARK_RING_IN
from templates_engine.drawing.words.ink import Ink, SheetInk, Stroke, round_stroke, stroke
from templates_engine.drawing.words.places import common
from templates_engine.geometry import Circle, Point, Rect
from templates_engine.job.model import KeepOut
from templates_engine.sheets.face_lines import inside_corner, keep_out_rect, lip_lines
from templates_engine.sheets.model import FacePlan, Sheet
from templates_engine.sheets.scale_bars import MARK_CLEAR_IN, RULER_IN

ARM_IN = 0.30
"""How far the cross-lines run past the knockout circle, for the punch's quarter marks."""


def face_strokes(plan: FacePlan) -> tuple[Stroke, ...]:
    """All of the face that every sheet may show, whatever its words."""
    return tuple(_face_strokes(plan))


def sheet_ink(sheet: Sheet, on_face: tuple[Stroke, ...]) -> SheetInk:
    """What a sheet shows of it, and its own joints and marks."""
    ink = SheetInk()
    window = sheet.window
    left, bottom, right, top = window.left, window.bottom, window.right, window.top
    for one in on_face:  # a long face has thousands, and each sheet few of them
        if left <= one.right and one.left <= right and bottom <= one.top and one.bottom <= top:
            ink.add(one if one.circle else stroke(common(one.rect, window), Ink(one.kind)))
    for joint in sheet.joints:
        ink.add(stroke(line_rect(joint.start, joint.end), Ink.JOINT))
        for mark in joint.marks:
            x, y = mark.at
            ink.add(round_stroke(Circle(mark.at, MARK_RING_IN), Ink.MARK))
            ink.add(stroke(Rect(x - MARK_ARM_IN, y, x + MARK_ARM_IN, y), Ink.MARK))
            ink.add(stroke(Rect(x, y - MARK_ARM_IN, x, y + MARK_ARM_IN), Ink.MARK))
            ink.add(stroke(Rect(x, y, x, y).grown(MARK_CLEAR_IN), Ink.MARK_ROOM))
    return ink


def _face_strokes(plan: FacePlan) -> Iterator[Stroke]:
    for hole in plan.layout.holes:
        centre = plan.centre_of(hole)
        reach = hole.hole_diameter_in / 2 + ARM_IN
        yield round_stroke(Circle(centre, hole.hole_diameter_in), Ink.CIRCLE)
        if hole.pilot_diameter_in is not None:
            yield round_stroke(Circle(centre, hole.pilot_diameter_in), Ink.CIRCLE)
        yield round_stroke(Circle(centre, hole.hole_diameter_in), Ink.KNOCKOUT)
        yield stroke(Rect(centre.x - reach, centre.y, centre.x + reach, centre.y), Ink.CROSS)
        yield stroke(Rect(centre.x, centre.y - reach, centre.x, centre.y + reach), Ink.CROSS)
    for line in face_lines(plan):
        yield stroke(line, Ink.LINE)
    for keep_out in plan.layout.job.keep_outs:
        yield from _keep_out_strokes(plan, keep_out)
    for strip in _edge_strips(plan, RULER_IN):
        yield stroke(strip, Ink.RULER)
    for strip in _edge_strips(plan, LONGEST_TICK_IN):
        yield stroke(strip, Ink.TICKS)


def _keep_out_strokes(plan: FacePlan, keep_out: KeepOut) -> Iterator[Stroke]:
    rect = keep_out_rect(plan.plane, keep_out)
    yield stroke(rect, Ink.KEEP_OUT)
    if keep_out.diameter_in is None:
        for side in sides(rect):
            yield stroke(side, Ink.OUTLINE)
    else:
        middle = Point((rect.left + rect.right) / 2, (rect.bottom + rect.top) / 2)
        yield round_stroke(Circle(middle, keep_out.diameter_in), Ink.CIRCLE)


def _edge_strips(plan: FacePlan, wide_in: float) -> tuple[Rect, Rect, Rect]:
    """Along the back edge and both ends, where rulers stand."""
    face = plan.plane.rect
    return (
        Rect(face.left, face.top - wide_in, face.right, face.top),
        Rect(face.left, face.bottom, face.left + wide_in, face.top),
        Rect(face.right - wide_in, face.bottom, face.right, face.top),
    )


def sides(rect: Rect) -> Iterator[Rect]:
    """The four sides of a rectangle, as rectangles without any thickness."""
    yield Rect(rect.left, rect.bottom, rect.right, rect.bottom)
    yield Rect(rect.left, rect.top, rect.right, rect.top)
    yield Rect(rect.left, rect.bottom, rect.left, rect.top)
    yield Rect(rect.right, rect.bottom, rect.right, rect.top)


def face_lines(plan: FacePlan) -> Iterator[Rect]:
    """Straight lines across the face."""
    face = plan.plane.rect
    yield from sides(face)
    if inner := inside_corner(plan):
        yield from sides(inner)
    for start, end in lip_lines(plan):
        yield line_rect(start, end)
    for row in plan.layout.rows:
        y = plan.plane.depth_in - row.line.at_in
        yield Rect(face.left, y, face.right, y)


def line_rect(start: Point, end: Point) -> Rect:
    """A level or upright line as a rectangle without thickness; of two corners, the rectangle between."""
    return Rect(min(start.x, end.x), min(start.y, end.y), max(start.x, end.x), max(start.y, end.y))
