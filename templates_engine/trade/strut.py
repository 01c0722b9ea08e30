"""Reads strut depths and width as rows with their source; leaves stacking and back lines to the layout."""

from __future__ import annotations

from functools import cache
from typing import Any

from templates_engine.trade.tables import read_table
from templates_engine.values import Struct

WIDTH_IN = 1.625
"""MFMA-4, the width of every channel in the table. Read."""
USUAL_IN = (0.8125, 1.625)
"""The two depths most often at hand (common practice, no source)."""
DEPTHS_IN: tuple[float, ...]
"""Depths that are made, inches, least first."""


class StrutDepth(Struct, frozen=True):
    """One depth that is made, inches."""

    depth_in: float
    words: str
    source: str
    provenance: str


def __getattr__(name: str) -> Any:
    if name == "DEPTHS_IN":  # read when first asked for, like every table
        return tuple(row.depth_in for row in depths())
    raise AttributeError(name)


@cache
def depths() -> tuple[StrutDepth, ...]:
    """Every depth with its source, least first."""
    rows = (
        StrutDepth(row.inches("depth"), row.text("words"), row.source, row.provenance)
        for row in read_table("strut").rows
    )
    return tuple(sorted(rows, key=lambda row: row.depth_in))


_MOST_LAYERS = 8
"""Of strut on strut; more is a frame of its own."""


@cache
def stacks() -> tuple[tuple[float, ...], ...]:
    """What strut is built up to, shallowest first, of two ways to one depth the one with fewer pieces first.

    Every single depth, the pairs that are stacked, and layers of 1-5/8 in strut, with 13/16 in or without.

    Common practice, no source.
    """
    shallow, deep = USUAL_IN
    layers = [(deep,) * count for count in range(1, _MOST_LAYERS)]
    built = [
        *((row.depth_in,) for row in depths()),
        *stacked_pairs(),
        *layers,
        *((*each, shallow) for each in layers),
    ]
    return tuple(sorted(set(built), key=lambda one: (sum(one), len(one), one)))


def nearest_depths(depth_in: float) -> tuple[StrutDepth, ...]:
    """The depths next to one that is not made: the next shallower, the next deeper, as far as there are."""
    below = [row for row in depths() if row.depth_in < depth_in]
    above = [row for row in depths() if row.depth_in > depth_in]
    return (*below[-1:], *above[:1])


def look_up(depth_in: float) -> StrutDepth | None:
    """The row for a depth, None when no usual strut is that deep.

    Within 1/64 in, as metric channel of 21 and 41 mm is the same as 13/16 and 1-5/8 in.
    """
    return next((row for row in depths() if abs(row.depth_in - depth_in) <= 1 / 64), None)


def stacked_pairs() -> tuple[tuple[float, float], ...]:
    """Pairs that are stacked in practice, shallowest first: two alike, or the two usual ones.

    Common practice, no source.
    """
    alike = ((row.depth_in, row.depth_in) for row in depths())
    return tuple(sorted((*alike, USUAL_IN), key=sum))
