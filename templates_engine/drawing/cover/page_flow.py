"""Stacks pieces of a cover page from the top down and breaks them over pages.

A piece is drawn in coordinates of its own: (0, 0) is its upper left corner, y runs up, so its body lies at
y <= 0.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence

from templates_engine.drawing.shapes import DrawnCircle, DrawnRect, Line, Polygon, Shape, Words
from templates_engine.drawing.style import SMALL_PT, TEXT_PT, line_height_in
from templates_engine.drawing.words import set_words, wrapped
from templates_engine.geometry import Point, Rect
from templates_engine.values import Struct, replace


class PageBlock(Struct, frozen=True):
    """Something of a known height, inches. ``heading`` is drawn again above it where it comes first on a
    page;
    ``keep_with_next`` holds it on the page of the piece after it; ``together`` does where all that hangs
    together fits a page.
    """

    height: float
    shapes: tuple[Shape, ...]
    heading: PageBlock | None = None
    keep_with_next: bool = False
    together: bool = False


def moved(shape: Shape, dx: float, dy: float) -> Shape:
    """The shape shifted by (dx, dy) inches."""
    match shape:
        case Line():
            return Line(shape.start.moved(dx, dy), shape.end.moved(dx, dy), *shape[2:])
        case DrawnCircle():
            return DrawnCircle(shape.centre.moved(dx, dy), *shape[1:])
        case DrawnRect():
            return DrawnRect(shape.rect.moved(dx, dy), *shape[1:])
        case Polygon():
            return Polygon(tuple(point.moved(dx, dy) for point in shape.points), *shape[1:])
        case Words():
            return Words(shape.at.moved(dx, dy), *shape[1:])


_FILL_STEP_IN = 0.05
_FEW = 4
"""A table that is broken leaves no fewer rows before and after the break, its heading counted."""

LaidPart = list[tuple[PageBlock, float]]
"""The pieces of one area of a page, headings repeated, each with how far below the area's top it begins."""


def stack(pieces: Sequence[PageBlock], area: Rect) -> list[tuple[Shape, ...]]:
    """The pieces laid into the area, page after page; one tuple of shapes a page.

    A piece taller than the area stands alone on its page and runs over its bottom.
    """
    return set_into(_laid(pieces, area.height), (area,))


