"""Draws the cover page's reduced view of a face: where the holes lie, by name, never to be marked from."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from templates_engine.drawing.cover.page_flow import PageBlock, moved
from templates_engine.drawing.edge_directions import EdgeDirections, edge_directions
from templates_engine.drawing.leader_labels import NO_LABELS, LeaderLabels, upright_labels
from templates_engine.drawing.shapes import DrawnCircle, DrawnRect, Line, Shape, Words
from templates_engine.drawing.sheet.face_picture import keep_out_shape
from templates_engine.drawing.sheet_map import edge_names
from templates_engine.drawing.style import CROSS, EDGE, PILOT, SMALL_CAPITAL_IN, SMALL_PT
from templates_engine.drawing.words import width_in
from templates_engine.drawing.words.ink import CLEAR_IN, Ink, SheetInk, stroke, strokes_of
from templates_engine.drawing.words.places import is_nearest, places_round
from templates_engine.geometry import Circle, Interval, Point, Rect, cross_lines
from templates_engine.job.model import KeepOut
from templates_engine.layout.model import Hole
from templates_engine.sheets.model import FacePlan
from templates_engine.units import LengthFormat

EDGE_WORDS_IN, EDGE_CLEAR_IN = 0.24, 0.07
"""What the names of edges take, and from an edge to its name."""
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
    face = plane.rect.scaled(scale, scale)
    rings = tuple(
        (hole, Circle(plan.centre_of(hole).scaled(scale, scale), hole.hole_diameter_in * scale))
        for hole in plan.layout.holes
    )
    drawn = (*(_keep_out(plan, one, scale) for one in plan.layout.job.keep_outs), *_circles(rings))
    names = _names_at_holes(face, rings, drawn)
    left = (inner_width - face.width) / 2
    combs = _combs(plan, rings, Interval(-left, face.width + left)) if names is None else None
    above, below = combs or (NO_LABELS, NO_LABELS)
    up, down = above.height_in, below.height_in
    shapes: list[Shape] = [DrawnRect(face, EDGE, "edge"), *drawn, *(names or ())]
    shapes += above.shapes(face.top, 1)
    shapes += below.shapes(face.bottom, -1)
    words = _edge_words(plan, lengths, face, is_unnamed=names is None and combs is None)
    shapes += edge_names(words, face, EDGE_CLEAR_IN, up, down)
    height = face.height + up + down + 2 * EDGE_WORDS_IN
    to_left, to_top = (width - face.width) / 2, -EDGE_WORDS_IN - up - face.height
    return PageBlock(height + 0.06, tuple(moved(shape, to_left, to_top) for shape in shapes))


def _keep_out(plan: FacePlan, keep_out: KeepOut, scale: float) -> DrawnRect | DrawnCircle:
    shape = keep_out_shape(plan.plane, keep_out)
    if isinstance(shape, DrawnCircle):
        return shape._replace(centre=shape.centre.scaled(scale, scale), diameter=shape.diameter * scale)
    return shape._replace(rect=shape.rect.scaled(scale, scale))


def _circles(rings: _Rings) -> Iterator[Shape]:
    """Every hole's circle, with a cross at its centre."""
    for _, ring in rings:
        yield DrawnCircle(ring.centre, ring.diameter, PILOT, "cut")
        for start, end in cross_lines(ring.centre, min(0.05, ring.radius)):
            yield Line(start, end, CROSS, "centre")


def _names_at_holes(face: Rect, rings: _Rings, drawn: Sequence[Shape]) -> list[Shape] | None:
    """Every name inside the face near its circle; None where some find no room."""
    circles = [Circle(one.centre, one.diameter) for one in drawn if isinstance(one, DrawnCircle)]
    ink = SheetInk(strokes_of(drawn))
    shapes: list[Shape] = []
    for hole, ring in rings:
        text_width, text_height = width_in(hole.id, SMALL_PT, True), SMALL_CAPITAL_IN
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


def _combs(plan: FacePlan, rings: _Rings, along: Interval) -> tuple[LeaderLabels, LeaderLabels] | None:
    """The names along the back and the front edge: those of the rows behind along the back; where one edge
    has too many, along either in turn. None where even so they do not fit.
    """
    named = [(hole.id, ring.centre) for hole, ring in sorted(rings, key=lambda one: one[1].centre.x)]
    rows = sorted(plan.layout.rows, key=lambda row: row.line.at_in)
    at_back = {hole.id for row in rows[: -(-len(rows) // 2)] for hole in row.holes}
    by_row = [one for one in named if one[0] in at_back], [one for one in named if one[0] not in at_back]
    for back, front in (by_row, (named[::2], named[1::2])):
        above, below = upright_labels(back, along), upright_labels(front, along)
        if above and below:
            return above, below
    return None


def _edge_words(plan: FacePlan, lengths: LengthFormat, face: Rect, is_unnamed: bool) -> EdgeDirections:
    """What stands at the view's edges: their names and how long they are."""
    words = edge_directions(plan)
    deep = f"{words.left}: {lengths.say(plan.plane.depth_in)}"
    never = f"{words.down}: reduced view, never mark from it"
    return EdgeDirections(
        up=f"{words.up} edge, to the wall: {lengths.say(plan.plane.width_in)}",
        down=never + ("; all names are on the sheets" if is_unnamed else ""),
        left=deep if width_in(deep, SMALL_PT) < face.height else words.left,
        right=words.right,
    )
