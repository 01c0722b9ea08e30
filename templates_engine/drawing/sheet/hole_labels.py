"""Asks for room for the holes' labels: each one's id, and its raceway, tape marks and pilot.

::

         |  A1           the id, large; under or beside it, smaller, its figures; where they have no room
     --( + )--           near it they stand turned, or farther off with a fine line to the hole
         |
      A1: 2 in EMT
      2-1/2 from left
      2-1/2 from back
      pilot 7/8 in

Where not even that is free, they stand in the cover page's table alone, and the sheet says so.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from functools import cached_property, partial
from itertools import product

from templates_engine.drawing.style import LABEL_PT, SMALL_PT
from templates_engine.drawing.words.ink import CLEAR_IN, ON_PAPER, PLACED, Ink, SheetInk
from templates_engine.drawing.words.places import (
    FARTHEST_IN,
    LED_IN,
    is_nearest,
    places_round,
    places_round_in_steps,
    places_within,
)
from templates_engine.drawing.words.requests import LabelRequest, Leader, Priority, Spot, block_size
from templates_engine.geometry import Circle, Point, Rect
from templates_engine.layout.model import Hole
from templates_engine.sheets.model import CROSS_ARM_IN, FacePlan
from templates_engine.units import LengthFormat
from templates_engine.values import Struct

FIGURES = "figures"
CLOSE_IN = 0.5
"""From a hole to its figures where they are tried in one shape after the other."""
TRIES_A_SHEET, TRIES_A_HOLE = 5_000, 1_000
"""Places looked at farther off, by all of a sheet's labels: holes over each other, as in a draft, would look
at millions.
"""
_AVOID = ON_PAPER | Ink.KEEP_OUT
_FAR_OFF = _AVOID | Ink.KNOCKOUT
_LEADER_ON_WHITE = ON_PAPER & ~(Ink.MARK_ROOM | Ink.RULER)
_LEADER_OVER_LINES = Ink.WORDS | Ink.CIRCLE | Ink.CROSS | Ink.MARK | Ink.BAR | Ink.LEADER


class _Block(Struct, frozen=True, dict=True):
    """Lines under each other, and how they are turned."""

    lines: tuple[str, ...]
    angle: float
    size_pt: float = SMALL_PT
    bold: bool = False

    @cached_property
    def size(self) -> tuple[float, float]:
        """Width and height as they stand on the paper."""
        width, height = block_size(self.lines, self.size_pt, self.bold)
        return (height, width) if self.angle else (width, height)


def holes_by_sheet(plan: FacePlan) -> dict[int, list[Hole]]:
    """The holes by the sheet that shows their centre once all are taped: it has their labels."""
    found: dict[int, list[Hole]] = {sheet.number: [] for sheet in plan.sheets}
    for hole in plan.layout.holes:
        centre = plan.centre_of(hole)
        nearest = min(plan.sheets, key=lambda sheet: math.dist(sheet.own.nearest(centre), centre))
        found[nearest.number].append(hole)
    return found


class _Around(Struct, frozen=True):
    """A hole on its sheet, and where its labels may stand."""

    circle: Circle
    others: tuple[Circle, ...]
    """The holes so near that words might be taken for theirs, the nearest first."""
    areas: tuple[Rect, ...]
    """The part of the face that the sheet alone shows; then, for want of better, blank paper."""
    ink: SheetInk
    tries: Iterator[int]
    """The sheet's labels share them: one is spent on every place looked at that is not close by."""

    def close_spots(self, block: _Block, farthest: float) -> Iterator[Spot]:
        """In the knockout's own quadrants and at its corners."""
        return self._spots_at(block, places_round(self.circle, *block.size, CROSS_ARM_IN, farthest))

    def slid_spots(self, block: _Block) -> Iterator[Spot]:
        """All round the hole in small steps."""
        return self._spots_at(block, self._tried(places_round_in_steps(self.circle, *block.size)))

    def _spots_at(self, block: _Block, places: Iterable[Rect]) -> Iterator[Spot]:
        """Those of the places on the sheet's own part that are nearer to the hole than to others."""
        for place in places:
            if self.areas[0].contains(place) and is_nearest(place, self.circle, self.others):
                yield Spot(place, block.lines, block.angle, _AVOID)

    def led_spots(self, blocks: Sequence[_Block]) -> Iterator[Spot]:
        """The nearest free places in the areas, with a line to them that crosses nothing, or at least no
        words.

        Ruler numbers give way before a label does without room.
        """
        near = Rect(*self.circle.centre, *self.circle.centre).grown(LED_IN + self.circle.radius)
        for area, avoid in product(self.areas, (_FAR_OFF, _FAR_OFF & ~Ink.RULER)):
            free = []
            for block in sorted(blocks, key=lambda block: block.angle):
                for place in self._tried(places_within(area.common(near), *block.size, self.circle.centre)):
                    if self.ink.is_free(place, avoid & ~PLACED):
                        free.append((place, block))
                        yield self._led(place, block, avoid, _LEADER_ON_WHITE)
            for place, block in free:
                yield self._led(place, block, avoid, _LEADER_OVER_LINES)

    def _led(self, place: Rect, block: _Block, avoid: int, leader_avoid: int) -> Spot:
        """With a line from the circle straight to the words."""
        (x, y), tip = self.circle.centre, place.nearest(self.circle.centre)
        share = self.circle.radius / max(math.dist(tip, self.circle.centre), 1e-9)
        start = Point(x + (tip.x - x) * share, y + (tip.y - y) * share)
        return Spot(place, block.lines, block.angle, avoid, leader=Leader(start, tip, leader_avoid))

    def _tried(self, places: Iterable[Rect]) -> Iterator[Rect]:
        """Those that may still be looked at."""
        return (place for _, place in zip(self.tries, places, strict=False))


