"""Decides which of a face's sheets need not be printed; the rest hangs together and can be laid on the can.

::

    +---+---+---+---+---+
    | 1 | 2 | 3 | . | . |      a hole on 1 and on 3 alone: 4 and 5 are left out, 2 is kept as the bridge, and
    +---+---+---+---+---+      sheet 1 would be kept without a hole: the rulers' zero lies on its corner
"""

from __future__ import annotations

from collections.abc import Iterable

Cell = tuple[int, int]
"""A sheet's column and band."""


def kept_cells(start: Cell, needed: Iterable[Cell]) -> frozenset[Cell]:
    """``start`` and the needed cells, and those that join them by shared joints.

    The nearest missing cell comes first, by the way along the grid with most needed cells on it. Fewest with
    one band; with several, each is joined on by a shortest way.
    """
    chain, missing = {start}, set(needed) - {start}
    nearest = {cell: (_apart(cell, start), start) for cell in missing}
    while missing:
        goal = min(missing, key=lambda cell: (nearest[cell][0], cell))
        way = max(_ways(nearest[goal][1], goal), key=lambda way: len(missing.intersection(way)))
        chain.update(way)
        missing.difference_update(way)
        for cell in missing:
            nearest[cell] = min(nearest[cell], *((_apart(cell, other), other) for other in way))
    return frozenset(chain)


def _apart(one: Cell, other: Cell) -> int:
    return abs(one[0] - other[0]) + abs(one[1] - other[1])


def _ways(start: Cell, goal: Cell) -> tuple[list[Cell], list[Cell]]:
    """Both ways with one turn: along the start's band first, and along its column first."""
    columns, bands = _steps(start[0], goal[0]), _steps(start[1], goal[1])
    return (
        [*((column, start[1]) for column in columns), *((goal[0], band) for band in bands)],
        [*((start[0], band) for band in bands), *((column, goal[1]) for column in columns)],
    )


def _steps(start: int, goal: int) -> range:
    """From ``start``, itself left out, to ``goal``."""
    step = 1 if goal >= start else -1
    return range(start + step, goal + step, step)
