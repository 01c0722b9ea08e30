"""Turns a face's keep-outs into their outlines and names, each name in its place or led to it by a line.

::

    +-----------------+         +--+
    | keep out: hinge |         |  |--- keep out: seam
    +-----------------+         +--+
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import chain, islice

from templates_engine.drawing.shapes import DrawnCircle, DrawnRect, Shape
from templates_engine.drawing.style import KEEP_OUT
from templates_engine.drawing.words.ink import ON_PAPER, Ink, SheetInk
from templates_engine.drawing.words.places import common, middle_of, places_round, places_within
from templates_engine.drawing.words.requests import LabelRequest, Leader, Priority, Spot, block_size
from templates_engine.geometry import Circle, Point, Rect
from templates_engine.job.model import KeepOut
from templates_engine.sheets.face_lines import keep_out_rect
from templates_engine.sheets.model import FacePlan, Sheet

_IN_IT = ON_PAPER | int(Ink.KNOCKOUT)
_BESIDE = ON_PAPER | int(Ink.KNOCKOUT | Ink.KEEP_OUT)
MOST_LED, LEAST_LED = 40_000, 20
"""Places tried beside and round a face's keep-outs, over all of them, and at least for each."""
LEADER_CLEAR_IN = 0.05
"""Between words and the line that leads to them."""


def keep_out_shapes(plan: FacePlan, keep_out: KeepOut) -> Iterator[Shape]:
    """The outline of the place."""
    rect = keep_out_rect(plan.plane, keep_out)
    if keep_out.diameter_in is not None:
        centre = Point((rect.left + rect.right) / 2, (rect.bottom + rect.top) / 2)
        yield DrawnCircle(centre, keep_out.diameter_in, KEEP_OUT, "frame")
    else:
        yield DrawnRect(rect, KEEP_OUT, "frame")


def keep_out_requests(plan: FacePlan, sheet: Sheet) -> Iterator[LabelRequest]:
    """The name of each keep-out that the sheet shows: in it where that is free, else led to it by a line."""
    part = common(sheet.own, plan.plane.rect)
    most = max(LEAST_LED, MOST_LED // max(len(plan.layout.job.keep_outs), 1))
    for number, keep_out in enumerate(plan.layout.job.keep_outs):
        rect = keep_out_rect(plan.plane, keep_out)
        if part.overlaps(rect):
            spots = _spots(rect, f"keep out: {keep_out.name}", keep_out.diameter_in is not None, part, most)
            yield LabelRequest(("keep out", number), Priority.KEEP_OUT, spots, must_stand=True)


def _spots(
    rect: Rect, text: str, is_round: bool, part: Rect, most: int
) -> Callable[[SheetInk], Iterator[Spot]]:
    width, height = block_size((text,))
    middle = middle_of(rect)
    around = Circle(middle, max(rect.width, rect.height))

    def spots(_: SheetInk) -> Iterator[Spot]:
        shown = common(rect, part)
        if not is_round:
            for angle, wide, high in ((0.0, width, height), (90.0, height, width)):
                yield from (Spot(one, (text,), angle, _IN_IT) for one in _inside(shown, wide, high))
        near = shown.nearest(middle)
        for leader_avoid in (ON_PAPER, int(Ink.WORDS)):
            places = chain(places_round(around, width, height, 0.0), places_within(part, width, height, near))
            for place in islice(places, most):
                if part.contains(place):
                    yield Spot(place, (text,), avoid=_BESIDE, leader=_leader(shown, place, leader_avoid))

    return spots


def _leader(rect: Rect, place: Rect, avoid: int) -> Leader:
    """From the outline to the words, ending a little off them."""
    start = rect.nearest(middle_of(place))
    return Leader(start, place.grown(LEADER_CLEAR_IN).nearest(start), avoid)


def _inside(rect: Rect, width: float, height: float) -> Iterator[Rect]:
    """Places within a rectangle from its upper left corner on, downward first."""
    for row in range(int((rect.height - height - 0.1) / 0.1) + 1):
        for column in range(int((rect.width - width - 0.1) / 0.25) + 1):
            left, top = rect.left + 0.06 + column * 0.25, rect.top - 0.08 - row * 0.1
            yield Rect(left, top - height, left + width, top)
