"""Sets rows of cells as a ruled table, as wide as its words need, a piece of the page a row."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import zip_longest
from typing import Literal

from templates_engine.drawing.cover.page_flow import PageBlock, space
from templates_engine.drawing.shapes import Line, Shape, Words
from templates_engine.drawing.style import SMALL_PT, TABLE, line_height_in
from templates_engine.drawing.words import set_words, shortened, width_in, wrapped
from templates_engine.geometry import Point
from templates_engine.values import Struct

CELL_LEFT_IN, CELL_RIGHT_IN = 0.03, 0.07
"""White on either side of a cell's words."""
ROUNDING_IN = 1e-6
"""A column is as wide as its widest cell, which must not be cut short for the last digit of a sum."""
_LINE_IN = line_height_in(SMALL_PT)


class Column(Struct, frozen=True):
    """A table's column: its heading (may have two lines) and how its cells stand."""

    title: str
    anchor: Literal["left", "right"] = "left"
    bold: bool = False
    gives_way: bool = False
    """Whether its cells go over several lines when the table is too wide."""


def table(columns: Sequence[Column], rows: Iterable[Sequence[str]], width: float) -> Iterator[PageBlock]:
    """A ruled table as wide as its words need, at most ``width`` inches.

    One too wide is parted: what follows stands below under the first column again.
    """
    body = [tuple(row) for row in rows]
    filled = [_Filled(column, [row[at] for row in body]) for at, column in enumerate(columns)]
    for number, part in enumerate(_parted(filled, width)):
        if number:
            yield space(0.08)
        grid = _Grid([one.column for one in part], _widths(part, width))
        head = grid.head()
        yield head
        yield from (grid.row(cells, head) for cells in zip(*(one.cells for one in part), strict=True))


def table_abreast(
    columns: Sequence[Column], parts: Sequence[Sequence[Sequence[str]]], width: float
) -> Iterator[PageBlock]:
    """One table whose parts stand beside each other, each read downward."""
    all_columns = [*columns, *[Column(""), *columns] * (len(parts) - 1)]
    abreast = zip_longest(*parts, fillvalue=("",) * len(columns))
    rows = ([cell for row in rows for cell in ("", *row)][1:] for rows in abreast)
    return table(all_columns, rows, width)


class _Filled(Struct, frozen=True):
    """A column and its cells."""

    column: Column
    cells: Sequence[str]

    @property
    def natural_in(self) -> float:
        """What its words need, inches."""
        return self._width_in(self.cells)

    @property
    def least_in(self) -> float:
        """The same with cells broken between words where they may be."""
        if not self.column.gives_way:
            return self.natural_in
        return self._width_in([word for cell in self.cells for word in cell.split()])

    def _width_in(self, texts: Sequence[str]) -> float:
        titles = (width_in(line, SMALL_PT, True) for line in self.column.title.split("\n"))
        widest = max(0.1, *titles, *(width_in(text, SMALL_PT, self.column.bold) for text in texts))
        return widest + CELL_LEFT_IN + CELL_RIGHT_IN


def _parted(filled: Sequence[_Filled], width: float) -> list[list[_Filled]]:
    """The columns that stand beside each other, the first in every part."""
    first, *others = filled
    parts = [[first]]
    for one in others:
        taken = sum(other.least_in for other in parts[-1])
        if taken + one.least_in > width + ROUNDING_IN and len(parts[-1]) > 1:
            parts.append([first])
        parts[-1].append(one)
    return parts


def _widths(part: Sequence[_Filled], width: float) -> list[float]:
    """Of each column: what its words need, less where the table would be too wide."""
    widths = [one.natural_in for one in part]
    surplus = sum(widths) - width
    giving = sorted((at for at, one in enumerate(part) if one.column.gives_way), key=lambda at: -widths[at])
    between_words = {at: part[at].least_in for at in giving}
    for least in (between_words, dict.fromkeys(giving, 0.4)):  # then within them
        for at in giving:
            given = max(0.0, min(surplus, widths[at] - least[at]))
            widths[at] -= given
            surplus -= given
    return [one * width / sum(widths) for one in widths] if surplus > 0 else widths


class _Grid(Struct, frozen=True):
    """A table's columns with their widths, inches."""

    columns: Sequence[Column]
    widths: Sequence[float]

    def head(self) -> PageBlock:
        """The titles over a line."""
        lines = list(zip_longest(*(column.title.split("\n") for column in self.columns), fillvalue=""))
        shapes: list[Shape] = []
        for number, titles in enumerate(lines):
            shapes += self._line(titles, True, -_LINE_IN * (number + 0.8))
        height = _LINE_IN * len(lines) + 0.05
        return PageBlock(height, (*shapes, self._rule(height)), keep_with_next=True)

    def row(self, cells: Sequence[str], head: PageBlock) -> PageBlock:
        """One row over a line, of as many lines as the column that gives way needs."""
        step = _LINE_IN + 0.03
        parts = [
            wrapped(cell, SMALL_PT, room - CELL_LEFT_IN - CELL_RIGHT_IN, column.bold)
            if column.gives_way
            else [cell]
            for column, cell, room in zip(self.columns, cells, self.widths, strict=True)
        ]
        lines = list(zip_longest(*parts, fillvalue=""))
        shapes: list[Shape] = []
        for number, line in enumerate(lines):
            shapes += self._line(line, False, -step + 0.06 - number * _LINE_IN)
        height = step + (len(lines) - 1) * _LINE_IN
        return PageBlock(height, (*shapes, self._rule(height)), heading=head)

    def _rule(self, height: float) -> Line:
        return Line(Point(0, -height), Point(sum(self.widths), -height), TABLE, "frame")

    def _line(self, cells: Sequence[str], bold: bool, base: float) -> Iterator[Shape]:
        left = 0.0
        for column, cell, room in zip(self.columns, cells, self.widths, strict=True):
            weight = bold or column.bold
            text = shortened(cell, SMALL_PT, room - CELL_LEFT_IN - CELL_RIGHT_IN + ROUNDING_IN, weight)
            x = left + CELL_LEFT_IN if column.anchor == "left" else left + room - CELL_RIGHT_IN
            if text:
                yield Words(Point(x, base), set_words(text), SMALL_PT, anchor=column.anchor, bold=weight)
            left += room


def right_end_in(piece: PageBlock) -> float:
    """How far to the right a piece's lines reach: how wide a table came out."""
    return max(shape.end.x for shape in piece.shapes if isinstance(shape, Line))
