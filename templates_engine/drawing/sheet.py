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

from collections.abc import Callable, Iterator, Sequence

from templates_engine.drawing.bar_places import bar_room_in, bar_zero
from templates_engine.drawing.bars import BarLengths, bar, bar_lengths
from templates_engine.drawing.compass import compass, edge_instruction, side_words
from templates_engine.drawing.joint_marks import joint_shapes
from templates_engine.drawing.labels import Room
from templates_engine.drawing.machine_code import sheet_code
from templates_engine.drawing.map import compass_block, sheet_map
from templates_engine.drawing.shapes import Page, Placement, Shape, Words
from templates_engine.drawing.style import (
    HEAD_PT,
    SMALL_PT,
    TEXT_PT,
    capital_height_in,
    line_height_in,
)
from templates_engine.drawing.words import set_words, shortened, width_in
from templates_engine.geometry import Interval, Point, Rect
from templates_engine.job.model import Job
from templates_engine.sheets.model import FacePlan, Sheet, SheetPlan

CORRECTED_LIFT_IN = 0.03
"""By how much the title strip's words move up to make room for the correction's line."""
EDGE_WORDS_CLEAR_IN = 0.2
"""From an edge's name to the joints at its ends and the marks on them."""
LEAST_LIFT_IN = 0.03
"""Least white between an edge and its name; with less, the name is left to the compass in the strip."""


def sheet_page(job: Job, plan: SheetPlan, face: FacePlan, sheet: Sheet, room: Room, draft: bool) -> Page:
    """One true-scale page. ``room`` is what the face's picture has taken already, in the sheet plane."""
    dx, dy = sheet.offset
    window = sheet.window.moved(dx, dy)
    shapes: list[Shape] = [*joint_shapes(sheet, room), *_edge_words(face, sheet, room)]
    bar_at, upright = _upright_bar(plan, sheet, room)
    shapes += bar(upright, bar_at, upright=True, is_free=_beside_bar(sheet, room))
    shapes += _title_strip(job, plan, face, sheet, upright, draft)
    if draft:
        shapes += draft_stamp(plan.view)
    name = f"{face.layout.job.face.value}, sheet {sheet.number} of {len(face.sheets)}"
    return Page(
        tuple(shapes), (Placement(f"face-{face.layout.job.face.value}", sheet.offset, window),), name, level=1
    )


def draft_stamp(area: Rect) -> Iterator[Shape]:
    """Large words across the area of a sheet that must not be used."""
    size = min(area.width / 4.2, area.height / 2.5) * 72 / 2
    middle = Point((area.left + area.right) / 2, (area.bottom + area.top) / 2)
    yield Words(middle, ("DRAFT: DO NOT CUT",), size, "words", "middle", bold=True, angle=20.0, grey=0.72)


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
        yield _edge_line(sheet, text, Point(sum(upward) / 2, plane.top + above), upward, 0.0)
    if above > LEAST_LIFT_IN and window.bottom < plane.bottom:
        at = Point(sum(downward) / 2, plane.bottom - above - height)
        yield _edge_line(sheet, f"{words.down} EDGE: {do}", at, downward, 0.0)
    if beside > LEAST_LIFT_IN and window.left < plane.left:
        at = Point(plane.left - beside, y)
        yield _edge_line(sheet, f"{words.left} EDGE: {do}", at, upright, 90.0)
    if beside > LEAST_LIFT_IN and window.right > plane.right:
        at = Point(plane.right + beside, y)
        yield _edge_line(sheet, f"{words.right} EDGE: {do}", at, upright, -90.0)


def _longest_free(extent: Interval, taken: Sequence[Interval]) -> Interval:
    """The longest stretch of the extent that nothing takes."""
    best, low = Interval(extent.low, extent.low), extent.low
    for one in (*sorted(taken), Interval(extent.high, extent.high)):
        high = min(one.low, extent.high)
        if high - low > best.high - best.low:
            best = Interval(low, high)
        low = max(low, one.high)
    return best


def _edge_line(sheet: Sheet, text: str, at: Point, along: Interval, angle: float) -> Shape:
    """The edge's name and what to do there, or just its name where it must be short."""
    room_in = along.high - along.low - 2 * EDGE_WORDS_CLEAR_IN
    if width_in(text, SMALL_PT) > room_in:
        text = shortened(text.split(":", maxsplit=1)[0].split(",", maxsplit=1)[0], SMALL_PT, room_in)
    return Words(sheet.on_page(at), set_words(text), SMALL_PT, anchor="middle", angle=angle)


def _upright_bar(plan: SheetPlan, sheet: Sheet, room: Room) -> tuple[Point, BarLengths]:
    """The upright bar's zero on the page and what it must read: in its strip, or where the face is free."""
    strip = room.bars.get(sheet.number)
    if strip is not None:
        return sheet.on_page(bar_zero(strip)), bar_lengths(bar_room_in(strip))
    view = plan.view
    middle = (plan.margins.left_in + view.left) / 2
    return Point(middle, view.bottom + 0.05), bar_lengths(view.height - 0.1)


