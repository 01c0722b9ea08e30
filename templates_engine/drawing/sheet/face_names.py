"""Asks for room for the names of what is drawn on a face: lips, rows' lines and keep-outs, each name in or at
its place, or led to it by a line.

::

    +-----------------+         +--+
    | keep out: hinge |         |  |--- keep out: seam
    +-----------------+         +--+
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial
from itertools import chain, islice

from templates_engine.drawing.style import SMALL_CAPITAL_IN, SMALL_PT
from templates_engine.drawing.words import width_in
from templates_engine.drawing.words.ink import ON_PAPER, Ink
from templates_engine.drawing.words.places import LineSide, places_round, places_within
from templates_engine.drawing.words.requests import LabelRequest, Leader, Priority, Spot, block_size
from templates_engine.geometry import Circle, Rect
from templates_engine.job.model import KeepOut
from templates_engine.layout.model import PlacedRow
from templates_engine.sheets.face_lines import keep_out_rect, line_rect, lip_lines
from templates_engine.sheets.model import FacePlan, Sheet
from templates_engine.units import LengthFormat

LIP_WORDS = ("lip: metal is not flat beyond", "lip: not flat", "lip")
_GAP_IN, _END_IN = 0.06, 0.1
_OFF_HOLES = ON_PAPER | Ink.KNOCKOUT
_BESIDE_LINE = (_GAP_IN, _OFF_HOLES)
_FARTHER_OFF = ((2.5 * _GAP_IN, _OFF_HOLES), (_GAP_IN, _OFF_HOLES & ~Ink.RULER))
MOST_LED, LEAST_LED = 40_000, 20
"""Places tried beside and round a face's keep-outs, over all of them, and at least for each."""
LEADER_CLEAR_IN = 0.05
"""Between words and the line that leads to them."""


# --- lines --------------------------------------------------------------------------------------------------


def line_name_requests(plan: FacePlan, sheet: Sheet, lengths: LengthFormat) -> Iterator[LabelRequest]:
    """Each lip that the sheet shows, so that nobody takes its line for one to cut; each row's line where
    there is room.
    """
    part = sheet.own.common(plan.plane.rect)
    for number, (start, end) in enumerate(lip_lines(plan)):
        line = line_rect(start, end).common(part)
        if line.left <= line.right and line.bottom <= line.top:
            spots = partial(_line_spots, line, part, LIP_WORDS, (_BESIDE_LINE, *_FARTHER_OFF))
            yield LabelRequest(("lip", number), Priority.LIP, spots, must_stand=True)
    for row in plan.layout.rows:
        y = plan.plane.depth_in - row.line.at_in
        if part.bottom <= y <= part.top:
            line = Rect(part.left, y, part.right, y)
            spots = partial(_line_spots, line, part, _row_words(row, lengths), (_BESIDE_LINE,))
            yield LabelRequest(("row line", row.row.name), Priority.BACK_LINE, spots, must_stand=False)


def _row_words(row: PlacedRow, lengths: LengthFormat) -> tuple[str, ...]:
    name, where = row.row.name, lengths.say(row.line.at_in)
    return f"row {name}: {row.line.whose} {where} from back edge", f"row {name} {row.line.through}, {where}"


def _line_spots(
    line: Rect, part: Rect, texts: Sequence[str], gaps: Sequence[tuple[float, int]]
) -> Iterator[Spot]:
    """The first of the texts that has room beside the line."""
    angle, height = 90.0 if line.width == 0 else 0.0, SMALL_CAPITAL_IN
    for gap, avoid in gaps:
        for text in texts:
            for is_after in (False, True):
                side = LineSide(line, is_after, _END_IN, is_from_start=True)
                for place in side.places(width_in(text, SMALL_PT), height, gap):
                    if part.contains(place):
                        yield Spot(place, (text,), angle, avoid)


# --- keep-outs ----------------------------------------------------------------------------------------------


def keep_out_requests(plan: FacePlan, sheet: Sheet) -> Iterator[LabelRequest]:
    """The name of each keep-out that the sheet shows: in it where that is free, else led to it by a line."""
    part = sheet.own.common(plan.plane.rect)
    most = max(LEAST_LED, MOST_LED // max(len(plan.layout.job.keep_outs), 1))
    for number, keep_out in enumerate(plan.layout.job.keep_outs):
        rect = keep_out_rect(plan.plane, keep_out)
        if part.overlaps(rect):
            spots = partial(_keep_out_spots, keep_out, rect, part, most)
            yield LabelRequest(("keep out", number), Priority.KEEP_OUT, spots, must_stand=True)


def _keep_out_spots(keep_out: KeepOut, rect: Rect, part: Rect, most: int) -> Iterator[Spot]:
    lines = (f"keep out: {keep_out.name}",)
    width, height = block_size(lines)
    shown = rect.common(part)
    if keep_out.diameter_in is None:
        for angle, wide, high in ((0.0, width, height), (90.0, height, width)):
            yield from (Spot(one, lines, angle, _OFF_HOLES) for one in _inside(shown, wide, high))
    around = Circle(rect.middle, max(rect.width, rect.height))
    near = shown.nearest(rect.middle)
    for leader_avoid in (ON_PAPER, int(Ink.WORDS)):
        places = chain(places_round(around, width, height, 0.0), places_within(part, width, height, near))
        for place in islice(places, most):
            if part.contains(place):
                leader = _leader(shown, place, leader_avoid)
                yield Spot(place, lines, avoid=_OFF_HOLES | Ink.KEEP_OUT, leader=leader)


def _leader(rect: Rect, place: Rect, avoid: int) -> Leader:
    """From the outline to the words, ending a little off them."""
    start = rect.nearest(place.middle)
    return Leader(start, place.grown(LEADER_CLEAR_IN).nearest(start), avoid)


def _inside(rect: Rect, width: float, height: float) -> Iterator[Rect]:
    """Places within a rectangle from its upper left corner on, downward first."""
    for row in range(int((rect.height - height - 0.1) / 0.1) + 1):
        for column in range(int((rect.width - width - 0.1) / 0.25) + 1):
            left, top = rect.left + 0.06 + column * 0.25, rect.top - 0.08 - row * 0.1
            yield Rect(left, top - height, left + width, top)
