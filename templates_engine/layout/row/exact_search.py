"""Turns ordered things on a line into the places nearest to those wanted, exactly.

Knows no word of the trade.

What the things are, and where they are wanted and allowed, is for others to say.

::

    lowest                                                        highest
      |--[ a ]-----[ b ]--------(forbidden)-------[ c ]--------------|
           x0  d0    x1            d1               x2

    x[i+1] - x[i] >= distances[i],  x[i] in allowed[i],  least sum of |x[i] - wants[i]|

Let s[i] = d[0] + ... + d[i-1] and y[i] = x[i] - s[i]. Then the distances only say y[0] <= y[1] <= ..., and
things that touch share one y. In some best answer every y is a wanted place or an end of an allowed stretch
of one of the things: a group that shares a y between such values can slide one way or the other without
costing more until it meets one. So it is enough to go through
them once, keeping what the things so far cost at least by how high the last may stand
(`least_departure.py`), and
back again. A thing stands nowhere outside the window that `_windows` works out beforehand, so there is little
to keep in a long row between many forbidden places.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from itertools import accumulate

from templates_engine.geometry import Interval
from templates_engine.layout.row.least_departure import NOTHING_YET, Pieces, lowest_as_good, with_one_more
from templates_engine.layout.tolerance import TOLERANCE_IN
from templates_engine.values import Struct


class PlacementProblem(Struct, frozen=True):
    """Things in order on a line. Numbers may be inches or whole steps of a graduation, all of one kind.

    ``distances`` lie between neighbours (one fewer than things); ``allowed`` are closed stretches, lowest
    first; the first thing stands at ``lowest`` or above, the last at ``highest`` or below.
    """

    wants: tuple[float, ...]
    distances: tuple[float, ...]
    allowed: tuple[tuple[Interval, ...], ...]
    lowest: float = -math.inf
    highest: float = math.inf


def least_departure(line: PlacementProblem) -> tuple[float, ...] | None:
    """The places with the least total departure from the wanted ones, or None when there are none at all.

    Among equal totals there is one answer in which every thing stands lowest (if two answers are best, so is
    the one made of the lower of each pair of places); that one is returned.
    """
    windows = _windows(line)
    if windows is None:
        return None
    offsets = _offsets(line)
    costs: list[Pieces] = []
    for want, allowed, window, offset in zip(line.wants, line.allowed, windows, offsets, strict=True):
        before = costs[-1] if costs else NOTHING_YET
        costs.append(with_one_more(before, want - offset, _cut_out(allowed, window, offset)))
    places: list[float] = []
    for pieces in reversed(costs):
        places.append(lowest_as_good(pieces, places[-1] if places else math.inf))
    return tuple(
        want if abs(place + offset - want) <= TOLERANCE_IN else place + offset
        for place, offset, want in zip(reversed(places), offsets, line.wants, strict=True)
    )


def _windows(line: PlacementProblem) -> list[Interval] | None:
    """For each thing the stretch of y in which it stands in every best answer; None when there is no answer.

    Let every thing give way downward: to its highest allowed place not above the one wanted, nor above the
    next thing's. A best answer has nothing below that, for raising what is would keep the order and bring
    each nearer to where it is wanted. Upward likewise.
    """
    low, high = packed_low(line), packed_high(line)
    if low is None or high is None:
        return None
    offsets = _offsets(line)
    lows: list[float] = []
    next_one = line.highest - (offsets[-1] if offsets else 0.0)
    for index in reversed(range(len(offsets))):
        offset = offsets[index]
        below = _at_or_below(line.allowed[index], min(line.wants[index], next_one + offset))
        next_one = max(low[index] - offset, -math.inf if below is None else below - offset)
        lows.append(next_one)
    highs: list[float] = []
    last_one = line.lowest
    for index, offset in enumerate(offsets):
        above = _at_or_above(line.allowed[index], max(line.wants[index], last_one + offset))
        last_one = min(high[index] - offset, math.inf if above is None else above - offset)
        highs.append(last_one)
    return [Interval(min(a, b), b) for a, b in zip(reversed(lows), highs, strict=True)]


def fits(line: PlacementProblem) -> bool:
    """Whether there are any places at all; far quicker to say than which are best."""
    return packed_low(line) is not None


def packed_low(line: PlacementProblem) -> tuple[float, ...] | None:
    """Every thing at the lowest place it can take at all, or None when there are none; wants play no part."""
    places: list[float] = []
    offsets = _offsets(line)
    reached = line.lowest
    for stretches, offset in zip(line.allowed, offsets, strict=True):
        place = _at_or_above(stretches, reached + offset)
        if place is None:
            return None
        reached = max(reached, place - offset)
        places.append(reached + offset)
    return tuple(places) if not places or places[-1] <= line.highest + TOLERANCE_IN else None


def packed_high(line: PlacementProblem) -> tuple[float, ...] | None:
    """Every thing at the highest place it can take, or None when there are none; wants are left aside."""
    places: list[float] = []
    offsets = _offsets(line)
    reached = line.highest - (offsets[-1] if offsets else 0.0)
    for stretches, offset in zip(reversed(line.allowed), reversed(offsets), strict=True):
        place = _at_or_below(stretches, reached + offset)
        if place is None:
            return None
        reached = min(reached, place - offset)
        places.append(reached + offset)
    return tuple(reversed(places)) if not places or places[-1] >= line.lowest - TOLERANCE_IN else None


def _at_or_above(stretches: Sequence[Interval], place: float) -> float | None:
    """The lowest allowed place not below another, None when there is none."""
    at = bisect_left(stretches, place - TOLERANCE_IN, key=lambda stretch: stretch.high)
    return None if at == len(stretches) else min(max(place, stretches[at].low), stretches[at].high)


def _at_or_below(stretches: Sequence[Interval], place: float) -> float | None:
    """The highest allowed place not above another, None when there is none."""
    at = bisect_right(stretches, place + TOLERANCE_IN, key=lambda stretch: stretch.low) - 1
    return None if at < 0 else max(min(place, stretches[at].high), stretches[at].low)


def _cut_out(stretches: Sequence[Interval], window: Interval, offset: float) -> list[Interval]:
    """The allowed stretches in y, cut off at the ends of a window that reaches at least one."""
    low, high = window
    first = bisect_left(stretches, low + offset - TOLERANCE_IN, key=lambda stretch: stretch.high)
    last = bisect_right(stretches, high + offset + TOLERANCE_IN, key=lambda stretch: stretch.low)
    cut = [(max(a - offset, low), min(b - offset, high)) for a, b in stretches[first:last]]
    return [Interval(min(a, b), b) for a, b in cut]


def _offsets(line: PlacementProblem) -> list[float]:
    """s[i] of the sketch: how far thing i stands above the first when all touch."""
    return list(accumulate(line.distances, initial=0.0))[: len(line.wants)]
