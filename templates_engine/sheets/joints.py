"""Where sheets join along one axis: fewest sheets, then least harm to holes, then most even windows.

::

    low                  j1                   j2              high      the axis, inches
     |--------------------|--------------------|----------------|
     [first window ..........]                                          window k reaches half the overlap past
                       [second window ...........]                      the joints at its ends, and none is
                                            [last window .......]       longer than the view

A joint is a line the later sheet is trimmed along. What holes there are, and the other axis, are for plan.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise

from templates_engine.geometry import Interval

GRID_IN = 1 / 16
"""Joints stand on tape graduations of the axis unless a hole's side or a full view asks for another place."""
MOST_PLACES = 200
"""With more graduations than this to choose from for one joint, a coarser grid is taken."""
CLEAR_IN = 1 / 16
"""A joint nearer than this to a circle, centre or quarter point is counted as cutting it."""
CIRCLE_HARM, SPOT_HARM = 1, 2
"""What it costs to cut a circle, and how much more when its centre or a quarter point is cut."""
_NONE = -1
_TINY = 1e-9


@dataclass(frozen=True)
class Obstacle:
    """A hole as this axis sees it: the stretch its circle takes, its centre and its quarter points."""

    low: float
    high: float
    spots: tuple[float, ...] = ()

    def is_cut(self, place: float) -> bool:
        """Whether a joint at ``place`` cuts the circle; just ``CLEAR_IN`` away from it does not."""
        return self.low - CLEAR_IN + _TINY < place < self.high + CLEAR_IN - _TINY

    def harm(self, place: float) -> int:
        """What a joint at ``place`` costs."""
        if not self.is_cut(place):
            return 0
        on_spot = any(abs(place - spot) < CLEAR_IN - _TINY for spot in self.spots)
        return CIRCLE_HARM + SPOT_HARM * on_spot

    @property
    def edges(self) -> Iterator[float]:
        """The places where the harm changes, each on the harmless side."""
        yield from (self.low - CLEAR_IN, self.high + CLEAR_IN)
        for spot in self.spots:
            yield from (spot - CLEAR_IN, spot + CLEAR_IN)


def fewest(length: float, view: float, overlap: float) -> int:
    """How many windows of at most ``view`` cover ``length``, neighbours sharing ``overlap`` (< ``view``)."""
    return max(1, math.ceil((length - overlap - _TINY) / (view - overlap)))


def harm_at(place: float, obstacles: Iterable[Obstacle]) -> int:
    """What a joint at ``place`` costs in all."""
    return sum(obstacle.harm(place) for obstacle in obstacles)


def joint_places(
    extent: Interval, view: float, overlap: float, obstacles: tuple[Obstacle, ...]
) -> tuple[float, ...]:
    """The best joints along ``extent``, in rising order; none when one window shows it all.

    Exact over ``candidates``: the fewest windows, then the least harm, then the most even windows.
    """
    count = fewest(extent.high - extent.low, view, overlap)
    stages = [candidates(limits, obstacles) for limits in joint_limits(extent, count, view, overlap)]
    return _best_chain(stages, extent, view, overlap, obstacles)


def windows(extent: Interval, joints: tuple[float, ...], overlap: float) -> tuple[Interval, ...]:
    """What each sheet shows along the axis."""
    lows = (extent.low, *(joint - overlap / 2 for joint in joints))
    highs = (*(joint + overlap / 2 for joint in joints), extent.high)
    return tuple(Interval(low, high) for low, high in zip(lows, highs, strict=True))


def least_step(view: float, overlap: float) -> float:
    """How near two joints may stand: so far that only neighbours overlap, where even windows allow it."""
    return min(max(1.0, overlap), (view - overlap) / 2)


def joint_limits(extent: Interval, count: int, view: float, overlap: float) -> Iterator[Interval]:
    """Between which places each joint must stand for ``count`` windows to reach from end to end."""
    step, most = least_step(view, overlap), view - overlap
    for index in range(1, count):
        after = count - index
        low = max(extent.low + index * step, extent.high - overlap / 2 - after * most)
        high = min(extent.high - after * step, extent.low + overlap / 2 + index * most)
        yield Interval(min(low, high), max(low, high))


