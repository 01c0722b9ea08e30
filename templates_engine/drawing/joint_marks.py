"""Turns the joints of one sheet into shapes: the line, its registration marks, and what to do there.

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
from templates_engine.drawing.words import set_words, width_in
from templates_engine.geometry import Point, Rect
from templates_engine.sheets.model import FacePlan, Joint, Mark, Sheet

MARK_ARM_IN = 0.15
MARK_RING_IN = 0.14
FROM_LINE_IN = 0.06
"""Between a joint's line and the words along it."""
FARTHEST_NAME_IN = 1.5
_STEP_IN, _WORDS_STEP_IN = 0.1, 0.05


def joint_shapes(sheet: Sheet, room: Room) -> Iterator[Shape]:
    """Where this sheet meets its neighbours: the line, the marks on it, and what to do there."""
    for joint in sheet.joints:
        start, end = _within(joint, sheet.window)
        yield Line(sheet.on_page(start), sheet.on_page(end), JOINT, "joint")
        for mark in joint.marks:
            yield from _mark(sheet, mark, room)
        said = room.joint_words.get((joint.first, joint.second, sheet.number))
        if said:
            text, place = said
            turned = joint.is_upright
            at = Point(place.right if turned else place.left, place.bottom)
            yield Words(sheet.on_page(at), set_words(text), SMALL_PT, "joint", angle=90.0 if turned else 0.0)


def name_marks(plan: FacePlan, room: Room) -> None:
    """Finds each mark's name a place on both of its sheets, and takes it in the room."""
    for sheet in plan.sheets:
        all_marks = [mark for joint in sheet.joints for mark in joint.marks]
        for joint in sheet.joints:
            for mark in joint.marks:
                around = Rect(mark.at.x, mark.at.y, mark.at.x, mark.at.y).grown(FARTHEST_NAME_IN + 1.0)
                near = room.near(around).on_paper()
                places = _fit_places(sheet, joint, mark, all_marks)
                found = first_free(near, (place for place in places if not _is_in_a_hole(place, near)))
                if found is None:
                    crowded = chain(
                        _fit_places(sheet, joint, mark, all_marks), _name_places(joint, mark, sheet)
                    )
                    found = next(crowded)
                room.names[mark.name, sheet.number] = found
                room.take(found)


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


def _within(joint: Joint, window: Rect) -> tuple[Point, Point]:
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


def place_joint_words(plan: FacePlan, room: Room) -> None:
    """Finds what to do at each joint a place along its line on both of its sheets, and takes it in the room.

    It stands on the side that will be covered or cut off, or says that its side stays. Left out where nothing
    fits: the map and the marks' names still say which sheets meet.
    """
    for sheet in plan.sheets:
        for joint in sheet.joints:
            start, end = _within(joint, sheet.window)
            line = Rect(min(start.x, end.x), min(start.y, end.y), max(start.x, end.x), max(start.y, end.y))
            # Only this sheet shows these words, so its neighbour's end does not cut them.
            near = room.near(line.grown(0.4)).on_paper()
            near = near.without_lines(joint.is_upright, (_neighbours_end(plan, joint, sheet),))
            for text, stays in _texts(joint, sheet):
                found = first_free(near, _along(line, width_in(text, SMALL_PT), joint, sheet, stays))
                if found:
                    room.joint_words[joint.first, joint.second, sheet.number] = text, found
                    room.take(found)
                    break


def _neighbours_end(plan: FacePlan, joint: Joint, sheet: Sheet) -> float:
    """Where the other sheet of a joint ends beside its line."""
    if sheet.number == joint.first:
        window = plan.sheets[joint.second - 1].window
        return window.left if joint.is_upright else window.top
    window = plan.sheets[joint.first - 1].window
    return window.right if joint.is_upright else window.bottom


def _texts(joint: Joint, sheet: Sheet) -> Iterator[tuple[str, bool]]:
    """What to say at a joint, the fullest first, and whether it is said on the part that stays."""
    if sheet.number == joint.first and not joint.is_butt:
        over = f"sheet {joint.second}"
        return iter(
            (
                (f"{over} lies over this side", False),
                (f"{over} lies over from the line on", True),
                (f"under {over}", False),
                (f"under {over}", True),
            )
        )
    other = joint.first if sheet.number == joint.second else joint.second
    to = f"butt to sheet {other}" if joint.is_butt else f"lay over sheet {other}"
    return iter(
        (
            (f"trim off this side, {to}", False),
            (f"trim along the line, this side stays, {to}", True),
            (f"trim off, {to}", False),
            (f"trim, this side stays, {to}", True),
            (to, True),
        )
    )


def _along(line: Rect, width: float, joint: Joint, sheet: Sheet, stays: bool) -> Iterator[Rect]:
    """Places along the line for words of that width, those nearest its middle first."""
    height = capital_height_in(SMALL_PT)
    # The first sheet's part that stays is before the line, to the left of it or above.
    after = (sheet.number == joint.first) != stays
    length = line.height if joint.is_upright else line.width
    steps = max(int((length - width - 0.2) / _WORDS_STEP_IN) + 1, 0)
    starts = [0.1 + step * _WORDS_STEP_IN for step in range(steps)]
    starts.sort(key=lambda start: abs(start + width / 2 - length / 2))
    for start in starts:
        if joint.is_upright:
            left = line.left + FROM_LINE_IN if after else line.left - FROM_LINE_IN - height
            yield Rect(left, line.bottom + start, left + height, line.bottom + start + width)
        else:
            bottom = line.bottom - FROM_LINE_IN - height if after else line.bottom + FROM_LINE_IN
            yield Rect(line.left + start, bottom, line.left + start + width, bottom + height)
