"""Turns the joints of one sheet into lines and registration marks, and asks for room for the marks' names.

::

       sheet 1       |       sheet 2        both sheets show the mark; its name stands on each sheet on the
            1-2a   --+--   1-2a             part that stays, clear of all other lines
                     |
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import chain

from templates_engine.drawing.shapes import DrawnCircle, Line, Shape
from templates_engine.drawing.style import JOINT, MARK, SMALL_PT, capital_height_in
from templates_engine.drawing.words import width_in
from templates_engine.drawing.words.ink import ON_PAPER, Ink, SheetInk
from templates_engine.drawing.words.places import offsets
from templates_engine.drawing.words.requests import LabelRequest, Priority, Spot
from templates_engine.geometry import Point, Rect
from templates_engine.sheets.model import FacePlan, Joint, RegistrationMark, Sheet

MARK_ARM_IN = 0.15
MARK_RING_IN = 0.14
NEAR_NAME_IN, FARTHEST_NAME_IN = 0.7, 1.5
_STEP_IN = 0.1
_AVOID = ON_PAPER & ~int(Ink.MARK_ROOM)


def joint_shapes(sheet: Sheet) -> Iterator[Shape]:
    """Where this sheet meets its neighbours: the lines, and the marks on them."""
    for joint in sheet.joints:
        start, end = shown_of(joint, sheet.window)
        yield Line(sheet.on_page(start), sheet.on_page(end), JOINT, "joint")
        for mark in joint.marks:
            yield from _mark(sheet, mark)


def mark_name_requests(plan: FacePlan, sheet: Sheet) -> Iterator[LabelRequest]:
    """The name of every mark on the sheet."""
    places = [mark.at for joint in sheet.joints for mark in joint.marks]
    for joint in sheet.joints:
        for mark in joint.marks:
            others = [at for at in places if at != mark.at]
            yield _name_request(sheet, joint, mark, others, plan.plane.rect)


def _name_request(
    sheet: Sheet, joint: Joint, mark: RegistrationMark, others: Sequence[Point], face: Rect
) -> LabelRequest:
    """Near its mark, on the face and off all knockouts, then as much of that as may be.

    What stands past the face's edges is folded away or cut off; in a knockout only its own name belongs; but
    a name far from its mark is worst.
    """

    def spots(_: SheetInk) -> Iterator[Spot]:
        off_holes = _AVOID | int(Ink.KNOCKOUT)
        for within_in, avoid, area in (
            (NEAR_NAME_IN, off_holes, face),
            (NEAR_NAME_IN, off_holes, sheet.window),
            (2 * NEAR_NAME_IN, off_holes, sheet.window),
            (FARTHEST_NAME_IN, off_holes, sheet.window),
            (NEAR_NAME_IN, _AVOID, sheet.window),
            (FARTHEST_NAME_IN, _AVOID, sheet.window),
        ):
            for place in _fit_places(sheet, joint, mark, others):
                if area.contains(place) and math.dist(place.nearest(mark.at), mark.at) <= within_in:
                    yield Spot(place, (mark.name,), avoid=avoid)

    return LabelRequest(("mark", mark.name), Priority.MARK, spots, True, layer="joint")


def _fit_places(
    sheet: Sheet, joint: Joint, mark: RegistrationMark, others: Sequence[Point]
) -> Iterator[Rect]:
    """Places for a mark's name that are on the sheet and cannot be read as another mark's, best first."""
    for place in chain(_name_places(joint, mark, sheet), _further_places(mark)):
        if sheet.window.contains(place) and _is_nearest(place, mark.at, others):
            yield place


def _name_places(joint: Joint, mark: RegistrationMark, sheet: Sheet) -> Iterator[Rect]:
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


def _is_nearest(place: Rect, own: Point, others: Sequence[Point]) -> bool:
    """Whether a name there is read as its own mark's: neither its middle nor its beginning nearer another."""
    for spot in ((place.left, place.bottom), ((place.left + place.right) / 2, place.bottom)):
        own_in = math.dist(spot, own)
        if any(math.dist(spot, other) <= own_in for other in others):
            return False
    return True


def _further_places(mark: RegistrationMark) -> Iterator[Rect]:
    """All round the mark, nearest first: for corners where sheets, marks and joints crowd."""
    width, height = width_in(mark.name, SMALL_PT), capital_height_in(SMALL_PT)
    left, bottom = mark.at.x - width / 2, mark.at.y - height / 2
    for dx, dy in offsets(round(FARTHEST_NAME_IN / _STEP_IN), _STEP_IN):
        yield Rect(left + dx, bottom + dy, left + dx + width, bottom + dy + height)


def shown_of(joint: Joint, window: Rect) -> tuple[Point, Point]:
    """The part of a joint that a window shows."""
    return window.nearest(joint.start), window.nearest(joint.end)


def _mark(sheet: Sheet, mark: RegistrationMark) -> Iterator[Shape]:
    x, y = mark.at
    for start, end in (
        (Point(x - MARK_ARM_IN, y), Point(x + MARK_ARM_IN, y)),
        (Point(x, y - MARK_ARM_IN), Point(x, y + MARK_ARM_IN)),
    ):
        # Where sheets overlap little an arm would run off the printable paper.
        shown = sheet.window.nearest(start), sheet.window.nearest(end)
        yield Line(sheet.on_page(shown[0]), sheet.on_page(shown[1]), MARK, "joint")
    yield DrawnCircle(sheet.on_page(mark.at), MARK_RING_IN, MARK, "joint")