def hole_label_requests(
    plan: FacePlan, holes: Sequence[Hole], lengths: LengthFormat, areas: tuple[Rect, ...], ink: SheetInk
) -> Iterator[LabelRequest]:
    """The labels of those holes in the areas of their sheet, the best first."""
    circles = [plan.circle_of(hole) for hole in plan.layout.holes]
    tries = iter(range(TRIES_A_SHEET + TRIES_A_HOLE * len(holes)))
    for hole in holes:
        own = plan.circle_of(hole)
        near = sorted(_near(own, circles), key=lambda one: math.dist(one.centre, own.centre))
        around = _Around(own, tuple(near), areas, ink, tries)
        spots = partial(_id_spots, around, hole.id)
        yield LabelRequest(("id", hole.id), Priority.HOLE, spots, True, size_pt=LABEL_PT, bold=True)
        spots = partial(_figures_spots, around, hole_figures(plan, hole, lengths))
        key = (FIGURES, hole.id)
        yield LabelRequest(key, Priority.HOLE_FIGURES, spots, True, is_told_elsewhere=True)


def hole_figures(plan: FacePlan, hole: Hole, lengths: LengthFormat) -> tuple[str, ...]:
    """What must stand at a hole besides its id, line by line."""
    start = plan.layout.job.face.start_edge
    bonding = ("bonding bushing",) if hole.raceway.bushing == "bonding" else ()
    pilot = f"pilot {hole.pilot_said(lengths)} {lengths.unit}"
    return (
        f"{hole.id}: {hole.raceway_name}",
        f"{lengths.mark(hole.u_in)} from {start}",
        f"{lengths.mark(hole.v_in)} from back",
        "knock out, no pilot" if hole.is_knocked_out else pilot,
        *bonding,
    )


def _near(own: Circle, circles: Iterable[Circle]) -> Iterator[Circle]:
    """The circles of other holes so near that words might be taken for theirs."""
    for one in circles:
        if one != own and math.dist(one.centre, own.centre) < 2.5 * FARTHEST_IN + one.diameter:
            yield one


def _id_spots(around: _Around, name: str) -> Iterator[Spot]:
    blocks = [_Block((name,), angle, LABEL_PT, bold=True) for angle in (0.0, 90.0)]
    for block in blocks:
        yield from around.close_spots(block, FARTHEST_IN)
    yield from around.led_spots(blocks)


def _figures_spots(around: _Around, lines: tuple[str, ...]) -> Iterator[Spot]:
    """Nearer to its hole than to others, in one of its shapes; else anywhere on the sheet with a leader."""
    blocks = _shapes_of(lines)
    apart = min((math.dist(one.centre, around.circle.centre) for one in around.others), default=math.inf)
    if blocks[0].size[0] + 2 * CLEAR_IN > apart:
        # In a close row all are turned alike rather than one here and there.
        blocks = (*blocks[2:], *blocks[:2])
    yield from around.close_spots(blocks[0], CLOSE_IN)
    for block in blocks:
        yield from around.slid_spots(block)
    yield from around.led_spots(blocks)


def _shapes_of(lines: tuple[str, ...]) -> tuple[_Block, ...]:
    """The lines under each other; side by side; and both turned."""
    raceway, along, back, pilot, *bonding = lines
    wide = (f"{raceway}, {pilot}", f"{along}, {back}", *bonding)
    return tuple(_Block(one, angle) for angle in (0.0, 90.0) for one in (lines, wide))
