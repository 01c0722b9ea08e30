"""Turns a face's plan into the cover page's steps, from printing to punching, beside the map of its
sheets.
"""

from __future__ import annotations

from templates_engine.drawing.cover.cautions import (
    AT_JOINTS_BUTTED,
    AT_JOINTS_OVERLAPPED,
    AT_THE_EDGES_INSIDE,
    AT_THE_EDGES_INSIDE_UNKNOWN,
    AT_THE_EDGES_OUTSIDE,
    CARD_ON_PAGE,
    HOW_TO_TAPE,
    KNOCK_OUT,
)
from templates_engine.drawing.cover.page_flow import PageBlock, beside, column_of, numbered, section
from templates_engine.drawing.hole_lists import hole_list
from templates_engine.drawing.shapes import Words
from templates_engine.drawing.sheet_map import sheet_map
from templates_engine.drawing.style import SMALL_PT
from templates_engine.drawing.words import set_words, width_in
from templates_engine.geometry import Point, Rect
from templates_engine.job.model import MarkFrom
from templates_engine.sheets.model import FacePlan, SheetPlan
from templates_engine.units import LengthFormat
from templates_engine.verify.next_readings import ALLOWED_WORDS

MAP_WIDTH_SHARE, MAP_MOST_IN = 0.24, 3.0
MAP_TITLE = ("The sheets as they lie, printed", "side up, BACK at the top:")


def how_to_tape(
    plan: SheetPlan, face: FacePlan, lengths: LengthFormat, width: float, card_page: int
) -> tuple[PageBlock, ...]:
    """The steps; ``card_page`` is the cover page the card outline is on."""
    sentences = _steps(plan, face, lengths, card_page)
    if not (face.joints or face.left_out):
        return section("How to tape", numbered(sentences, width))
    titles_width = max(width_in(line, SMALL_PT) for line in MAP_TITLE)
    map_width = min(max(width * MAP_WIDTH_SHARE, titles_width), MAP_MOST_IN)
    steps = column_of(numbered(sentences, width - map_width - 0.2))
    drawn = _map(face, map_width, max(steps.height, 0.9))
    return section("How to tape", [beside(drawn, steps, map_width + 0.2)])


def _steps(plan: SheetPlan, face: FacePlan, lengths: LengthFormat, card_page: int) -> tuple[str, ...]:
    job = face.layout.job
    if job.mark_from is MarkFrom.OUTSIDE:
        edges = AT_THE_EDGES_OUTSIDE
    else:
        edges = AT_THE_EDGES_INSIDE_UNKNOWN if job.metal_in is None else AT_THE_EDGES_INSIDE
    joints = AT_JOINTS_BUTTED if any(joint.is_butt for joint in face.joints) else AT_JOINTS_OVERLAPPED
    said = {
        "paper": plan.paper_name,
        "orientation": plan.orientation,
        "edges": edges,
        "joints": joints,
        "allowed": ALLOWED_WORDS[lengths.unit],
        "card": CARD_ON_PAGE.format(page=card_page) if plan.cover_apart is None else "",
    }
    steps = [one.format(**said) for one in HOW_TO_TAPE if face.joints or one != "{joints}"]
    there = [hole.id for hole in face.layout.holes if hole.is_knocked_out]
    if there:
        holes = f"{there[0]} is" if len(there) == 1 else f"{hole_list(there, face.layout.holes)} are"
        told = KNOCK_OUT.format(holes=holes[0].upper() + holes[1:])
        steps[-1] = told if len(there) == len(face.layout.holes) else f"{steps[-1]} {told}"
    return tuple(steps)


def _map(face: FacePlan, width: float, height: float) -> PageBlock:
    """How the sheets lie, under a title."""
    titles = [PageBlock(0.16, (Words(Point(0.0, -0.13), set_words(line), SMALL_PT),)) for line in MAP_TITLE]
    bounds = face.bounds
    high = min(height - 0.4, width * bounds.height / bounds.width)
    area = Rect(0.0, -high - 0.04, width - 0.05, -0.04)
    return column_of([*titles, PageBlock(high + 0.08, tuple(sheet_map(face, area)))])
