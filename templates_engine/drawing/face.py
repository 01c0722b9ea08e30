"""Turns one planned face into a true-scale Picture: edges, holes with their cross-lines, keep-outs,
rulers, labels.

Coordinates are the sheet plane's. Every number comes from the Layout through the plan's plane; nothing is
decided here
but where words find room.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

from templates_engine.drawing.labels import Room, first_free, places_round
from templates_engine.drawing.map import own_part
from templates_engine.drawing.rulers import ruler
from templates_engine.drawing.shapes import Box, Line, Picture, Ring, Shape, Words
from templates_engine.drawing.style import (
    BACK_LINE,
    CROSS,
    EDGE,
    HOLE,
    INSIDE,
    KEEP_OUT,
    LABEL_PT,
    LIP,
    PILOT,
    QUARTER,
    SMALL_PT,
    capital_height_in,
    line_height_in,
)
from templates_engine.drawing.words import set_words, width_in
from templates_engine.geometry import Circle, Point, Rect
from templates_engine.job.model import KeepOut, MarkFrom
from templates_engine.layout.model import Hole, PlacedRow
from templates_engine.sheets.model import FacePlan
from templates_engine.units import Speech

ARM_IN = 0.30
"""How far the cross-lines run past the knockout circle, for the punch's quarter marks."""
QUARTER_IN = 0.16
"""Half length of the heavy stroke through each quarter point."""
RULER_IN = 0.46
"""Depth of the strip along an edge that its ruler and numbers take."""


def face_picture(plan: FacePlan, speech: Speech) -> tuple[Picture, Room]:
    """The face as it is seen on paper, at true scale, and what it leaves free for a sheet's own words."""
    room = _room(plan)
    shapes: list[Shape] = [Box(plan.plane.rect, EDGE, "edge"), *_inside_corner(plan), *_lips(plan)]
    for keep_out in plan.layout.job.keep_outs:
        shapes += _keep_out(plan, keep_out, room)
    for row in plan.layout.rows:
        shapes += _back_line(plan, row)
    shapes += _rulers(plan, speech)
    for hole in plan.layout.holes:
        shapes += hole_marks(plan, hole)
    for hole in plan.layout.holes:
        shapes += _labels(plan, hole, room, speech)
    for row in plan.layout.rows:
        shapes += _back_line_words(plan, row, room, speech)
    return Picture(f"face-{plan.layout.job.face.value}", plan.bounds, tuple(shapes)), room


def hole_marks(plan: FacePlan, hole: Hole) -> Iterator[Shape]:
    """The knockout circle, the pilot circle, cross-lines past the circle and a heavy stroke at each
    quarter point.
    """
    centre = plan.centre_of(hole)
    reach = hole.hole_diameter_in / 2 + ARM_IN
    yield Ring(centre, hole.hole_diameter_in, HOLE, "cut")
    yield Ring(centre, hole.pilot_diameter_in, PILOT, "centre")
    yield Line(Point(centre.x - reach, centre.y), Point(centre.x + reach, centre.y), CROSS, "centre")
    yield Line(Point(centre.x, centre.y - reach), Point(centre.x, centre.y + reach), CROSS, "centre")
    for quarter in hole.quarter_points_in:
        at = plan.plane.from_face(quarter)
        along_x = abs(at.x - centre.x) > abs(at.y - centre.y)
        dx, dy = (QUARTER_IN, 0.0) if along_x else (0.0, QUARTER_IN)
        yield Line(Point(at.x - dx, at.y - dy), Point(at.x + dx, at.y + dy), QUARTER, "centre")


