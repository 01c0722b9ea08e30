"""Turns the holes of a face into their labels: each one's id, and its raceway and tape marks where they fit.

::

         |  A1           the id, large; under or beside it, smaller, as much as there is room for
     --( + )--           A1: 2 EMT
         |               2-1/2 from left
                         2-1/2 from back
                         pilot 7/8 in
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

from templates_engine.drawing.face_room import ARM_IN
from templates_engine.drawing.labels import CLEAR_IN, FARTHEST_IN, Room, first_free, is_nearest, places_round
from templates_engine.drawing.leaders import Leader, leader
from templates_engine.drawing.shapes import Line, Shape, Words
from templates_engine.drawing.style import CROSS, LABEL_PT, SMALL_PT, capital_height_in, line_height_in
from templates_engine.drawing.words import set_words, width_in
from templates_engine.geometry import Circle, Point, Rect
from templates_engine.layout.model import Hole
from templates_engine.sheets.model import FacePlan
from templates_engine.units import Speech

LONGEST_LEADER_IN = 6.0
"""A line longer than this leads the eye to another hole."""
NOT_FAR_IN = 0.5
"""From a hole to its words where another hole is nearer to them."""


def hole_labels(plan: FacePlan, room: Room, speech: Speech) -> Iterator[Shape]:
    """All ids first, so that none is crowded out by the smaller words of a neighbour."""
    for hole in plan.layout.holes:
        yield from _id(plan, hole, room)
    for hole in plan.layout.holes:
        yield from _details(plan, hole, room, speech)


def _id(plan: FacePlan, hole: Hole, room: Room) -> Iterator[Shape]:
    circle = plan.circle_of(hole)
    own = _own_part(plan, circle.centre)
    block = _block((hole.id,), LABEL_PT, True, circle, room, own, _others(plan, hole))
    yield from block or _led_to(hole.id, circle, room, own)


def _details(plan: FacePlan, hole: Hole, room: Room, speech: Speech) -> Iterator[Shape]:
    """As much as there is room for: nearer to its hole than to others, else anywhere near, as it is named."""
    start = plan.layout.job.face.start_edge
    raceway = f"{hole.id}: {hole.called}"
    places = (f"{speech.mark(hole.u_in)} from {start}", f"{speech.mark(hole.v_in)} from back")
    pilot = f"pilot {speech.drill(hole.pilot_diameter_in)} {speech.unit}"
    circle = plan.circle_of(hole)
    own = _own_part(plan, circle.centre)
    near_it = _others(plan, hole)
    full = ((raceway, *places, pilot), (raceway, *places))
    choices = (
        *((lines, near_it, FARTHEST_IN) for lines in full),
        *((lines, (), NOT_FAR_IN) for lines in full),
        ((raceway,), near_it, FARTHEST_IN),
        ((raceway,), (), NOT_FAR_IN),
    )
    for lines, others, farthest in choices:
        block = _block(lines, SMALL_PT, False, circle, room, own, others, farthest)
        if block:
            yield from block
            return


def _others(plan: FacePlan, hole: Hole) -> tuple[Circle, ...]:
    """The other holes' circles in the sheet plane."""
    return tuple(plan.circle_of(one) for one in plan.layout.holes if one is not hole)


def _own_part(plan: FacePlan, centre: Point) -> Rect:
    """What the sheet with the hole's centre is alone in showing: its label belongs on the same paper."""
    for sheet in plan.sheets:
        part = sheet.own
        if part.holds(centre):
            return part
    return plan.bounds


def _block(
    lines: tuple[str, ...],
    size_pt: float,
    bold: bool,
    circle: Circle,
    room: Room,
    own: Rect,
    others: Sequence[Circle] = (),
    farthest: float = FARTHEST_IN,
) -> tuple[Shape, ...]:
    """The lines under each other at the first free place round the circle, nearer to it than to ``others``;
    nothing when there is none.
    """
    step = line_height_in(size_pt)
    width = max(width_in(line, size_pt, bold) for line in lines)
    height = capital_height_in(size_pt) + step * (len(lines) - 1)
    reach = circle.radius + ARM_IN + FARTHEST_IN + max(width, height) + 2 * CLEAR_IN
    x, y = circle.centre
    near = room.near(Rect(x - reach, y - reach, x + reach, y + reach))
    places = (
        place
        for place in places_round(circle, width, height, ARM_IN, farthest)
        if own.contains(place) and is_nearest(place, circle, others)
    )
    found = first_free(near, places)
    if found is None:
        return ()
    room.take(found)
    first_base = found.top - capital_height_in(size_pt)
    return tuple(
        Words(Point(found.left, first_base - index * step), set_words(line), size_pt, bold=bold)
        for index, line in enumerate(lines)
    )


def _led_to(name: str, circle: Circle, room: Room, own: Rect) -> Iterator[Shape]:
    """The id at the nearest free place on the hole's own sheet, with a fine line from the circle to it."""
    width, height = width_in(name, LABEL_PT, True), capital_height_in(LABEL_PT)
    x, y = circle.centre
    reach = circle.radius + LONGEST_LEADER_IN
    left, bottom = max(own.left, x - reach), max(own.bottom, y - reach)
    right, top = min(own.right, x + reach), min(own.top, y + reach)
    near = Rect(left, bottom, right, top)  # empty round a hole far off the face, as a draft can have
    there = room.near(near.grown(CLEAR_IN))
    free = [place for place in _further_places(circle, width, height, near) if there.is_free(place)]
    # The line crosses nothing if that can be had, else at least no words; a bar's own make way for it.
    bars = set(room.bars.values())
    thick = [rect for rect in room.taken if rect.width > 0 and rect.height > 0]
    words_alone = Room(taken=[rect for rect in thick if rect not in bars])
    for to_avoid in (room, words_alone):
        for place in free:
            line = _leader(circle, place)
            if line.is_clear(to_avoid):
                room.take(place)
                room.taken += line.parts
                yield Words(Point(place.left, place.bottom), set_words(name), LABEL_PT, bold=True)
                yield Line(line.start, line.tip, CROSS, "frame")
                return


def _leader(circle: Circle, place: Rect) -> Leader:
    """From the circle's line straight to the name."""
    tip = place.nearest(circle.centre)
    share = circle.radius / math.dist(tip, circle.centre)
    x, y = circle.centre
    return leader(Point(x + (tip.x - x) * share, y + (tip.y - y) * share), tip)


def _further_places(circle: Circle, width: float, height: float, own: Rect) -> Iterable[Rect]:
    """A grid over the sheet's part of the face, nearest to the circle first."""
    step = 0.1
    x, y = circle.centre
    columns = range(math.ceil((own.left - x) / step), math.floor((own.right - width - x) / step) + 1)
    rows = range(math.ceil((own.bottom - y) / step), math.floor((own.top - height - y) / step) + 1)
    places = [
        Rect(x + column * step, y + row * step, x + column * step + width, y + row * step + height)
        for column in columns
        for row in rows
    ]
    places = [
        place for place in places if math.dist(place.nearest(circle.centre), circle.centre) > circle.radius
    ]
    places.sort(key=lambda place: math.dist(_middle(place), circle.centre))
    return places


def _middle(rect: Rect) -> Point:
    return Point((rect.left + rect.right) / 2, (rect.bottom + rect.top) / 2)
