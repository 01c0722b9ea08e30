"""Draws the border outside the face's edges: each edge's name and what to do there, tape, and notches at
corners.

::

      ////|  tape   BACK EDGE: crease ...   tape  |////       hatched corners are cut out, so that the paper
      ----+---------------------------------------+----       folds over two edges that meet
       L  |                                       |  R
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial

from templates_engine.drawing.edge_directions import Way, edge_directions, edge_instructions, folds
from templates_engine.drawing.shapes import DrawnRect, Line, Shape
from templates_engine.drawing.sheet.face_rulers import LONGEST_TICK_IN
from templates_engine.drawing.sheet.tape import ALONG_IN, TAPE_WORD
from templates_engine.drawing.style import HATCH, SMALL_CAPITAL_IN, SMALL_PT, TAPE
from templates_engine.drawing.words import centred, width_in
from templates_engine.drawing.words.ink import ON_PAPER, Ink
from templates_engine.drawing.words.places import LineSide
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
_GAP_IN = 0.06
_ON_FACE = ON_PAPER | Ink.KNOCKOUT


class _Edge(Struct, frozen=True):
    """One edge of the face as far as a sheet shows it, and the border along it."""

    word: str
    to_do: tuple[str, ...]
    """What to do there, the fullest first."""
    line: Rect
    thick_in: float
    """How far the drawing goes on past the edge."""
    way: Way
    angle: float
    """How words along it are turned: 0, or 90 and -90 along upright edges."""
    face_is_after: bool
    """Whether the face lies below or right of it."""
    folds: bool
    """Whether the border can be folded over the edge, and taped there."""

    @property
    def has_ruler(self) -> bool:
        """Rulers stand along all but the front."""
        return self.way != "down"

    @property
    def lift_in(self) -> float:
        """White between the edge and words in the middle of the border."""
        return (self.thick_in - SMALL_CAPITAL_IN) / 2


def edge_requests(face: FacePlan, sheet: Sheet) -> Iterator[LabelRequest]:
    """The name of every edge that the sheet shows, with what to do there; tape on those that fold."""
    for edge in _edges(face, sheet):
        spots = partial(_name_spots, edge, sheet.own.common(face.plane.rect))
        yield LabelRequest(("edge", edge.word), Priority.EDGE, spots, must_stand=True)
        if edge.folds and edge.thick_in >= LEAST_TAPE_IN:
            for number in (0, 1):
                key = (EDGE_TAPE, edge.word, number)
                spots = partial(_tape_spots, edge, number)
                yield LabelRequest(key, Priority.TAPE, spots, must_stand=False, kind=Ink.TAPE)


def edge_shapes(face: FacePlan, sheet: Sheet, tape: Sequence[Placed]) -> Iterator[Shape]:
    """What stands in the borders besides words: notches, and the frames where tape goes."""
    yield from _notch_lines(face, sheet)
    for placed in tape:
        rect = placed.spot.rect.moved(*sheet.offset)
        yield DrawnRect(rect, TAPE, "joint")
        yield centred(TAPE_WORD, rect.middle, placed.spot.angle, "joint")


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
    bounds, plane, window, names = face.bounds, face.plane.rect, sheet.window, edge_directions(face)
    shown = sheet.own.common(plane)
    level, upright = Interval(window.bottom, window.top), Interval(window.left, window.right)
    ways: tuple[tuple[Way, str, Interval, float, float, float], ...] = (
        ("up", names.up, level, plane.top, bounds.top - plane.top, 0.0),
        ("down", names.down, level, plane.bottom, plane.bottom - bounds.bottom, 0.0),
        ("side", names.left, upright, plane.left, plane.left - bounds.left, 90.0),
        ("side", names.right, upright, plane.right, bounds.right - plane.right, -90.0),
    )
    for way, word, (low, high), at, thick_in, angle in ways:
        if low < at < high:
            line = shown._replace(left=at, right=at) if way == "side" else shown._replace(bottom=at, top=at)
            to_do, can_fold = edge_instructions(face, way), folds(face, way)
            face_is_after = way == "up" or angle > 0
            yield _Edge(f"{word} EDGE", to_do, line, thick_in, way, angle, face_is_after, can_fold)


def _name_spots(edge: _Edge, part: Rect) -> Iterator[Spot]:
    """In the border, the fullest words that fit it; else on the face beside the edge, level if need be."""
    texts = tuple(f"{edge.word}: {to_do}" for to_do in edge.to_do)
    if edge.way == "up":
        texts = (f"{edge.word}, to the wall: {edge.to_do[0]}", *texts)
    if edge.lift_in > LEAST_LIFT_IN:
        yield from _in_border(edge, texts)
    yield from (spot for spot in _on_face(edge, texts) if part.contains(spot.rect))


def _in_border(edge: _Edge, texts: Sequence[str]) -> Iterator[Spot]:
    """Along the edge, outside the face, clear of the border's ends."""
    border = LineSide(edge.line, not edge.face_is_after)
    for text in texts:
        for place in border.places(width_in(text, SMALL_PT), SMALL_CAPITAL_IN, edge.lift_in):
            taken = border.along_of(place)
            if min(taken.low - border.along.low, border.along.high - taken.high) >= EDGE_WORDS_CLEAR_IN:
                yield Spot(place, (text,), edge.angle, ON_PAPER, clear_in=LEAST_LIFT_IN)


def _on_face(edge: _Edge, texts: Sequence[str]) -> Iterator[Spot]:
    """Along the edge, on the face; the shortest words also level beside an upright one."""
    side = LineSide(edge.line, edge.face_is_after, _GAP_IN)
    first = RULER_IN + _GAP_IN if edge.has_ruler else _GAP_IN
    gaps = [(first + more, _ON_FACE) for more in (0.0, 0.1, 0.25, 0.5)]
    if edge.has_ruler:
        gaps.append((LONGEST_TICK_IN + _GAP_IN, _ON_FACE & ~Ink.RULER))
    sizes = [(text, width_in(text, SMALL_PT), SMALL_CAPITAL_IN, edge.angle) for text in texts]
    if edge.angle:
        sizes.append((texts[-1], SMALL_CAPITAL_IN, width_in(texts[-1], SMALL_PT), 0.0))
    for text, along, across, angle in sizes:
        for gap, avoid in gaps:
            yield from (Spot(place, (text,), angle, avoid) for place in side.places(along, across, gap))


def _tape_spots(edge: _Edge, half: int) -> Iterator[Spot]:
    """A piece of tape on the first or second half of the border, where it is free."""
    line, middle = edge.line, edge.line.middle
    if edge.way == "side":
        part = line._replace(bottom=middle.y) if half else line._replace(top=middle.y)
    else:
        part = line._replace(left=middle.x) if half else line._replace(right=middle.x)
    border = LineSide(part, not edge.face_is_after, _TAPE_CLEAR_IN)
    for place in border.places(ALONG_IN, edge.thick_in - 2 * _TAPE_INSET_IN, _TAPE_INSET_IN):
        yield Spot(place, (), edge.angle, clear_in=LEAST_LIFT_IN)