def _beside_bar(sheet: Sheet, room: Room) -> Callable[[Rect], bool]:
    """Whether the words of a bar over the face may stand somewhere on the page; beside the face always."""
    strip = room.bars.get(sheet.number)
    if strip is None:
        return lambda _: True
    near = room.near(strip.grown(0.1))
    strips = {id(one) for one in room.bars.values()}  # those of other sheets are not drawn on this page
    others = Room(near.rings, [rect for rect in near.taken if id(rect) not in strips])
    dx, dy = sheet.offset
    return lambda box: others.is_free(box.moved(-dx, -dy), clear_in=0.02)


def _title_strip(
    job: Job, plan: SheetPlan, face: FacePlan, sheet: Sheet, upright: BarLengths, draft: bool
) -> Iterator[Shape]:
    left, right = plan.margins.left_in, plan.page_width_in - plan.margins.right_in
    top, bottom = plan.view.bottom, plan.margins.bottom_in
    across = bar_lengths(right - left - 0.1)
    measure, size, _ = _fitting(
        (
            (
                f"Measure here first: this bar {across.words}, upright bar {upright.words}. "
                "If not, print again at 100 %.",
                SMALL_PT,
            ),
            (f"Measure here first: {across.words}; upright {upright.words}. If not, print again.", SMALL_PT),
        ),
        right - left,
        bold=True,
    )
    yield Words(Point(left, top - 0.14), set_words(measure), size, bold=True)
    yield from bar(across, Point(left, top - 0.42), upright=False)

    block_top = top - 0.68
    map_width = min(1.7, (right - left) * 0.2)
    map_area = Rect(right - map_width, bottom + 0.02, right, block_top - 0.02)
    yield from sheet_map(face, map_area, sheet.number)
    compass_area = Rect(map_area.left - 1.75, bottom + 0.02, map_area.left - 0.15, block_top)
    yield from compass_block(face, compass_area)

    code_right = compass_area.left - 0.12
    code_area = Rect(code_right - (block_top - bottom), bottom, code_right, block_top)
    yield from sheet_code(job, face, sheet.number, code_area)

    room = code_area.left - left
    base = block_top if plan.corrected is None else block_top + CORRECTED_LIFT_IN
    for text, size, bold in (
        _head_line(job, face, room),
        _sheet_line(face, sheet, draft, room),
        (shortened(_job_words(job), SMALL_PT, room), SMALL_PT, False),
        _fitting(
            (
                ("Actual size (100 %), one side only. Do not copy: print again.", SMALL_PT),
                ("Actual size (100 %), one side only. Do not copy.", SMALL_PT),
                ("Actual size. Do not copy: print again.", SMALL_PT),
            ),
            room,
            bold=False,
        ),
        *_correction_lines(plan, room),
    ):
        base -= line_height_in(size)
        yield Words(Point(left, base), set_words(text), size, bold=bold)


_Line = tuple[str, float, bool]
"""Words, their type size, and whether they are bold."""


def _head_line(job: Job, face: FacePlan, room: float) -> _Line:
    """Enclosure and side; a long mark is shortened before the side is, which must never be guessed at."""
    side = side_words(face)
    for size in (HEAD_PT - 2, TEXT_PT, SMALL_PT):
        mark = shortened(job.enclosure.mark, size, room - width_in(f": {side}", size, True), True)
        if mark == job.enclosure.mark:
            break
    return (f"{mark}: {side}" if mark.strip("…") else side), size, True


def _correction_lines(plan: SheetPlan, room: float) -> tuple[_Line, ...]:
    """Whose correction the sheet carries, whole; a long printer's name gives way to the factors."""
    if plan.corrected is None:
        return ()
    without = width_in(plan.corrected.words("…"), SMALL_PT)
    name = shortened(plan.corrected.printer, SMALL_PT, room - without)
    words = plan.corrected.words(name)
    return ((words[0].upper() + words[1:], SMALL_PT, False),)


def _sheet_line(face: FacePlan, sheet: Sheet, draft: bool, room: float) -> _Line:
    stamp = "DRAFT. " if draft else ""
    number = f"{stamp}Sheet {sheet.number} of {len(face.sheets)}"
    print_of = face.layout.fingerprint
    choices = (
        (f"{number}   fingerprint {print_of}", TEXT_PT),
        (f"{number}   fingerprint {print_of}", SMALL_PT),
        (f"{number}   {print_of}", SMALL_PT),
    )
    return _fitting(choices, room, bold=True)


def _fitting(choices: Sequence[tuple[str, float]], room: float, bold: bool) -> _Line:
    """The first of the choices that fits the room, or the last one cut short."""
    for text, size in choices:
        if width_in(text, size, bold) <= room:
            return text, size, bold
    return shortened(text, size, room, bold), size, bold


def _job_words(job: Job) -> str:
    parts = [f"rev {job.revision}" if job.revision else "no revision", job.date, job.title]
    return ", ".join(part for part in parts if part)
