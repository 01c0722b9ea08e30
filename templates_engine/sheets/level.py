"""Finds the level joints that leave each band, taken alone, the least harm; settling bands is for bands."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator
from itertools import pairwise

from templates_engine.geometry import Interval
from templates_engine.sheets.field import Field, Places
from templates_engine.sheets.joints import CLEAR_IN, SPOT_CLEAR_IN, harm_at, joint_places, least_step

MOST_STEPS = 30_000
"""How many pairs of level joints are weighed before the best found so far is taken."""
MOST_LEVELS = 40
"""With several level joints, from so many places each is chosen: those that do the least harm themselves."""
MOST_TRIED = 100
"""How many bands are tried alone for a single level joint."""
_TINY = 1e-9


class LevelSearch:
    """The search; bands that hold the same holes and spots are tried once."""

    def __init__(self, field: Field) -> None:
        self._field = field
        holes = field.level_obstacles
        spots = [spot for hole in holes for spot in hole.spots]
        # A band's holes and spots change nowhere else: see HoleSpots.in_band.
        starts = sorted({*(hole.low - CLEAR_IN for hole in holes), *(spot - SPOT_CLEAR_IN for spot in spots)})
        ends = sorted({*(hole.high + CLEAR_IN for hole in holes), *(spot + SPOT_CLEAR_IN for spot in spots)})
        self._tried: dict[tuple[int, int], float] = {}
        self._stages = list(_stages(field))
        self._mean = field.down.mean_in
        self._price = field.across.most_uneven_in2 * field.down.count + field.down.most_uneven_in2
        places = {place for stage in self._stages for place in stage}
        self._ended = {place: bisect_right(ends, place + _TINY) for place in places}
        self._begun = {place: bisect_left(starts, place - _TINY) for place in places}
        self._own = {
            place: self._price * harm_at(place, holes) for stage in self._stages[1:-1] for place in stage
        }

    def choices(self, most_harm: int) -> Iterator[tuple[int, Places]]:
        """Level joints worth settling, best first, each with the least harm that they and the bands do.

        With one level joint, every choice that may do less than ``most_harm``; with more, the best one found.
        """
        chains = self._each(most_harm) if len(self._stages) == 3 else [self._best()]
        for chain in chains:
            yield int(self._cost(chain) / self._price), chain[1:-1]

    def _each(self, most_harm: int) -> list[Places]:
        """The best chain through a single level joint for any two bands it may make, the cheapest first."""
        (low,), middle, (high,) = self._stages
        best: dict[tuple[tuple[int, int], tuple[int, int]], Places] = {}
        for place in sorted(middle, key=self._own.__getitem__):
            if len(self._tried) < MOST_TRIED and self._own[place] < self._price * most_harm:
                chain = (low, place, high)
                keys = self._key(low, place), self._key(place, high)
                self._try_all(chain)
                best[keys] = min(best.get(keys, chain), chain, key=self._cost)
        return sorted(best.values(), key=self._cost)

    def _best(self) -> Places:
        """The chain that costs the least with every band taken alone, or the best found in MOST_STEPS.

        A shortest way from joint to joint: an untried band counts as harmless, the bands on the best way are
        tried, and again, until every band on the best way has been tried; then no other way is better.
        """
        pairs = sum(len(before) * len(after) for before, after in pairwise(self._stages))
        found: list[Places] = []
        for _ in range(max(2, MOST_STEPS // pairs)):
            found.append(self._cheapest())
            if not self._try_all(found[-1]):
                break
        return min(found, key=self._cost)

    def _try_all(self, chain: Places) -> bool:
        """Whether any band of the chain had not been tried yet; now all have."""
        new = [rows for rows in pairwise(chain) if self._key(*rows) not in self._tried]
        for rows in new:
            self._try(*rows)
        return bool(new)

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


def _stages(field: Field) -> Iterator[list[float]]:
    """The start, the places for each level joint, and the end."""
    extent, obstacles = field.down.extent, field.level_obstacles
    yield [extent.low]
    stages = field.down.stages(obstacles)
    for stage in stages:
        if len(stages) > 1 and len(stage) > MOST_LEVELS:
            middle = (stage[0] + stage[-1]) / 2
            ranked = sorted((harm_at(place, obstacles), abs(place - middle), place) for place in stage)
            yield sorted({place for _, _, place in ranked[:MOST_LEVELS]} | {stage[0], stage[-1]})
        else:
            yield stage
    yield [extent.high]
