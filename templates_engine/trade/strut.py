"""Strut depths and width as rows with their source; leaves stacking and back lines to the layout."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any

from templates_engine.trade.tables import read_table

WIDTH_IN = 1.625
"""MFMA-4, the width of every channel in the table. Read."""
USUAL_IN = (0.8125, 1.625)
"""The two depths most often at hand (common practice, no source)."""
DEPTHS_IN: tuple[float, ...]
"""Depths that are made, inches, least first."""


@dataclass(frozen=True)
class StrutDepth:
    """One depth that is made, inches."""

    depth_in: float
    words: str
    source: str
    how_had: str


def __getattr__(name: str) -> Any:
    if name == "DEPTHS_IN":  # read when first asked for, like every table
        return tuple(row.depth_in for row in depths())
    raise AttributeError(name)


@cache
def depths() -> tuple[StrutDepth, ...]:
    """Every depth with its source, least first."""
    rows = (
        StrutDepth(row.inches("depth"), row.text("words"), row.source, row.how_had)
        for row in read_table("strut").rows
    )
    return tuple(sorted(rows, key=lambda row: row.depth_in))


def look_up(depth_in: float) -> StrutDepth | None:
    """The row for a depth, None when no usual strut is that deep (within 1/128 in)."""
    return next((row for row in depths() if abs(row.depth_in - depth_in) <= 1 / 128), None)


def stacked_pairs() -> tuple[tuple[float, float], ...]:
    """Pairs that are stacked in practice, shallowest first: two alike, or the two usual ones.

    Common practice, no source.
    """
    alike = ((row.depth_in, row.depth_in) for row in depths())
    return tuple(sorted((*alike, USUAL_IN), key=sum))
