"""Finds where sheets join along one axis: the least harm to holes, then the most even windows.

::

    low                  j1                   j2              high      the axis, inches
     |--------------------|--------------------|----------------|
     [first window ..........]                                          window k reaches half the overlap past
                       [second window ...........]                      the joints at its ends, and none is
                                            [last window .......]       longer than the view

A joint runs straight through the whole face, and the later sheet is trimmed along it. So what it does to
holes depends on this axis alone, and the best joints of a face are the best of either axis.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections import deque
from collections.abc import Iterable, Iterator, Sequence
from functools import cached_property
from itertools import pairwise

from templates_engine.geometry import Interval
from templates_engine.sheets.model import CROSS_ARM_IN
from templates_engine.sheets.obstacles import Obstacle, harms_at
from templates_engine.values import Struct

GRID_IN = 1 / 16
"""Joints stand on tape graduations of the axis unless a hole's side or a full view asks for another place."""
MOST_PLACES = 64
"""With more graduations than this to choose from for one joint, a coarser grid is taken."""
LEAST_WINDOW_IN = 2.0
"""A narrower part between two joints has no room for marks on the joints that end at both."""
_NONE = -1
_TINY = 1e-9


class Axis(Struct, frozen=True, dict=True):
    """One direction of a face: what is to be shown along it, and how much of it a sheet shows."""

    extent: Interval
    view_in: float
    overlap_in: float
    at_least: int = 1
    """How many windows to take even where fewer would do."""

    @cached_property
    def count(self) -> int:
        """How many windows it takes."""
        length = self.extent.high - self.extent.low
        return max(fewest(length, self.view_in, self.overlap_in), self.at_least)

    @property
    def has_room(self) -> bool:
        """Whether so many windows each add what makes a sheet worth taping on."""
        step = least_step(self.view_in, self.overlap_in)
        return self.at_least == 1 or self.extent.high - self.extent.low >= self.count * step

    @cached_property
    def mean_in(self) -> float:
        """The length of every window when all are alike."""
        length = self.extent.high - self.extent.low
        return (length + (self.count - 1) * self.overlap_in) / self.count

    @property
    def most_uneven_in2(self) -> float:
        """More than the sum of the squares by which the windows of any joints miss their mean."""
        return (self.count + 1) * self.view_in**2 + 1.0

    def choices(self, obstacles: tuple[Obstacle, ...]) -> list[list[float]]:
        """For each joint the places worth trying."""
        limits = joint_limits(self.extent, self.count, self.view_in, self.overlap_in)
        return [candidates(one, obstacles) for one in limits]


def fewest(length: float, view: float, overlap: float) -> int:
    """How many windows of at most ``view`` cover ``length``, neighbours sharing ``overlap`` (< ``view``)."""
    return max(1, math.ceil((length - overlap - _TINY) / (view - overlap)))


def windows(extent: Interval, joints: tuple[float, ...], overlap: float) -> tuple[Interval, ...]:
    """What each sheet shows along the axis."""
    lows = (extent.low, *(joint - overlap / 2 for joint in joints))
    highs = (*(joint + overlap / 2 for joint in joints), extent.high)
    return tuple(Interval(low, high) for low, high in zip(lows, highs, strict=True))


def least_step(view: float, overlap: float) -> float:
    """How near two joints may stand: so far that only neighbours overlap, where even windows allow it."""
    return min(max(LEAST_WINDOW_IN, overlap), (view - overlap) / 2)


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
        if obstacle.high + CROSS_ARM_IN < limits.low or limits.high < obstacle.low - CROSS_ARM_IN:
            continue
        places.update(edge for edge in obstacle.edges if limits.low <= edge <= limits.high)
    return sorted(places)


class BestJoints(Struct, frozen=True):
    """The places of joints along an axis that do the least harm together, and that harm."""

    harm: int
    places: tuple[tuple[float, ...], ...]
    """For each joint those that are on any way from end to end with the least harm."""
    own: tuple[tuple[int, ...], ...]
    """The harm of each of them."""


