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

from collections.abc import Iterator, Sequence

from templates_engine.drawing.bars import bar, bar_lengths
from templates_engine.drawing.compass import compass, edge_instruction, side_words
from templates_engine.drawing.labels import Room, first_free
from templates_engine.drawing.machine_code import sheet_code
from templates_engine.drawing.map import compass_block, sheet_map
from templates_engine.drawing.shapes import Line, Page, Placement, Ring, Shape, Words
from templates_engine.drawing.style import (
    HEAD_PT,
    JOINT,
    MARK,
    SMALL_PT,
    TEXT_PT,
    capital_height_in,
    line_height_in,
)
from templates_engine.drawing.words import set_words, shortened, width_in
from templates_engine.geometry import Point, Rect
from templates_engine.job.model import Job
from templates_engine.sheets.model import FacePlan, Joint, Mark, Sheet, SheetPlan

MARK_ARM_IN = 0.15
MARK_RING_IN = 0.14
LEAST_LIFT_IN = 0.03
"""Least white between an edge and its name; with less, the name is left to the compass in the strip."""


def sheet_page(job: Job, plan: SheetPlan, face: FacePlan, sheet: Sheet, room: Room, draft: bool) -> Page:
    """One true-scale page. ``room`` is what the face's picture has taken already, in the sheet plane."""
    dx, dy = sheet.offset
    window = sheet.window.moved(dx, dy)
    shapes: list[Shape] = [*_joints(face, sheet, room), *_edge_words(face, sheet)]
    shapes += _upright_bar(plan)
    shapes += _title_strip(job, plan, face, sheet, draft)
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


def _joints(face: FacePlan, sheet: Sheet, room: Room) -> Iterator[Shape]:
    """Where this sheet meets its neighbours: the line, the marks on it, and which sheet lies over which."""
    for joint in sheet.joints:
        start, end = _within(joint, sheet.window)
        yield Line(sheet.on_page(start), sheet.on_page(end), JOINT, "joint")
        for mark in joint.marks:
            yield from _mark(sheet, joint, mark, room)
        yield from _joint_words(sheet, joint, room)


def _within(joint: Joint, window: Rect) -> tuple[Point, Point]:
    """The part of a joint that a window shows."""

    def inside(point: Point) -> Point:
        return Point(
            min(max(point.x, window.left), window.right), min(max(point.y, window.bottom), window.top)
        )

    return inside(joint.start), inside(joint.end)


def _mark(sheet: Sheet, joint: Joint, mark: Mark, room: Room) -> Iterator[Shape]:
    at = sheet.on_page(mark.at)
    yield Line(Point(at.x - MARK_ARM_IN, at.y), Point(at.x + MARK_ARM_IN, at.y), MARK, "joint")
    yield Line(Point(at.x, at.y - MARK_ARM_IN), Point(at.x, at.y + MARK_ARM_IN), MARK, "joint")
    yield Ring(at, MARK_RING_IN, MARK, "joint")
    width, height = width_in(mark.name, SMALL_PT), capital_height_in(SMALL_PT)
    first = sheet.number == joint.first
    if joint.is_upright:
        x = mark.at.x - 0.12 - width if first else mark.at.x + 0.12
        places = [
            Rect(x, mark.at.y + dy, x + width, mark.at.y + dy + height) for dy in (0.07, -0.07 - height)
        ]
    else:
        y = mark.at.y + 0.10 if first else mark.at.y - 0.10 - height
        places = [Rect(mark.at.x + dx, y, mark.at.x + dx + width, y + height) for dx in (0.10, -0.10 - width)]
    place = sheet.on_page(Point(places[0].left, places[0].bottom))
    yield Words(place, (mark.name,), SMALL_PT, "joint")