def candidates(limits: Interval, obstacles: tuple[Obstacle, ...]) -> list[float]:
    """Places worth trying between ``limits``: graduations, both limits, and where a hole's harm changes."""
    coarser = max(1, math.ceil((limits.high - limits.low) / GRID_IN / MOST_PLACES))
    grid = GRID_IN * coarser
    first, last = math.ceil(limits.low / grid), math.floor(limits.high / grid)
    places = {limits.low, limits.high, *(index * grid for index in range(first, last + 1))}
    for obstacle in obstacles:
        if obstacle.high + CLEAR_IN < limits.low or limits.high < obstacle.low - CLEAR_IN:
            continue
        places.update(edge for edge in obstacle.edges if limits.low <= edge <= limits.high)
    return sorted(places)


def _best_chain(
    stages: list[list[float]], extent: Interval, view: float, overlap: float, obstacles: tuple[Obstacle, ...]
) -> tuple[float, ...]:
    """One place from each stage at the least cost, by dynamic programming from the first joint to the last.

    The cost is one number: harm counts for more than any unevenness, the sum of the windows' squares.
    """
    if not stages:
        return ()
    harm_price = (len(stages) + 1) * view * view + 1.0
    half = overlap / 2
    costs = [
        harm_price * harm + (place + half - extent.low) ** 2
        for place, harm in zip(stages[0], _harms(stages[0], obstacles), strict=True)
    ]
    came_from: list[list[int]] = []
    for before, places in pairwise(stages):
        origins = _origins(before, costs, places, view, overlap)
        costs = [
            _cost(costs, before, origin, place, overlap) + harm_price * harm
            for place, origin, harm in zip(places, origins, _harms(places, obstacles), strict=True)
        ]
        came_from.append(origins)
    last = [cost + (extent.high - place + half) ** 2 for place, cost in zip(stages[-1], costs, strict=True)]
    return _trace(stages, came_from, last.index(min(last)))


def _cost(costs: list[float], before: list[float], origin: int, place: float, overlap: float) -> float:
    """What all joints up to ``place`` cost, its own harm left out, with the one before it at ``origin``."""
    if origin == _NONE:
        return math.inf
    return costs[origin] + (place - before[origin] + overlap) ** 2


def _origins(
    before: list[float], costs: list[float], places: list[float], view: float, overlap: float
) -> list[int]:
    """For each of the rising ``places`` the index of the best joint before it; _NONE when none is in reach.

    A square is convex, so the best origin never moves back as the place moves on (the Monge property). The
    middle place's origin therefore bounds those of the places on either side, and halving does the rest.
    """
    step, most = least_step(view, overlap) - _TINY, view - overlap + _TINY
    origins = [_NONE] * len(places)
    parts = [(0, len(places), 0, len(before))]
    while parts:
        first, last, low, high = parts.pop()
        if first == last:
            continue
        middle = (first + last) // 2
        place = places[middle]
        reach = range(
            max(low, bisect_left(before, place - most)), min(high, bisect_right(before, place - step))
        )
        if reach:
            _, origin = min((_cost(costs, before, index, place, overlap), index) for index in reach)
            origins[middle] = origin
            parts += [(first, middle, low, origin + 1), (middle + 1, last, origin, high)]
        else:
            parts += [(first, middle, low, high), (middle + 1, last, low, high)]
    return origins


def _harms(places: list[float], obstacles: tuple[Obstacle, ...]) -> list[int]:
    """The harm of each place, looking only at the places near each obstacle; ``places`` rise."""
    harms = [0] * len(places)
    for obstacle in obstacles:
        near = slice(
            bisect_left(places, obstacle.low - CLEAR_IN), bisect_right(places, obstacle.high + CLEAR_IN)
        )
        for index in range(*near.indices(len(places))):
            harms[index] += obstacle.harm(places[index])
    return harms


def _trace(stages: list[list[float]], came_from: list[list[int]], last: int) -> tuple[float, ...]:
    index, chain = last, [stages[-1][last]]
    for stage, origins in zip(reversed(stages[:-1]), reversed(came_from), strict=True):
        index = origins[index]
        chain.append(stage[index])
    return tuple(reversed(chain))
