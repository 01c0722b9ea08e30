"""Draws the border outside the face's edges: each edge's name and what to do there, tape, and notches at
corners.

::

      ////|  tape   BACK EDGE: crease ...   tape  |////       hatched corners are cut out, so that the paper
      ----+---------------------------------------+----       folds over two edges that meet
       L  |                                       |  R
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from templates_engine.drawing.edge_directions import Way, edge_directions, edge_instructions, folds
from templates_engine.drawing.rulers import LONGEST_TICK_IN
from templates_engine.drawing.shapes import DrawnRect, Line, Shape, Words
from templates_engine.drawing.sheet.tape import ALONG_IN, TAPE_WORD
from templates_engine.drawing.style import HATCH, SMALL_PT, TAPE, capital_height_in
from templates_engine.drawing.words import set_words, width_in
from templates_engine.drawing.words.ink import ON_PAPER, Ink, SheetInk
from templates_engine.drawing.words.places import beside, common, starts_along
from templates_engine.drawing.words.requests import LabelRequest, Placed, Priority, Spot
from templates_engine.geometry import Interval, Point, Rect
from templates_engine.sheets.model import FacePlan, Sheet
from templates_engine.sheets.scale_bars import RULER_IN
from templates_engine.values import Struct

EDGE_WORDS_CLEAR_IN = 0.2
"""From an edge's name to the joints at its ends and the marks on them."""
LEAST_LIFT_IN = 0.03
"""Least white between an edge and its name in the border; with less it stands on the face beside the edge."""
LEAST_FOLD_IN = 0.2
"""A narrower border cannot be folded over an edge: no notches."""
LEAST_TAPE_IN = 0.28
"""A narrower border has no room for a frame with a word in it."""
EDGE_TAPE = "edge tape"
_HATCH_STEP_IN, _TAPE_INSET_IN, _TAPE_CLEAR_IN, _TINY_IN = 0.1, 0.05, 0.1, 1e-9
_STEP_IN, _GAP_IN = 0.1, 0.06
_ON_FACE = ON_PAPER | int(Ink.KNOCKOUT)


class _Edge(Struct, frozen=True):
    """One edge of the face as far as a sheet shows it, and the border along it."""

    word: str
    to_do: tuple[str, ...]
    """What to do there, the fullest first."""
    line: Rect
    thick_in: float
    """How far the drawing goes on past the edge."""
    angle: float
    """How words along it are turned: 0, or 90 and -90 along upright edges."""
    face_is_after: bool
    """Whether the face lies below or right of it."""
    has_ruler: bool
    is_at_wall: bool
    folds: bool
    """Whether the border can be folded over the edge, and taped there."""

    @property
    def along(self) -> Interval:
        if self.angle == 0:
            return Interval(self.line.left, self.line.right)
        return Interval(self.line.bottom, self.line.top)

    @property
    def lift_in(self) -> float:
        """White between the edge and words in the middle of the border."""
        return (self.thick_in - capital_height_in(SMALL_PT)) / 2


def edge_requests(face: FacePlan, sheet: Sheet) -> Iterator[LabelRequest]:
    """The name of every edge that the sheet shows, with what to do there; tape on those that fold."""
    for edge in _edges(face, sheet):
        yield _name_request(edge, common(sheet.own, face.plane.rect))
        if edge.folds and edge.thick_in >= LEAST_TAPE_IN:
            low, high = edge.along
            middle = (low + high) / 2
            for number, half in enumerate((Interval(low, middle), Interval(middle, high))):
                yield _tape_request(edge, number, half)


def edge_shapes(face: FacePlan, sheet: Sheet, tape: Sequence[Placed]) -> Iterator[Shape]:
    """What stands in the borders besides words: notches, and the frames where tape goes."""
    yield from _notch_lines(face, sheet)
    for placed in tape:
        yield from _tape(sheet, placed.spot)


def notches(plan: FacePlan, sheet: Sheet) -> Iterator[Rect]:
    """The paper past the face's corners: cut out, it lets two borders be folded down.

    None where a border is cut off, or too narrow to be folded.
    """
    inner, outer = plan.plane.rect, plan.bounds
    beside, above = inner.left - outer.left, outer.top - inner.top
    if min(beside, above) < LEAST_FOLD_IN or not folds(plan, "side"):
        return
    rows = [(outer.bottom, inner.bottom), (inner.top, outer.top)]
    if not folds(plan, "up"):
        rows.pop()
    for left, right in ((outer.left, inner.left), (inner.right, outer.right)):
        for bottom, top in rows:
            corner = Rect(left, bottom, right, top)
            if sheet.window.grown(_TINY_IN).contains(corner):
                yield corner


