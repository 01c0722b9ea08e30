"""Turns shapes in inches into PDF drawing operators in points; pdf puts pages, forms and fonts together."""

from __future__ import annotations

import math
from collections.abc import Iterable

from templates_engine.drawing.shapes import (
    DrawnCircle,
    DrawnRect,
    Fraction,
    Line,
    Pen,
    Placement,
    Polygon,
    Shape,
    Words,
)
from templates_engine.drawing.text_width import (
    FRACTION_GAP,
    fraction_parts,
    metrics,
    needs_gap,
    text_width,
)
from templates_engine.geometry import Point, Rect
from templates_engine.writers.fonts import Typesetter
from templates_engine.writers.plain_numbers import number

POINTS_PER_INCH = 72.0

# Handle length of a cubic quarter circle over its radius. This, not 4/3 (sqrt(2) - 1), makes the greatest
# departure from the true circle least: 0.0196 % of the radius, not 0.0273 %, so 0.0007 in on a 7 in hole. The
# ends of the quarters, which are the quarter points, are exact either way. Found by making the departures
# outward and inward equal; a test measures them.
_QUARTER_HANDLE = 0.551915024493510

_DIRECTIONS = ((1, 0), (0, 1), (-1, 0), (0, -1))
"""Right, up, left, down: quarter circles run from one to the next."""


def points(inches: float) -> str:
    """A length in inches as a PDF number in points."""
    return number(inches * POINTS_PER_INCH)


def rect_points(rect: Rect) -> tuple[str, str, str, str]:
    """Left, bottom, right and top of a rectangle in points, as page and form boxes list them."""
    return points(rect.left), points(rect.bottom), points(rect.right), points(rect.top)


def window_and_matrix(placement: Placement) -> str:
    """The clip to a placement's window and the matrix from its picture to the page."""
    scale = f"{number(placement.scale_x)} 0 0 {number(placement.scale_y)}"
    return f"{_rect(placement.window)} W n {scale} {_at(placement.origin)} cm"


def shape_operators(shapes: Iterable[Shape], typesetter: Typesetter) -> str:
    """The operators that draw the shapes in their order, as the content of a page or a form."""
    content = _Content(typesetter)
    for shape in shapes:
        content.draw(shape)
    return "\n".join(content.lines)


class _Content:
    """Collects operators; writes pen and grey only where they change."""

    def __init__(self, typesetter: Typesetter) -> None:
        self.lines: list[str] = []
        self._typesetter = typesetter
        self._pen: Pen | None = None
        self._grey: float | None = None

    def draw(self, shape: Shape) -> None:
        match shape:
            case Line(start, end, pen):
                self._use_pen(pen)
                self.lines.append(f"{_at(start)} m {_at(end)} l S")
            case DrawnCircle(centre, diameter, pen):
                self._use_pen(pen)
                self.lines.append(f"{_circle(centre, diameter / 2)} S")
            case DrawnRect():
                path = _round_rect(shape.rect, shape.corner) if shape.corner > 0 else _rect(shape.rect)
                self._paint(path, shape.pen, shape.fill)
            case Polygon():
                path = " l ".join(_at(point) for point in shape.points).replace(" l ", " m ", 1)
                self._paint(f"{path} l h", shape.pen, 0.0 if shape.solid else None)
            case Words():
                self._words(shape)

    def _paint(self, path: str, pen: Pen | None, fill: float | None) -> None:
        if pen is not None:
            self._use_pen(pen)
        if fill is not None:
            self._use_grey(fill)
        if pen is not None or fill is not None:
            operator = "S" if fill is None else "f" if pen is None else "B"
            self.lines.append(f"{path} {operator}")

    def _use_pen(self, pen: Pen) -> None:
        if pen is self._pen or pen == self._pen:
            return
        if self._pen is None:
            self.lines.append("0 G")
        self.lines.append(f"{points(pen.width)} w")
        if self._pen is None or pen.dash != self._pen.dash:
            self.lines.append(f"[{' '.join(points(length) for length in pen.dash)}] 0 d")
        self._pen = pen

    def _use_grey(self, grey: float) -> None:
        if grey != self._grey:
            self.lines.append(f"{number(grey)} g")
            self._grey = grey

    def _words(self, words: Words) -> None:
        self._use_grey(words.grey)
        self.lines.append("BT")
        self.lines.append(_text_start(words))
        before = ""
        for run in words.runs:
            if isinstance(run, Fraction):
                self._fraction(run, words, before)
                before = str(run.denominator)
            elif run:
                self._text(run, words.size_pt, words.bold)
                before = run
        self.lines.append("ET")

    def _text(self, text: str, size_pt: float, bold: bool) -> None:
        for font, codes in self._typesetter.encode(text, bold):
            self.lines.append(f"{font} {number(size_pt)} Tf <{codes}> Tj")

    def _unseen_hyphen(self, size_pt: float, bold: bool) -> None:
        """A gap that copies as a hyphen: drawn invisibly, as narrow as the gap."""
        narrowed = 100 * FRACTION_GAP / metrics(bold).of("-")
        self.lines.append(f"3 Tr {number(narrowed)} Tz")
        self._text("-", size_pt, bold)
        self.lines.append("0 Tr 100 Tz")

    def _fraction(self, fraction: Fraction, words: Words, before: str) -> None:
        """Raised, slash, lowered; text taken out of the file reads "2-13/16", never "213/16"."""
        size_pt, bold = words.size_pt, words.bold
        if needs_gap(before):
            self._unseen_hyphen(size_pt, bold)
        self.lines.append(f"/Span <</ActualText ({fraction.numerator}/{fraction.denominator})>> BDC")
        for text, scale, rise in fraction_parts(fraction):
            self.lines.append(f"{number(rise * size_pt)} Ts")
            self._text(text, scale * size_pt, bold)
        self.lines.append("0 Ts EMC")


