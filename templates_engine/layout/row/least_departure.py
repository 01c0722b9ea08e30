r"""Computes what the first things of a row cost at least, by how high the last may stand; one at a time.

::

    cost
      |          as in `exact_search.py` the distances are taken off, so that things only keep their order;
      |\\         the cost falls where the last thing comes nearer to where it and those below are wanted,
      | \\__      stays where it is forbidden or where nothing is gained, and drops where a forbidden
      |    |_    stretch ends
      +--------- y
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from templates_engine.geometry import TOLERANCE_IN, Interval


class CostPiece(NamedTuple):
    """From ``start`` to the next piece's the cost changes by ``slope``, nought or less, an inch."""

    start: float
    cost: float
    slope: int

    def at(self, y: float) -> float:
        return self.cost + self.slope * (y - self.start) if self.slope else self.cost


Pieces = Sequence[CostPiece]
"""Lowest first; before the first there is no place at all, from the last one's start on nothing is gained."""

NOTHING_YET: Pieces = (CostPiece(-math.inf, 0.0, 0),)


def with_one_more(before: Pieces, want: float, stretches: Sequence[Interval]) -> Pieces:
    """The costs with one thing more, which is wanted at a place and allowed in these stretches of y."""
    found: list[CostPiece] = []
    enough = max(want, before[-1].start)
    for stretch in stretches:
        for piece, end in _within(before, want, stretch):
            _lower(found, piece, end)
        if stretch.high >= enough:  # from there on every further place costs more
            break
    return found


def lowest_as_good(pieces: Pieces, limit: float) -> float:
    """The lowest place of the last thing that costs as little as any up to ``limit``."""
    piece = pieces[max(_index(pieces, limit), 0)]
    return max(limit, piece.start) if piece.slope else piece.start


def _within(before: Pieces, want: float, stretch: Interval) -> Iterator[tuple[CostPiece, float]]:
    """The costs before plus the departure of the new thing over one stretch: pieces with their ends."""
    low = max(stretch.low, before[0].start)
    last = _index(before, stretch.high)
    for at in range(_index(before, low), last + 1):
        piece = before[at]
        start = max(low, piece.start)
        end = before[at + 1].start if at < last else max(stretch.high, start)
        middle = min(max(want, start), end)
        if start < middle:
            yield CostPiece(start, piece.at(start) + want - start, piece.slope - 1), middle
        if middle < end or start == middle:
            yield CostPiece(middle, piece.at(middle) + abs(middle - want), piece.slope + 1), end


def _lower(found: list[CostPiece], piece: CostPiece, end: float) -> None:
    """Add what a piece gains over the least cost so far; the last of the found always stays level."""
    so_far = found[-1].cost if found else math.inf
    falls = piece.slope < 0
    least = piece.at(end) if falls else piece.cost
    if least >= so_far - TOLERANCE_IN:
        return
    if falls:
        later = max(0.0, piece.cost - so_far) / -piece.slope
        _add(found, CostPiece(piece.start + later, min(piece.cost, so_far), piece.slope))
    _add(found, CostPiece(end if falls else piece.start, least, 0))


def _add(found: list[CostPiece], piece: CostPiece) -> None:
    if found and found[-1].start >= piece.start:
        found.pop()
    found.append(piece)


def _index(pieces: Pieces, y: float) -> int:
    """The piece that holds y; one that starts within the tolerance above it does."""
    return bisect_right(pieces, y + TOLERANCE_IN, key=lambda piece: piece.start) - 1
