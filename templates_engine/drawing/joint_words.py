"""Says along each joint what to do there, on the side that goes, or on the side that stays and says so.

::

       sheet 1       |                        |       sheet 2        the words on sheet 1 stand where sheet 2
                   s | h                    t | h                    will cover them, those on sheet 2 where
                   t | 2                    r | 1                    the paper is cut off
"""

from __future__ import annotations

from collections.abc import Iterator

from templates_engine.drawing.joint_marks import shown_of
from templates_engine.drawing.labels import Room, first_free
from templates_engine.drawing.shapes import Shape, Words
from templates_engine.drawing.style import SMALL_PT, capital_height_in
from templates_engine.drawing.words import set_words, width_in
from templates_engine.geometry import Point, Rect
from templates_engine.sheets.model import FacePlan, Joint, Sheet

FROM_LINE_IN = 0.06
"""Between a joint's line and the words along it."""
_STEP_IN = 0.05


def joint_words(sheet: Sheet, room: Room) -> Iterator[Shape]:
    """The words at all joints of the sheet, where places were found for them."""
    for joint in sheet.joints:
        said = room.joint_words.get((joint.first, joint.second, sheet.number))
        if said:
            text, place = said
            turned = joint.is_upright
            at = Point(place.right if turned else place.left, place.bottom)
            yield Words(sheet.on_page(at), set_words(text), SMALL_PT, "joint", angle=90.0 if turned else 0.0)


def place_joint_words(plan: FacePlan, room: Room) -> None:
    """Finds what to do at each joint a place along its line on both of its sheets, and takes it in the room.

    It stands on the side that will be covered or cut off, or says that its side stays. Left out where nothing
    fits: the map and the marks' names still say which sheets meet.
    """
    for sheet in plan.sheets:
        for joint in sheet.joints:
            start, end = shown_of(joint, sheet.window)
            line = Rect(min(start.x, end.x), min(start.y, end.y), max(start.x, end.x), max(start.y, end.y))
            # Only this sheet shows these words, so its neighbour's end does not cut them.
            near = room.near(line.grown(0.4)).on_paper()
            near = near.without_lines(joint.is_upright, (_neighbours_end(plan, joint, sheet),))
            near = near.without(room.foreign((sheet.number,)))
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
                ("under", False),
            )
        )
    other = joint.first if sheet.number == joint.second else joint.second
    to = f"butt to sheet {other}" if joint.is_butt else f"lay over sheet {other}"
    short = f"butt to {other}" if joint.is_butt else f"over {other}"
    return iter(
        (
            (f"trim off this side, {to}", False),
            (f"trim along the line, this side stays, {to}", True),
            (f"trim off, {to}", False),
            (f"trim, this side stays, {to}", True),
            (f"trim off, {short}", False),
            (f"trim, stays, {short}", True),
            ("trim off", False),
            ("trim", False),
            ("trim", True),
        )
    )


def _along(line: Rect, width: float, joint: Joint, sheet: Sheet, stays: bool) -> Iterator[Rect]:
    """Places along the line for words of that width, those nearest its middle first."""
    height = capital_height_in(SMALL_PT)
    # The first sheet's part that stays is before the line, to the left of it or above.
    after = (sheet.number == joint.first) != stays
    length = line.height if joint.is_upright else line.width
    steps = max(int((length - width - 0.2) / _STEP_IN) + 1, 0)
    starts = [0.1 + step * _STEP_IN for step in range(steps)]
    starts.sort(key=lambda start: abs(start + width / 2 - length / 2))
    for start in starts:
        if joint.is_upright:
            left = line.left + FROM_LINE_IN if after else line.left - FROM_LINE_IN - height
            yield Rect(left, line.bottom + start, left + height, line.bottom + start + width)
        else:
            bottom = line.bottom - FROM_LINE_IN - height if after else line.bottom + FROM_LINE_IN
            yield Rect(line.left + start, bottom, line.left + start + width, bottom + height)
