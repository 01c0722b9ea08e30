"""The border outside the face's edges: each edge's name and what to do there, tape, and notches at corners.

::

      ////|  tape   BACK EDGE: crease ...   tape  |////       hatched corners are cut out, so that the paper
      ----+---------------------------------------+----       folds over two edges that meet
       L  |                                       |  R
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from templates_engine.drawing.compass import compass, edge_instruction, folds
from templates_engine.drawing.labels import Room
from templates_engine.drawing.shapes import Box, Line, Shape, Words
from templates_engine.drawing.style import HATCH, SMALL_PT, TAPE, capital_height_in
from templates_engine.drawing.tape import ALONG_IN, TAPE_WORD
from templates_engine.drawing.words import set_words, width_in
from templates_engine.geometry import Interval, Point, Rect
from templates_engine.sheets.model import FacePlan, Sheet

EDGE_WORDS_CLEAR_IN = 0.2
"""From an edge's name to the joints at its ends and the marks on them."""
LEAST_LIFT_IN = 0.03
"""Least white between an edge and its name; with less, the name is left to the compass in the strip."""
LEAST_FOLD_IN = 0.2
"""A narrower border cannot be folded over an edge: no notches."""
LEAST_TAPE_IN = 0.28
"""A narrower border has no room for a frame with a word in it."""
_HATCH_STEP_IN, _TAPE_INSET_IN, _TAPE_CLEAR_IN, _TINY_IN = 0.1, 0.05, 0.1, 1e-9


@dataclass(frozen=True)
class _Border:
    """The border along one edge of the face, as far as a sheet shows it."""

    word: str
    to_do: str
    rect: Rect
    """From the edge to where the drawing ends, and as long as nothing else stands in it."""
    angle: float
    """How words in it are turned: 0, or 90 and -90 along upright edges."""
    folds: bool
    """Whether it can be folded over the edge, and taped there."""

    @property
    def is_level(self) -> bool:
        return self.angle == 0

    @property
    def along(self) -> Interval:
        if self.is_level:
            return Interval(self.rect.left, self.rect.right)
        return Interval(self.rect.bottom, self.rect.top)

    @property
    def thick_in(self) -> float:
        return self.rect.height if self.is_level else self.rect.width

    def part(self, low: float, high: float, inset_in: float) -> Rect:
        """A stretch of it, so far in from both its long sides."""
        rect = self.rect
        if self.is_level:
            return Rect(low, rect.bottom + inset_in, high, rect.top - inset_in)
        return Rect(rect.left + inset_in, low, rect.right - inset_in, high)


def edge_shapes(face: FacePlan, sheet: Sheet, room: Room) -> Iterator[Shape]:
    """What stands in the borders that the sheet shows: edges' names, where tape holds them, and notches."""
    yield from _notches(face, sheet)
    for border in _borders(face, sheet, room):
        words = _words_for(border)
        if words:
            yield _set_along(sheet, border, words)
        if border.folds and border.thick_in >= LEAST_TAPE_IN:
            yield from _tape(sheet, border, words, room)


def _notches(plan: FacePlan, sheet: Sheet) -> Iterator[Shape]:
    """The paper past the face's corners, hatched: cut out, it lets two borders be folded down.

    None where a border is cut off, or too narrow to be folded.
    """
    inner, outer = plan.plane.rect, plan.bounds
    beside, above = inner.left - outer.left, outer.top - inner.top
    if min(beside, above) < LEAST_FOLD_IN or not folds(plan, "side"):
        return
    rows = [(outer.bottom, inner.bottom, inner.bottom), (inner.top, outer.top, inner.top)]
    if not folds(plan, "up"):
        rows.pop()
    for left, right, x in ((outer.left, inner.left, inner.left), (inner.right, outer.right, inner.right)):
        for bottom, top, y in rows:
            corner = Rect(left, bottom, right, top)
            if sheet.window.grown(_TINY_IN).contains(corner):
                for line in (
                    (Point(x, bottom), Point(x, top)),
                    (Point(left, y), Point(right, y)),
                    *_hatching(corner),
                ):
                    start, end = map(sheet.on_page, line)
                    yield Line(start, end, HATCH, "edge")


def _hatching(rect: Rect) -> Iterator[tuple[Point, Point]]:
    """Slanting lines across a rectangle, from its left and lower sides up to the right."""
    steps = int((rect.width + rect.height) / _HATCH_STEP_IN)
    for index in range(1, steps + 1):
        far = index * _HATCH_STEP_IN
        yield (
            Point(rect.left + max(far - rect.height, 0.0), rect.top - min(far, rect.height)),
            Point(rect.left + min(far, rect.width), rect.top - max(far - rect.width, 0.0)),
        )


