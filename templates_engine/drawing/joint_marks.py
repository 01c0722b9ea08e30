"""Turns the joints of one sheet into lines and registration marks; joint_words says what to do there.

::

       sheet 1       |       sheet 2        both sheets show the mark; its name stands on each sheet on the
            1-2a   --+--   1-2a             part that stays, clear of all other lines
                     |
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from functools import cache
from itertools import chain

from templates_engine.drawing.labels import Room, first_free
from templates_engine.drawing.shapes import Line, Ring, Shape, Words
from templates_engine.drawing.style import JOINT, MARK, SMALL_PT, capital_height_in
from templates_engine.drawing.words import width_in
from templates_engine.geometry import Point, Rect
from templates_engine.sheets.model import FacePlan, Joint, Mark, Sheet

MARK_ARM_IN = 0.15
MARK_RING_IN = 0.14
NEAR_NAME_IN, FARTHEST_NAME_IN = 0.7, 1.5
_STEP_IN = 0.1


def joint_shapes(sheet: Sheet, room: Room) -> Iterator[Shape]:
    """Where this sheet meets its neighbours: the lines, and the marks on them with their names."""
    for joint in sheet.joints:
        start, end = shown_of(joint, sheet.window)
        yield Line(sheet.on_page(start), sheet.on_page(end), JOINT, "joint")
        for mark in joint.marks:
            yield from _mark(sheet, mark, room)


def name_marks(plan: FacePlan, room: Room) -> None:
    """Finds each mark's name a place on both of its sheets, and takes it in the room."""
    for sheet in plan.sheets:
        all_marks = [mark for joint in sheet.joints for mark in joint.marks]
        for joint in sheet.joints:
            for mark in joint.marks:
                around = Rect(mark.at.x, mark.at.y, mark.at.x, mark.at.y).grown(FARTHEST_NAME_IN + 1.0)
                near = room.near(around).on_paper()
                found = first_free(near, _wanted(sheet, joint, mark, all_marks, near, plan.plane.rect))
                if found is None:
                    crowded = chain(
                        _fit_places(sheet, joint, mark, all_marks), _name_places(joint, mark, sheet)
                    )
                    found = next(crowded)
                room.names[mark.name, sheet.number] = found
                room.take(found)


def _wanted(
    sheet: Sheet, joint: Joint, mark: Mark, marks: Sequence[Mark], room: Room, face: Rect
) -> Iterator[Rect]:
    """Places for a mark's name: near it, on the face and off all knockouts, then as much of that as may be.

    What stands past the face's edges is folded away or cut off; in a knockout only its own name belongs; but
    a name far from its mark is worst.
    """

    def is_near(place: Rect) -> bool:
        return math.dist(place.nearest(mark.at), mark.at) <= NEAR_NAME_IN

    def is_not_far(place: Rect) -> bool:
        return math.dist(place.nearest(mark.at), mark.at) <= 2 * NEAR_NAME_IN

    def is_on_face(place: Rect) -> bool:
        return face.contains(place)

    def is_off_holes(place: Rect) -> bool:
        return not _is_in_a_hole(place, room)

    near = (is_near, is_off_holes)
    wishes = ((*near, is_on_face), near, (is_not_far, is_off_holes), (is_near,), (is_off_holes,), ())
    for wanted in wishes:
        for place in _fit_places(sheet, joint, mark, marks):
            if all(wish(place) for wish in wanted):
                yield place


def _is_in_a_hole(place: Rect, room: Room) -> bool:
    """Whether a name there would stand in a knockout, where only the hole's own belongs."""
    middle = Point((place.left + place.right) / 2, (place.bottom + place.top) / 2)
    return any(math.dist(middle, ring.centre) < ring.radius for ring in room.rings)


def _fit_places(sheet: Sheet, joint: Joint, mark: Mark, marks: Sequence[Mark]) -> Iterator[Rect]:
    """Places for a mark's name that are on the sheet and cannot be read as another mark's, best first."""
    for place in chain(_name_places(joint, mark, sheet), _further_places(mark)):
        if sheet.window.contains(place) and _is_nearest(place, mark, marks):
            yield place


def _name_places(joint: Joint, mark: Mark, sheet: Sheet) -> Iterator[Rect]:
    """Beside the mark on the part of the sheet that stays, nearest first."""
    width, height = width_in(mark.name, SMALL_PT), capital_height_in(SMALL_PT)
    x, y = mark.at
    is_first = sheet.number == joint.first
    if joint.is_upright:
        for away in (0.12, 0.2, 0.35, 0.5, 0.8):
            left = x - away - width if is_first else x + away
            for rise in (0.07, -0.07 - height, 0.2, -0.2 - height, 0.35, -0.35 - height):
                yield Rect(left, y + rise, left + width, y + rise + height)
        return
    for away in (0.10, 0.2, 0.35, 0.5, 0.8):
        bottom = y + away if is_first else y - away - height
        for aside in (0.10, -0.10 - width, 0.25, -0.25 - width, 0.5, -0.5 - width):
            yield Rect(x + aside, bottom, x + aside + width, bottom + height)


def _is_nearest(place: Rect, own: Mark, marks: Sequence[Mark]) -> bool:
    """Whether a name there is read as its own mark's: neither its middle nor its beginning nearer another."""
    spots = Point(place.left, place.bottom), Point((place.left + place.right) / 2, place.bottom)
    return all(
        math.dist(spot, own.at) < math.dist(spot, other.at)
        for spot in spots
        for other in marks
        if other.at != own.at
    )


def _further_places(mark: Mark) -> Iterator[Rect]:
    """All round the mark, nearest first: for corners where sheets, marks and joints crowd."""
    width, height = width_in(mark.name, SMALL_PT), capital_height_in(SMALL_PT)
    left, bottom = mark.at.x - width / 2, mark.at.y - height / 2
    for dx, dy in _offsets():
        yield Rect(left + dx, bottom + dy, left + dx + width, bottom + dy + height)


@cache
def _offsets() -> tuple[tuple[float, float], ...]:
    """Steps away from a point on all sides, nearest first."""
    steps = range(-round(FARTHEST_NAME_IN / _STEP_IN), round(FARTHEST_NAME_IN / _STEP_IN) + 1)
    offsets = ((dx * _STEP_IN, dy * _STEP_IN) for dx in steps for dy in steps)
    return tuple(sorted(offsets, key=lambda one: math.hypot(*one)))


def shown_of(joint: Joint, window: Rect) -> tuple[Point, Point]:
    """The part of a joint that a window shows."""
    return window.nearest(joint.start), window.nearest(joint.end)


def _mark(sheet: Sheet, mark: Mark, room: Room) -> Iterator[Shape]:
    x, y = mark.at
    for start, end in (
        (Point(x - MARK_ARM_IN, y), Point(x + MARK_ARM_IN, y)),
        (Point(x, y - MARK_ARM_IN), Point(x, y + MARK_ARM_IN)),
    ):
        # Where sheets overlap little an arm would run off the printable paper.
        shown = sheet.window.nearest(start), sheet.window.nearest(end)
        yield Line(sheet.on_page(shown[0]), sheet.on_page(shown[1]), MARK, "joint")
    yield Ring(sheet.on_page(mark.at), MARK_RING_IN, MARK, "joint")
    name = room.names[mark.name, sheet.number]
    yield Words(sheet.on_page(Point(name.left, name.bottom)), (mark.name,), SMALL_PT, "joint")
