"""Decides which of a face's sheets need not be printed; what is left hangs together and reaches a corner.

::

    +---+---+---+---+---+
    | 1 | 2 | 3 | . | . |      a hole on 1 and on 3 alone: 4 and 5 are left out, 2 is kept as the bridge,
    +---+---+---+---+---+      and sheet 1 has a corner of the face to lay the chain by
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from templates_engine.geometry import Circle, Rect, gap_circle_rect

_TINY = 1e-9


@dataclass(frozen=True)
class Cell:
    """A sheet's own part, and its place in the grid."""

    column: int
    band: int
    rect: Rect


def kept(cells: Sequence[Cell], circles: Sequence[Circle], rects: Sequence[Rect]) -> frozenset[int]:
    """The indices of the cells to print: all that show any of the circles or rects, and what joins them.

    They hang together by shared joints and hold at least one corner of the face, to lay them by: the start
    corner or another, whichever takes fewer sheets. Fewest with one band; with several, each needed sheet is
    joined on by a shortest way.
    """
    needed = [index for index, cell in enumerate(cells) if _shows(cell.rect, circles, rects)]
    neighbours = [list(_neighbours(index, cells)) for index in range(len(cells))]
    chains = [_joined(corner, needed, neighbours) for corner in _corners(cells)]
    return min(chains, key=len)


def _shows(cell: Rect, circles: Iterable[Circle], rects: Iterable[Rect]) -> bool:
    return any(gap_circle_rect(circle, cell) < -_TINY for circle in circles) or any(map(cell.overlaps, rects))


def _corners(cells: Sequence[Cell]) -> Iterator[int]:
    """The sheets with the face's corners, the upper left first."""
    columns, bands = max(cell.column for cell in cells), max(cell.band for cell in cells)
    for band in (0, bands):
        for column in (0, columns):
            yield next(
                index for index, cell in enumerate(cells) if (cell.column, cell.band) == (column, band)
            )


def _neighbours(index: int, cells: Sequence[Cell]) -> Iterator[int]:
    """The cells that share a joint with one."""
    cell = cells[index]
    for other_index, other in enumerate(cells):
        beside = cell.band == other.band and abs(cell.column - other.column) == 1
        over = abs(cell.band - other.band) == 1 and (
            cell.rect.left < other.rect.right and other.rect.left < cell.rect.right
        )
        if beside or over:
            yield other_index


def _joined(start: int, needed: Iterable[int], neighbours: Sequence[Sequence[int]]) -> frozenset[int]:
    """``start`` and the needed cells, each joined by a shortest way to those joined before."""
    chain, missing = {start}, set(needed) - {start}
    while missing:
        way = _shortest_way(chain, missing, neighbours)
        chain.update(way)
        missing.difference_update(way)
    return frozenset(chain)


def _shortest_way(chain: set[int], goals: set[int], neighbours: Sequence[Sequence[int]]) -> list[int]:
    """The cells from one beside the chain to the nearest goal, breadth first."""
    came_from: dict[int, int | None] = dict.fromkeys(sorted(chain))
    waiting = list(came_from)
    for cell in waiting:  # it grows as the search goes on
        if cell in goals:
            break
        for other in neighbours[cell]:
            if other not in came_from:
                came_from[other] = cell
                waiting.append(other)
    way, step = [], cell
    while step not in chain:
        way.append(step)
        previous = came_from[step]
        assert previous is not None
        step = previous
    return way