def balanced(pieces: Sequence[PageBlock], height: float, columns: int = 1) -> list[LaidPart]:
    """The pieces on as few pages of so many areas each as they need, but filled alike: none is left with a
    few lines.
    """
    filled = _laid(pieces, height)
    most = -(-len(filled) // columns) * columns
    groups = list(_groups(pieces, height))
    low, high = 0.0, height
    while high - low > _FILL_STEP_IN:
        tried_height = (low + high) / 2
        tried = _laid(pieces, tried_height)
        if len(tried) <= most and all(_height(group) <= tried_height for group in groups):
            high, filled = tried_height, tried
        else:
            low = tried_height
    return filled


def set_into(parts: Sequence[LaidPart], areas: Sequence[Rect]) -> list[tuple[Shape, ...]]:
    """What was laid out drawn in the areas of page after page; one tuple of shapes a page."""
    pages = [parts[first : first + len(areas)] for first in range(0, len(parts), len(areas))]
    return [
        tuple(
            moved(shape, area.left, area.top - down)
            for part, area in zip(page, areas, strict=False)
            for piece, down in part
            for shape in piece.shapes
        )
        for page in pages
    ]


def _laid(pieces: Sequence[PageBlock], height: float) -> list[LaidPart]:
    parts: list[LaidPart] = [[]]
    down = 0.0
    for group in _groups(pieces, height):
        if down > 0 and down + _height(group) > height + 1e-9:
            parts.append([])
            down = 0.0
        if down == 0 and not any(piece.shapes for piece in group):
            continue  # white between two things is none at the top of a page
        for piece in group:
            if down == 0 and piece.heading is not None and len(parts) > 1:
                parts[-1].append((piece.heading, down))
                down += piece.heading.height
            parts[-1].append((piece, down))
            down += piece.height
    return parts


def whole(pieces: Iterable[PageBlock], most_height: float = math.inf) -> tuple[PageBlock, ...]:
    """The pieces as one run that is broken only where a page cannot hold it, or where it is taller than
    ``most_height``; then a few stay together at either end.
    """
    run = list(pieces)
    is_long = _height(run) > most_height
    return tuple(
        replace(piece, together=index < len(run) - 1 and not (is_long and _FEW <= index < len(run) - _FEW))
        for index, piece in enumerate(run)
    )


def _height(pieces: Iterable[PageBlock]) -> float:
    return sum(piece.height for piece in pieces)


def _groups(pieces: Sequence[PageBlock], height: float) -> Iterator[list[PageBlock]]:
    """Runs of pieces that stay on one page; those that a page cannot hold broken wherever they may be."""
    for run in _runs(pieces, lambda piece: piece.keep_with_next or piece.together):
        repeated = run[0].heading.height if run[0].heading is not None else 0.0
        if repeated + _height(run) <= height:
            yield run
        else:
            yield from _runs(run, lambda piece: piece.keep_with_next)


def _runs(pieces: Sequence[PageBlock], is_held: Callable[[PageBlock], bool]) -> Iterator[list[PageBlock]]:
    run: list[PageBlock] = []
    for piece in pieces:
        run.append(piece)
        if not is_held(piece):
            yield run
            run = []
    if run:
        yield run


def section(title: str, pieces: Iterable[PageBlock]) -> tuple[PageBlock, ...]:
    """A heading and what belongs under it as one run, and white below it."""
    return (*whole((heading(title), *pieces)), space(0.08))


def space(height: float) -> PageBlock:
    return PageBlock(height, ())


def heading(text: str, size_pt: float = TEXT_PT + 1) -> PageBlock:
    """A bold line that stays with what follows."""
    step = line_height_in(size_pt)
    return PageBlock(
        step + 0.06, (Words(Point(0, -step), set_words(text), size_pt, bold=True),), keep_with_next=True
    )


def paragraph(
    text: str,
    width: float,
    size_pt: float = SMALL_PT,
    bold: bool = False,
    sign: tuple[str, float] = ("", 0.0),
) -> Iterator[PageBlock]:
    """Lines of running text; ``sign`` is what stands before the first, and how far in the lines start."""
    before, indent = sign
    step = line_height_in(size_pt)
    lines = wrapped(text, size_pt, width - indent, bold)
    for number, line in enumerate(lines):
        shapes: list[Shape] = [Words(Point(indent, -step * 0.8), set_words(line), size_pt, bold=bold)]
        if before and number == 0:
            shapes.append(Words(Point(0, -step * 0.8), (before,), size_pt, bold=True))
        yield PageBlock(step, tuple(shapes), keep_with_next=number == 0 and len(lines) > 1)


def bullet(text: str, width: float, size_pt: float = SMALL_PT, bold: bool = False) -> Iterator[PageBlock]:
    """A paragraph that is one of several."""
    return paragraph(text, width, size_pt, bold, sign=("\N{BULLET}", 0.15))


def numbered(sentences: Iterable[str], width: float, indent: float = 0.25) -> Iterator[PageBlock]:
    """A paragraph a sentence, each with its number."""
    for number, sentence in enumerate(sentences, 1):
        yield from paragraph(sentence, width, sign=(f"{number}.", indent))


def beside(left: PageBlock, right: PageBlock, right_at: float) -> PageBlock:
    """Two pieces next to each other, the right one ``right_at`` inches from the left edge."""
    shapes = (*left.shapes, *(moved(shape, right_at, 0.0) for shape in right.shapes))
    return PageBlock(max(left.height, right.height), shapes)


def column_of(pieces: Iterable[PageBlock]) -> PageBlock:
    """Several pieces under each other as one that is not broken."""
    top, shapes = 0.0, []
    for piece in pieces:
        shapes += [moved(shape, 0.0, top) for shape in piece.shapes]
        top -= piece.height
    return PageBlock(-top, tuple(shapes))
