"""Where sheets join along one axis: fewest sheets, then least harm to holes, then most even windows.

::

    low                  j1                   j2              high      the axis, inches
     |--------------------|--------------------|----------------|
     [first window ..........]                                          window k reaches half the overlap past
                       [second window ...........]                      the joints at its ends, and none is
                                            [last window .......]       longer than the view

A joint is a line the later sheet is trimmed along. What holes there are, and the other axis, are for bands.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import chain, pairwise

from templates_engine.geometry import Interval
from templates_engine.sheets.model import CROSS_ARM_IN

GRID_IN = 1 / 16
"""Joints stand on tape graduations of the axis unless a hole's side or a full view asks for another place."""
MOST_PLACES = 200
"""With more graduations than this to choose from for one joint, a coarser grid is taken."""
CLEAR_IN = 1 / 16
"""A joint nearer than this to a circle, centre or quarter point is counted as cutting it."""
SPOT_CLEAR_IN = 1 / 4
"""A joint nearer than this to a centre or quarter point leaves little paper under the punch."""
NEAR_HARM, CIRCLE_HARM, CLOSE_HARM, SPOT_HARM = 1, 1000, 1000, 2000
"""What a joint costs in a hole's cross-lines, where its label wants to stand, and in its circle; how much
more close to its centre or a quarter point, and how much on it. No plan has so many cross-lines at joints
that they outweigh it."""
LEAST_STRETCH_IN = 2.0
"""A shorter piece of joint has no room for marks: joints of neighbouring bands meet or keep this apart."""
_STRAY = 1e-4
"""What it costs a joint not to meet one of the next band: less than any harm, more than any unevenness."""
_NONE = -1
_TINY = 1e-9


Beside = tuple[tuple[float, ...], ...]
"""The joints of the bands above and below one."""


@dataclass(frozen=True)
class Obstacle:
    """A hole as this axis sees it: the stretch its circle takes, its centre and its quarter points."""

    low: float
    high: float
    spots: tuple[float, ...] = ()

    def is_cut(self, place: float) -> bool:
        """Whether a joint at ``place`` cuts the circle; just ``CLEAR_IN`` away from it does not."""
        return self.low - CLEAR_IN + _TINY < place < self.high + CLEAR_IN - _TINY

    def is_near(self, place: float) -> bool:
        """Whether a joint at ``place`` crosses the cross-lines, or cuts."""
        return self.low - CROSS_ARM_IN + _TINY < place < self.high + CROSS_ARM_IN - _TINY

    def harm(self, place: float) -> int:
        """What a joint at ``place`` costs."""
        if not self.is_cut(place):
            return NEAR_HARM if self.is_near(place) else 0
        nearest = min((abs(place - spot) for spot in self.spots), default=math.inf)
        if nearest < CLEAR_IN - _TINY:
            return CIRCLE_HARM + SPOT_HARM
        return CIRCLE_HARM + CLOSE_HARM * (nearest < SPOT_CLEAR_IN - _TINY)

    @property
    def edges(self) -> Iterator[float]:
        """The places where the harm changes, each on the less harmful side."""
        for reach in (CLEAR_IN, CROSS_ARM_IN):
            yield from (self.low - reach, self.high + reach)
        for spot in self.spots:
            for reach in (CLEAR_IN, SPOT_CLEAR_IN):
                yield from (spot - reach, spot + reach)


@dataclass(frozen=True)
class Axis:
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
        """More than the unevenness of any joints."""
        return (self.count + 1) * self.view_in**2 + 1.0

    def unevenness(self, joints: tuple[float, ...]) -> float:
        """The sum of the squares by which the windows miss their mean, square inches."""
        shown = windows(self.extent, joints, self.overlap_in)
        return sum((window.high - window.low - self.mean_in) ** 2 for window in shown)

    def stages(self, obstacles: tuple[Obstacle, ...]) -> list[list[float]]:
        """For each joint the places worth trying."""
        limits = joint_limits(self.extent, self.count, self.view_in, self.overlap_in)
        return [candidates(one, obstacles) for one in limits]


def fewest(length: float, view: float, overlap: float) -> int:
    """How many windows of at most ``view`` cover ``length``, neighbours sharing ``overlap`` (< ``view``)."""
    return max(1, math.ceil((length - overlap - _TINY) / (view - overlap)))


def harm_at(place: float, obstacles: Iterable[Obstacle]) -> int:
    """What a joint at ``place`` costs in all."""
    return sum(obstacle.harm(place) for obstacle in obstacles)


def joint_places(
    axis: Axis, obstacles: tuple[Obstacle, ...], beside: Beside = ()
) -> tuple[float, ...] | None:
    """The best joints along the axis, in rising order; none when one window shows it all.

    Exact over ``candidates``: the fewest windows, then the least harm, then the most even windows. Those of
    the bands ``beside`` are met or kept LEAST_STRETCH_IN away from, and rather met; None when that cannot be.
    """
    stages = axis.stages(obstacles)
    if beside:
        limits = joint_limits(axis.extent, axis.count, axis.view_in, axis.overlap_in)
        stages = [_clear_of(beside, stage, limit) for stage, limit in zip(stages, limits, strict=True)]
    return _best_chain(stages, axis, obstacles, beside)


