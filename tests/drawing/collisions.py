"""Finds words that cross anything on a drawn page: other words, circles, lines, marks, ticks, the margins.

It works on the Document alone: pictures are laid on pages through their windows as a writer would, and every
line of words becomes the rectangle its ink fills.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field

import numpy as np

from templates_engine.drawing.cover.page_flow import moved
from templates_engine.drawing.shapes import (
    Document,
    DrawnCircle,
    DrawnPage,
    DrawnRect,
    Fraction,
    Line,
    Polygon,
    Run,
    Shape,
    Words,
)
from templates_engine.drawing.text_width import text_width
from templates_engine.geometry import Rect

CAPITAL, DESCENT, FRACTION_DESCENT = 0.73, 0.21, 0.07
"""Over the type size, from the font's own outlines: capitals and ascenders, tails below the base line."""
TAILS = set("gjpqyQ,;()[]{}/|")
TOUCH_IN = 0.004
"""Boxes may share this much: less than half the thinnest line."""


@dataclass
class Drawn:
    """What shows on one page, page coordinates."""

    words: list[tuple[Words, Rect]] = field(default_factory=list)
    lines: list[tuple[float, float, float, float]] = field(default_factory=list)
    rings: list[tuple[float, float, float]] = field(default_factory=list)
    ring_windows: list[Rect] = field(default_factory=list)
    """What part of the page each ring shows in."""
    cut_words: list[Words] = field(default_factory=list)
    """Words that the window shows only in part."""


def said(runs: tuple[Run, ...]) -> str:
    """The words as plain text, a fraction as "-13/16"."""
    return "".join(
        f"{'-' * bool(index)}{run.numerator}/{run.denominator}" if isinstance(run, Fraction) else run
        for index, run in enumerate(runs)
    )


def ink(words: Words) -> Rect:
    """The upright rectangle round the ink of words that stand level or turned by quarter turns."""
    assert words.angle % 90 == 0, "only quarter turns have an upright rectangle"
    width = text_width(words.runs, words.size_pt, words.bold)
    left = -{"left": 0.0, "middle": 0.5, "right": 1.0}[words.anchor] * width
    tail = DESCENT if TAILS & set("".join(run for run in words.runs if isinstance(run, str))) else 0.0
    if any(isinstance(run, Fraction) for run in words.runs):
        tail = max(tail, FRACTION_DESCENT)
    low, high = -tail * words.size_pt / 72, CAPITAL * words.size_pt / 72
    cos, sin = round(math.cos(math.radians(words.angle))), round(math.sin(math.radians(words.angle)))
    xs = [words.at.x + x * cos - y * sin for x in (left, left + width) for y in (low, high)]
    ys = [words.at.y + x * sin + y * cos for x in (left, left + width) for y in (low, high)]
    return Rect(min(xs), min(ys), max(xs), max(ys))


def drawn_on(document: Document, page: DrawnPage) -> Drawn:
    """Everything of the page, pictures through their windows first; grey stamps are left out."""
    found = Drawn()
    pictures = {picture.name: picture for picture in document.pictures}
    everywhere = Rect(-1e9, -1e9, 1e9, 1e9)
    for placement in page.placements:
        assert placement.scale_x == placement.scale_y == 1.0
        for shape in pictures[placement.picture].shapes:
            _add(found, moved(shape, placement.origin.x, placement.origin.y), placement.window)
    for shape in page.shapes:
        _add(found, shape, everywhere)
    return found


def crossings(found: Drawn) -> Iterator[str]:
    """Each crossing in words for a failing test."""
    boxes = [rect.grown(-TOUCH_IN) for _, rect in found.words]
    lines, rings = np.array(found.lines or [(9e9,) * 4]), np.array(found.rings or [(9e9, 9e9, 0.1)])
    for index, (words, _) in enumerate(found.words):
        box = boxes[index]
        text = said(words.runs)
        for other in range(index + 1, len(boxes)):
            if box.overlaps(boxes[other]):
                yield f"'{text}' and '{said(found.words[other][0].runs)}' at {_place(box)}"
        for line in lines[_lines_through(box, lines)]:
            yield f"'{text}' at {_place(box)} and the line {np.round(line, 3)}"
        for number in np.flatnonzero(_rings_through(box, rings)):
            shown = _common(box, found.ring_windows[number]) if found.rings else None
            if shown is not None and _rings_through(shown, rings[number : number + 1])[0]:
                yield f"'{text}' at {_place(box)} and the circle {np.round(rings[number], 3)}"


