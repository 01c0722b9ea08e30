"""Asks for room for the holes' labels: each one's id, and its raceway, tape marks and pilot.

::

         |  A1           the id, large; under or beside it, smaller, its figures; where they have no room
     --( + )--           near it they stand turned, or farther off with a fine line to the hole
         |
      A1: 2 in EMT
      2-1/2 from left
      2-1/2 from back
      pilot 7/8 in
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from templates_engine.drawing.face_ink import ARM_IN
from templates_engine.drawing.style import LABEL_PT, SMALL_PT
from templates_engine.drawing.words.ink import ON_PAPER, Ink, Sketch
from templates_engine.drawing.words.places import (
    FARTHEST_IN,
    LED_IN,
    common,
    is_nearest,
    places_round,
    places_round_in_steps,
    places_within,
)
from templates_engine.drawing.words.requests import Leader, Need, Request, Spot, block_size
from templates_engine.geometry import Circle, Point, Rect
from templates_engine.layout.model import Hole
from templates_engine.sheets.model import FacePlan, Sheet
from templates_engine.units import Speech

CLOSE_IN = 0.5
"""From a hole to its figures where they are tried in one shape after the other."""
_AVOID = ON_PAPER | int(Ink.KEEP_OUT)
_FAR_OFF = _AVOID | int(Ink.KNOCKOUT)
_NUMBERS_GIVE_WAY = _AVOID & ~int(Ink.RULER)
_LEADER_ON_WHITE = ON_PAPER & ~int(Ink.MARK_ROOM | Ink.RULER)
_LEADER_OVER_LINES = int(Ink.WORDS | Ink.CIRCLE | Ink.MARK | Ink.BAR | Ink.LEADER)

_Block = tuple[tuple[str, ...], float]
"""Lines, and how they are turned."""


def holes_by_sheet(plan: FacePlan) -> dict[int, list[Hole]]:
    """The holes by the number of the sheet that shows their centre once all are taped: it has their labels."""
    found: dict[int, list[Hole]] = {sheet.number: [] for sheet in plan.sheets}
    for hole in plan.layout.holes:
        centre = plan.centre_of(hole)
        nearest = min(plan.sheets, key=lambda sheet: math.dist(sheet.own.nearest(centre), centre))
        found[nearest.number].append(hole)
    return found


def hole_label_requests(
    plan: FacePlan, sheet: Sheet, holes: Sequence[Hole], speech: Speech
) -> Iterator[Request]:
    """The labels of those holes, on the sheet's own part of the face."""
    part = common(sheet.own, plan.plane.rect)
    for hole in holes:
        others = tuple(_near(plan, hole))
        yield _id_request(plan.circle_of(hole), hole.id, part, others)
        yield _figures_request(plan, hole, part, others, speech)


def hole_figures(plan: FacePlan, hole: Hole, speech: Speech) -> tuple[str, ...]:
    """What must stand at a hole besides its id, line by line."""
    start = plan.layout.job.face.start_edge
    bonding = ("bonding bushing",) if hole.raceway.bushing == "bonding" else ()
    return (
        f"{hole.id}: {hole.called}",
        f"{speech.mark(hole.u_in)} from {start}",
        f"{speech.mark(hole.v_in)} from back",
        f"pilot {speech.drill(hole.pilot_diameter_in)} {speech.unit}",
        *bonding,
    )


def _near(plan: FacePlan, hole: Hole) -> Iterator[Circle]:
    """The circles of other holes so near that words might be taken for theirs."""
    own = plan.centre_of(hole)
    for one in plan.layout.holes:
        if one is not hole and math.dist(plan.centre_of(one), own) < 4 * FARTHEST_IN + one.hole_diameter_in:
            yield plan.circle_of(one)


def _id_request(circle: Circle, name: str, part: Rect, others: Sequence[Circle]) -> Request:
    block: _Block = ((name,), 0.0)

    def spots(_: Sketch) -> Iterator[Spot]:
        yield from _close_spots(circle, block, part, others, FARTHEST_IN, LABEL_PT, True)
        yield from _led_spots(circle, (block,), part, LABEL_PT, True)

    return Request(("id", name), Need.HOLE, spots, True, size_pt=LABEL_PT, bold=True)


