"""Turns one planned face into a true-scale Picture: edges, holes with their cross-lines, keep-outs,
rulers, labels.

Coordinates are the sheet plane's. Every number comes from the Layout through the plan's plane; nothing is
decided here
but where words find room.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence

from templates_engine.drawing.face_room import (
    ARM_IN,
    close_outside,
    face_room,
    name_marks_off_rulers,
)
from templates_engine.drawing.hole_labels import hole_labels
from templates_engine.drawing.joint_words import place_joint_words
from templates_engine.drawing.keep_outs import keep_out_shapes, keep_out_words
from templates_engine.drawing.labels import Room, first_free
from templates_engine.drawing.rulers import ruler
from templates_engine.drawing.shapes import Box, Line, Picture, Ring, Shape, Words
from templates_engine.drawing.style import (
    BACK_LINE,
    CROSS,
    EDGE,
    HOLE,
    INSIDE,
    LIP,
    PILOT,
    QUARTER,
    SMALL_PT,
    capital_height_in,
)
from templates_engine.drawing.tape import place_tape
from templates_engine.drawing.words import set_words, width_in
from templates_engine.geometry import Circle, Point, Rect
from templates_engine.layout.model import Hole, PlacedRow
from templates_engine.sheets.bars import RULER_IN
from templates_engine.sheets.face_lines import inside_corner, lip_lines
from templates_engine.sheets.model import FacePlan
from templates_engine.units import Speech

QUARTER_IN = 0.16
"""Half length of the heavy stroke through each quarter point."""


def face_picture(plan: FacePlan, speech: Speech) -> tuple[Picture, Room]:
    """The face as it is seen on paper, at true scale, and what it leaves free for a sheet's own words."""
    room = face_room(plan)
    shapes: list[Shape] = [Box(plan.plane.rect, EDGE, "edge")]
    if inner := inside_corner(plan):
        shapes.append(Box(inner, INSIDE, "edge"))
    shapes += (Line(start, end, LIP, "edge") for start, end in lip_lines(plan))
    for sheet, bars in zip(plan.sheets, plan.bars, strict=False):
        if bars.strip is not None:
            room.take_bar(sheet.number, bars.strip)
    shapes += _rulers(plan, speech, room)
    name_marks_off_rulers(plan, room)
    close_outside(plan, room)
    for keep_out in plan.layout.job.keep_outs:
        shapes += keep_out_shapes(plan, keep_out)
    for row in plan.layout.rows:
        shapes += _row_line(plan, row)
    for hole in plan.layout.holes:
        shapes += hole_marks(plan, hole)
    shapes += hole_labels(plan, room, speech)
    for keep_out in plan.layout.job.keep_outs:
        shapes += keep_out_words(plan, keep_out, room)
    for row in plan.layout.rows:
        shapes += _row_line_words(plan, row, room, speech)
    shapes += _lip_words(plan, room)
    place_joint_words(plan, room)
    place_tape(plan, room)
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


def _row_line(plan: FacePlan, row: PlacedRow) -> Iterator[Shape]:
    v = row.line.at_in
    if 0 < v < plan.plane.depth_in:
        start, end = (plan.plane.from_face(Point(u, v)) for u in (0.0, plan.plane.width_in))
        yield Line(start, end, BACK_LINE, "frame")


def _row_line_words(plan: FacePlan, row: PlacedRow, room: Room, speech: Speech) -> Iterator[Shape]:
    """The name of the row's back line or centre line, once on every sheet where there is room for it."""
    name, where = row.row.name, speech.say(row.line.at_in)
    texts = (f"row {name}: {row.line.whose} {where} from back edge", f"{row.line.through} {name}, {where}")
    yield from _along_level_line(plan, plan.plane.depth_in - row.line.at_in, texts, room)


def _lip_words(plan: FacePlan, room: Room) -> Iterator[Shape]:
    """The name of each lip that runs across the sheet, so that nobody takes its line for one to cut."""
    for start, end in lip_lines(plan):
        if start.y == end.y:
            yield from _along_level_line(plan, start.y, ("lip: metal is not flat beyond", "lip"), room)


def _along_level_line(plan: FacePlan, y: float, texts: Sequence[str], room: Room) -> Iterator[Shape]:
    """The first of the texts that has room beside the level line, once in every column of sheets."""
    height = capital_height_in(SMALL_PT)
    done: set[int] = set()
    for sheet in plan.sheets:
        left, right = sheet.own.left, sheet.own.right
        if sheet.column in done or not sheet.window.bottom <= y <= sheet.window.top:
            continue
        near = room.near(Rect(left, y - 0.3, right, y + 0.3))
        for text in texts:
            width = width_in(text, SMALL_PT)
            places = (
                Rect(left + k * 0.1, base, left + k * 0.1 + width, base + height)
                for base in (y + 0.06, y - 0.06 - height)
                for k in range(1, int(max(right - left - width, 0) / 0.1))
            )
            found = first_free(near, places)
            if found:
                room.take(found)
                done.add(sheet.column)
                yield Words(Point(found.left, found.bottom), set_words(text), SMALL_PT)
                break


def _rulers(plan: FacePlan, speech: Speech, room: Room) -> Iterator[Shape]:
    """From the corners, inside the edges: along the back, and down both ends; never through a hole.

    A number that would stand on a line, or be cut by a sheet's edge, is left out: its neighbours tell it.
    """
    plane = plan.plane
    rings = [Circle(plan.centre_of(hole), hole.hole_diameter_in + 0.1) for hole in plan.layout.holes]

    def hidden_within(strip: Rect) -> Callable[[Point], bool]:
        by_inch: dict[int, list[Circle]] = {}  # a long row has many rings, and each tick few of them near
        for ring in Room(rings).near(strip).rings:
            for inch in range(
                math.floor(ring.centre.x - ring.radius), math.floor(ring.centre.x + ring.radius) + 1
            ):
                by_inch.setdefault(inch, []).append(ring)

        def hidden(at: Point) -> bool:
            near = by_inch.get(math.floor(at.x), ())
            return any(math.dist(at, ring.centre) < ring.radius for ring in near)

        return hidden

    def takes(number: Rect) -> bool:
        if not room.near(number.grown(1.0)).is_free(number):
            return False
        room.take(number)
        return True

    face = plane.rect
    back = Rect(face.left, face.top - RULER_IN, face.right, face.top)
    yield from ruler(
        plane.width_in,
        speech.unit,
        lambda along, across: plane.from_face(Point(along, across)),
        hidden_within(back),
        takes,
    )
    for end, inward in ((0.0, 1), (plane.width_in, -1)):
        x = plane.from_face(Point(end, 0.0)).x
        strip = Rect(x - RULER_IN, face.bottom, x + RULER_IN, face.top)

        def place(along: float, across: float, end: float = end, inward: int = inward) -> Point:
            return plane.from_face(Point(end + inward * across, along))

        yield from ruler(plane.depth_in, speech.unit, place, hidden_within(strip), takes)
