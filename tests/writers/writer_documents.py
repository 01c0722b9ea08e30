"""A Document and a Picture put together by hand, with every kind of shape at known places."""

from __future__ import annotations

from templates_engine.drawing.shapes import (
    Document,
    DrawnCircle,
    DrawnPage,
    DrawnRect,
    Fraction,
    Line,
    Pen,
    Picture,
    Placement,
    Polygon,
    Shape,
    Words,
)
from templates_engine.geometry import Point, Rect

PEN = Pen(0.01)
DASHED = Pen(0.005, (0.1, 0.05))

A4_WIDTH_IN, A4_HEIGHT_IN = 210 / 25.4, 297 / 25.4

CIRCLES = ((3.0, 2.0, 2.406), (7.8125, 2.25, 1.362), (1 / 3, 3.1, 0.875))
"""x, y, diameter of the picture's rings, inches."""
ORIGIN = Point(0.7071, 1.5)
WINDOW = Rect(0.25, 0.25, 7.75, 8.0)


def picture(name: str = "face top", more: tuple[Shape, ...] = ()) -> Picture:
    rings = tuple(DrawnCircle(Point(x, y), diameter, PEN, "cut") for x, y, diameter in CIRCLES)
    shapes: tuple[Shape, ...] = (
        *rings,
        Line(Point(0, 0), Point(24, 0), PEN, "edge"),
        Line(Point(0, 1), Point(24, 1), DASHED, "edge"),
        Words(Point(3, 2.1), ("2", Fraction(13, 16), " in"), 9, anchor="middle"),
        Words(Point(3, 3), ("1", Fraction(3, 4), " up"), 14, bold=True, angle=90),
        *more,
    )
    return Picture(name, Rect(-1, -1, 25, 7), shapes)


def furniture() -> tuple[Shape, ...]:
    return (
        DrawnRect(Rect(1, 9, 3, 10), PEN, "frame", fill=1.0, corner=0.2),
        DrawnRect(Rect(4, 9, 5, 10), None, "frame", fill=0.0),
        Polygon((Point(5, 9), Point(6, 9), Point(5.5, 10)), PEN, "frame", solid=True),
    )


def sheet(number: int, origin: Point = ORIGIN, *shapes: Shape) -> DrawnPage:
    words = Words(Point(1, 11), (f"Sheet {number}",), 17)
    return DrawnPage((words, *shapes), (Placement("face top", origin, WINDOW),), f"Sheet {number}", 1)


def document(more: tuple[Shape, ...] = ()) -> Document:
    """A cover page with the picture reduced to a quarter, and two true-scale sheets."""
    cover = DrawnPage(
        (Words(Point(1, 11), ("Cover page",), 17, bold=True), *furniture()),
        (Placement("face top", Point(1, 5), Rect(0.5, 4, 7.5, 7), 0.25, 0.25),),
        "Top face",
        0,
    )
    pages = (cover, sheet(1), sheet(2, Point(ORIGIN.x - 7, ORIGIN.y)))
    return Document("Job ⌀ 7", "Templates", A4_WIDTH_IN, A4_HEIGHT_IN, (picture(more=more),), pages)
