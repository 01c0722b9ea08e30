"""Turns one planned face into the Room its words must find: all lines, circles and marks in the way."""

from __future__ import annotations

from collections.abc import Iterator

from templates_engine.drawing.joint_marks import MARK_ARM_IN, MARK_RING_IN, name_marks
from templates_engine.drawing.labels import Room
from templates_engine.drawing.rulers import LONGEST_TICK_IN
from templates_engine.geometry import Circle, Point, Rect
from templates_engine.job.model import KeepOut
from templates_engine.sheets.bars import MARK_CLEAR_IN, RULER_IN
from templates_engine.sheets.face_lines import inside_corner, keep_out_rect, lip_lines
from templates_engine.sheets.model import FacePlan

ARM_IN = 0.30
"""How far the cross-lines run past the knockout circle, for the punch's quarter marks."""
_FAR_IN = 999.0


def face_room(plan: FacePlan) -> Room:
    """All that stands on the face before any words."""
    room = Room()
    for hole in plan.layout.holes:
        centre = plan.centre_of(hole)
        reach = hole.hole_diameter_in / 2 + ARM_IN
        room.rings.append(Circle(centre, hole.hole_diameter_in))
        room.rings.append(Circle(centre, hole.pilot_diameter_in))
        room.take(Rect(centre.x - reach, centre.y, centre.x + reach, centre.y))
        room.take(Rect(centre.x, centre.y - reach, centre.x, centre.y + reach))
    for line in face_lines(plan):
        room.take(line)
    for joint in plan.joints:
        room.take(_line(joint.start, joint.end))
        for mark in joint.marks:
            x, y = mark.at
            room.rings.append(Circle(mark.at, MARK_RING_IN))
            room.take(Rect(x - MARK_ARM_IN, y, x + MARK_ARM_IN, y))
            room.take(Rect(x, y - MARK_ARM_IN, x, y + MARK_ARM_IN))
    for keep_out in plan.layout.job.keep_outs:
        _take_keep_out(plan, keep_out, room)
    for strip in tick_strips(plan):
        room.take(strip)
    return room


def ruler_strips(plan: FacePlan) -> tuple[Rect, Rect, Rect]:
    """What the rulers along the back edge and both ends take."""
    return _edge_strips(plan, RULER_IN)


def tick_strips(plan: FacePlan) -> tuple[Rect, Rect, Rect]:
    """What the rulers' ticks take, their numbers left out."""
    return _edge_strips(plan, LONGEST_TICK_IN)


def _edge_strips(plan: FacePlan, wide_in: float) -> tuple[Rect, Rect, Rect]:
    face = plan.plane.rect
    return (
        Rect(face.left, face.top - wide_in, face.right, face.top),
        Rect(face.left, face.bottom, face.left + wide_in, face.top),
        Rect(face.right - wide_in, face.bottom, face.right, face.top),
    )


def name_marks_off_rulers(plan: FacePlan, room: Room) -> None:
    """Places the marks' names, then leaves the rulers and the marks' surroundings to themselves."""
    for strip in ruler_strips(plan):
        room.take(strip)
    name_marks(plan, room)
    for joint in plan.joints:
        for mark in joint.marks:
            room.take(Rect(mark.at.x, mark.at.y, mark.at.x, mark.at.y).grown(MARK_CLEAR_IN))


def close_outside(plan: FacePlan, room: Room) -> None:
    """Leaves all that lies off the face to others than the holes' words."""
    face = plan.plane.rect
    left, right = face.left - _FAR_IN, face.right + _FAR_IN
    bottom, top = face.bottom - _FAR_IN, face.top + _FAR_IN
    room.keep_outs += (
        Rect(left, face.top, right, top),
        Rect(left, bottom, right, face.bottom),
        Rect(left, bottom, face.left, top),
        Rect(face.right, bottom, right, top),
    )


def sides(rect: Rect) -> Iterator[Rect]:
    """The four sides of a rectangle, as rectangles without any thickness."""
    yield Rect(rect.left, rect.bottom, rect.right, rect.bottom)
    yield Rect(rect.left, rect.top, rect.right, rect.top)
    yield Rect(rect.left, rect.bottom, rect.left, rect.top)
    yield Rect(rect.right, rect.bottom, rect.right, rect.top)


def face_lines(plan: FacePlan) -> Iterator[Rect]:
    """Straight lines across the face, and the edges of the sheets' windows, where words would be cut."""
    face = plan.plane.rect
    yield from sides(face)
    if inner := inside_corner(plan):
        yield from sides(inner)
    for start, end in lip_lines(plan):
        yield _line(start, end)
    for row in plan.layout.rows:
        y = plan.plane.depth_in - row.line.at_in
        yield Rect(face.left, y, face.right, y)
    for sheet in plan.sheets:
        yield from sides(sheet.window)


def _line(start: Point, end: Point) -> Rect:
    return Rect(min(start.x, end.x), min(start.y, end.y), max(start.x, end.x), max(start.y, end.y))


def _take_keep_out(plan: FacePlan, keep_out: KeepOut, room: Room) -> None:
    rect = keep_out_rect(plan, keep_out)
    room.keep_outs.append(rect)
    if keep_out.diameter_in is None:
        for side in sides(rect):
            room.take(side)
    else:
        middle = Point((rect.left + rect.right) / 2, (rect.bottom + rect.top) / 2)
        room.rings.append(Circle(middle, keep_out.diameter_in))
