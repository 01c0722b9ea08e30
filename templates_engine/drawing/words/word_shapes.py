"""Turns placed words into shapes: their lines, turned where they run along an upright line, and a leader."""

from __future__ import annotations

from collections.abc import Iterator

from templates_engine.drawing.shapes import Line, Shape, Words
from templates_engine.drawing.style import CROSS, capital_height_in, line_height_in
from templates_engine.drawing.words.requests import Placed
from templates_engine.drawing.words.typesetting import set_words
from templates_engine.geometry import Point


def word_shapes(placed: Placed, offset: Point) -> Iterator[Shape]:
    """The words of one request, moved by ``offset`` onto the page."""
    request, spot = placed.request, placed.spot
    rect = spot.rect.moved(*offset)
    capital, step = capital_height_in(request.size_pt), line_height_in(request.size_pt)
    for index, line in enumerate(spot.lines):
        down = capital + index * step
        at = {
            0.0: Point(rect.left, rect.top - down),
            90.0: Point(rect.left + down, rect.bottom),
            -90.0: Point(rect.right - down, rect.top),
        }[spot.angle]
        yield Words(at, set_words(line), request.size_pt, request.layer, bold=request.bold, angle=spot.angle)
    if spot.leader is not None and spot.leader.parts:
        start, tip = (
            Point(one.x + offset.x, one.y + offset.y) for one in (spot.leader.start, spot.leader.tip)
        )
        yield Line(start, tip, CROSS, "frame")
