"""Turns a face's keep-outs into their outlines and names, each name in its place or led to it by a line.

::

    +-----------------+         +--+
    | keep out: hinge |         |  |--- keep out: seam
    +-----------------+         +--+
"""

from __future__ import annotations

from collections.abc import Iterator

from templates_engine.drawing.labels import Room, first_free, places_round
from templates_engine.drawing.leaders import Leader, leader
from templates_engine.drawing.shapes import Box, Line, Ring, Shape, Words
from templates_engine.drawing.style import CROSS, KEEP_OUT, SMALL_PT, capital_height_in
from templates_engine.drawing.words import set_words, width_in
from templates_engine.geometry import Circle, Point, Rect
from templates_engine.job.model import KeepOut
from templates_engine.sheets.face_lines import keep_out_rect
from templates_engine.sheets.model import FacePlan

LEADER_CLEAR_IN = 0.05
"""Between words and the line that leads to them."""


def keep_out_shapes(plan: FacePlan, keep_out: KeepOut) -> Iterator[Shape]:
    """The outline of the place."""
    rect = keep_out_rect(plan, keep_out)
    if keep_out.diameter_in is not None:
        centre = Point((rect.left + rect.right) / 2, (rect.bottom + rect.top) / 2)
        yield Ring(centre, keep_out.diameter_in, KEEP_OUT, "frame")
    else:
        yield Box(rect, KEEP_OUT, "frame")


def keep_out_words(plan: FacePlan, keep_out: KeepOut, room: Room) -> Iterator[Shape]:
    """The keep-out's name: in it where that is free, level or upright, else beside it with a line to it."""
    rect = keep_out_rect(plan, keep_out)
    text = f"keep out: {keep_out.name}"
    width, height = width_in(text, SMALL_PT), capital_height_in(SMALL_PT)
    near = room.near(rect.grown(3.0 + width))
    if keep_out.diameter_in is None:
        for angle, wide, high in ((0.0, width, height), (90.0, height, width)):
            found = first_free(near.on_paper(), _inside(rect, wide, high))
            if found:
                room.take(found)
                at = Point(found.left, found.bottom) if angle == 0 else Point(found.right, found.bottom)
                yield Words(at, set_words(text), SMALL_PT, angle=angle)
                return
    centre = Point((rect.left + rect.right) / 2, (rect.bottom + rect.top) / 2)
    around = Circle(centre, max(rect.width, rect.height))
    # The line to it may cross lines if there is no other way, but no words.
    words = Room(taken=[taken for taken in near.taken if taken.width > 0 and taken.height > 0])
    free = [place for place in places_round(around, width, height, 0.0) if near.is_free(place)]
    for to_avoid in (near.on_paper(), words):
        for place in free:
            line = _leader(rect, place)
            if line.is_clear(to_avoid):
                room.take(place)
                room.taken += line.parts
                yield Words(Point(place.left, place.bottom), set_words(text), SMALL_PT)
                if line.parts:
                    yield Line(line.start, line.tip, CROSS, "frame")
                return


def _leader(rect: Rect, place: Rect) -> Leader:
    """From the outline to the words, ending a little off them."""
    start = rect.nearest(Point((place.left + place.right) / 2, (place.bottom + place.top) / 2))
    return leader(start, place.grown(LEADER_CLEAR_IN).nearest(start))


def _inside(rect: Rect, width: float, height: float) -> Iterator[Rect]:
    """Places within a rectangle from its upper left corner on, downward first."""
    for row in range(int((rect.height - height - 0.1) / 0.1) + 1):
        for column in range(int((rect.width - width - 0.1) / 0.25) + 1):
            left, top = rect.left + 0.06 + column * 0.25, rect.top - 0.08 - row * 0.1
            yield Rect(left, top - height, left + width, top)