def outside(found: Drawn, printable: Rect) -> Iterator[str]:
    """Everything that lies past the printable area."""
    area = printable.grown(1e-6)
    for words, rect in found.words:
        if not _within(rect, area):
            yield f"'{said(words.runs)}' at {rect}"
    for x1, y1, x2, y2 in found.lines:
        if not _within(Rect(min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2)), area):
            yield f"line {x1, y1, x2, y2}"


def _add(found: Drawn, shape: Shape, window: Rect) -> None:
    match shape:
        case Words():
            if shape.grey > 0:
                return
            rect = ink(shape)
            if _within(rect, window.grown(1e-6)):
                found.words.append((shape, rect))
            elif rect.overlaps(window):
                found.cut_words.append(shape)
        case Line():
            _add_line(found, (shape.start.x, shape.start.y, shape.end.x, shape.end.y), window)
        case DrawnCircle():
            x, y, r = shape.centre.x, shape.centre.y, shape.diameter / 2
            if Rect(x - r, y - r, x + r, y + r).overlaps(window):
                found.rings.append((x, y, r))
                found.ring_windows.append(window)
        case DrawnRect() if shape.pen is not None and shape.corner == 0:
            rect = shape.rect
            a, b, c, d = rect.left, rect.bottom, rect.right, rect.top
            for line in ((a, b, c, b), (c, b, c, d), (c, d, a, d), (a, d, a, b)):
                _add_line(found, line, window)
        case DrawnRect() if shape.fill == 0.0:
            rect = shape.rect
            _add_line(found, (rect.left, rect.bottom, rect.right, rect.top), window)
        case Polygon():
            for start, end in zip(shape.points, shape.points[1:], strict=False):
                _add_line(found, (start.x, start.y, end.x, end.y), window)


def _add_line(found: Drawn, line: tuple[float, float, float, float], window: Rect) -> None:
    """The part of a line that the window shows; slanted ones only where they are inside it whole."""
    x1, y1, x2, y2 = line
    box = Rect(min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2))
    if x1 != x2 and y1 != y2:
        if _within(box, window):
            found.lines.append(line)
        return
    left, right = max(box.left, window.left), min(box.right, window.right)
    bottom, top = max(box.bottom, window.bottom), min(box.top, window.top)
    if left <= right and bottom <= top:
        found.lines.append((left, bottom, right, top))


def _within(rect: Rect, area: Rect) -> bool:
    return (
        area.left <= rect.left
        and rect.right <= area.right
        and area.bottom <= rect.bottom
        and rect.top <= area.top
    )


def _lines_through(box: Rect, lines: np.ndarray) -> np.ndarray:
    """Which lines enter the box: clipped against it, something is left."""
    x1, y1, x2, y2 = lines.T
    enter, leave = np.zeros(len(lines)), np.ones(len(lines))
    alive = np.ones(len(lines), dtype=bool)
    for start, end, low, high in ((x1, x2, box.left, box.right), (y1, y2, box.bottom, box.top)):
        delta = end - start
        level = np.abs(delta) < 1e-12
        alive &= ~level | ((low < start) & (start < high))
        safe = np.where(level, 1.0, delta)
        a, b = (low - start) / safe, (high - start) / safe
        enter = np.where(level, enter, np.maximum(enter, np.minimum(a, b)))
        leave = np.where(level, leave, np.minimum(leave, np.maximum(a, b)))
    result: np.ndarray = alive & (enter < leave)
    return result


def _rings_through(box: Rect, rings: np.ndarray) -> np.ndarray:
    x, y, r = rings.T
    near = np.hypot(
        np.maximum(np.maximum(box.left - x, x - box.right), 0),
        np.maximum(np.maximum(box.bottom - y, y - box.top), 0),
    )
    far = np.hypot(np.maximum(x - box.left, box.right - x), np.maximum(y - box.bottom, box.top - y))
    result: np.ndarray = (near < r) & (r < far)
    return result


def _common(a: Rect, b: Rect) -> Rect | None:
    left, right = max(a.left, b.left), min(a.right, b.right)
    bottom, top = max(a.bottom, b.bottom), min(a.top, b.top)
    return Rect(left, bottom, right, top) if left < right and bottom < top else None


def _place(box: Rect) -> str:
    return f"({box.left:.2f}, {box.bottom:.2f})-({box.right:.2f}, {box.top:.2f})"