def least_harm(axis: Axis, obstacles: tuple[Obstacle, ...]) -> BestJoints:
    """Exact over ``candidates``: the least harm up to each place and from it on, both ways along the axis."""
    choices = axis.choices(obstacles)
    if not choices:
        return BestJoints(0, (), ())
    own = [harms_at(places, obstacles) for places in choices]
    step = least_step(axis.view_in, axis.overlap_in) - _TINY
    most = axis.view_in - axis.overlap_in + _TINY
    up_to: list[list[float]] = [[float(harm) for harm in own[0]]]
    for (before, places), harms in zip(pairwise(choices), own[1:], strict=True):
        spans = ((bisect_left(before, at - most), bisect_right(before, at - step)) for at in places)
        up_to.append([harm + rest for harm, rest in zip(harms, _least_within(up_to[-1], spans), strict=True)])
    from_on: list[list[float]] = [[0.0] * len(choices[-1])]
    for (places, after), harms in zip(reversed(list(pairwise(choices))), reversed(own[1:]), strict=True):
        costs = [harm + rest for harm, rest in zip(harms, from_on[-1], strict=True)]
        spans = ((bisect_left(after, at + step), bisect_right(after, at + most)) for at in places)
        from_on.append(_least_within(costs, spans))
    least = min(up_to[-1])
    kept = [
        [(at, harm) for at, harm, one, rest in zip(*joint, strict=True) if one + rest == least]
        for joint in zip(choices, own, up_to, reversed(from_on), strict=True)
    ]
    places_kept = tuple(tuple(at for at, _ in joint) for joint in kept)
    return BestJoints(int(least), places_kept, tuple(tuple(harm for _, harm in joint) for joint in kept))


def _least_within(values: Sequence[float], spans: Iterable[tuple[int, int]]) -> list[float]:
    """The least value in each span of indices, infinity in an empty one; no end of a span moves back."""
    least: list[float] = []
    rising: deque[int] = deque()  # indices of values that may still be the least, both rising
    taken = 0
    for first, last in spans:
        for index in range(taken, last):
            while rising and values[rising[-1]] >= values[index]:
                rising.pop()
            rising.append(index)
        taken = max(taken, last)
        while rising and rising[0] < first:
            rising.popleft()
        least.append(values[rising[0]] if rising else math.inf)
    return least


def joint_places(axis: Axis, harmless: BestJoints) -> tuple[float, ...]:
    """The joints with the most even windows of those that do the least harm, in rising order.

    By dynamic programming from the first joint to the last. The cost is one number: harm counts for more than
    any unevenness.
    """
    choices = harmless.places
    if not choices:
        return ()
    extent, half = axis.extent, axis.overlap_in / 2
    own = [[axis.most_uneven_in2 * harm for harm in harms] for harms in harmless.own]
    costs = [
        price + (place + half - extent.low - axis.mean_in) ** 2
        for place, price in zip(choices[0], own[0], strict=True)
    ]
    came_from: list[list[int]] = []
    for (before, places), prices in zip(pairwise(choices), own[1:], strict=True):
        origins = _origins(before, costs, places, axis)
        costs = [
            _cost(costs, before, origin, place, axis) + price
            for place, origin, price in zip(places, origins, prices, strict=True)
        ]
        came_from.append(origins)
    last = [
        cost + (extent.high - place + half - axis.mean_in) ** 2
        for place, cost in zip(choices[-1], costs, strict=True)
    ]
    return _trace(choices, came_from, last.index(min(last)))


def _cost(costs: list[float], before: Sequence[float], origin: int, place: float, axis: Axis) -> float:
    """What all joints up to ``place`` cost, its own harm left out, with the one before it at ``origin``."""
    if origin == _NONE:
        return math.inf
    return costs[origin] + (place - before[origin] + axis.overlap_in - axis.mean_in) ** 2


def _origins(before: Sequence[float], costs: list[float], places: Sequence[float], axis: Axis) -> list[int]:
    """For each of the rising ``places`` the index of the best joint before it; _NONE when none is in reach.

    A square is convex, so the best origin never moves back as the place moves on (the Monge property). The
    middle place's origin therefore bounds those of the places on either side, and halving does the rest.
    """
    step = least_step(axis.view_in, axis.overlap_in) - _TINY
    most = axis.view_in - axis.overlap_in + _TINY
    overlap, mean = axis.overlap_in, axis.mean_in  # _cost written out: a hundred thousand origins are tried
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
        tried = [costs[index] + (place - before[index] + overlap - mean) ** 2 for index in reach]
        least = min(tried, default=math.inf)
        if least < math.inf:
            origin = origins[middle] = reach[tried.index(least)]
            parts += [(first, middle, low, origin + 1), (middle + 1, last, origin, high)]
        else:
            parts += [(first, middle, low, high), (middle + 1, last, low, high)]
    return origins


def _trace(choices: Sequence[Sequence[float]], came_from: list[list[int]], last: int) -> tuple[float, ...]:
    index, chain = last, [choices[-1][last]]
    for places, origins in zip(reversed(choices[:-1]), reversed(came_from), strict=True):
        index = origins[index]
        chain.append(places[index])
    return tuple(reversed(chain))
