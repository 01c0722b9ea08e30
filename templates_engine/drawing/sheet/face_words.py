"""Turns a planned face into the words of its sheets, each sheet for itself: what stands there, what asks for
room, and the placer's answer. Tape comes last, because two sheets must agree on it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import partial

from templates_engine.drawing.keep_outs import keep_out_requests
from templates_engine.drawing.rulers import RulerNumber
from templates_engine.drawing.shapes import Shape
from templates_engine.drawing.sheet.edges import edge_requests, notches
from templates_engine.drawing.sheet.face_rulers import face_numbers
from templates_engine.drawing.sheet.face_strokes import face_strokes, sheet_ink
from templates_engine.drawing.sheet.hole_labels import FIGURES, hole_label_requests, holes_by_sheet
from templates_engine.drawing.sheet.joint_marks import mark_name_requests
from templates_engine.drawing.sheet.joint_words import joint_word_requests
from templates_engine.drawing.sheet.line_names import line_name_requests
from templates_engine.drawing.sheet.tape import place_tape
from templates_engine.drawing.words.ink import ON_PAPER, Ink, SheetInk, Stroke, stroke
from templates_engine.drawing.words.placer import settle
from templates_engine.drawing.words.requests import LabelRequest, Placed, Priority, Spot
from templates_engine.drawing.words.word_shapes import word_shapes
from templates_engine.geometry import Rect
from templates_engine.sheets.model import FacePlan, Sheet
from templates_engine.units import LengthFormat
from templates_engine.values import Struct

_NUMBER_AVOIDS = (ON_PAPER | int(Ink.KNOCKOUT)) & ~int(Ink.RULER)


class SheetWords(Struct, frozen=True):
    """What one sheet says, in the sheet plane."""

    placed: tuple[Placed, ...]
    ink: SheetInk
    """All that stands on the sheet; nothing is added to it any more."""
    holes: tuple[str, ...] = ()
    """The holes that are labelled here."""

    @property
    def without_figures(self) -> tuple[str, ...]:
        """The holes whose figures found no room: they stand in the cover page's table."""
        there = {one.request.key for one in self.placed}
        return tuple(id for id in self.holes if (FIGURES, id) not in there)

    @property
    def edge_tape(self) -> tuple[Placed, ...]:
        return tuple(one for one in self.placed if one.request.need is Priority.TAPE)

    def shapes(self, sheet: Sheet) -> Iterator[Shape]:
        """All words but those of tape and bars, which are drawn with them."""
        for placed in self.placed:
            yield from word_shapes(placed, sheet.offset)


class FaceWords(Struct, frozen=True):
    """The words of all sheets of a face, by their number, and the tape across each joint."""

    sheets: Mapping[int, SheetWords]
    tape: Mapping[tuple[int, int], tuple[Rect, ...]]


def face_words(plan: FacePlan, lengths: LengthFormat, view: Rect | None) -> FaceWords:
    """Room for everything. ``view`` is the pages' view, None for a drawing that is not on paper: then nothing
    is said of edges to crease.
    """
    on_face, holes, numbers = (
        face_strokes(plan),
        holes_by_sheet(plan),
        tuple(face_numbers(plan, lengths.unit)),
    )
    sheets = {}
    for sheet in plan.sheets:
        ink = _ink(plan, sheet, on_face)
        requests = (
            *mark_name_requests(plan, sheet),
            *(edge_requests(plan, sheet) if view else ()),
            *hole_label_requests(plan, sheet, holes[sheet.number], lengths, blank_paper(sheet, view)),
            *line_name_requests(plan, sheet, lengths),
            *keep_out_requests(plan, sheet),
            *joint_word_requests(sheet),
            *_number_requests(sheet, numbers),
        )
        ids = tuple(hole.id for hole in holes[sheet.number])
        sheets[sheet.number] = SheetWords(settle(requests, ink), ink, ids)
    return FaceWords(sheets, place_tape(plan, {number: one.ink for number, one in sheets.items()}))


def blank_paper(sheet: Sheet, view: Rect | None) -> tuple[Rect, ...]:
    """What a page leaves white below and beside its part of the drawing, in the sheet plane."""
    if view is None:
        return ()
    window = sheet.window
    left, top, right, bottom = window.left, window.top, window.left + view.width, window.top - view.height
    return Rect(left, bottom, right, window.bottom), Rect(window.right, bottom, right, top)


def bar_strip(plan: FacePlan, sheet: Sheet) -> Rect | None:
    """Where the upright scale bar stands over the face; None where pages keep a strip beside it."""
    return plan.bars[sheet.number - 1].strip if plan.bars else None


def _ink(plan: FacePlan, sheet: Sheet, on_face: tuple[Stroke, ...]) -> SheetInk:
    """What stands on the sheet before its words, its bar and corners to be cut out too."""
    ink = sheet_ink(sheet, on_face)
    strip = bar_strip(plan, sheet)
    if strip is not None:
        ink.add(stroke(strip, Ink.BAR))
    for corner in notches(plan, sheet):
        ink.add(stroke(corner, Ink.OUTLINE))
    return ink


def _number_requests(sheet: Sheet, numbers: Sequence[RulerNumber]) -> Iterator[LabelRequest]:
    """A number that would stand on something, or be cut by the sheet's edge, is left out: its neighbours tell
    it.
    """
    for index, number in enumerate(numbers):
        spots = tuple(
            Spot(rect, (text,), avoid=_NUMBER_AVOIDS)
            for text, rect in number.ways
            if sheet.window.contains(rect)
        )
        if spots:
            yield LabelRequest(
                ("ruler", index), Priority.RULER, partial(_always, spots), False, layer="ruler"
            )


def _always(spots: tuple[Spot, ...], _: SheetInk) -> tuple[Spot, ...]:
    """Places that do not depend on what stands already."""
    return spots
