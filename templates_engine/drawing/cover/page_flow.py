"""Stacks pieces of a cover page from the top down and breaks them over pages; words, tables and ready
drawings.

A piece is drawn in coordinates of its own: (0, 0) is its upper left corner, y runs up, so its body lies at
y <= 0.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Literal

from templates_engine.drawing.shapes import DrawnCircle, DrawnRect, Line, Polygon, Shape, Words
from templates_engine.drawing.style import SMALL_PT, TABLE, TEXT_PT, line_height_in
from templates_engine.drawing.words import set_words, shortened, width_in, wrapped
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

    def shift(point: Point) -> Point:
        return Point(point.x + dx, point.y + dy)

    match shape:
        case Line():
            return Line(shift(shape.start), shift(shape.end), *shape[2:])
        case DrawnCircle():
            return DrawnCircle(shift(shape.centre), *shape[1:])
        case DrawnRect():
            return DrawnRect(shape.rect.moved(dx, dy), *shape[1:])
        case Polygon():
            return Polygon(tuple(map(shift, shape.points)), *shape[1:])
        case Words():
            return Words(shift(shape.at), *shape[1:])


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


_FILL_STEP_IN = 0.05
_FEW = 4
"""A table that is broken leaves no fewer rows before and after the break, its heading counted."""


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
    indent: float = 0.0,
    bullet: str = "",
) -> Iterator[PageBlock]:
    """Lines of running text; ``bullet`` stands before the first, the lines start at ``indent``."""
    step = line_height_in(size_pt)
    lines = wrapped(text, size_pt, width - indent, bold)
    for number, line in enumerate(lines):
        shapes: list[Shape] = [Words(Point(indent, -step * 0.8), set_words(line), size_pt, bold=bold)]
        if bullet and number == 0:
            shapes.append(Words(Point(0, -step * 0.8), (bullet,), size_pt, bold=True))
        yield PageBlock(step, tuple(shapes), keep_with_next=number == 0 and len(lines) > 1)


class Column(Struct, frozen=True):
    """A table's column: its heading (may have two lines) and how its cells stand."""

    title: str
    anchor: Literal["left", "right"] = "left"
    bold: bool = False
    gives_way: bool = False
    """Whether its cells go over several lines when the table is too wide."""


CELL_LEFT_IN, CELL_RIGHT_IN = 0.03, 0.07
"""White on either side of a cell's words."""
ROUNDING_IN = 1e-6
"""A column is as wide as its widest cell, which must not be cut short for the last digit of a sum."""


def table(
    columns: Sequence[Column], rows: Iterable[Sequence[str]], width: float, size_pt: float = SMALL_PT
) -> Iterator[PageBlock]:
    """A ruled table as wide as its words need, at most ``width`` inches.

    One too wide is parted: what follows stands below under the first column again.
    """
    body = [tuple(row) for row in rows]
    for number, part in enumerate(_parted(columns, body, width, size_pt)):
        if number:
            yield space(0.08)
        cells = [tuple(row[index] for index in part) for row in body]
        kept = [columns[index] for index in part]
        grid = _Grid(kept, _column_widths(kept, cells, width, size_pt), size_pt)
        head = grid.head()
        yield head
        yield from (grid.row(row, head) for row in cells)


def _parted(
    columns: Sequence[Column], body: Sequence[Sequence[str]], width: float, size_pt: float
) -> list[list[int]]:
    """The numbers of the columns that stand beside each other, the first in every part."""
    least = [
        _natural_width(column, [row[index] for row in body], size_pt, is_broken=column.gives_way)
        for index, column in enumerate(columns)
    ]
    parts = [[0]]
    for index in range(1, len(columns)):
        if sum(least[one] for one in parts[-1]) + least[index] > width + ROUNDING_IN and len(parts[-1]) > 1:
            parts.append([0])
        parts[-1].append(index)
    return parts