def can_spare_all(axis: Axis, obstacles: tuple[Obstacle, ...]) -> bool:
    """Whether joints straight through can keep off every circle; sooner told than they are found."""
    step = least_step(axis.view_in, axis.overlap_in) - _TINY
    most = axis.view_in - axis.overlap_in + _TINY
    reached: list[float] | None = None
    for stage in axis.stages(obstacles):
        free = _uncut(stage, obstacles)
        if reached is not None:
            free = [
                place
                for place in free
                if bisect_left(reached, place - most) < bisect_right(reached, place - step)
            ]
        if not free:
            return False
        reached = free
    return True


def _uncut(places: list[float], obstacles: tuple[Obstacle, ...]) -> list[float]:
    """The places at which a joint cuts no circle; ``places`` rise."""
    free = [True] * len(places)
    for obstacle in obstacles:
        low = bisect_right(places, obstacle.low - CLEAR_IN + _TINY)
        high = bisect_left(places, obstacle.high + CLEAR_IN - _TINY)
        free[low:high] = [False] * (high - low)
    return [place for place, is_free in zip(places, free, strict=True) if is_free]


def windows(extent: Interval, joints: tuple[float, ...], overlap: float) -> tuple[Interval, ...]:
    """What each sheet shows along the axis."""
    lows = (extent.low, *(joint - overlap / 2 for joint in joints))
    highs = (*(joint + overlap / 2 for joint in joints), extent.high)
    return tuple(Interval(low, high) for low, high in zip(lows, highs, strict=True))


def least_step(view: float, overlap: float) -> float:
    """How near two joints may stand: so far that only neighbours overlap, where even windows allow it."""
    return min(max(LEAST_STRETCH_IN, overlap), (view - overlap) / 2)


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


def keeps_off(place: float, beside: Beside) -> bool:
    """Whether a joint at ``place`` meets one of each band beside, or leaves pieces long enough for marks.

    A band's own joints may stand nearer each other than that.
    """
    return all(
        place in band or all(abs(place - other) >= LEAST_STRETCH_IN - _TINY for other in band)
        for band in beside
    )


def _clear_of(beside: Beside, stage: list[float], limits: Interval) -> list[float]:
    """The places of a stage that keep off the joints beside, and those joints and their least distances."""
    others = chain.from_iterable(beside)
    around = {other + by for other in others for by in (-LEAST_STRETCH_IN, 0.0, LEAST_STRETCH_IN)}
    places = {*stage, *(place for place in around if limits.low <= place <= limits.high)}
    return sorted(place for place in places if keeps_off(place, beside))


def _best_chain(
    stages: list[list[float]], axis: Axis, obstacles: tuple[Obstacle, ...], beside: Beside
) -> tuple[float, ...] | None:
    """One place from each stage at the least cost, by dynamic programming from the first joint to the last.

    The cost is one number: harm counts for more than any unevenness.
    """
    if not stages:
        return ()
    if not all(stages):
        return None
    extent, half = axis.extent, axis.overlap_in / 2
    harm_price = axis.most_uneven_in2 / (_STRAY if beside else 1.0)
    own = [[harm_price * harm for harm in _harms(places, obstacles, beside)] for places in stages]
    costs = [
        price + (place + half - extent.low - axis.mean_in) ** 2
        for place, price in zip(stages[0], own[0], strict=True)
    ]
    came_from: list[list[int]] = []
    for (before, places), prices in zip(pairwise(stages), own[1:], strict=True):
        origins = _origins(before, costs, places, axis)
        costs = [
            _cost(costs, before, origin, place, axis) + price
            for place, origin, price in zip(places, origins, prices, strict=True)
        ]
        came_from.append(origins)
    last = [
        cost + (extent.high - place + half - axis.mean_in) ** 2
        for place, cost in zip(stages[-1], costs, strict=True)
    ]
    least = min(last)
    return None if least == math.inf else _trace(stages, came_from, last.index(least))


def _cost(costs: list[float], before: list[float], origin: int, place: float, axis: Axis) -> float:
    """What all joints up to ``place`` cost, its own harm left out, with the one before it at ``origin``."""
    if origin == _NONE:
        return math.inf
    return costs[origin] + (place - before[origin] + axis.overlap_in - axis.mean_in) ** 2


def _origins(before: list[float], costs: list[float], places: list[float], axis: Axis) -> list[int]:
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


def _harms(places: list[float], obstacles: tuple[Obstacle, ...], beside: Beside) -> list[float]:
    """The harm of each place, looking only at the places near each obstacle; ``places`` rise."""
    met = set(chain.from_iterable(beside))
    harms = [_STRAY if beside and place not in met else 0.0 for place in places]
    for obstacle in obstacles:
        near = slice(
            bisect_left(places, obstacle.low - CROSS_ARM_IN),
            bisect_right(places, obstacle.high + CROSS_ARM_IN),
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
