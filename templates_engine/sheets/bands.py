"""Joins both axes of a face: level joints cut it into bands, and each band gets upright joints of its own.

::

    +---------+---------------+
    |    1    |       2       |   band 0        level joints run from end to end; upright joints of
    +------+--+-----+---------+                 neighbouring bands meet, or stand LEAST_STRETCH_IN apart
    |  3   |   4    |    5    |   band 1
    +------+--------+---------+

Places down the face are -y here, so that both axes rise in reading order. What the sheets are is for face.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

from templates_engine.geometry import Interval
from templates_engine.sheets.joints import (
    CLEAR_IN,
    Axis,
    Obstacle,
    harm_at,
    joint_places,
    least_step,
)

MOST_STEPS = 100_000
"""How many pairs of level joints are weighed before the best plan found so far is taken."""
_TINY = 1e-9

Places = tuple[float, ...]


@dataclass(frozen=True)
class HoleSpots:
    """A hole as both axes see it; its spots (centre, quarter points) are in the same order along both."""

    across: Obstacle
    down: Obstacle

    def in_band(self, rows: Interval) -> Obstacle | None:
        """The hole as upright joints of a band meet it; None when its circle is clear of the band."""
        if rows.high <= self.down.low - CLEAR_IN + _TINY or rows.low >= self.down.high + CLEAR_IN - _TINY:
            return None
        spots = (
            along
            for along, spot in zip(self.across.spots, self.down.spots, strict=True)
            if rows.low < spot + CLEAR_IN - _TINY and rows.high > spot - CLEAR_IN + _TINY
        )
        return Obstacle(self.across.low, self.across.high, tuple(spots))


@dataclass(frozen=True)
class Joints:
    """All joints of a face: the level ones, and each band's upright ones."""

    level: Places
    upright: tuple[Places, ...]

    @property
    def strays(self) -> int:
        """How many upright joints do not go on in the next band."""
        return sum(len(set(below) - set(above)) for above, below in pairwise(self.upright))


@dataclass(frozen=True)
class Field:
    """A face to be cut up: both axes and the holes."""

    across: Axis
    down: Axis
    holes: tuple[HoleSpots, ...]

    @cached_property
    def level_obstacles(self) -> tuple[Obstacle, ...]:
        return tuple(hole.down for hole in self.holes)

    def band_obstacles(self, rows: Interval) -> tuple[Obstacle, ...]:
        """The holes as upright joints between two level ones meet them."""
        return tuple(found for hole in self.holes if (found := hole.in_band(rows)))

    def bands(self, level: Places) -> Iterator[Interval]:
        """What lies between level joints."""
        extent = self.down.extent
        return (Interval(low, high) for low, high in pairwise((extent.low, *level, extent.high)))

    def harm(self, joints: Joints) -> int:
        """What all joints do to the holes; a hole that a level joint cuts counts in both bands."""
        total = sum(harm_at(place, self.level_obstacles) for place in joints.level)
        for rows, places in zip(self.bands(joints.level), joints.upright, strict=True):
            obstacles = self.band_obstacles(rows)
            total += sum(harm_at(place, obstacles) for place in places)
        return total

    def cuts(self, joints: Joints, hole: HoleSpots) -> bool:
        """Whether a joint crosses the hole's circle."""
        if any(map(hole.down.is_cut, joints.level)):
            return True
        return any(
            found is not None and any(map(found.is_cut, places))
            for rows, places in zip(self.bands(joints.level), joints.upright, strict=True)
            for found in (hole.in_band(rows),)
        )

    def rank(self, joints: Joints) -> tuple[int, int, float]:
        """Least harm, then upright joints that run through, then even sheets."""
        uneven = self.down.unevenness(joints.level)
        uneven += sum(self.across.unevenness(places) for places in joints.upright)
        return self.harm(joints), joints.strays, uneven


def best_joints(field: Field) -> Joints:
    """The joints that do least harm with fewest sheets; upright ones run through where that costs nothing.

    Every band takes as many columns: a further one would be a further sheet. With one band or one column, and
    wherever no hole need be harmed, the straight joints are the best there are. Else each band's joints are
    weighed alone for every choice of level joints (``_weighed``), and bands whose joints then come too near
    each other are settled in turn (``_settled``). That is exact in harm where settling raises none, which is
    where the harm equals that of the bands alone, and where MOST_STEPS did not run out.
    """
    straight = _straight(field)
    if field.across.count == 1 or field.down.count == 1 or field.harm(straight) == 0:
        return straight
    return min((straight, _settled(field, straight.level), _settled(field, _weighed(field))), key=field.rank)


def _straight(field: Field) -> Joints:
    """Every upright joint from top to bottom: either axis is at its best alone."""
    level = joint_places(field.down, field.level_obstacles)
    upright = joint_places(field.across, tuple(hole.across for hole in field.holes))
    assert level is not None
    assert upright is not None
    return Joints(level, (upright,) * field.down.count)