class _Grid(Struct, frozen=True):
    """A table's columns with their widths, inches."""

    columns: Sequence[Column]
    widths: Sequence[float]
    size_pt: float

    def head(self) -> PageBlock:
        """The titles over a line."""
        count = max(column.title.count("\n") + 1 for column in self.columns)
        shapes: list[Shape] = []
        for number in range(count):
            titles = [(column.title.split("\n") + [""] * count)[number] for column in self.columns]
            shapes += self._line(titles, True, -line_height_in(self.size_pt) * (number + 0.8))
        height = line_height_in(self.size_pt) * count + 0.05
        return PageBlock(height, (*shapes, self._rule(height)), keep_with_next=True)

    def row(self, cells: Sequence[str], head: PageBlock) -> PageBlock:
        """One row over a line, of as many lines as the column that gives way needs."""
        step = line_height_in(self.size_pt) + 0.03
        shapes: list[Shape] = []
        lines = self._lines_of(cells)
        for number, part in enumerate(lines):
            shapes += self._line(part, False, -step + 0.06 - number * line_height_in(self.size_pt))
        height = step + (len(lines) - 1) * line_height_in(self.size_pt)
        return PageBlock(height, (*shapes, self._rule(height)), heading=head)

    def _rule(self, height: float) -> Line:
        return Line(Point(0, -height), Point(sum(self.widths), -height), TABLE, "frame")

    def _line(self, cells: Sequence[str], bold: bool, base: float) -> Iterator[Shape]:
        left = 0.0
        for column, cell, room in zip(self.columns, cells, self.widths, strict=True):
            weight = bold or column.bold
            text = shortened(cell, self.size_pt, room - CELL_LEFT_IN - CELL_RIGHT_IN + ROUNDING_IN, weight)
            x = left + CELL_LEFT_IN if column.anchor == "left" else left + room - CELL_RIGHT_IN
            if text:
                yield Words(Point(x, base), set_words(text), self.size_pt, anchor=column.anchor, bold=weight)
            left += room

    def _lines_of(self, cells: Sequence[str]) -> list[list[str]]:
        """The row's cells line by line; only columns that give way have more than one."""
        parts = [
            wrapped(cell, self.size_pt, room - CELL_LEFT_IN - CELL_RIGHT_IN, column.bold)
            if column.gives_way
            else [cell]
            for column, cell, room in zip(self.columns, cells, self.widths, strict=True)
        ]
        high = max(map(len, parts))
        return [[part[index] if index < len(part) else "" for part in parts] for index in range(high)]


def _natural_width(column: Column, cells: Sequence[str], size_pt: float, is_broken: bool = False) -> float:
    """What a column's words need, inches: those of whole cells, or of cells broken between words."""
    titles = [width_in(part, size_pt, True) for part in column.title.split("\n")]
    words = [word for cell in cells for word in (cell.split() or [""])] if is_broken else cells
    widest = max([*titles, *(width_in(word, size_pt, column.bold) for word in words), 0.1])
    return widest + CELL_LEFT_IN + CELL_RIGHT_IN


def _column_widths(
    columns: Sequence[Column], body: Sequence[Sequence[str]], width: float, size_pt: float
) -> list[float]:
    widths = [
        _natural_width(column, [row[index] for row in body], size_pt) for index, column in enumerate(columns)
    ]
    surplus = sum(widths) - width
    giving = sorted(
        (index for index, one in enumerate(columns) if one.gives_way), key=lambda one: -widths[one]
    )
    words = {
        index: _natural_width(columns[index], [row[index] for row in body], size_pt, is_broken=True)
        for index in giving
    }
    for least in (words, dict.fromkeys(giving, 0.4)):  # between words first, then within them
        for index in giving:
            given = max(0.0, min(surplus, widths[index] - least[index]))
            widths[index] -= given
            surplus -= given
    if surplus > 0:
        widths = [one * width / sum(widths) for one in widths]
    return widths


def beside(left: PageBlock, right: PageBlock, right_at: float) -> PageBlock:
    """Two pieces next to each other, the right one ``right_at`` inches from the left edge."""
    shapes = (*left.shapes, *(moved(shape, right_at, 0.0) for shape in right.shapes))
    return PageBlock(max(left.height, right.height), shapes)


def right_end_in(piece: PageBlock) -> float:
    """How far to the right a piece's lines reach: how wide a table came out."""
    return max(shape.end.x for shape in piece.shapes if isinstance(shape, Line))


def column_of(pieces: Sequence[PageBlock]) -> PageBlock:
    """Several pieces under each other as one that is not broken."""
    top, shapes = 0.0, []
    for piece in pieces:
        shapes += [moved(shape, 0.0, top) for shape in piece.shapes]
        top -= piece.height
    return PageBlock(-top, tuple(shapes))
