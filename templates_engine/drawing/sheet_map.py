"""Draws the small map of a face's sheets with the names of its edges, for every sheet and the cover page."""

from __future__ import annotations

from collections.abc import Iterator

from templates_engine.drawing.edge_directions import EdgeDirections, edge_directions
from templates_engine.drawing.shapes import DrawnRect, Line, Pen, Polygon, Shape, Words
from templates_engine.drawing.style import HEAVY, SMALL_CAPITAL_IN, SMALL_PT, TABLE
from templates_engine.drawing.words import centred, set_words, width_in
from templates_engine.geometry import Point, Rect
from templates_engine.sheets.model import FacePlan


def sheet_map(plan: FacePlan, area: Rect, here: int | None = None) -> Iterator[Shape]:
    """The sheets as they lie on the metal, numbered; the one in hand has a heavy frame and a bold number.

    Where a sheet is left out because it shows nothing to cut, its part is crossed out.
    """
    bounds = plan.bounds
    scale = min(area.width / bounds.width, area.height / bounds.height)
    left = area.left + (area.width - bounds.width * scale) / 2
    top = area.top - (area.height - bounds.height * scale) / 2

    def shrunk(part: Rect) -> Rect:
        return part.moved(-bounds.left, -bounds.top).scaled(scale, scale).moved(left, top)

    for part in plan.left_out:
        box = shrunk(part)
        yield DrawnRect(box, TABLE, "frame")
        yield Line(Point(box.left, box.bottom), Point(box.right, box.top), TABLE, "frame")
        yield Line(Point(box.left, box.top), Point(box.right, box.bottom), TABLE, "frame")
    for sheet in plan.sheets:
        box = shrunk(sheet.own)
        this = sheet.number == here
        yield DrawnRect(box.grown(-0.012) if this else box, HEAVY if this else TABLE, "frame")
        # A box too small for its number keeps none: the heavy frame still says where the sheet in hand lies.
        number, room = str(sheet.number), box.grown(-0.02)
        if room.width > width_in(number, SMALL_PT, True) and room.height > SMALL_CAPITAL_IN:
            yield centred(number, box.middle, bold=this)


def edge_names(
    names: EdgeDirections, face: Rect, off_in: float, up_in: float = 0.0, down_in: float = 0.0
) -> Iterator[Shape]:
    """The names round a face, ``off_in`` off its edges, so much further up and down."""
    (x, y), height = face.middle, SMALL_CAPITAL_IN
    for at, name, angle in (
        (Point(x, face.top + up_in + off_in), names.up, 0.0),
        (Point(x, face.bottom - down_in - off_in - height), names.down, 0.0),
        (Point(face.left - off_in, y), names.left, 90.0),
        (Point(face.right + off_in, y), names.right, -90.0),
    ):
        yield Words(at, set_words(name), SMALL_PT, anchor="middle", angle=angle)


def direction_arrows(plan: FacePlan, area: Rect) -> Iterator[Shape]:
    """Arrows from the middle of the area to BACK (the wall), FRONT and the two ends.

    ::

                 BACK (wall)
                     ^
            LEFT  <--+-->  RIGHT
                     v
                   FRONT
    """
    words = edge_directions(plan)
    (x, y), text = area.middle, SMALL_CAPITAL_IN
    up = area.height / 2 - text - 0.05
    for dx, dy, width in ((0.0, up, 0.03), (0.0, -up, 0.010), (-0.22, 0.0, 0.010), (0.22, 0.0, 0.010)):
        yield from _arrow(Point(x, y), Point(x + dx, y + dy), Pen(width))
    yield Words(Point(x, area.top - text), (f"{words.up} (wall)",), SMALL_PT, anchor="middle", bold=True)
    yield Words(Point(x, area.bottom), (words.down,), SMALL_PT, anchor="middle")
    yield Words(Point(x - 0.28, y - text / 2), (words.left,), SMALL_PT, anchor="right")
    yield Words(Point(x + 0.28, y - text / 2), (words.right,), SMALL_PT)


def _arrow(start: Point, tip: Point, pen: Pen) -> Iterator[Shape]:
    yield Line(start, tip, pen, "frame")
    sx = (tip.x > start.x) - (tip.x < start.x)
    sy = (tip.y > start.y) - (tip.y < start.y)
    back, half = 0.09, 0.045
    base = Point(tip.x - sx * back, tip.y - sy * back)
    points = (
        tip,
        Point(base.x - sy * half, base.y - sx * half),
        Point(base.x + sy * half, base.y + sx * half),
    )
    yield Polygon(points, None, "frame", solid=True)