def _room(plan: FacePlan) -> Room:
    """Everything words must keep clear of: circles, cross-lines, rulers, edges, joints and their marks."""
    room = Room()
    face = plan.plane.rect
    for hole in plan.layout.holes:
        centre = plan.centre_of(hole)
        reach = hole.hole_diameter_in / 2 + ARM_IN
        room.rings.append(Circle(centre, hole.hole_diameter_in))
        room.rings.append(Circle(centre, hole.pilot_diameter_in))
        room.take(Rect(centre.x - reach, centre.y, centre.x + reach, centre.y))
        room.take(Rect(centre.x, centre.y - reach, centre.x, centre.y + reach))
    room.take(Rect(face.left - 99, face.top - RULER_IN, face.right + 99, face.top + 99))
    room.take(Rect(face.left - 99, face.bottom - 99, face.right + 99, face.bottom))
    room.take(Rect(face.left - 99, face.bottom - 99, face.left + RULER_IN, face.top + 99))
    room.take(Rect(face.right - RULER_IN, face.bottom - 99, face.right + 99, face.top + 99))
    for joint in plan.joints:
        room.take(
            Rect(
                min(joint.start.x, joint.end.x),
                min(joint.start.y, joint.end.y),
                max(joint.start.x, joint.end.x),
                max(joint.start.y, joint.end.y),
            )
        )
        for mark in joint.marks:
            room.take(Rect(mark.at.x - 0.2, mark.at.y - 0.2, mark.at.x + 0.2, mark.at.y + 0.2))
    for row in plan.layout.rows:
        y = plan.plane.depth_in - row.back_line_in
        room.take(Rect(face.left, y, face.right, y))
    return room


def _inside_corner(plan: FacePlan) -> Iterator[Shape]:
    """Seen from inside, the corner the sheet is pushed into: one thickness of metal in from each edge."""
    job = plan.layout.job
    if job.mark_from is MarkFrom.INSIDE and job.metal_in is not None:
        yield Box(plan.plane.rect.grown(-job.metal_in), INSIDE, "edge")


def _lips(plan: FacePlan) -> Iterator[Shape]:
    lips, plane = plan.layout.job.lips, plan.plane
    width, depth = plane.width_in, plane.depth_in
    for inset, along_u in ((lips.back_in, True), (depth - lips.front_in, True)):
        if along_u and 0 < inset < depth:
            yield Line(plane.from_face(Point(0, inset)), plane.from_face(Point(width, inset)), LIP, "edge")
    for inset in (lips.start_in, width - lips.end_in):
        if 0 < inset < width:
            yield Line(plane.from_face(Point(inset, 0)), plane.from_face(Point(inset, depth)), LIP, "edge")


def _back_line(plan: FacePlan, row: PlacedRow) -> Iterator[Shape]:
    v = row.back_line_in
    if 0 < v < plan.plane.depth_in:
        start, end = (plan.plane.from_face(Point(u, v)) for u in (0.0, plan.plane.width_in))
        yield Line(start, end, BACK_LINE, "frame")


def _back_line_words(plan: FacePlan, row: PlacedRow, room: Room, speech: Speech) -> Iterator[Shape]:
    """The back line's name, once on every sheet where there is room for it."""
    text = f"row {row.row.name}: backs of raceways {speech.say(row.back_line_in)} from back edge"
    width, height = width_in(text, SMALL_PT), capital_height_in(SMALL_PT)
    y = plan.plane.depth_in - row.back_line_in
    done: set[int] = set()
    for sheet in plan.sheets:
        left, right = own_part(plan, sheet).left, own_part(plan, sheet).right
        if sheet.column in done or not sheet.window.bottom <= y <= sheet.window.top:
            continue
        steps = int(max(right - left - width, 0) / 0.1)
        near = room.near(Rect(left, y - 0.3, right, y + 0.3))
        places = (
            Rect(left + k * 0.1, base, left + k * 0.1 + width, base + height)
            for base in (y + 0.06, y - 0.06 - height)
            for k in range(1, steps)
        )
        found = first_free(near, places)
        if found:
            room.take(found)
            done.add(sheet.column)
            yield Words(Point(found.left, found.bottom), set_words(text), SMALL_PT)