def _borders(face: FacePlan, sheet: Sheet, room: Room) -> Iterator[_Border]:
    """The borders of the sheet, each as long as no joint, mark's name or scale bar stands in it."""
    bounds, plane, window, names = face.bounds, face.plane.rect, sheet.window, compass(face)
    things = [place for (_, number), place in room.names.items() if number == sheet.number]
    things += [room.bars[sheet.number]] if sheet.number in room.bars else []
    columns = [Interval(joint.start.x, joint.start.x) for joint in sheet.joints if joint.is_upright]
    bands = [Interval(joint.start.y, joint.start.y) for joint in sheet.joints if not joint.is_upright]
    across = Interval(max(window.left, plane.left), min(window.right, plane.right))
    down = Interval(max(window.bottom, plane.bottom), min(window.top, plane.top))

    def level(bottom: float, top: float) -> Rect:
        whole = Rect(across.low, bottom, across.high, top)
        taken = [Interval(one.left, one.right) for one in things if one.overlaps(whole)]
        low, high = _longest_free(across, columns + taken)
        return Rect(low, bottom, high, top)

    def upright(left: float, right: float) -> Rect:
        whole = Rect(left, down.low, right, down.high)
        taken = [Interval(one.bottom, one.top) for one in things if one.overlaps(whole)]
        low, high = _longest_free(down, bands + taken)
        return Rect(left, low, right, high)

    if window.top > plane.top:
        to_do = edge_instruction(face, "up")
        rect = level(plane.top, bounds.top)
        yield _Border(f"{names.up} EDGE, to the wall", to_do, rect, 0.0, folds(face, "up"))
    if window.bottom < plane.bottom:
        to_do = edge_instruction(face, "down")
        rect = level(bounds.bottom, plane.bottom)
        yield _Border(f"{names.down} EDGE", to_do, rect, 0.0, folds(face, "down"))
    to_do, can_fold = edge_instruction(face, "side"), folds(face, "side")
    if window.left < plane.left:
        yield _Border(f"{names.left} EDGE", to_do, upright(bounds.left, plane.left), 90.0, can_fold)
    if window.right > plane.right:
        yield _Border(f"{names.right} EDGE", to_do, upright(plane.right, bounds.right), -90.0, can_fold)


def _longest_free(extent: Interval, taken: Sequence[Interval]) -> Interval:
    """The longest stretch of the extent that nothing takes."""
    best, low = Interval(extent.low, extent.low), extent.low
    for one in (*sorted(taken), Interval(extent.high, extent.high)):
        high = min(one.low, extent.high)
        if high - low > best.high - best.low:
            best = Interval(low, high)
        low = max(low, one.high)
    return best


def _words_for(border: _Border) -> str:
    """The edge's name and what to do there, or just its name where it must be short, or nothing."""
    room_in = border.along.high - border.along.low - 2 * EDGE_WORDS_CLEAR_IN
    if (border.thick_in - capital_height_in(SMALL_PT)) / 2 <= LEAST_LIFT_IN:
        return ""
    word, to_do = (text.split(",", maxsplit=1)[0] for text in (border.word, border.to_do))
    texts = (f"{border.word}: {border.to_do}", f"{word}: {border.to_do}", f"{word}: {to_do}", word)
    return next((text for text in texts if width_in(text, SMALL_PT) <= room_in), "")


def _set_along(sheet: Sheet, border: _Border, words: str) -> Words:
    """The words in the middle of the border."""
    rect, lift = border.rect, (border.thick_in - capital_height_in(SMALL_PT)) / 2
    middle = (border.along.low + border.along.high) / 2
    if border.is_level:
        at = Point(middle, rect.bottom + lift)
    else:
        at = Point(rect.right - lift if border.angle > 0 else rect.left + lift, middle)
    return Words(sheet.on_page(at), set_words(words), SMALL_PT, anchor="middle", angle=border.angle)


def _tape(sheet: Sheet, border: _Border, words: str, room: Room) -> Iterator[Shape]:
    """A piece of tape on either side of the words, where it is free."""
    low, high = border.along
    middle, half = (low + high) / 2, width_in(words, SMALL_PT) / 2 + _TAPE_CLEAR_IN
    near = room.near(border.rect).on_paper()
    for start, end in ((low, middle - half), (middle + half, high)):
        at = (start + end - ALONG_IN) / 2
        piece = border.part(at, at + ALONG_IN, _TAPE_INSET_IN)
        if at < start + _TAPE_CLEAR_IN or not near.is_free(piece, clear_in=0.0):
            continue
        a, b = sheet.on_page(Point(piece.left, piece.bottom)), sheet.on_page(Point(piece.right, piece.top))
        yield Box(Rect(a.x, a.y, b.x, b.y), TAPE, "joint")
        across, lift = Point((a.x + b.x) / 2, (a.y + b.y) / 2), capital_height_in(SMALL_PT) / 2
        turned = {0.0: Point(0.0, -lift), 90.0: Point(lift, 0.0), -90.0: Point(-lift, 0.0)}[border.angle]
        spot = Point(across.x + turned.x, across.y + turned.y)
        yield Words(spot, set_words(TAPE_WORD), SMALL_PT, "joint", "middle", angle=border.angle)
