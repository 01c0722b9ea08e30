"""Turns a paper and its margins into the measuring page of a printer; what its readings mean is for verify.

::

    +---------------------------+
    | +------- across --------+ |      two bars across and two down, one length each, between fine cross marks
    | |   what to do, what    | |
    d |   each bar must read  | d
    o | +-------------------+ | o      the square: its diagonals show a lean
    w | |  \\             /   | | w
    n | |      \\     /       | | n
    | | |      /     \\       | | |
    | +------- across --------+ |
    +---------------------------+
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from templates_engine.drawing.cover.page_flow import (
    PageBlock,
    column_of,
    heading,
    moved,
    numbered,
    paragraph,
    space,
)
from templates_engine.drawing.shapes import Document, DrawnPage, Line, Pen, Shape, Words
from templates_engine.drawing.style import HEAD_PT, SMALL_PT, TABLE, TEXT_PT, capital_height_in
from templates_engine.drawing.words import set_words
from templates_engine.geometry import Point, Rect
from templates_engine.job.model import MarginsIn, PaperSize
from templates_engine.units import exact, to_mm
from templates_engine.verify.printer_readings import MOST_ERROR_PERCENT, MOST_SKEW_PERCENT
from templates_engine.verify.printers import MeasuringPage, measuring_page

FINE = Pen(0.006)
"""Thin enough to be read to a tenth of a millimetre, heavy enough for a worn printer."""
BAR_TICK_IN = 0.14
CORNER_IN = 0.35
SQUARE_LIFT_IN = 0.35
"""From the lower bar to the square."""


def measuring_document(paper: PaperSize, margins: MarginsIn) -> Document:
    """One page, upright, that shows how long a printer prints across and down, and whether it prints square.

    Raises PrinterError for a paper with no room for it.
    """
    page = measuring_page(paper)
    bars = _bars_rect(page)
    shapes = [*_corners(page, margins), *_bars(page, bars), *_square(page, bars), *_words(page, bars)]
    return Document(
        "Measuring page of a printer",
        paper.name,
        page.page_width_in,
        page.page_height_in,
        (),
        (DrawnPage(tuple(shapes), (), "measuring page"),),
    )


def _bars_rect(page: MeasuringPage) -> Rect:
    """The bars' rectangle in the middle of the page."""
    left, bottom = (page.page_width_in - page.across_in) / 2, (page.page_height_in - page.down_in) / 2
    return Rect(left, bottom, left + page.across_in, bottom + page.down_in)


def _said(inches: float) -> str:
    return f"{exact(inches)} in = {to_mm(inches):.1f} mm"


# --- bars, corners, square ----------------------------------------------------------------------------------


def _bars(page: MeasuringPage, bars: Rect) -> Iterator[Shape]:
    """Each bar is a side of one rectangle and runs on a little past its corners, which makes the crosses."""
    for side in bars.sides():
        yield _past_ends(Point(side.left, side.bottom), Point(side.right, side.top), BAR_TICK_IN)
    across, down = (f"must read {_said(length)}" for length in (page.across_in, page.down_in))
    (x, y), height = bars.middle, capital_height_in(SMALL_PT)
    yield _label(f"across, top: {across}", Point(x, bars.top + 0.06))
    yield _label(f"across, bottom: {across}", Point(x, bars.bottom - 0.06 - height))
    yield _label(f"down, left: {down}", Point(bars.left - 0.06, y), 90.0)
    yield _label(f"down, right: {down}", Point(bars.right + 0.06 + height, y), 90.0)


def _past_ends(start: Point, end: Point, by: float) -> Line:
    length = math.dist(start, end)
    dx, dy = (end.x - start.x) / length * by, (end.y - start.y) / length * by
    return Line(Point(start.x - dx, start.y - dy), Point(end.x + dx, end.y + dy), FINE, "ruler")


def _label(text: str, at: Point, angle: float = 0.0) -> Words:
    return Words(at, set_words(text), SMALL_PT, "ruler", "middle", angle=angle)


