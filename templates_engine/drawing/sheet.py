"""Turns one planned sheet into a Page: the face at true scale through its window, joints, and what a
person must know.

::

    +---+--------------------------------+
    | b |                                |     view: the face, seen at true scale
    | a |             view               |
    | r |                                |     left strip: the upright scale bar
    +---+--------------------------------+
    |  measure first: the bar across     |     title strip
    |  what this is  code  compass  map  |
    +------------------------------------+
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence

from templates_engine.drawing.bar_places import bar_room_in, bar_zero
from templates_engine.drawing.bars import BarLengths, bar, bar_lengths
from templates_engine.drawing.compass import compass, edge_instruction
from templates_engine.drawing.face_room import ruler_strips
from templates_engine.drawing.joint_marks import joint_shapes
from templates_engine.drawing.labels import Room
from templates_engine.drawing.shapes import Page, Placement, Shape, Words
from templates_engine.drawing.style import (
    SMALL_PT,
    capital_height_in,
)
from templates_engine.drawing.title_strip import title_strip
from templates_engine.drawing.words import set_words, width_in
from templates_engine.geometry import Interval, Point, Rect
from templates_engine.job.model import Job
from templates_engine.sheets.model import FacePlan, Sheet, SheetPlan

EDGE_WORDS_CLEAR_IN = 0.2
"""From an edge's name to the joints at its ends and the marks on them."""
DRAFT_ANGLE = 20.0
LEAST_LIFT_IN = 0.03
"""Least white between an edge and its name; with less, the name is left to the compass in the strip."""


def sheet_page(job: Job, plan: SheetPlan, face: FacePlan, sheet: Sheet, room: Room, draft: bool) -> Page:
    """One true-scale page. ``room`` is what the face's picture has taken already, in the sheet plane."""
    dx, dy = sheet.offset
    window = sheet.window.moved(dx, dy)
    shapes: list[Shape] = [*joint_shapes(sheet, room), *_edge_words(face, sheet, room)]
    bar_at, upright = _upright_bar(plan, sheet, room)
    shapes += bar(upright, bar_at, upright=True, is_free=_beside_bar(face, sheet, room))
    shapes += title_strip(job, plan, face, sheet, upright, draft)
    if draft:
        shapes += draft_stamp(plan.view)
    name = f"{face.layout.job.face.value}, sheet {sheet.number} of {len(face.sheets)}"
    return Page(
        tuple(shapes), (Placement(f"face-{face.layout.job.face.value}", sheet.offset, window),), name, level=1
    )


def draft_stamp(area: Rect) -> Iterator[Shape]:
    """Large words across the area of a sheet that must not be used."""
    text = "DRAFT: DO NOT CUT"
    across = area.width / math.cos(math.radians(DRAFT_ANGLE)) * 0.8
    size = min(across / width_in(text, 1.0, True), area.height * 72 / 3)
    middle = Point((area.left + area.right) / 2, (area.bottom + area.top) / 2)
    yield Words(middle, (text,), size, "words", "middle", bold=True, angle=DRAFT_ANGLE, grey=0.72)


def _edge_words(face: FacePlan, sheet: Sheet, room: Room) -> Iterator[Shape]:
    """The name of each of the face's edges that the sheet shows, in the border outside it."""
    bounds, plane, window = face.bounds, face.plane.rect, sheet.window
    words, do = compass(face), edge_instruction(face)
    height = capital_height_in(SMALL_PT)
    beside, above = (plane.left - bounds.left - height) / 2, (bounds.top - plane.top - height) / 2
    strip = room.bars.get(sheet.number, Rect(0.0, 0.0, 0.0, 0.0))
    columns = [Interval(joint.start.x, joint.start.x) for joint in sheet.joints if joint.is_upright]
    bands = [Interval(joint.start.y, joint.start.y) for joint in sheet.joints if not joint.is_upright]
    across = Interval(max(window.left, plane.left), min(window.right, plane.right))
    over = [Interval(strip.left, strip.right)]
    upward = _longest_free(across, columns + over * (strip.top > plane.top))
    downward = _longest_free(across, columns + over * (strip.bottom < plane.bottom))
    upright = _longest_free(
        Interval(max(window.bottom, plane.bottom), min(window.top, plane.top)),
        bands + [Interval(strip.bottom, strip.top)] * (not plane.contains(strip)),
    )
    y = sum(upright) / 2
    if above > LEAST_LIFT_IN and window.top > plane.top:
        text = f"{words.up} EDGE, to the wall: {do}"
        yield from _edge_line(sheet, text, Point(sum(upward) / 2, plane.top + above), upward, 0.0)
    if above > LEAST_LIFT_IN and window.bottom < plane.bottom:
        at = Point(sum(downward) / 2, plane.bottom - above - height)
        yield from _edge_line(sheet, f"{words.down} EDGE: {do}", at, downward, 0.0)
    if beside > LEAST_LIFT_IN and window.left < plane.left:
        at = Point(plane.left - beside, y)
        yield from _edge_line(sheet, f"{words.left} EDGE: {do}", at, upright, 90.0)
    if beside > LEAST_LIFT_IN and window.right > plane.right:
        at = Point(plane.right + beside, y)
        yield from _edge_line(sheet, f"{words.right} EDGE: {do}", at, upright, -90.0)


def _longest_free(extent: Interval, taken: Sequence[Interval]) -> Interval:
    """The longest stretch of the extent that nothing takes."""
    best, low = Interval(extent.low, extent.low), extent.low
    for one in (*sorted(taken), Interval(extent.high, extent.high)):
        high = min(one.low, extent.high)
        if high - low > best.high - best.low:
            best = Interval(low, high)
        low = max(low, one.high)
    return best


def _edge_line(sheet: Sheet, text: str, at: Point, along: Interval, angle: float) -> Iterator[Shape]:
    """The edge's name and what to do there, or just its name where it must be short."""
    room_in = along.high - along.low - 2 * EDGE_WORDS_CLEAR_IN
    for words in (text, text.split(":", maxsplit=1)[0].split(",", maxsplit=1)[0]):
        if width_in(words, SMALL_PT) <= room_in:
            yield Words(sheet.on_page(at), set_words(words), SMALL_PT, anchor="middle", angle=angle)
            return


def _upright_bar(plan: SheetPlan, sheet: Sheet, room: Room) -> tuple[Point, BarLengths]:
    """The upright bar's zero on the page and what it must read: in its strip, or where the face is free."""
    strip = room.bars.get(sheet.number)
    if strip is not None:
        return sheet.on_page(bar_zero(strip)), bar_lengths(bar_room_in(strip))
    view = plan.view
    middle = (plan.margins.left_in + view.left) / 2
    return Point(middle, view.bottom + 0.05), bar_lengths(view.height - 0.1)


def _beside_bar(face: FacePlan, sheet: Sheet, room: Room) -> Callable[[Rect], bool]:
    """Whether the words of a bar over the face may stand somewhere on the page; beside the face always."""
    strip = room.bars.get(sheet.number)
    if strip is None:
        return lambda _: True
    near = room.near(strip.grown(0.1))
    # Other sheets' bars are not drawn on this page; of the rulers only the ticks are in the way.
    passable = {*room.bars.values(), *ruler_strips(face)}
    others = Room(near.rings, [rect for rect in near.taken if rect not in passable])
    dx, dy = sheet.offset
    return lambda box: others.is_free(box.moved(-dx, -dy), clear_in=0.02)
