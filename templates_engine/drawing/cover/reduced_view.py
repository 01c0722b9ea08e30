"""Draws the cover page's reduced view of a face: where the holes lie, by name, never to be marked from."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from templates_engine.drawing.cover.page_flow import PageBlock, column_of, moved, paragraph, space
from templates_engine.drawing.edge_directions import edge_directions
from templates_engine.drawing.leader_labels import LeaderLabels, upright_labels
from templates_engine.drawing.shapes import DrawnCircle, DrawnRect, Line, Shape, Words
from templates_engine.drawing.sheet.face_strokes import sides
from templates_engine.drawing.style import CROSS, EDGE, KEEP_OUT, PILOT, SMALL_PT, TABLE, capital_height_in
from templates_engine.drawing.words import set_words, width_in
from templates_engine.drawing.words.ink import CLEAR_IN, Ink, SheetInk, round_stroke, stroke
from templates_engine.drawing.words.places import is_nearest, places_round
from templates_engine.geometry import Circle, Interval, Point, Rect
from templates_engine.layout.model import Hole
from templates_engine.sheets.model import FacePlan
from templates_engine.units import MM_PER_INCH, LengthFormat

EDGE_WORDS_IN = 0.24
NAMES_WITHIN_IN = 0.3
"""How far off its circle a name may stand; further it would seem a neighbour's."""
_Rings = Sequence[tuple[Hole, Circle]]
"""Every hole with its circle, shrunk."""


def reduced_view(plan: FacePlan, lengths: LengthFormat, width: float, most_height: float) -> PageBlock:
    """The face shrunk into ``width`` x ``most_height`` inches at most, every hole named, with its edge words
    and outside measures. Names that find no room at their holes stand along the edges, and add to its height.
    """
    plane = plan.plane
    inner_width, inner_height = width - 2 * EDGE_WORDS_IN, most_height - 2 * EDGE_WORDS_IN
    scale = min(inner_width / plane.width_in, inner_height / plane.depth_in, 0.8)
    face = Rect(0.0, 0.0, plane.width_in * scale, plane.depth_in * scale)
    rings = tuple(
        (hole, Circle(_shrunk(plan.centre_of(hole), scale), hole.hole_diameter_in * scale))
        for hole in plan.layout.holes
    )
    keep_outs = list(_keep_outs(plan, scale))
    names = _names_at_holes(face, rings, keep_outs)
    above = below = None
    if names is None:
        left = (inner_width - face.width) / 2
        above, below = _combs(plan, rings, Interval(-left, face.width + left))
    up, down = (one.height_in if one else 0.0 for one in (above, below))
    shapes: list[Shape] = [DrawnRect(face, EDGE, "edge"), *keep_outs, *_circles(rings), *(names or ())]
    shapes += above.shapes(face.top, 1) if above else ()
    shapes += below.shapes(face.bottom, -1) if below else ()
    is_unnamed = names is None and above is None and below is None
    shapes += _edge_words(plan, lengths, face.top + up, face.bottom - down, face, is_unnamed)
    height = face.height + up + down + 2 * EDGE_WORDS_IN
    to_left, to_top = (width - face.width) / 2, -EDGE_WORDS_IN - up - face.height
    return PageBlock(height + 0.06, tuple(moved(shape, to_left, to_top) for shape in shapes))


def _shrunk(point: Point, scale: float) -> Point:
    return Point(point.x * scale, point.y * scale)


def _circles(rings: _Rings) -> Iterator[Shape]:
    for _, ring in rings:
        yield DrawnCircle(ring.centre, ring.diameter, PILOT, "cut")
        for arm in _arms(ring):
            yield Line(Point(arm.left, arm.bottom), Point(arm.right, arm.top), CROSS, "centre")


def _arms(ring: Circle) -> Iterator[Rect]:
    """The two lines of the cross at a centre."""
    (x, y), arm = ring.centre, min(0.05, ring.radius)
    for dx, dy in ((arm, 0.0), (0.0, arm)):
        yield Rect(x - dx, y - dy, x + dx, y + dy)


def _names_at_holes(
    face: Rect, rings: _Rings, keep_outs: Sequence[DrawnRect | DrawnCircle]
) -> list[Shape] | None:
    """Every name inside the face near its circle; None where some find no room."""
    circles = [ring for _, ring in rings]
    circles += (Circle(one.centre, one.diameter) for one in keep_outs if isinstance(one, DrawnCircle))
    ink = _ink(circles, rings, keep_outs)
    shapes: list[Shape] = []
    for hole, ring in rings:
        text_width, text_height = width_in(hole.id, SMALL_PT, True), capital_height_in(SMALL_PT)
        reach = ring.radius + 2 * (NAMES_WITHIN_IN + text_width)
        near = [one for one in circles if math.dist(one.centre, ring.centre) < reach + one.radius]
        free = (
            place
            for place in places_round(ring, text_width, text_height, 0.0, NAMES_WITHIN_IN)
            if face.contains(place.grown(CLEAR_IN)) and ink.is_free(place)
        )
        found = next((place for place in free if is_nearest(place, ring, near)), None)
        if found is None:
            return None
        ink.add(stroke(found, Ink.WORDS))
        shapes.append(Words(Point(found.left, found.bottom), (hole.id,), SMALL_PT, bold=True))
    return shapes