def _keep_out(plan: FacePlan, keep_out: KeepOut, room: Room) -> Iterator[Shape]:
    plane = plan.plane
    a = plane.from_face(Point(keep_out.u_low_in, keep_out.v_low_in))
    b = plane.from_face(Point(keep_out.u_high_in, keep_out.v_high_in))
    rect = Rect(min(a.x, b.x), min(a.y, b.y), max(a.x, b.x), max(a.y, b.y))
    if keep_out.diameter_in is not None:
        centre = Point((rect.left + rect.right) / 2, (rect.bottom + rect.top) / 2)
        yield Ring(centre, keep_out.diameter_in, KEEP_OUT, "frame")
    else:
        yield Box(rect, KEEP_OUT, "frame")
    room.take(rect)
    text = f"keep out: {keep_out.name}"
    width, height = width_in(text, SMALL_PT), capital_height_in(SMALL_PT)
    inside = Rect(rect.left + 0.06, rect.top - 0.08 - height, rect.left + 0.06 + width, rect.top - 0.08)
    if keep_out.diameter_in is None and width < rect.width - 0.1 and height < rect.height - 0.1:
        yield Words(Point(inside.left, inside.bottom), set_words(text), SMALL_PT)
        return
    beside = Circle(
        Point((rect.left + rect.right) / 2, (rect.bottom + rect.top) / 2), max(rect.width, rect.height)
    )
    found = first_free(room, (place for place in places_round(beside, width, height, 0.0)))
    if found:
        room.take(found)
        yield Words(Point(found.left, found.bottom), set_words(text), SMALL_PT)


def _rulers(plan: FacePlan, speech: Speech) -> Iterator[Shape]:
    """From the corners, inside the edges: along the back, and down both ends; never through a hole."""
    plane = plan.plane
    rings = [Circle(plan.centre_of(hole), hole.hole_diameter_in + 0.1) for hole in plan.layout.holes]

    def hidden_within(strip: Rect) -> Callable[[Point], bool]:
        near = Room(rings).near(strip).rings
        return lambda at: any(math.dist(at, ring.centre) < ring.radius for ring in near)

    face = plane.rect
    back = Rect(face.left, face.top - RULER_IN, face.right, face.top)
    yield from ruler(
        plane.width_in,
        speech.unit,
        lambda along, across: plane.from_face(Point(along, across)),
        hidden_within(back),
    )
    for end, inward in ((0.0, 1), (plane.width_in, -1)):
        x = plane.from_face(Point(end, 0.0)).x
        strip = Rect(x - RULER_IN, face.bottom, x + RULER_IN, face.top)

        def place(along: float, across: float, end: float = end, inward: int = inward) -> Point:
            return plane.from_face(Point(end + inward * across, along))

        yield from ruler(plane.depth_in, speech.unit, place, hidden_within(strip))


def _labels(plan: FacePlan, hole: Hole, room: Room, speech: Speech) -> Iterator[Shape]:
    """The hole's id, and beside it as much as there is room for: raceway, and centre from both edges."""
    start = plan.layout.job.face.start_edge
    raceway = f"{hole.trade_size} {hole.type}"
    places = (f"{speech.mark(hole.u_in)} from {start}", f"{speech.mark(hole.v_in)} from back")
    circle = Circle(plan.centre_of(hole), hole.hole_diameter_in)
    yield from _block((hole.id,), LABEL_PT, True, circle, room)
    for lines in ((raceway, *places), (raceway,)):
        block = _block(lines, SMALL_PT, False, circle, room)
        if block:
            yield from block
            return


def _block(
    lines: tuple[str, ...], size_pt: float, bold: bool, circle: Circle, room: Room
) -> tuple[Shape, ...]:
    """The lines under each other at the first free place round the circle; nothing when there is none."""
    reach = circle.radius + 3.5
    x, y = circle.centre
    near = room.near(Rect(x - reach, y - reach, x + reach, y + reach))
    step = line_height_in(size_pt)
    width = max(width_in(line, size_pt, bold) for line in lines)
    height = capital_height_in(size_pt) + step * (len(lines) - 1)
    found = first_free(near, places_round(circle, width, height, ARM_IN))
    if found is None:
        return ()
    room.take(found)
    first_base = found.top - capital_height_in(size_pt)
    return tuple(
        Words(Point(found.left, first_base - index * step), set_words(line), size_pt, bold=bold)
        for index, line in enumerate(lines)
    )
