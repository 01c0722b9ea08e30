"""Asks for room along each joint to say what to do there, on the side that goes, or on the side that stays.

::

       sheet 1       |                        |       sheet 2        the words on sheet 1 stand where sheet 2
                   s | h                    t | h                    will cover them, those on sheet 2 where
                   t | 2                    r | 1                    the paper is cut off
"""

from __future__ import annotations

from collections.abc import Iterator

from templates_engine.drawing.sheet.face_strokes import line_rect
from templates_engine.drawing.sheet.joint_marks import shown_of
from templates_engine.drawing.style import SMALL_PT, capital_height_in
from templates_engine.drawing.words import width_in
from templates_engine.drawing.words.ink import ON_PAPER, Ink, SheetInk
from templates_engine.drawing.words.places import beside, starts_along
from templates_engine.drawing.words.requests import LabelRequest, Priority, Spot
from templates_engine.sheets.model import Joint, Sheet

FROM_LINE_IN = 0.06
"""Between a joint's line and the words along it."""
_END_IN, _STEP_IN = 0.1, 0.05
_AVOID = ON_PAPER | int(Ink.KNOCKOUT)


def joint_word_requests(sheet: Sheet) -> Iterator[LabelRequest]:
    """What to do at each joint of the sheet."""
    for joint in sheet.joints:
        yield _request(sheet, joint)


def _request(sheet: Sheet, joint: Joint) -> LabelRequest:
    """On the side that will be covered or cut off, or saying that its side stays."""
    line = line_rect(*shown_of(joint, sheet.window))
    low, high = (line.bottom, line.top) if joint.is_upright else (line.left, line.right)
    height, angle = capital_height_in(SMALL_PT), 90.0 if joint.is_upright else 0.0

    def spots(_: SheetInk) -> Iterator[Spot]:
        for gap, avoid in ((FROM_LINE_IN, _AVOID), (2.5 * FROM_LINE_IN, _AVOID & ~int(Ink.RULER))):
            for text, stays in _texts(joint, sheet):
                width = width_in(text, SMALL_PT)
                # The first sheet's part that stays is before the line, to the left of it or above.
                after = (sheet.number == joint.first) != stays
                starts = starts_along(low + _END_IN, high - _END_IN, width, _STEP_IN, ((low + high) / 2,))
                for start in starts:
                    place = beside(line, width, height, start, gap, after)
                    if sheet.window.contains(place):
                        yield Spot(place, (text,), angle, avoid)

    return LabelRequest(("joint", joint.first, joint.second), Priority.JOINT, spots, True, layer="joint")


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
                ("under", False),
            )
        )
    other = joint.first if sheet.number == joint.second else joint.second
    to = f"butt to sheet {other}" if joint.is_butt else f"lay over sheet {other}"
    short = f"butt to {other}" if joint.is_butt else f"over {other}"
    return iter(
        (
            (f"trim off this side, {to}", False),
            (f"trim off, {to}", False),
            (f"trim, this side stays, {to}", True),
            (f"trim off, {short}", False),
            (f"trim, stays, {short}", True),
            ("trim off", False),
            ("trim", False),
            ("trim", True),
        )
    )
