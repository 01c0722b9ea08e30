"""Turns a planned face into what the two bars of each of its sheets must read; draws nothing itself."""

from __future__ import annotations

from templates_engine.drawing.bar_places import bar_room_in
from templates_engine.drawing.bars import BarLengths, bar_lengths
from templates_engine.drawing.face import face_picture
from templates_engine.drawing.labels import Room
from templates_engine.drawing.rulers import MM_IN
from templates_engine.sheets.model import FacePlan, Sheet, SheetPlan
from templates_engine.units import Speech
from templates_engine.verify.distances import Axis, Bars, BarSides

SPARE_IN = 0.1
"""What a bar leaves of its strip's length."""


def across_bar(plan: SheetPlan) -> BarLengths:
    """The bar along the bottom of every sheet."""
    margins = plan.margins
    return bar_lengths(plan.page_width_in - margins.left_in - margins.right_in - SPARE_IN)


def upright_bar(plan: SheetPlan, sheet: Sheet, room: Room) -> BarLengths:
    """The upright bar of a sheet: in the strip beside the view, or in its own over the face."""
    strip = room.bars.get(sheet.number)
    return bar_lengths(plan.view.height - SPARE_IN if strip is None else bar_room_in(strip))


def sheet_bars(plan: SheetPlan, face: FacePlan, speech: Speech) -> Bars:
    """The bars across and upright of every sheet of a face, as they are printed on it."""
    in_view = plan.view if plan.bar_strip_in == 0.0 else None
    _, room = face_picture(face, speech, in_view)
    found: dict[tuple[int, Axis], BarLengths] = {}
    for sheet in face.sheets:
        found[sheet.number, "x"] = across_bar(plan)
        found[sheet.number, "y"] = upright_bar(plan, sheet, room)
    return {
        key: BarSides(float(one.inches), one.millimetres * MM_IN)
        for key, one in found.items()
        if one.inches > 0
    }
