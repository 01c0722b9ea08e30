"""Finds the upright scale bar a free strip over the face, on sheets that keep no strip of their own for it.

::

    +----------------------+
    |   ( )  |    ( )      |      the longest strip of BAR_WIDTH_IN that meets no hole, ruler, joint or mark;
    |        |             |      white paper beside the face counts as free
    |        |             |
    +----------------------+
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from templates_engine.drawing.bars import END_TICK_IN
from templates_engine.drawing.tape import REACH_IN
from templates_engine.drawing.words.ink import CLEAR_IN, Ink, Sketch
from templates_engine.drawing.words.requests import Need, Request, Spot
from templates_engine.geometry import Interval, Point, Rect
from templates_engine.sheets.model import Sheet

BAR_KEY = "bar"
BAR_WIDTH_IN = 0.42
"""Across the bar: ticks and the words beside them, on both sides of its line."""
END_ROOM_IN = 0.06
LEAST_STRIP_IN = 3.0 + 2 * END_ROOM_IN
"""Over 3 in the least shrinking that matters, half a percent, is a 64th: a shorter bar could not show it."""
SHORTEST_STRIP_IN = 1.5
_STEP_IN, _TINY_IN = 0.05, 1e-9
_LINE_AT_IN = BAR_WIDTH_IN / 2
assert _LINE_AT_IN > END_TICK_IN
_HARMLESS, _RULERS = int(Ink.LINE), int(Ink.RULER | Ink.TICKS)


def bar_request(sheet: Sheet, view: Rect) -> Request:
    """The sheet's strip in the sheet plane, chosen before the holes' words look for room.

    ``view`` is the pages' view, whose upper left corner the sheet's window fills.
    """

    def spots(sketch: Sketch) -> Iterator[Spot]:
        yield Spot(_strip(_shown(sheet, view), sketch), avoid=0)

    return Request((BAR_KEY,), Need.BAR, spots, must_stand=True, kind=Ink.BAR)


def _strip(shown: Rect, sketch: Sketch) -> Rect:
    """A crowded sheet gives up room for tape first, then its rulers, then the ends of cross-lines and what
    joins it to others; where even that leaves less, a shorter bar is better than one across a hole.
    """
    strokes = sketch.strokes()
    holes = [one.rect for one in strokes if one.circle is not None]
    # The face's edges, lips and back lines run level under the bar without harm.
    flat = [one for one in strokes if one.circle is None and not (one.kind & _HARMLESS and one.is_level_line)]
    rulers = [one.rect for one in flat if one.kind & _RULERS]
    things = [one.rect for one in flat if not one.kind & (_RULERS | Ink.KEEP_OUT)]
    words = [one.rect for one in flat if one.kind & (Ink.WORDS | Ink.MARK_ROOM)]
    taped = [one.rect.grown(REACH_IN) for one in flat if one.kind & Ink.JOINT and one.left == one.right]
    for in_the_way in (
        (*holes, *things, *rulers, *taped),
        (*holes, *things, *rulers),
        (*holes, *things),
        (*holes, *words),
    ):
        strip = _longest(in_the_way, shown)
        if strip.height >= LEAST_STRIP_IN:
            break
    return strip if strip.height >= SHORTEST_STRIP_IN else _longest((), shown)


def bar_zero(strip: Rect) -> Point:
    """Where the bar's zero stands in its strip."""
    return Point(strip.left + _LINE_AT_IN, strip.bottom + END_ROOM_IN)


def bar_room_in(strip: Rect) -> float:
    """How long a bar the strip takes."""
    return strip.height - 2 * END_ROOM_IN


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