def _joint_words(sheet: Sheet, joint: Joint, room: Room) -> Iterator[Shape]:
    """What to do at a joint, along its line, on the side that will be covered or cut off."""
    if sheet.number == joint.second:
        text = f"trim along this line, lay over sheet {joint.first}"
    else:
        text = f"sheet {joint.second} lies over from here"
    start, end = _within(joint, sheet.window)
    width, height = width_in(text, SMALL_PT), capital_height_in(SMALL_PT)
    room = room.near(
        Rect(min(start.x, end.x), min(start.y, end.y), max(start.x, end.x), max(start.y, end.y)).grown(0.3)
    )
    is_first = sheet.number == joint.first
    if joint.is_upright:
        length = abs(end.y - start.y)
        left = start.x + 0.06 if is_first else start.x - 0.06 - height
        low = min(start.y, end.y)
        places = [
            Rect(left, low + k * 0.1, left + height, low + k * 0.1 + width) for k in _steps(length, width)
        ]
        found = first_free(room, places) or (places[len(places) // 2] if places else None)
        if found:
            at = sheet.on_page(Point(found.right, found.bottom))
            yield Words(at, set_words(text), SMALL_PT, "joint", angle=90.0)
        return
    length = abs(end.x - start.x)
    bottom = start.y - 0.06 - height if is_first else start.y + 0.06
    low = min(start.x, end.x)
    places = [
        Rect(low + k * 0.1, bottom, low + k * 0.1 + width, bottom + height) for k in _steps(length, width)
    ]
    found = first_free(room, places) or (places[len(places) // 2] if places else None)
    if found:
        yield Words(sheet.on_page(Point(found.left, found.bottom)), set_words(text), SMALL_PT, "joint")


def _steps(length: float, width: float) -> range:
    """Tenths of an inch at which words of that width may start along a line of that length, clear of its
    ends.
    """
    return range(1, max(int((length - width) / 0.1), 2))


def _edge_words(face: FacePlan, sheet: Sheet) -> Iterator[Shape]:
    """The name of each of the face's edges that the sheet shows, in the border outside it."""
    bounds, plane, window = face.bounds, face.plane.rect, sheet.window
    words, do = compass(face), edge_instruction(face)
    height = capital_height_in(SMALL_PT)
    beside, above = (plane.left - bounds.left - height) / 2, (bounds.top - plane.top - height) / 2
    left, right = max(window.left, plane.left), min(window.right, plane.right)
    bottom, top = max(window.bottom, plane.bottom), min(window.top, plane.top)
    x, y = (left + right) / 2, (bottom + top) / 2
    if above > LEAST_LIFT_IN and window.top > plane.top:
        text = f"{words.up} EDGE, to the wall: {do}"
        yield _edge_line(sheet, text, Point(x, plane.top + above), right - left, 0.0)
    if above > LEAST_LIFT_IN and window.bottom < plane.bottom:
        at = Point(x, plane.bottom - above - height)
        yield _edge_line(sheet, f"{words.down} EDGE: {do}", at, right - left, 0.0)
    if beside > LEAST_LIFT_IN and window.left < plane.left:
        at = Point(plane.left - beside, y)
        yield _edge_line(sheet, f"{words.left} EDGE: {do}", at, top - bottom, 90.0)
    if beside > LEAST_LIFT_IN and window.right > plane.right:
        at = Point(plane.right + beside, y)
        yield _edge_line(sheet, f"{words.right} EDGE: {do}", at, top - bottom, -90.0)


def _edge_line(sheet: Sheet, text: str, at: Point, room_in: float, angle: float) -> Shape:
    if width_in(text, SMALL_PT) > room_in:
        text = shortened(text.split(":", maxsplit=1)[0].split(",", maxsplit=1)[0], SMALL_PT, room_in)
    return Words(sheet.on_page(at), set_words(text), SMALL_PT, anchor="middle", angle=angle)


def _upright_bar(plan: SheetPlan) -> Iterator[Shape]:
    view = plan.view
    lengths = bar_lengths(view.height - 0.1)
    x = (plan.margins.left_in + view.left) / 2
    yield from bar(lengths, Point(x, view.bottom + 0.05), upright=True)


def _title_strip(job: Job, plan: SheetPlan, face: FacePlan, sheet: Sheet, draft: bool) -> Iterator[Shape]:
    left, right = plan.margins.left_in, plan.page_width_in - plan.margins.right_in
    top, bottom = plan.view.bottom, plan.margins.bottom_in
    lengths, up = bar_lengths(right - left - 0.1), bar_lengths(plan.view.height - 0.1)
    measure = (
        f"Measure here first: this bar {lengths.words}, upright bar {up.words}. If not, print again at 100 %."
    )
    yield Words(
        Point(left, top - 0.14),
        set_words(shortened(measure, SMALL_PT, right - left, True)),
        SMALL_PT,
        bold=True,
    )
    yield from bar(lengths, Point(left, top - 0.42), upright=False)

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
    base = block_top
    for text, size, bold in (
        _head_line(job, face, room),
        _sheet_line(face, sheet, draft, room),
        (shortened(_job_words(job), SMALL_PT, room), SMALL_PT, False),
        _fitting(
            (
                ("Actual size (100 %), one side only. Do not copy: print again.", SMALL_PT),
                ("Actual size (100 %), one side only.", SMALL_PT),
            ),
            room,
            bold=False,
        ),
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
