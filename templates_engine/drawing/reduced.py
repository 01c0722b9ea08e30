"""The lead page's reduced view of a face: where the holes lie, by name, never to be marked from."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from templates_engine.drawing.compass import compass
from templates_engine.drawing.face_ink import sides
from templates_engine.drawing.flow import Piece
from templates_engine.drawing.labels import Room, first_free, is_nearest, places_round
from templates_engine.drawing.shapes import Box, Line, Ring, Shape, Words
from templates_engine.drawing.style import CROSS, EDGE, KEEP_OUT, PILOT, SMALL_PT, TABLE, capital_height_in
from templates_engine.drawing.words import set_words, width_in
from templates_engine.geometry import Circle, Point, Rect
from templates_engine.sheets.model import FacePlan
from templates_engine.units import Speech

EDGE_WORDS_IN = 0.24
NAMES_WITHIN_IN = 0.3
"""How far off its circle a name may stand; further it would seem a neighbour's, and is left out."""


def reduced_view(plan: FacePlan, speech: Speech, width: float, most_height: float) -> Piece:
    """The face shrunk into ``width`` x ``most_height`` inches at most, with its edge words and outside
    measures.
    """
    plane = plan.plane
    inner_width, inner_height = width - 2 * EDGE_WORDS_IN, most_height - 2 * EDGE_WORDS_IN
    scale = min(inner_width / plane.width_in, inner_height / plane.depth_in, 0.8)
    height = plane.depth_in * scale + 2 * EDGE_WORDS_IN
    left = (width - plane.width_in * scale) / 2

    def place(point: Point) -> Point:
        return Point(left + point.x * scale, -height + EDGE_WORDS_IN + point.y * scale)

    shapes: list[Shape] = []
    low, high = place(Point(0, 0)), place(Point(plane.width_in, plane.depth_in))
    face = Rect(low.x, low.y, high.x, high.y)
    shapes.append(Box(face, EDGE, "edge"))
    room = Room(taken=list(_outside(face)))
    for keep_out in _keep_outs(plan, place):
        shapes.append(keep_out)
        if isinstance(keep_out, Box):
            room.taken += sides(keep_out.rect)
        else:
            room.rings.append(Circle(keep_out.centre, keep_out.diameter))
    rings = [
        (hole, Circle(place(plan.centre_of(hole)), hole.hole_diameter_in * scale))
        for hole in plan.layout.holes
    ]
    room.rings += [ring for _, ring in rings]
    for _, ring in rings:
        shapes.append(Ring(ring.centre, ring.diameter, PILOT, "cut"))
        arm = min(0.05, ring.radius)
        for dx, dy in ((arm, 0.0), (0.0, arm)):
            x, y = ring.centre
            shapes.append(Line(Point(x - dx, y - dy), Point(x + dx, y + dy), CROSS, "centre"))
            room.take(Rect(x - dx, y - dy, x + dx, y + dy))
    unnamed = False
    for hole, ring in rings:
        text_width, text_height = width_in(hole.id, SMALL_PT, True), capital_height_in(SMALL_PT)
        reach = ring.radius + NAMES_WITHIN_IN + text_width + 0.2
        near = room.near(Rect(*ring.centre, *ring.centre).grown(reach))
        places = places_round(ring, text_width, text_height, 0.0, NAMES_WITHIN_IN)
        found = first_free(near, (place for place in places if is_nearest(place, ring, near.rings)))
        if found:
            room.take(found)
            shapes.append(Words(Point(found.left, found.bottom), (hole.id,), SMALL_PT, bold=True))
        else:
            unnamed = True
    shapes += _edge_words(plan, speech, face, unnamed)
    return Piece(height + 0.06, tuple(shapes))


def _outside(face: Rect) -> Iterator[Rect]:
    yield Rect(face.left - 99, face.top, face.right + 99, face.top + 99)
    yield Rect(face.left - 99, face.bottom - 99, face.right + 99, face.bottom)
    yield Rect(face.left - 99, face.bottom - 99, face.left, face.top + 99)
    yield Rect(face.right, face.bottom - 99, face.right + 99, face.top + 99)


def _keep_outs(plan: FacePlan, place: Callable[[Point], Point]) -> Iterator[Box | Ring]:
    for item in plan.layout.job.keep_outs:
        a = place(plan.plane.from_face(Point(item.u_low_in, item.v_low_in)))
        b = place(plan.plane.from_face(Point(item.u_high_in, item.v_high_in)))
        rect = Rect(min(a.x, b.x), min(a.y, b.y), max(a.x, b.x), max(a.y, b.y))
        if item.diameter_in is None:
            yield Box(rect, KEEP_OUT, "frame")
        else:
            yield Ring(Point((a.x + b.x) / 2, (a.y + b.y) / 2), rect.width, KEEP_OUT, "frame")


def _edge_words(plan: FacePlan, speech: Speech, face: Rect, unnamed: bool) -> Iterator[Shape]:
    words = compass(plan)
    text = capital_height_in(SMALL_PT)
    x, y = (face.left + face.right) / 2, (face.bottom + face.top) / 2
    wide = f"{words.up} edge, to the wall: {speech.say(plan.plane.width_in)}"
    yield Words(Point(x, face.top + 0.07), set_words(wide), SMALL_PT, anchor="middle")
    never = f"{words.down}: reduced view, never mark from it"
    yield Words(
        Point(x, face.bottom - 0.07 - text),
        set_words(never + ("; all names are on the sheets" if unnamed else "")),
        SMALL_PT,
        anchor="middle",
    )
    deep = f"{words.left}: {speech.say(plan.plane.depth_in)}"
    deep = deep if width_in(deep, SMALL_PT) < face.height else words.left
    yield Words(Point(face.left - 0.07, y), set_words(deep), SMALL_PT, anchor="middle", angle=90.0)
    yield Words(Point(face.right + 0.07, y), (words.right,), SMALL_PT, anchor="middle", angle=-90.0)


CARD_WIDTH_IN = 85.60 / 25.4
CARD_HEIGHT_IN = 53.98 / 25.4
CARD_CORNER_IN = 3.18 / 25.4


def card_outline() -> Piece:
    """An ID-1 card at true size (ISO/IEC 7810: 85.60 x 53.98 mm, corner radius 3.18 mm): a check without a
    rule.
    """
    shapes: list[Shape] = [
        Box(
            Rect(0.02, -CARD_HEIGHT_IN - 0.02, 0.02 + CARD_WIDTH_IN, -0.02),
            TABLE,
            "ruler",
            corner=CARD_CORNER_IN,
        )
    ]
    lines = (
        "Lay a bank or ID card here.",
        "All four edges must meet the line;",
        "if they do not, this print is not",
        "true size.",
    )
    for index, line in enumerate(lines):
        shapes.append(Words(Point(0.3, -0.65 - index * 0.18), (line,), SMALL_PT, bold=index == 0))
    return Piece(CARD_HEIGHT_IN + 0.12, tuple(shapes))
