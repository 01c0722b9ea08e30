"""Finds the upright scale bar a free strip over the face, on sheets that keep no strip of their own for it.

::

    +----------------------+
    |   ( )  |    ( )      |      the longest strip of BAR_WIDTH_IN that meets no hole, ruler, joint or mark;
    |        |             |      white paper beside the face counts as free
    |        |             |
    +----------------------+
"""

from __future__ import annotations

from collections.abc import Sequence

from templates_engine.drawing.bars import END_TICK_IN
from templates_engine.drawing.face_room import face_lines, ruler_strips, tick_strips
from templates_engine.drawing.labels import CLEAR_IN, Room
from templates_engine.geometry import Interval, Point, Rect
from templates_engine.sheets.model import FacePlan, Sheet

BAR_WIDTH_IN = 0.42
"""Across the bar: ticks and the words beside them, on both sides of its line."""
END_ROOM_IN = 0.06
LEAST_STRIP_IN = 3.0 + 2 * END_ROOM_IN
"""Over 3 in the least shrinking that matters, half a percent, is a 64th: a shorter bar could not show it."""
SHORTEST_STRIP_IN = 1.5
_STEP_IN, _TINY_IN = 0.05, 1e-9
_LINE_AT_IN = BAR_WIDTH_IN / 2
assert _LINE_AT_IN > END_TICK_IN


def take_bar_places(plan: FacePlan, view: Rect, room: Room) -> None:
    """Chooses each sheet's strip in the sheet plane and takes it, before the holes' words look for room.

    ``view`` is the pages' view, whose upper left corner each sheet's window fills.
    """
    holes = [_square(circle.centre).grown(circle.radius) for circle in room.rings]
    # The face's edges, lips and back lines run level under the bar without harm.
    harmless = {line for line in face_lines(plan) if line.height == 0}
    rulers = (*ruler_strips(plan), *tick_strips(plan))
    things = [rect for rect in room.taken if rect not in harmless and rect not in rulers]
    words = [rect for rect in things if rect.width > 0 and rect.height > 0]  # and the marks' surroundings
    for sheet in plan.sheets:
        shown = _shown(sheet, view)
        # A crowded sheet gives up its rulers first, then the ends of cross-lines and what joins it to others;
        # where even that leaves less, a shorter bar is better than one across a hole.
        for in_the_way in ((*holes, *things, *rulers), (*holes, *things), (*holes, *words)):
            strip = _longest(in_the_way, shown)
            if strip.height >= LEAST_STRIP_IN:
                break
        if strip.height < SHORTEST_STRIP_IN:
            strip = _longest((), shown)
        room.bars[sheet.number] = strip
        room.take(strip)


def bar_zero(strip: Rect) -> Point:
    """Where the bar's zero stands in its strip."""
    return Point(strip.left + _LINE_AT_IN, strip.bottom + END_ROOM_IN)


def bar_room_in(strip: Rect) -> float:
    """How long a bar the strip takes."""
    return strip.height - 2 * END_ROOM_IN


def _square(middle: Point) -> Rect:
    return Rect(middle.x, middle.y, middle.x, middle.y)


def _shown(sheet: Sheet, view: Rect) -> Rect:
    """All that the page's view shows, white paper below and beside the window included."""
    window = sheet.window
    return Rect(window.left, window.top - view.height, window.left + view.width, window.top)


def _longest(things: Sequence[Rect], shown: Rect) -> Rect:
    """The longest free strip, the leftmost of equals; one without any length when no place is free."""
    near = shown.grown(CLEAR_IN)
    things = [rect.grown(CLEAR_IN) for rect in things if near.overlaps(rect)]
    things.sort(key=lambda rect: (rect.bottom, rect.top))
    upright = Interval(shown.bottom, shown.top)
    best = Rect(shown.left, shown.bottom, shown.left + BAR_WIDTH_IN, shown.bottom)
    across = [rect for rect in things if rect.left <= shown.left and shown.right <= rect.right]
    longest = _longest_gap(across, upright)
    steps = range(int((shown.width - BAR_WIDTH_IN) / _STEP_IN) + 1)
    beside = (rect.right + _TINY_IN for rect in things)
    lefts = {*(shown.left + step * _STEP_IN for step in steps), *beside}
    for left in sorted(left for left in lefts if shown.left <= left <= shown.right - BAR_WIDTH_IN):
        right = left + BAR_WIDTH_IN
        taken = [rect for rect in things if left < rect.right and rect.left < right]
        free = _longest_gap(taken, upright)
        if free.high - free.low > best.height + 1e-9:
            best = Rect(left, free.low, right, free.high)
        if best.height + 1e-9 >= longest.high - longest.low:
            break  # as long as what lies right across lets any strip be
    return best


def _longest_gap(taken: Sequence[Rect], within: Interval) -> Interval:
    """The longest stretch clear of things that come in the order of their lower sides."""
    start = end = low = within.low
    for rect in taken:
        if rect.bottom - low > end - start and min(rect.bottom, within.high) - low > end - start:
            start, end = low, min(rect.bottom, within.high)
        if rect.top > low:
            low = rect.top
    return Interval(low, within.high) if within.high - low > end - start else Interval(start, end)
