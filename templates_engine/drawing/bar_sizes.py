"""Turns a planned face into what the two bars of each of its sheets must read, for who checks a reading of
them; draws nothing.
"""

from __future__ import annotations

from templates_engine.drawing.bar_places import bar_room_in
from templates_engine.drawing.bars import BarLengths, bar_lengths
from templates_engine.drawing.face import face_picture
from templates_engine.drawing.rulers import MM_IN
from templates_engine.sheets.measured_places import Bars, BarSides
from templates_engine.sheets.model import FacePlan, SheetPlan
from templates_engine.units import Speech

SPARE_IN = 0.1
"""What a bar leaves of its strip's length."""


def sheet_bars(plan: SheetPlan, face: FacePlan, speech: Speech) -> Bars:
    """The bars across and upright of every sheet of a face, as they are printed on it."""
    margins = plan.margins
    across = bar_lengths(plan.page_width_in - margins.left_in - margins.right_in - SPARE_IN)
    in_view = plan.view if plan.bar_strip_in == 0.0 else None
    _, room = face_picture(face, speech, in_view)
    beside = bar_lengths(plan.view.height - SPARE_IN)
    found: dict[tuple[int, str], BarLengths] = {}
    for sheet in face.sheets:
        strip = room.bars.get(sheet.number)
        found[sheet.number, "x"] = across
        found[sheet.number, "y"] = beside if strip is None else bar_lengths(bar_room_in(strip))
    return {
        (number, "x" if axis == "x" else "y"): BarSides(float(one.inches), one.millimetres * MM_IN)
        for (number, axis), one in found.items()
        if one.inches > 0
    }