def _settled(field: Field, level: Places) -> Joints:
    """Upright joints for each band between the level ones, met or apart; the best of two orders."""
    obstacles = [field.band_obstacles(rows) for rows in field.bands(level)]
    down = _one_after_another(field, obstacles)
    up = _one_after_another(field, obstacles[::-1])[::-1]
    found = [Joints(level, tuple(places)) for places in (down, up)]
    found += [_improved(field, joints, obstacles) for joints in found]
    return min(found, key=field.rank)


def _one_after_another(field: Field, obstacles: Sequence[tuple[Obstacle, ...]]) -> list[Places]:
    """Each band at its best beside the one before it, the first one free."""
    chosen: list[Places] = []
    for own in obstacles:
        beside = chosen[-1] if chosen else ()
        places = joint_places(field.across, own, beside)
        assert places is not None  # to meet all joints of the band before is always possible
        chosen.append(places)
    return chosen


def _improved(field: Field, joints: Joints, obstacles: Sequence[tuple[Obstacle, ...]]) -> Joints:
    """One band after another set anew between its neighbours, for as long as that helps."""
    best, rank = joints, field.rank(joints)
    changed = True
    while changed:
        changed = False
        for band, own in enumerate(obstacles):
            upright = best.upright
            neighbours = upright[max(band - 1, 0) : band] + upright[band + 1 : band + 2]
            beside = sorted({place for one in neighbours for place in one})
            places = joint_places(field.across, own, tuple(beside))
            if places is None:
                continue
            tried = Joints(best.level, (*upright[:band], places, *upright[band + 1 :]))
            if (found := field.rank(tried)) < rank:
                best, rank, changed = tried, found, True
    return best


def _weighed(field: Field) -> Places:
    """The level joints that do the least harm together with the best upright joints of each band taken alone.

    A shortest way from joint to joint: an untried band counts as harmless, the bands on the best way are
    tried, and again, until every band on the best way has been tried; then no other way is better.
    """
    return _Level(field).best()


class _Level:
    """The search for level joints; bands that hold the same holes and spots are tried once."""

    def __init__(self, field: Field) -> None:
        self._field = field
        holes = field.level_obstacles
        lows = {low - CLEAR_IN for hole in holes for low in (hole.low, *hole.spots)}
        highs = {high + CLEAR_IN for hole in holes for high in (hole.high, *hole.spots)}
        self._starts, self._ends = sorted(lows), sorted(highs)
        self._tried: dict[tuple[int, int], float] = {}
        extent = field.down.extent
        self._stages = [[extent.low], *field.down.stages(holes), [extent.high]]
        self._mean = field.down.mean_in
        self._price = field.across.most_uneven_in2 * field.down.count + field.down.most_uneven_in2
        places = {place for stage in self._stages for place in stage}
        self._ended = {place: bisect_right(self._ends, place + _TINY) for place in places}
        self._begun = {place: bisect_left(self._starts, place - _TINY) for place in places}
        self._own = {
            place: self._price * harm_at(place, holes) for stage in self._stages[1:-1] for place in stage
        }

    def best(self) -> Places:
        pairs = sum(len(before) * len(after) for before, after in pairwise(self._stages))
        best: tuple[float, Places] | None = None
        for _ in range(max(2, MOST_STEPS // pairs)):
            chain = self._cheapest()
            new = [rows for rows in pairwise(chain) if self._key(*rows) not in self._tried]
            for rows in new:
                self._try(*rows)
            cost = self._cost(chain)
            if best is None or cost < best[0]:
                best = (cost, chain[1:-1])
            if not new:
                break
        assert best is not None
        return best[1]

    def _key(self, low: float, high: float) -> tuple[int, int]:
        """Bands with the same key hold the same: what has ended before them, and what has begun within."""
        return self._ended[low], self._begun[high]

    def _try(self, low: float, high: float) -> None:
        obstacles = self._field.band_obstacles(Interval(low, high))
        places = joint_places(self._field.across, obstacles)
        assert places is not None
        harm = sum(harm_at(place, obstacles) for place in places)
        self._tried[self._key(low, high)] = self._price * harm + self._field.across.unevenness(places)

    def _band(self, low: float, high: float) -> float:
        """What a band costs, as far as is known."""
        return (self._height(low, high) - self._mean) ** 2 + self._tried.get(self._key(low, high), 0.0)

    def _cost(self, chain: Places) -> float:
        own = sum(self._own[place] for place in chain[1:-1])
        return own + sum(self._band(*rows) for rows in pairwise(chain))

    def _cheapest(self) -> Places:
        """The best way from end to end by what is known so far."""
        down = self._field.down
        step = least_step(down.view_in, down.overlap_in) - _TINY
        ways: list[tuple[float, Places]] = [(0.0, (down.extent.low,))]
        for stage in self._stages[1:]:
            following = []
            for place in stage:
                reached = [
                    (cost + self._band(way[-1], place), way)
                    for cost, way in ways
                    if step <= place - way[-1] and self._height(way[-1], place) <= down.view_in + _TINY
                ]
                if reached:
                    cost, way = min(reached)
                    following.append((cost + self._own.get(place, 0.0), (*way, place)))
            ways = following
        return min(ways)[1]

    def _height(self, low: float, high: float) -> float:
        down = self._field.down
        ends = (low > down.extent.low) + (high < down.extent.high)
        return high - low + ends * down.overlap_in / 2
