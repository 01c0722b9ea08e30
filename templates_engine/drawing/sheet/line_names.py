"""Asks for room for the names of lines across the face: backs of raceways, and where the metal is flat."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from templates_engine.drawing.sheet.face_strokes import line_rect
from templates_engine.drawing.style import SMALL_PT, capital_height_in
from templates_engine.drawing.words import width_in
from templates_engine.drawing.words.ink import ON_PAPER, Ink, SheetInk
from templates_engine.drawing.words.places import beside, common, starts_along
from templates_engine.drawing.words.requests import LabelRequest, Priority, Spot
from templates_engine.geometry import Rect
from templates_engine.layout.model import PlacedRow
from templates_engine.sheets.face_lines import lip_lines
from templates_engine.sheets.model import FacePlan, Sheet
from templates_engine.units import LengthFormat

LIP_WORDS = ("lip: metal is not flat beyond", "lip: not flat", "lip")
_GAP_IN, _END_IN, _STEP_IN = 0.06, 0.1, 0.1
_AVOID = ON_PAPER | int(Ink.KNOCKOUT)


def line_name_requests(plan: FacePlan, sheet: Sheet, lengths: LengthFormat) -> Iterator[LabelRequest]:
    """Each lip that the sheet shows, so that nobody takes its line for one to cut; each row's line where
    there is room.
    """
    part = common(sheet.own, plan.plane.rect)
    for number, (start, end) in enumerate(lip_lines(plan)):
        yield from _named(("lip", number), Priority.LIP, line_rect(start, end), part, LIP_WORDS, True)
    for row in plan.layout.rows:
        y = plan.plane.depth_in - row.line.at_in
        line = Rect(part.left, y, part.right, y)
        yield from _named(
            ("row line", row.row.name), Priority.BACK_LINE, line, part, _said(row, lengths), False
        )


def _said(row: PlacedRow, lengths: LengthFormat) -> tuple[str, ...]:
    name, where = row.row.name, lengths.say(row.line.at_in)
    return f"row {name}: {row.line.whose} {where} from back edge", f"row {name} {row.line.through}, {where}"


def _named(
    key: tuple[object, ...], need: Priority, line: Rect, part: Rect, texts: Sequence[str], must_stand: bool
) -> Iterator[LabelRequest]:
    """The first of the texts that has room beside the line, where the sheet shows it."""
    shown = common(line, part)
    if shown.right < shown.left or shown.top < shown.bottom:
        return
    upright = line.width == 0
    low, high = (shown.bottom, shown.top) if upright else (shown.left, shown.right)
    height = capital_height_in(SMALL_PT)
    gaps = ((_GAP_IN, _AVOID), (2.5 * _GAP_IN, _AVOID), (_GAP_IN, _AVOID & ~int(Ink.RULER)))

    def spots(_: SheetInk) -> Iterator[Spot]:
        for gap, avoid in gaps if must_stand else gaps[:1]:
            for text in texts:
                width = width_in(text, SMALL_PT)
                starts = starts_along(low + _END_IN, high - _END_IN, width, _STEP_IN, (low,))
                for after in (False, True):
                    for start in starts:
                        place = beside(shown, width, height, start, gap, after)
                        if part.contains(place):
                            yield Spot(place, (text,), 90.0 if upright else 0.0, avoid)

    yield LabelRequest(key, need, spots, must_stand)
