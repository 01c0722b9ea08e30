r"""Turns ordered things on a line that do not fit into the least length that is missing.

::

    cost
      |\
      | \____          the least total of steps down on a way through all things so far, that ends at y:
      |      \____     it falls by what y rises, or stays
      +------------ y
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from itertools import pairwise

from templates_engine.geometry import Interval
from templates_engine.layout.row.exact_search import PlacementProblem

Bend = tuple[float, float]
"""Where the cost bends, and what it is there: it falls one for one or stays between bends, falls before the
first, and stays after the last.
"""


def least_shortfall(line: PlacementProblem) -> float:
    """The least total by which the distances, the two to the bounds among them, must shrink for a fit.

    0 when the line fits; infinite when some thing is allowed nowhere. With the distances taken off (see
    `exact_search.py`) this is the least sum of steps down on a way from ``lowest`` through all things to
    ``highest``.
    """
    if not all(line.allowed):
        return math.inf
    if not line.allowed:
        return 0.0
    start = line.lowest if math.isfinite(line.lowest) else line.allowed[0][0].low
    bends: list[Bend] = [(start, 0.0)]
    for stretches, offset in zip(line.allowed, line.offsets, strict=True):
        bends = _through(bends, stretches, offset)
    return _cost(bends, line.top)


def _through(bends: Sequence[Bend], stretches: Sequence[Interval], offset: float) -> list[Bend]:
    """The cost once the way must pass one of the stretches: only where the cost bends outside of them does it
    change.
    """
    found: list[Bend] = []
    done = -math.inf
    for y, cost in bends:
        if y < done:
            continue
        at = bisect_left(stretches, y + offset, key=lambda stretch: stretch.high)
        below = stretches[at - 1].high - offset if at > 0 else -math.inf
        above = stretches[at].low - offset if at < len(stretches) else math.inf
        if above <= y:
            found.append((y, cost))
            continue
        found += _across(bends, below, above)
        done = above
    apart = [bend for bend, after in pairwise(found) if bend[0] < after[0]]
    return _straightened([*apart, found[-1]])


def _across(bends: Sequence[Bend], below: float, above: float) -> list[Bend]:
    """The bends of the cost over a gap between two stretches: step down to the one below earlier, or on to
    the one above and down from there.
    """
    if math.isinf(below):
        return [(above, _cost(bends, above))]
    low = _cost(bends, below)
    if math.isinf(above):
        return [(below, low)]
    high = _cost(bends, above)
    return [(below, low), (above - (low - high), low), (above, high)]


def _cost(bends: Sequence[Bend], y: float) -> float:
    at = bisect_right(bends, y, key=lambda bend: bend[0])
    if at == 0:
        return bends[0][1] + bends[0][0] - y
    if at == len(bends):
        return bends[-1][1]
    before, after = bends[at - 1], bends[at]
    return before[1] - (y - before[0]) if _falls(before, after) else before[1]


def _straightened(bends: Sequence[Bend]) -> list[Bend]:
    """The bends without those where nothing bends."""
    falling = [True, *(_falls(*pair) for pair in pairwise(bends)), False]
    return [bend for bend, (before, after) in zip(bends, pairwise(falling), strict=True) if before != after]


def _falls(before: Bend, after: Bend) -> bool:
    return before[1] - after[1] > (after[0] - before[0]) / 2
