"""Turns the joints of one sheet into lines and registration marks, and asks for room for the marks' names and
for what to do at each joint.

::

       sheet 1       |       sheet 2        both sheets show the mark; its name stands on each sheet on the
            1-2a   --+--   1-2a             part that stays, clear of all other lines
                   s | h                    t | h       the words on sheet 1 stand where sheet 2 will cover
                   t | 2                    r | 1       them, those on sheet 2 where the paper is cut off
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from functools import partial
from itertools import chain

from templates_engine.drawing.shapes import DrawnCircle, Line, Pen, Shape
from templates_engine.drawing.style import JOINT, MARK, SMALL_CAPITAL_IN, SMALL_PT
from templates_engine.drawing.words import width_in
from templates_engine.drawing.words.ink import ON_PAPER, Ink
from templates_engine.drawing.words.places import LineSide, offsets
from templates_engine.drawing.words.requests import LabelRequest, Priority, Spot
from templates_engine.geometry import Point, Rect, cross_lines
from templates_engine.sheets.face_lines import line_rect
from templates_engine.sheets.model import FacePlan, Joint, RegistrationMark, Sheet
from templates_engine.values import Struct

MARK_ARM_IN = 0.15
MARK_RING_IN = 0.14
NEAR_NAME_IN, FARTHEST_NAME_IN = 0.7, 1.5
_STEP_IN = 0.1
FROM_LINE_IN = 0.06
"""Between a joint's line and the words along it."""
_WORDS_END_IN, _WORDS_STEP_IN = 0.1, 0.05


def joint_shapes(sheet: Sheet) -> Iterator[Shape]:
    """Where this sheet meets its neighbours: the lines, and the marks on them."""
    for joint in sheet.joints:
        yield _shown(sheet, joint.start, joint.end, JOINT)
        for mark in joint.marks:
            yield from _mark(sheet, mark)


def _mark(sheet: Sheet, mark: RegistrationMark) -> Iterator[Shape]:
    """Where sheets overlap little its arms would run off the printable paper, and are cut short."""
    yield from (_shown(sheet, start, end, MARK) for start, end in cross_lines(mark.at, MARK_ARM_IN))
    yield DrawnCircle(sheet.on_page(mark.at), MARK_RING_IN, MARK, "joint")


def _shown(sheet: Sheet, start: Point, end: Point, pen: Pen) -> Line:
    """A line as far as the sheet shows it."""
    on_page, nearest = sheet.on_page, sheet.window.nearest
    return Line(on_page(nearest(start)), on_page(nearest(end)), pen, "joint")


# --- names of marks -----------------------------------------------------------------------------------------


class _Name(Struct, frozen=True):
    """The name of a mark on one of its sheets."""

    sheet: Sheet
    joint: Joint
    mark: RegistrationMark
    others: Sequence[Point]
    """Where the sheet's other marks are."""
    face: Rect

    def spots(self) -> Iterator[Spot]:
        """Near its mark, on the face and off all knockouts, then as much of that as may be.

        What stands past the face's edges is folded away or cut off; in a knockout only its own name belongs;
        but a name far from its mark is worst.
        """
        window, at = self.sheet.window, self.mark.at
        avoid = ON_PAPER & ~Ink.MARK_ROOM
        off_holes = avoid | Ink.KNOCKOUT
        for within_in, avoids, area in (
            (NEAR_NAME_IN, off_holes, self.face),
            (NEAR_NAME_IN, off_holes, window),
            (2 * NEAR_NAME_IN, off_holes, window),
            (FARTHEST_NAME_IN, off_holes, window),
            (NEAR_NAME_IN, avoid, window),
            (FARTHEST_NAME_IN, avoid, window),
        ):
            for place in chain(self._beside(), self._further()):
                is_near = area.contains(place) and math.dist(place.nearest(at), at) <= within_in
                if is_near and window.contains(place) and self._is_nearest(place):
                    yield Spot(place, (self.mark.name,), avoid=avoids)

    def _beside(self) -> Iterator[Rect]:
        """Beside the mark on the part of the sheet that stays, nearest first."""
        width, height = width_in(self.mark.name, SMALL_PT), SMALL_CAPITAL_IN
        x, y = self.mark.at
        is_first = self.sheet.number == self.joint.first
        if self.joint.is_upright:
            for away in (0.12, 0.2, 0.35, 0.5, 0.8):
                left = x - away - width if is_first else x + away
                for rise in (0.07, -0.07 - height, 0.2, -0.2 - height, 0.35, -0.35 - height):
                    yield Rect(left, y + rise, left + width, y + rise + height)
            return
        for away in (0.10, 0.2, 0.35, 0.5, 0.8):
            bottom = y + away if is_first else y - away - height
            for aside in (0.10, -0.10 - width, 0.25, -0.25 - width, 0.5, -0.5 - width):
                yield Rect(x + aside, bottom, x + aside + width, bottom + height)

    def _further(self) -> Iterator[Rect]:
        """All round the mark, nearest first: for corners where sheets, marks and joints crowd."""
        width, height = width_in(self.mark.name, SMALL_PT), SMALL_CAPITAL_IN
        left, bottom = self.mark.at.x - width / 2, self.mark.at.y - height / 2
        for dx, dy in offsets(round(FARTHEST_NAME_IN / _STEP_IN), _STEP_IN):
            yield Rect(left + dx, bottom + dy, left + dx + width, bottom + dy + height)

    def _is_nearest(self, place: Rect) -> bool:
        """Whether it is read as its own mark's name: neither its middle nor its beginning nearer another."""
        for spot in ((place.left, place.bottom), (place.middle.x, place.bottom)):
            own_in = math.dist(spot, self.mark.at)
            if any(math.dist(spot, other) <= own_in for other in self.others):
                return False
        return True


