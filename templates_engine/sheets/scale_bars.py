"""Turns a planned face into each sheet's two scale bars: how long they are, and where the upright one stands.

::

    +----------------------+
    |   ( )  |    ( )      |      where the page keeps no strip for it: the longest strip of BAR_WIDTH_IN
    |        |             |      that meets no hole, ruler, joint or mark; white paper is free
    |        |             |
    +----------------------+
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from templates_engine.geometry import Interval, Point, Rect
from templates_engine.sheets.face_lines import inside_corner, keep_out_rect, lip_lines
from templates_engine.sheets.model import (
    CROSS_ARM_IN,
    TAPE_REACH_IN,
    BarLengths,
    FacePlan,
    Joint,
    Sheet,
    SheetBars,
)
from templates_engine.sheets.paper_pages import PaperPage
from templates_engine.units import to_mm
from templates_engine.values import Struct, replace

BAR_WIDTH_IN = 0.42
"""Across the bar: ticks and the words beside them, on both sides of its line."""
SPARE_IN = 0.1
"""What a bar leaves of the length kept for it."""
END_ROOM_IN = 0.06
LEAST_STRIP_IN = 3.0 + 2 * END_ROOM_IN
"""Over 3 in the least shrinking that matters, half a percent, is a 64th: a shorter bar could not show it."""
SHORTEST_STRIP_IN = 1.5
CLEAR_IN = 0.04
"""White left between a bar and anything else."""
RULER_IN = 0.46
"""Depth of the strip along an edge that its ruler and numbers take."""
MARK_CLEAR_IN = 0.2
"""Half the square round a registration mark that is left to it."""
_STEP_IN, _TINY_IN = 0.05, 1e-9


def with_bars(face: FacePlan, page: PaperPage) -> FacePlan:
    """The face with its sheets' bars on that page."""
    across = bar_lengths(page.title_width_in - SPARE_IN)
    if page.bar_strip_in:
        beside = SheetBars(across, bar_lengths(page.view.height - SPARE_IN))
        return replace(face, bars=(beside,) * len(face.sheets))
    on_face = _OnFace.of(face)
    strips = (_strip(on_face, sheet, page.view) for sheet in face.sheets)
    bars = (SheetBars(across, bar_lengths(bar_room_in(strip)), strip) for strip in strips)
    return replace(face, bars=tuple(bars))


def bar_lengths(room_in: float) -> BarLengths:
    """The longest whole inches and whole centimetres that fit."""
    return BarLengths(int(room_in + 1e-9), int(to_mm(room_in) / 10 + 1e-9) * 10)


def bar_zero(strip: Rect) -> Point:
    """Where the bar's zero stands in its strip."""
    return Point(strip.left + BAR_WIDTH_IN / 2, strip.bottom + END_ROOM_IN)


def bar_room_in(strip: Rect) -> float:
    """How long a bar the strip takes."""
    return strip.height - 2 * END_ROOM_IN


# --- the strip over the face --------------------------------------------------------------------------------


class _OnFace(Struct, frozen=True):
    """What no bar may cross, and what it may if it must; level lines run under it without harm."""

    holes: tuple[Rect, ...]
    lines: tuple[Rect, ...]
    rulers: tuple[Rect, ...]

    @classmethod
    def of(cls, plan: FacePlan) -> _OnFace:
        face = plan.plane.rect
        holes = tuple(_square(plan.centre_of(one), one.hole_diameter_in / 2) for one in plan.layout.holes)
        rulers = (
            Rect(face.left, face.top - RULER_IN, face.right, face.top),
            Rect(face.left, face.bottom, face.left + RULER_IN, face.top),
            Rect(face.right - RULER_IN, face.bottom, face.right, face.top),
        )
        return cls(holes, tuple(_lines(plan)), rulers)


def _lines(plan: FacePlan) -> Iterator[Rect]:
    """Cross-lines, keep-outs, and the upright lines of edges and lips."""
    for hole in plan.layout.holes:
        (x, y), reach = plan.centre_of(hole), hole.hole_diameter_in / 2 + CROSS_ARM_IN
        yield Rect(x - reach, y, x + reach, y)
        yield Rect(x, y - reach, x, y + reach)
    for keep_out in plan.layout.job.keep_outs:
        rect = keep_out_rect(plan.plane, keep_out)
        yield from _sides(rect)
        if keep_out.diameter_in is None:
            yield from (Rect(rect.left, y, rect.right, y) for y in (rect.bottom, rect.top))
        else:
            yield rect
    yield from _sides(plan.plane.rect)
    if inner := inside_corner(plan):
        yield from _sides(inner)
    yield from (_between(start, end) for start, end in lip_lines(plan) if start.x == end.x)


def _strip(on_face: _OnFace, sheet: Sheet, view: Rect) -> Rect:
    """The sheet's strip in the sheet plane.

    A crowded sheet gives up the room for tape first, then its rulers, then the ends of cross-lines and the
    lines of its joints; where even that leaves less, a shorter bar is better than one across a hole.
    """
    window = sheet.window
    shown = Rect(window.left, window.top - view.height, window.left + view.width, window.top)
    marks = [_square(mark.at, MARK_CLEAR_IN) for joint in sheet.joints for mark in joint.marks]
    joints = [_between(joint.start, joint.end) for joint in sheet.joints]
    tape = [_taped(joint) for joint in sheet.joints if joint.is_upright]  # along a level one is room enough
    must = [*on_face.holes, *marks]
    may = [*must, *joints, *on_face.lines, *_sides(window)]
    for in_the_way in ((*may, *on_face.rulers, *tape), (*may, *on_face.rulers), may, must):
        strip = _longest(in_the_way, shown)
        if strip.height >= LEAST_STRIP_IN:
            break
    return strip if strip.height >= SHORTEST_STRIP_IN else _longest((), shown)


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


def _taped(joint: Joint) -> Rect:
    """What tape over an upright joint may cover."""
    line = _between(joint.start, joint.end)
    return Rect(line.left - TAPE_REACH_IN, line.bottom, line.right + TAPE_REACH_IN, line.top)


def _square(middle: Point, half_in: float) -> Rect:
    return Rect(middle.x, middle.y, middle.x, middle.y).grown(half_in)


def _sides(rect: Rect) -> Iterator[Rect]:
    """The upright sides."""
    yield from (Rect(x, rect.bottom, x, rect.top) for x in (rect.left, rect.right))


def _between(start: Point, end: Point) -> Rect:
    return Rect(min(start.x, end.x), min(start.y, end.y), max(start.x, end.x), max(start.y, end.y))
