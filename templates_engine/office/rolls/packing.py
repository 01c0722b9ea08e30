"""Lays rectangles side by side on a roll, in as little of its length as shelves of them take.

::

    across |  +-----+---+------+ +---------+
           |  |  1  | 2 |  3   | |    4    |      shelves side by side along the roll, the longest pieces
           |  +-----+---+------+ +---------+      first, each piece on the first shelf with room for it
           +------------------------------------ along
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from templates_engine.values import Struct

_TINY = 1e-9


class PlacedPiece(Struct, frozen=True):
    """Where a piece lies on its page, inches from the corner where the roll begins."""

    number: int
    along_in: float
    across_in: float


class PackedPage(Struct, frozen=True):
    """One piece of the roll, cut off at its length."""

    length_in: float
    pieces: tuple[PlacedPiece, ...]


@dataclass
class _Shelf:
    depth_in: float
    """Along the roll: that of its first piece, which is the longest."""
    used_in: float = 0.0
    pieces: list[tuple[int, float]] = field(default_factory=list)


def pack(sizes: Sequence[tuple[float, float]], width_in: float, most_in: float) -> tuple[PackedPage, ...]:
    """The pieces, each as (along, across), on pages of a roll that are at most so long.

    Every piece has to fit a page by itself. First fit by falling length needs at most 1.7 times the least
    length and one piece more [Coffman and others 1980, from memory].
    """
    shelves: list[_Shelf] = []
    for number in sorted(range(len(sizes)), key=lambda one: (-sizes[one][0], -sizes[one][1], one)):
        along_in, across_in = sizes[number]
        shelf = next((one for one in shelves if one.used_in + across_in <= width_in + _TINY), None)
        if shelf is None:
            shelf = _Shelf(along_in)
            shelves.append(shelf)
        shelf.pieces.append((number, shelf.used_in))
        shelf.used_in += across_in
    return tuple(_page(group) for group in _groups(shelves, most_in))


def _groups(shelves: Sequence[_Shelf], most_in: float) -> list[list[_Shelf]]:
    """The shelves of each page, filled one page after the other."""
    groups: list[list[_Shelf]] = []
    for shelf in shelves:
        length_in = sum(one.depth_in for one in groups[-1]) if groups else most_in
        if length_in + shelf.depth_in > most_in + _TINY:
            groups.append([])
        groups[-1].append(shelf)
    return groups


def _page(shelves: Sequence[_Shelf]) -> PackedPage:
    pieces: list[PlacedPiece] = []
    along_in = 0.0
    for shelf in shelves:
        pieces += (PlacedPiece(number, along_in, across_in) for number, across_in in shelf.pieces)
        along_in += shelf.depth_in
    return PackedPage(along_in, tuple(pieces))
