"""Finds the upright joints of all bands at once that harm holes least, for level joints that are given.

::

    band 0   +----1----+-------4------+      put in the order of the figures, each where harm changes; given
    band 1   +--2------+---5----------+      up where what is done and the least that must follow in each band
    band 2   +-----3---+----6---------+      come to no less than the best known

Branch and bound; which joints are the most even is for bands.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Iterator

from templates_engine.sheets.field import Field, Places
from templates_engine.sheets.joints import (
    LEAST_STRETCH_IN,
    harm_at,
    joint_limits,
    keeps_off,
    least_step,
)

MOST_TRIED = 1_000
"""How many partial choices are weighed before the best found so far is taken."""
_TINY = 1e-9


class Settling:
    """The search for one choice of level joints."""

    def __init__(self, field: Field, level: Places) -> None:
        axis = field.across
        self._obstacles = [field.band_obstacles(rows) for rows in field.bands(level)]
        self._level_harm = sum(harm_at(place, field.level_obstacles) for place in level)
        self._step = least_step(axis.view_in, axis.overlap_in) - _TINY
        self._most = axis.view_in - axis.overlap_in + _TINY
        limits = joint_limits(axis.extent, axis.count, axis.view_in, axis.overlap_in)
        self._places = [sorted(self._worth_trying(one.low, one.high)) for one in limits]
        self._bands, self._columns = range(len(self._obstacles)), range(len(self._places))
        self._least = [self._least_to_follow(band) for band in self._bands]
        self._least_alone = [min(least[0].values()) for least in self._least]
        self._chosen: list[list[float]] = [[] for _ in self._bands]
        self._tried = 0
        self._best: tuple[Places, ...] | None = None
        self._best_harm = math.inf

    def better_than(self, harm: int) -> tuple[Places, ...] | None:
        """Each band's joints with the least harm, level ones included, if that is less; None if it is not."""
        self._best_harm = harm
        self._put(0, self._level_harm)
        return self._best

    def _worth_trying(self, low: float, high: float) -> Iterator[float]:
        """Places for one joint: its limits, where any band's harm changes, and a stretch away from those."""
        changes = {edge for band in self._obstacles for hole in band for edge in hole.edges} | {low, high}
        around = {place + by for place in changes for by in (-LEAST_STRETCH_IN, 0.0, LEAST_STRETCH_IN)}
        return (place for place in around if low - _TINY <= place <= high + _TINY)

    def _least_to_follow(self, band: int) -> list[dict[float, float]]:
        """For each column and place the least harm of this band's joints from there on."""
        following: dict[float, float] = {}
        least: list[dict[float, float]] = []
        for column in reversed(self._columns):
            rising, is_last = list(following), column == self._columns[-1]
            here = {}
            for place in self._places[column]:
                reach = rising[
                    bisect_left(rising, place + self._step) : bisect_right(rising, place + self._most)
                ]
                rest = 0.0 if is_last else min((following[one] for one in reach), default=math.inf)
                here[place] = harm_at(place, self._obstacles[band]) + rest
            following = here
            least.append(here)
        return least[::-1]

    def _put(self, number: int, harm: float) -> None:
        """Put the joint of that number at every place that may lead to less harm, the likeliest first."""
        self._tried += 1
        if number == len(self._bands) * len(self._columns):
            self._best, self._best_harm = tuple(map(tuple, self._chosen)), harm
            return
        column, band = divmod(number, len(self._bands))
        others = sum(self._still(other) for other in self._bands if other != band)
        least = self._least[band][column]
        bounds = sorted((harm + others + least[place], place) for place in self._in_reach(band, column))
        for bound, place in bounds:
            if bound >= self._best_harm or self._tried > MOST_TRIED:
                return
            if self._keeps_off(place, band):
                self._chosen[band].append(place)
                self._put(number + 1, harm + harm_at(place, self._obstacles[band]))
                self._chosen[band].pop()

    def _still(self, band: int) -> float:
        """The least harm a band's joints that are yet to be put will do."""
        chosen, least = self._chosen[band], self._least[band]
        if not chosen:
            return self._least_alone[band]
        return least[len(chosen) - 1][chosen[-1]] - harm_at(chosen[-1], self._obstacles[band])

    def _in_reach(self, band: int, column: int) -> list[float]:
        places = self._places[column]
        if column == 0:
            return places
        before = self._chosen[band][-1]
        return places[bisect_left(places, before + self._step) : bisect_right(places, before + self._most)]

    def _keeps_off(self, place: float, band: int) -> bool:
        beside = (self._chosen[other] for other in (band - 1, band + 1) if other in self._bands)
        return keeps_off(place, tuple(map(tuple, beside)))