def _ink(circles: Sequence[Circle], rings: _Rings, keep_outs: Sequence[DrawnRect | DrawnCircle]) -> SheetInk:
    """What stands in the face before its names."""
    ink = SheetInk()
    for circle in circles:
        ink.add(round_stroke(circle, Ink.CIRCLE))
    for _, ring in rings:
        for arm in _arms(ring):
            ink.add(stroke(arm, Ink.CROSS))
    for keep_out in keep_outs:
        if isinstance(keep_out, DrawnRect):
            for side in sides(keep_out.rect):
                ink.add(stroke(side, Ink.OUTLINE))
    return ink


def _combs(plan: FacePlan, rings: _Rings, along: Interval) -> tuple[LeaderLabels | None, LeaderLabels | None]:
    """The names along the back and the front edge: those of the rows behind along the back; where one edge
    has too many, along either in turn. None and None where even so they do not fit.
    """
    named = [(hole.id, ring.centre) for hole, ring in sorted(rings, key=lambda one: one[1].centre.x)]
    rows = sorted(plan.layout.rows, key=lambda row: row.line.at_in)
    at_back = {hole.id for row in rows[: -(-len(rows) // 2)] for hole in row.holes}
    by_row = [one for one in named if one[0] in at_back], [one for one in named if one[0] not in at_back]
    for above, below in (by_row, (named[::2], named[1::2])):
        combs = upright_labels(above, along), upright_labels(below, along)
        if all(combs):
            return combs
    return None, None


def _keep_outs(plan: FacePlan, scale: float) -> Iterator[DrawnRect | DrawnCircle]:
    for item in plan.layout.job.keep_outs:
        a = _shrunk(plan.plane.from_face(Point(item.u_low_in, item.v_low_in)), scale)
        b = _shrunk(plan.plane.from_face(Point(item.u_high_in, item.v_high_in)), scale)
        rect = Rect(min(a.x, b.x), min(a.y, b.y), max(a.x, b.x), max(a.y, b.y))
        if item.diameter_in is None:
            yield DrawnRect(rect, KEEP_OUT, "frame")
        else:
            yield DrawnCircle(Point((a.x + b.x) / 2, (a.y + b.y) / 2), rect.width, KEEP_OUT, "frame")


def _edge_words(
    plan: FacePlan, lengths: LengthFormat, top: float, bottom: float, face: Rect, is_unnamed: bool
) -> Iterator[Shape]:
    """The edges by name; those at the back and front beyond ``top`` and ``bottom``."""
    words = edge_directions(plan)
    text = capital_height_in(SMALL_PT)
    x, y = (face.left + face.right) / 2, (face.bottom + face.top) / 2
    wide = f"{words.up} edge, to the wall: {lengths.say(plan.plane.width_in)}"
    yield Words(Point(x, top + 0.07), set_words(wide), SMALL_PT, anchor="middle")
    never = f"{words.down}: reduced view, never mark from it"
    yield Words(
        Point(x, bottom - 0.07 - text),
        set_words(never + ("; all names are on the sheets" if is_unnamed else "")),
        SMALL_PT,
        anchor="middle",
    )
    deep = f"{words.left}: {lengths.say(plan.plane.depth_in)}"
    deep = deep if width_in(deep, SMALL_PT) < face.height else words.left
    yield Words(Point(face.left - 0.07, y), set_words(deep), SMALL_PT, anchor="middle", angle=90.0)
    yield Words(Point(face.right + 0.07, y), (words.right,), SMALL_PT, anchor="middle", angle=-90.0)


CARD_WIDTH_IN = 85.60 / MM_PER_INCH
CARD_HEIGHT_IN = 53.98 / MM_PER_INCH
CARD_CORNER_IN = 3.18 / MM_PER_INCH
CARD_INSET_IN = 0.24


def card_outline(more: str) -> PageBlock:
    """An ID-1 card at true size (ISO/IEC 7810: 85.60 x 53.98 mm, corner radius 3.18 mm): a check without a
    rule. ``more`` is told inside it too.
    """
    outline = Rect(0.02, -CARD_HEIGHT_IN - 0.02, 0.02 + CARD_WIDTH_IN, -0.02)
    width = CARD_WIDTH_IN - 2 * CARD_INSET_IN
    words = column_of(
        [
            *paragraph("Lay a bank or ID card here.", width, bold=True),
            *paragraph(
                "All four edges must meet the line; if they do not, this print is not true size.", width
            ),
            space(0.1),
            *paragraph(more, width),
        ]
    )
    inside = (moved(shape, CARD_INSET_IN, -CARD_INSET_IN) for shape in words.shapes)
    return PageBlock(
        CARD_HEIGHT_IN + 0.12, (DrawnRect(outline, TABLE, "ruler", corner=CARD_CORNER_IN), *inside)
    )