def _notch_lines(plan: FacePlan, sheet: Sheet) -> Iterator[Shape]:
    """Each corner hatched, with the edges' lines on."""
    face = plan.plane.rect
    for corner in notches(plan, sheet):
        x = face.left if corner.left < face.left else face.right
        y = face.bottom if corner.bottom < face.bottom else face.top
        for line in (
            (Point(x, corner.bottom), Point(x, corner.top)),
            (Point(corner.left, y), Point(corner.right, y)),
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


def _edges(face: FacePlan, sheet: Sheet) -> Iterator[_Edge]:
    """The edges that the sheet shows, each as far as it is the sheet's own."""
    bounds, plane, window, own, names = (
        face.bounds,
        face.plane.rect,
        sheet.window,
        sheet.own,
        edge_directions(face),
    )
    left, right = max(own.left, plane.left), min(own.right, plane.right)
    bottom, top = max(own.bottom, plane.bottom), min(own.top, plane.top)
    if window.top > plane.top:
        line, thick = Rect(left, plane.top, right, plane.top), bounds.top - plane.top
        yield _edge(face, names.up, "up", line, thick)
    if window.bottom < plane.bottom:
        line, thick = Rect(left, plane.bottom, right, plane.bottom), plane.bottom - bounds.bottom
        yield _edge(face, names.down, "down", line, thick)
    if window.left < plane.left < window.right:
        line, thick = Rect(plane.left, bottom, plane.left, top), plane.left - bounds.left
        yield _edge(face, names.left, "left", line, thick)
    if window.left < plane.right < window.right:
        line, thick = Rect(plane.right, bottom, plane.right, top), bounds.right - plane.right
        yield _edge(face, names.right, "right", line, thick)


_STANDS: dict[str, tuple[Way, float, bool]] = {
    "up": ("up", 0.0, True),
    "down": ("down", 0.0, False),
    "left": ("side", 90.0, True),
    "right": ("side", -90.0, False),
}
"""By where an edge is on the sheet: its way to fold, its words' angle, whether the face comes after it."""


def _edge(face: FacePlan, word: str, where: str, line: Rect, thick_in: float) -> _Edge:
    """An edge with what to do at it; rulers stand along all but the front."""
    way, angle, face_is_after = _STANDS[where]
    to_do, can_fold = edge_instructions(face, way), folds(face, way)
    return _Edge(
        f"{word} EDGE", to_do, line, thick_in, angle, face_is_after, way != "down", way == "up", can_fold
    )


def _name_request(edge: _Edge, part: Rect) -> LabelRequest:
    """In the border, the fullest words that fit it; else on the face beside the edge, level if need be."""
    texts = tuple(f"{edge.word}: {to_do}" for to_do in edge.to_do)
    if edge.is_at_wall:
        texts = (f"{edge.word}, to the wall: {edge.to_do[0]}", *texts)

    def spots(_: SheetInk) -> Iterator[Spot]:
        if edge.lift_in > LEAST_LIFT_IN:
            yield from _in_border(edge, texts)
        yield from (spot for spot in _on_face(edge, texts) if part.contains(spot.rect))

    return LabelRequest(("edge", edge.word), Priority.EDGE, spots, must_stand=True)


def _in_border(edge: _Edge, texts: Sequence[str]) -> Iterator[Spot]:
    """Along the edge, outside the face, clear of the border's ends."""
    low, high = edge.along
    height = capital_height_in(SMALL_PT)
    for text in texts:
        width = width_in(text, SMALL_PT)
        for start in starts_along(low, high, width, _STEP_IN, ((low + high) / 2,)):
            if min(start - low, high - start - width) >= EDGE_WORDS_CLEAR_IN:
                place = beside(edge.line, width, height, start, edge.lift_in, not edge.face_is_after)
                yield Spot(place, (text,), edge.angle, ON_PAPER, clear_in=LEAST_LIFT_IN)


def _on_face(edge: _Edge, texts: Sequence[str]) -> Iterator[Spot]:
    """Along the edge, on the face; the shortest words also level beside an upright one."""
    low, high = edge.along
    height = capital_height_in(SMALL_PT)
    first = RULER_IN + _GAP_IN if edge.has_ruler else _GAP_IN
    gaps = [(first + more, _ON_FACE) for more in (0.0, 0.1, 0.25, 0.5)]
    if edge.has_ruler:
        gaps.append((LONGEST_TICK_IN + _GAP_IN, _ON_FACE & ~int(Ink.RULER)))
    sizes = [(text, width_in(text, SMALL_PT), height, edge.angle) for text in texts]
    if edge.angle:
        sizes.append((texts[-1], height, width_in(texts[-1], SMALL_PT), 0.0))
    for text, along, across, angle in sizes:
        for gap, avoid in gaps:
            for start in starts_along(low + _GAP_IN, high - _GAP_IN, along, _STEP_IN, ((low + high) / 2,)):
                place = beside(edge.line, along, across, start, gap, edge.face_is_after)
                yield Spot(place, (text,), angle, avoid)


def _tape_request(edge: _Edge, number: int, half: Interval) -> LabelRequest:
    """A piece of tape on one half of the border, where it is free."""

    def spots(_: SheetInk) -> Iterator[Spot]:
        low, high = half.low + _TAPE_CLEAR_IN, half.high - _TAPE_CLEAR_IN
        across = edge.thick_in - 2 * _TAPE_INSET_IN
        for start in starts_along(low, high, ALONG_IN, _STEP_IN, ((low + high) / 2,)):
            place = beside(edge.line, ALONG_IN, across, start, _TAPE_INSET_IN, not edge.face_is_after)
            yield Spot(place, (), edge.angle, clear_in=LEAST_LIFT_IN)

    return LabelRequest((EDGE_TAPE, edge.word, number), Priority.TAPE, spots, must_stand=False, kind=Ink.TAPE)


def _tape(sheet: Sheet, spot: Spot) -> Iterator[Shape]:
    rect = spot.rect.moved(*sheet.offset)
    yield DrawnRect(rect, TAPE, "joint")
    x, y, lift = (rect.left + rect.right) / 2, (rect.bottom + rect.top) / 2, capital_height_in(SMALL_PT) / 2
    at = {0.0: Point(x, y - lift), 90.0: Point(x + lift, y), -90.0: Point(x - lift, y)}[spot.angle]
    yield Words(at, set_words(TAPE_WORD), SMALL_PT, "joint", "middle", angle=spot.angle)