def _corners(page: MeasuringPage, margins: MarginsIn) -> Iterator[Shape]:
    """The printable area's corners as given: one that is missing on paper shows a wider margin."""
    left, right = margins.left_in, page.page_width_in - margins.right_in
    bottom, top = margins.bottom_in, page.page_height_in - margins.top_in
    for x, inward_x in ((left, 1), (right, -1)):
        for y, inward_y in ((bottom, 1), (top, -1)):
            yield Line(Point(x, y), Point(x + inward_x * CORNER_IN, y), FINE, "frame")
            yield Line(Point(x, y), Point(x, y + inward_y * CORNER_IN), FINE, "frame")


def _square(page: MeasuringPage, bars: Rect) -> Iterator[Shape]:
    """The square over the bars' lower end, its diagonals and its corners' letters."""
    left, bottom = bars.middle.x - page.square_in / 2, bars.bottom + SQUARE_LIFT_IN
    right, top = left + page.square_in, bottom + page.square_in
    a, b, c, d = Point(left, bottom), Point(right, bottom), Point(right, top), Point(left, top)
    for start, end in ((a, b), (b, c), (c, d), (d, a), (a, c), (b, d)):
        yield _past_ends(start, end, BAR_TICK_IN / 2)
    height = capital_height_in(TEXT_PT)
    for letter, at, outward in (("A", a, -1), ("B", b, 1), ("C", c, 1), ("D", d, -1)):
        rise = 0.02 if at.y > bottom else -0.02 - height
        place = Point(at.x + outward * 0.16, at.y + rise)
        yield Words(place, (letter,), TEXT_PT, anchor="middle", bold=True)


# --- words --------------------------------------------------------------------------------------------------


def _words(page: MeasuringPage, bars: Rect) -> Iterator[Shape]:
    """What to do, and where to write, in the room above the square."""
    width = min(page.across_in - 0.5, 8.0)
    pieces = [
        heading(f"Measuring page, {page.paper.name}", HEAD_PT),
        *numbered(_instructions(page), width, indent=0.22),
        space(0.06),
        *_blanks(width),
        *paragraph(_command(page), width, bold=True),
    ]
    for shape in column_of(pieces).shapes:
        yield moved(shape, bars.middle.x - width / 2, bars.top - 0.08)


def _instructions(page: MeasuringPage) -> Iterator[str]:
    diagonal = f"{page.diagonal_in:.3f} in = {to_mm(page.diagonal_in):.1f} mm"
    yield (
        "Print at actual size (100 %), one side only, on the paper and from the tray you will use. "
        "It is drawn without any correction."
    )
    yield (
        "Measure with a steel rule from line to line between the crosses at each bar's ends: to 1/64 in, or "
        f"in millimetres to the tenth. A reading more than {MOST_ERROR_PERCENT:g} % off is a print setting: "
        "print again."
    )
    yield (
        f"Measure the square's diagonals, A to C and B to D: {diagonal}. Apart by more than "
        f"{_diagonals_apart(page):.3f} in ({to_mm(_diagonals_apart(page)):.1f} mm), the paper leans: "
        "use another printer."
    )
    yield "A corner mark missing at the paper's edge: the printer leaves more than its margin blank."


def _diagonals_apart(page: MeasuringPage) -> float:
    """How far apart the diagonals are at the lean that is too much: diagonal x lean, for a small lean."""
    return page.diagonal_in * MOST_SKEW_PERCENT / 100


def _blanks(width: float) -> Iterator[PageBlock]:
    """A line to write each reading on, two and two."""
    step, half = 0.30, width / 2
    for pair in (("across, top", "across, bottom"), ("down, left", "down, right"), ("A to C", "B to D")):
        shapes: list[Shape] = []
        for index, name in enumerate(pair):
            left = index * half
            shapes.append(Words(Point(left, -step + 0.06), (name,), TEXT_PT))
            shapes.append(
                Line(Point(left + 1.15, -step + 0.04), Point(left + half - 0.2, -step + 0.04), TABLE, "frame")
            )
        yield PageBlock(step, tuple(shapes))
    yield space(0.10)


def _command(page: MeasuringPage) -> str:
    return (
        f'templates-engine printer add NAME --paper "{page.paper.name}" --across TOP --across BOTTOM '
        "--down LEFT --down RIGHT --diagonals AC BD"
    )
