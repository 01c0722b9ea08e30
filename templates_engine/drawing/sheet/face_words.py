"""Turns a planned face into the words of its sheets, each sheet for itself: what stands there, what asks for
room, and the placer's answer. Tape comes last, because two sheets must agree on it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from templates_engine.drawing.shapes import Line, Shape, Words
from templates_engine.drawing.sheet.edges import edge_requests
from templates_engine.drawing.sheet.face_names import keep_out_requests, line_name_requests
from templates_engine.drawing.sheet.face_rulers import face_numbers, number_requests
from templates_engine.drawing.sheet.face_strokes import face_strokes, sheet_ink
from templates_engine.drawing.sheet.hole_labels import FIGURES, hole_label_requests, holes_by_sheet
from templates_engine.drawing.sheet.joints import joint_word_requests, mark_name_requests
from templates_engine.drawing.sheet.tape import Tape, place_tape
from templates_engine.drawing.style import CROSS, capital_height_in, line_height_in
from templates_engine.drawing.words import set_words
from templates_engine.drawing.words.ink import SheetInk
from templates_engine.drawing.words.placer import settle
from templates_engine.drawing.words.requests import Placed, Priority
from templates_engine.geometry import Point, Rect
from templates_engine.sheets.model import FacePlan, Sheet
from templates_engine.units import LengthFormat
from templates_engine.values import Struct


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
            yield from _word_shapes(placed, sheet.offset)


class FaceWords(Struct, frozen=True):
    """The words of all sheets of a face, by their number, and the tape across each joint."""

    sheets: Mapping[int, SheetWords]
    tape: Tape


def face_words(plan: FacePlan, lengths: LengthFormat, view: Rect | None) -> FaceWords:
    """Room for everything. ``view`` is the pages' view, None for a drawing that is not on paper: then nothing
    is said of edges to crease.
    """
    on_face, holes = tuple(face_strokes(plan)), holes_by_sheet(plan)
    numbers = tuple(face_numbers(plan, lengths.unit))
    sheets = {}
    for sheet in plan.sheets:
        ink, own_holes = sheet_ink(plan, sheet, on_face), holes[sheet.number]
        areas = (sheet.own.common(plan.plane.rect), *(blank_paper(sheet, view) if view else ()))
        requests = (
            *mark_name_requests(plan, sheet),
            *(edge_requests(plan, sheet) if view else ()),
            *hole_label_requests(plan, own_holes, lengths, areas, ink),
            *line_name_requests(plan, sheet, lengths),
            *keep_out_requests(plan, sheet),
            *joint_word_requests(sheet),
            *number_requests(sheet, numbers),
        )
        ids = tuple(hole.id for hole in own_holes)
        sheets[sheet.number] = SheetWords(settle(requests, ink), ink, ids)
    return FaceWords(sheets, place_tape(plan, {number: one.ink for number, one in sheets.items()}))


def blank_paper(sheet: Sheet, view: Rect) -> tuple[Rect, Rect]:
    """What a page leaves white below and beside its part of the drawing, in the sheet plane."""
    window = sheet.window
    left, top, right, bottom = window.left, window.top, window.left + view.width, window.top - view.height
    return Rect(left, bottom, right, window.bottom), Rect(window.right, bottom, right, top)


def _word_shapes(placed: Placed, offset: Point) -> Iterator[Shape]:
    """The words of one request, moved by ``offset`` onto the page, and the line that leads to them."""
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
        yield Line(spot.leader.start.moved(*offset), spot.leader.tip.moved(*offset), CROSS, "frame")