def _text_start(words: Words) -> str:
    """The matrix that puts the text's left end where the anchor asks for it."""
    share = {"left": 0.0, "middle": 0.5, "right": 1.0}[words.anchor]
    back = share * text_width(words.runs, words.size_pt, words.bold) if share else 0.0
    if not words.angle:
        return f"{points(words.at.x - back)} {points(words.at.y)} Td"
    cos, sin = _turn(words.angle)
    x, y = words.at.x - back * cos, words.at.y - back * sin
    return f"{number(cos)} {number(sin)} {number(-sin)} {number(cos)} {points(x)} {points(y)} Tm"


def _turn(degrees: float) -> tuple[float, float]:
    """Cosine and sine of an angle; quarter turns come out exact."""
    quarters, rest = divmod(degrees, 90.0)
    if rest == 0:
        return _DIRECTIONS[int(quarters) % 4]
    return math.cos(math.radians(degrees)), math.sin(math.radians(degrees))


def _at(point: Point) -> str:
    return f"{points(point.x)} {points(point.y)}"


def _rect(rect: Rect) -> str:
    return f"{points(rect.left)} {points(rect.bottom)} {points(rect.width)} {points(rect.height)} re"


def _circle(centre: Point, radius: float) -> str:
    """Four quarters from the rightmost point, counter-clockwise."""
    quarters = (_quarter(centre, radius, index) for index in range(4))
    return f"{_at(Point(centre.x + radius, centre.y))} m {' '.join(quarters)} h"


def _round_rect(rect: Rect, corner: float) -> str:
    """A rectangle with quarter circles at its corners, counter-clockwise from the right side."""
    radius = min(corner, rect.width / 2, rect.height / 2)
    left, bottom, right, top = rect.grown(-radius)
    centres = (Point(right, top), Point(left, top), Point(left, bottom), Point(right, bottom))
    parts: list[str] = []
    for index, centre in enumerate(centres):
        x, y = _DIRECTIONS[index]
        begin = _at(Point(centre.x + radius * x, centre.y + radius * y))
        parts.append(f"{begin} {'l' if index else 'm'} {_quarter(centre, radius, index)}")
    return f"{' '.join(parts)} h"


def _quarter(centre: Point, radius: float, index: int) -> str:
    """The quarter circle about ``centre`` that begins in that of the four directions."""
    (ax, ay), (bx, by) = _DIRECTIONS[index], _DIRECTIONS[(index + 1) % 4]
    (x, y), handle = centre, _QUARTER_HANDLE * radius
    first = Point(x + radius * ax + handle * bx, y + radius * ay + handle * by)
    second = Point(x + radius * bx + handle * ax, y + radius * by + handle * ay)
    last = Point(x + radius * bx, y + radius * by)
    return f"{_at(first)} {_at(second)} {_at(last)} c"
