"""Turns a planned face into what the two bars of each of its sheets must read; draws nothing itself."""

from __future__ import annotations

from templates_engine.drawing.bar_places import bar_room_in
from templates_engine.drawing.bars import BarLengths, bar_lengths
from templates_engine.drawing.rulers import MM_IN
from templates_engine.drawing.sheet_words import bar_strips
from templates_engine.geometry import Rect
from templates_engine.sheets.measured_places import Axis, Bars, BarSides
from templates_engine.sheets.model import FacePlan, SheetPlan

SPARE_IN = 0.1
"""What a bar leaves of its strip's length."""


def across_bar(plan: SheetPlan) -> BarLengths:
    """The bar along the bottom of every sheet."""
    margins = plan.margins
    return bar_lengths(plan.page_width_in - margins.left_in - margins.right_in - SPARE_IN)


def upright_bar(plan: SheetPlan, strip: Rect | None) -> BarLengths:
    """The upright bar of a sheet: in the strip beside the view, or in its own over the face."""
    return bar_lengths(plan.view.height - SPARE_IN if strip is None else bar_room_in(strip))


def sheet_bars(plan: SheetPlan, face: FacePlan) -> Bars:
    """The bars across and upright of every sheet of a face, as they are printed on it."""
    strips = bar_strips(face, plan.view) if plan.bar_strip_in == 0.0 else {}
    found: dict[tuple[int, Axis], BarLengths] = {}
    for sheet in face.sheets:
        found[sheet.number, "x"] = across_bar(plan)
        found[sheet.number, "y"] = upright_bar(plan, strips.get(sheet.number))
    return {
        key: BarSides(float(one.inches), one.millimetres * MM_IN)
        for key, one in found.items()
        if one.inches > 0
    }
