"""Turns one planned sheet into a Page: the face at true scale through its window, joints, and what a
person must know.

::

    +---+--------------------------------+
    | b |                                |     view: the face, seen at true scale
    | a |             view               |
    | r |                                |     left strip: the upright scale bar
    +---+--------------------------------+
    |  measure first: the bar across     |     title strip
    |  what this is  code  compass  map  |
    +------------------------------------+
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

from templates_engine.drawing.scale_bars import bar
from templates_engine.drawing.shapes import DrawnPage, Placement, Shape, Words
from templates_engine.drawing.sheet.edges import edge_shapes
from templates_engine.drawing.sheet.face_words import FaceWords, SheetWords
from templates_engine.drawing.sheet.joints import joint_shapes
from templates_engine.drawing.sheet.tape import tape_shapes
from templates_engine.drawing.sheet.title_strip import PrintedSheet
from templates_engine.drawing.words import width_in
from templates_engine.drawing.words.ink import ON_PAPER, Ink
from templates_engine.geometry import Point, Rect
from templates_engine.sheets.model import Sheet, SheetPlan
from templates_engine.sheets.scale_bars import SPARE_IN, bar_zero

DRAFT_ANGLE = 20.0


def sheet_page(printed: PrintedSheet, words: FaceWords) -> DrawnPage:
    """One true-scale page."""
    plan, face, sheet = printed.plan, printed.face, printed.sheet
    window = sheet.window.moved(*sheet.offset)
    own_words = words.sheets[sheet.number]
    shapes: list[Shape] = [*joint_shapes(sheet), *own_words.shapes(sheet)]
    shapes += tape_shapes(sheet, words.tape)
    shapes += edge_shapes(face, sheet, own_words.edge_tape)
    bars = face.bars[sheet.number - 1]
    shapes += bar(
        bars.upright,
        _bar_at(plan, sheet, bars.strip),
        upright=True,
        is_free=_beside_bar(sheet, own_words, bars.strip),
        name="scale bar" if bars.strip else "",
    )
    shapes += printed.title_strip(own_words.without_figures)
    if printed.draft:
        shapes += draft_stamp(plan.view)
    word = face.layout.job.face.value
    shown = Placement(f"face-{word}", sheet.offset, window)
    return DrawnPage(tuple(shapes), (shown,), f"{word}, sheet {sheet.number} of {len(face.sheets)}", level=1)


def draft_stamp(area: Rect) -> Iterator[Shape]:
    """Large words across the area of a sheet that must not be used."""
    text = "DRAFT: DO NOT CUT"
    across = area.width / math.cos(math.radians(DRAFT_ANGLE)) * 0.8
    size = min(across / width_in(text, 1.0, True), area.height * 72 / 3)
    yield Words(area.middle, (text,), size, "words", "middle", bold=True, angle=DRAFT_ANGLE, grey=0.72)


def _bar_at(plan: SheetPlan, sheet: Sheet, strip: Rect | None) -> Point:
    """The upright bar's zero on the page: in the strip beside the view, or where the face is free."""
    if strip is not None:
        return sheet.on_page(bar_zero(strip))
    return Point((plan.margins.left_in + plan.view.left) / 2, plan.view.bottom + SPARE_IN / 2)


def _beside_bar(sheet: Sheet, words: SheetWords, strip: Rect | None) -> Callable[[Rect], bool]:
    """Whether the words of a bar over the face may stand somewhere on the page; beside the face always."""
    if strip is None:
        return lambda _: True
    dx, dy = sheet.offset
    # Of the rulers only the ticks are in the way.
    avoid = ON_PAPER & ~(Ink.BAR | Ink.RULER)
    return lambda box: words.ink.is_free(box.moved(-dx, -dy), avoid, clear_in=0.02)
