"""Ordered things on a line into the places nearest to those wanted, exactly; no word of the trade in it.

What the things are, and where they are wanted and allowed, is for others to say.

::

    lowest                                                        highest
      |--[ a ]-----[ b ]--------(forbidden)-------[ c ]--------------|
           x0  d0    x1            d1               x2

    x[i+1] - x[i] >= distances[i],  x[i] in allowed[i],  least sum of |x[i] - wants[i]|

Let s[i] = d[0] + ... + d[i-1] and y[i] = x[i] - s[i]. Then the distances only say y[0] <= y[1] <= ..., and
things that touch share one y. In some best answer every y is a wanted place or an end of an allowed stretch
of one of the things: a group that shares a y between such values can slide one way or the other without
costing more until it meets one. So it is enough to walk over these candidates once a thing and keep the
least cost so far.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate

from templates_engine.geometry import Interval
from templates_engine.layout.tolerance import TOLERANCE_IN


@dataclass(frozen=True)
class Line:
    """Things in order on a line. Numbers may be inches or whole steps of a graduation, all of one kind.

    ``distances`` lie between neighbours (one fewer than things); ``allowed`` are closed stretches, lowest
    first; the first thing stands at ``lowest`` or above, the last at ``highest`` or below.
    """

    wants: tuple[float, ...]
    distances: tuple[float, ...]
    allowed: tuple[tuple[Interval, ...], ...]
    lowest: float = -math.inf
    highest: float = math.inf

    def mirrored(self) -> Line:
        """The same line seen from its other end: every number negated, the order turned round."""
        return Line(
            tuple(-want for want in reversed(self.wants)),
            tuple(reversed(self.distances)),
            tuple(
                tuple(Interval(-high, -low) for low, high in reversed(stretches))
                for stretches in reversed(self.allowed)
            ),
            -self.highest,
            -self.lowest,
        )


def least_departure(line: Line) -> tuple[float, ...] | None:
    """The places with the least total departure from the wanted ones, or None when there are none at all.

    Among equal totals there is one answer in which every thing stands lowest (if two answers are best, so is
    the one made of the lower of each pair of places); that one is returned.
    """
    if not fits(line):
        return None
    offsets = _offsets(line)
    stretches = _slid(line, offsets)
    wants = [want - offset for want, offset in zip(line.wants, offsets, strict=True)]
    candidates = _merged([*wants, *(end for ends in stretches for stretch in ends for end in stretch)])
    costs: list[list[float]] = []  # costs[i][c]: least cost of things 0..i with y[i] <= candidates[c]
    before = [0.0] * len(candidates)
    for want, allowed in zip(wants, stretches, strict=True):
        cost = [math.inf] * len(candidates)
        for stretch in allowed:
            first, last = _index(candidates, stretch.low), _index(candidates, stretch.high)
            cost[first : last + 1] = [
                spent + abs(candidate - want)
                for spent, candidate in zip(
                    before[first : last + 1], candidates[first : last + 1], strict=True
                )
            ]
        before = list(accumulate(cost, min))
        costs.append(before)
    if not costs:
        return ()
    if math.isinf(before[-1]):
        return None
    places = _traced(costs, candidates)
    return tuple(
        want if abs(place + offset - want) <= TOLERANCE_IN else place + offset
        for place, offset, want in zip(places, offsets, line.wants, strict=True)
    )


def _traced(costs: list[list[float]], candidates: Sequence[float]) -> list[float]:
    """From the last thing back, each at the lowest candidate that still gives the least cost."""
    places: list[float] = []
    limit = len(candidates) - 1
    for cost in reversed(costs):
        target = cost[limit] + TOLERANCE_IN
        limit = bisect_left(cost, -target, key=lambda value: -value)  # cost falls along the candidates
        places.append(candidates[limit])
    return places[::-1]


def fits(line: Line) -> bool:
    """Whether there are any places at all; far quicker to say than which are best."""
    return packed_low(line) is not None


def packed_low(line: Line) -> tuple[float, ...] | None:
    """Every thing at the lowest place it can take at all, or None when there are none; wants play no part."""
    places: list[float] = []
    offsets = _offsets(line)
    reached = -math.inf
    for stretches, offset in zip(_slid(line, offsets), offsets, strict=True):
        fitting = next((s for s in stretches if s.high >= reached - TOLERANCE_IN), None)
        if fitting is None:
            return None
        reached = max(reached, fitting.low)
        places.append(reached + offset)
    return tuple(places)


def packed_high(line: Line) -> tuple[float, ...] | None:
    """Every thing at the highest place it can take, or None when there are none; wants are left aside."""
    places = packed_low(line.mirrored())
    return None if places is None else tuple(-place for place in reversed(places))


def least_shortfall(line: Line) -> float:
    """The least total by which the distances, the two to the bounds among them, must shrink for a fit.

    0 when the line fits; infinite when some thing is allowed nowhere. In y this is the least sum of steps
    down on a way from ``lowest`` through all things to ``highest``, and again only ends of stretches need be
    looked at.
    """
    offsets = _offsets(line)
    stretches = [
        [Interval(low - offset, high - offset) for low, high in allowed]
        for allowed, offset in zip(line.allowed, offsets, strict=True)
    ]
    if not stretches:
        return 0.0
    top = line.highest - offsets[-1]
    ends = [end for allowed in stretches for stretch in allowed for end in stretch]
    candidates = _merged([*ends, *(bound for bound in (line.lowest, top) if math.isfinite(bound))])
    least = [max(0.0, line.lowest - candidate) for candidate in candidates]
    for allowed in stretches:
        upward = list(accumulate(least, min))
        from_above = accumulate((c + y for c, y in zip(least[::-1], candidates[::-1], strict=True)), min)
        downward = [total - y for total, y in zip(list(from_above)[::-1], candidates, strict=True)]
        reached = [min(pair) for pair in zip(upward, downward, strict=True)]
        least = [math.inf] * len(candidates)
        for stretch in allowed:
            first, last = _index(candidates, stretch.low), _index(candidates, stretch.high)
            least[first : last + 1] = reached[first : last + 1]
    return min(
        (cost + max(0.0, y - top) for cost, y in zip(least, candidates, strict=True)), default=math.inf
    )


def _offsets(line: Line) -> list[float]:
    """s[i] of the sketch: how far thing i stands above the first when all touch."""
    return list(accumulate(line.distances, initial=0.0))[: len(line.wants)]


def _slid(line: Line, offsets: Sequence[float]) -> list[list[Interval]]:
    """The allowed stretches in y, cut off at ``lowest`` and ``highest``."""
    top = line.highest - offsets[-1] if offsets else math.inf
    slid: list[list[Interval]] = []
    for stretches, offset in zip(line.allowed, offsets, strict=True):
        cut = [(max(low - offset, line.lowest), min(high - offset, top)) for low, high in stretches]
        slid.append([Interval(min(a, b), b) for a, b in cut if b >= a - TOLERANCE_IN])
    return slid


def _merged(values: Sequence[float]) -> list[float]:
    """The values in order, those within the tolerance of a kept one left out."""
    kept: list[float] = []
    for value in sorted(values):
        if not kept or value - kept[-1] > TOLERANCE_IN:
            kept.append(value)
    return kept


def _index(candidates: Sequence[float], value: float) -> int:
    """Which candidate stands for ``value``, one of the values they were merged from."""
    return bisect_right(candidates, value) - 1
