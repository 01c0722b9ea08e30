"""Turns what one sheet shows of a face into the SheetInk among which its words find room."""

from __future__ import annotations

from collections.abc import Iterator

from templates_engine.drawing.sheet.edges import notches
from templates_engine.drawing.sheet.face_picture import inner_shapes, outline_shapes
from templates_engine.drawing.sheet.face_rulers import LONGEST_TICK_IN
from templates_engine.drawing.sheet.joints import MARK_ARM_IN, MARK_RING_IN
from templates_engine.drawing.words.ink import Ink, SheetInk, Stroke, round_stroke, stroke, strokes_of
from templates_engine.geometry import Circle, Rect, cross_lines
from templates_engine.sheets.face_lines import edge_strips, keep_out_rect, line_rect
from templates_engine.sheets.model import FacePlan, Sheet
from templates_engine.sheets.scale_bars import MARK_CLEAR_IN, RULER_IN


def face_strokes(plan: FacePlan) -> Iterator[Stroke]:
    """All of the face that every sheet may show, whatever its words."""
    yield from strokes_of(outline_shapes(plan))
    yield from strokes_of(inner_shapes(plan))
    for hole in plan.layout.holes:
        yield round_stroke(plan.circle_of(hole), Ink.KNOCKOUT)
    for keep_out in plan.layout.job.keep_outs:
        yield stroke(keep_out_rect(plan.plane, keep_out), Ink.KEEP_OUT)
    for wide_in, kind in ((RULER_IN, Ink.RULER), (LONGEST_TICK_IN, Ink.TICKS)):
        yield from (stroke(strip, kind) for strip in edge_strips(plan, wide_in))


def sheet_ink(plan: FacePlan, sheet: Sheet, on_face: tuple[Stroke, ...]) -> SheetInk:
    """What stands on a sheet before its words: what it shows of the face, its own joints and marks, its bar
    and corners to be cut out.
    """
    ink = SheetInk()
    window = sheet.window
    left, bottom, right, top = window
    for one in on_face:  # a long face has thousands, and each sheet few of them
        if left <= one.right and one.left <= right and bottom <= one.top and one.bottom <= top:
            ink.add(one if one.circle else stroke(one.rect.common(window), one.kind))
    for joint in sheet.joints:
        ink.add(stroke(line_rect(joint.start, joint.end), Ink.JOINT))
        for mark in joint.marks:
            ink.add(round_stroke(Circle(mark.at, MARK_RING_IN), Ink.MARK))
            for arm in cross_lines(mark.at, MARK_ARM_IN):
                ink.add(stroke(line_rect(*arm), Ink.MARK))
            ink.add(stroke(Rect(*mark.at, *mark.at).grown(MARK_CLEAR_IN), Ink.MARK_ROOM))
    strip = plan.bars[sheet.number - 1].strip if plan.bars else None
    if strip is not None:
        ink.add(stroke(strip, Ink.BAR))
    for corner in notches(plan, sheet):
        ink.add(stroke(corner, Ink.OUTLINE))
    return ink