def mark_name_requests(plan: FacePlan, sheet: Sheet) -> Iterator[LabelRequest]:
    """The name of every mark on the sheet."""
    places = [mark.at for joint in sheet.joints for mark in joint.marks]
    for joint in sheet.joints:
        for mark in joint.marks:
            others = [at for at in places if at != mark.at]
            name = _Name(sheet, joint, mark, others, plan.plane.rect)
            yield LabelRequest(("mark", mark.name), Priority.MARK, name.spots, True, layer="joint")


# --- what to do ---------------------------------------------------------------------------------------------


def joint_word_requests(sheet: Sheet) -> Iterator[LabelRequest]:
    """What to do at each joint of the sheet."""
    for joint in sheet.joints:
        spots = partial(_word_spots, joint, sheet)
        yield LabelRequest(("joint", joint.first, joint.second), Priority.JOINT, spots, True, layer="joint")


def _word_spots(joint: Joint, sheet: Sheet) -> Iterator[Spot]:
    """On the side that will be covered or cut off, or saying that its side stays."""
    window, avoid = sheet.window, ON_PAPER | Ink.KNOCKOUT
    line = line_rect(window.nearest(joint.start), window.nearest(joint.end))
    for gap, avoids in ((FROM_LINE_IN, avoid), (2.5 * FROM_LINE_IN, avoid & ~Ink.RULER)):
        for text, stays in _texts(joint, sheet):
            # The first sheet's part that stays is before the line, to the left of it or above.
            is_after = (sheet.number == joint.first) != stays
            side = LineSide(line, is_after, _WORDS_END_IN, _WORDS_STEP_IN)
            for place in side.places(width_in(text, SMALL_PT), SMALL_CAPITAL_IN, gap):
                if window.contains(place):
                    yield Spot(place, (text,), 90.0 if joint.is_upright else 0.0, avoids)


def _texts(joint: Joint, sheet: Sheet) -> tuple[tuple[str, bool], ...]:
    """What to say at a joint, the fullest first, and whether it is said on the part that stays."""
    if sheet.number == joint.first and not joint.is_butt:
        over = f"sheet {joint.second}"
        return (
            (f"{over} lies over this side", False),
            (f"{over} lies over from the line on", True),
            (f"under {over}", False),
            (f"under {over}", True),
            ("under", False),
        )
    other = joint.first if sheet.number == joint.second else joint.second
    to = f"butt to sheet {other}" if joint.is_butt else f"lay over sheet {other}"
    short = f"butt to {other}" if joint.is_butt else f"over {other}"
    return (
        (f"trim off this side, {to}", False),
        (f"trim off, {to}", False),
        (f"trim, this side stays, {to}", True),
        (f"trim off, {short}", False),
        (f"trim, stays, {short}", True),
        ("trim off", False),
        ("trim", False),
        ("trim", True),
    )