def _figures_request(
    plan: FacePlan, hole: Hole, part: Rect, others: Sequence[Circle], speech: Speech
) -> Request:
    """Nearer to its hole than to others, in one of its shapes; else anywhere on the sheet with a leader."""
    circle = plan.circle_of(hole)
    blocks = tuple(_shapes_of(hole_figures(plan, hole, speech)))

    def spots(_: Sketch) -> Iterator[Spot]:
        yield from _close_spots(circle, blocks[0], part, others, CLOSE_IN)
        for block in blocks:
            yield from _slid_spots(circle, block, part, others)
        yield from _led_spots(circle, blocks, part)

    return Request(("figures", hole.id), Need.HOLE_FIGURES, spots, True)


def _shapes_of(lines: tuple[str, ...]) -> Iterator[_Block]:
    """The lines under each other; side by side; and both turned."""
    raceway, along, back, pilot, *bonding = lines
    wide = (f"{raceway}, {pilot}", f"{along}, {back}", *bonding)
    yield lines, 0.0
    yield wide, 0.0
    yield lines, 90.0
    yield wide, 90.0


def _close_spots(
    circle: Circle,
    block: _Block,
    part: Rect,
    others: Sequence[Circle],
    farthest: float,
    size_pt: float = SMALL_PT,
    bold: bool = False,
) -> Iterator[Spot]:
    lines, angle = block
    width, height = _turned_size(block, size_pt, bold)
    for place in places_round(circle, width, height, ARM_IN, farthest):
        if part.contains(place) and is_nearest(place, circle, others):
            yield Spot(place, lines, angle, _AVOID)


def _slid_spots(circle: Circle, block: _Block, part: Rect, others: Sequence[Circle]) -> Iterator[Spot]:
    """All round the hole, wherever a block is nearer to it than to others."""
    lines, angle = block
    width, height = _turned_size(block)
    for place in places_round_in_steps(circle, width, height):
        if part.contains(place) and is_nearest(place, circle, others):
            yield Spot(place, lines, angle, _AVOID)


def _led_spots(
    circle: Circle,
    blocks: Sequence[_Block],
    part: Rect,
    size_pt: float = SMALL_PT,
    bold: bool = False,
) -> Iterator[Spot]:
    """The nearest free places on the part, with a line to them that crosses nothing, or at least no words.

    Ruler numbers give way before a label does without room.
    """
    for avoid, leader_avoid in (
        (_FAR_OFF, _LEADER_ON_WHITE),
        (_FAR_OFF, _LEADER_OVER_LINES),
        (_FAR_OFF & _NUMBERS_GIVE_WAY, _LEADER_OVER_LINES),
    ):
        for block in blocks:
            width, height = _turned_size(block, size_pt, bold)
            for place in places_within(_reach(part, circle), width, height, circle.centre):
                yield _led(circle, place, block, avoid, leader_avoid)


def _reach(part: Rect, circle: Circle) -> Rect:
    return common(part, Rect(*circle.centre, *circle.centre).grown(LED_IN + circle.radius))


def _turned_size(block: _Block, size_pt: float = SMALL_PT, bold: bool = False) -> tuple[float, float]:
    lines, angle = block
    width, height = block_size(lines, size_pt, bold)
    return (height, width) if angle else (width, height)


def _led(circle: Circle, place: Rect, block: _Block, avoid: int, leader_avoid: int) -> Spot:
    """With a line from the circle straight to the words."""
    (x, y), tip = circle.centre, place.nearest(circle.centre)
    share = circle.radius / max(math.dist(tip, circle.centre), 1e-9)
    start = Point(x + (tip.x - x) * share, y + (tip.y - y) * share)
    lines, angle = block
    return Spot(place, lines, angle, avoid, leader=Leader(start, tip, leader_avoid))
