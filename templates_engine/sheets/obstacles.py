"""Says what a joint costs at any place of an axis: nothing on free paper, most at a centre or quarter point.

::

    free | near |      cut     | near | free      near: within CROSS_ARM_IN of the circle
         :      (   .   +   .  )      :           cut: within CLEAR_IN of it; the more close to a spot
                   spots                          (centre, quarter points)
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator, Sequence
from functools import cached_property
from itertools import accumulate

from templates_engine.sheets.model import CROSS_ARM_IN
from templates_engine.values import Struct

CLEAR_IN = 1 / 16
"""A joint nearer than this to a circle, centre or quarter point is counted as cutting it."""
SPOT_CLEAR_IN = 1 / 4
"""A joint nearer than this to a centre or quarter point leaves little paper under the punch."""
NEAR_HARM, CIRCLE_HARM, CLOSE_HARM, SPOT_HARM = 1, 1000, 1000, 2000
"""What a joint costs in a hole's cross-lines, where its label wants to stand, and in its circle; how much
more close to its centre or a quarter point, and how much on it. No plan has so many cross-lines at joints
that they outweigh it."""
_TINY = 1e-9


class Obstacle(Struct, frozen=True, dict=True):
    """A hole as one axis sees it: from where to where its circle reaches, its centre and quarter points."""

    low: float
    high: float
    spots: tuple[float, ...] = ()

    def is_cut(self, place: float) -> bool:
        """Whether a joint at ``place`` cuts the circle; just ``CLEAR_IN`` away from it does not."""
        return self.low - CLEAR_IN + _TINY < place < self.high + CLEAR_IN - _TINY

    @property
    def edges(self) -> Iterator[float]:
        """The places where the harm changes, each on the less harmful side."""
        for reach in (CLEAR_IN, CROSS_ARM_IN):
            yield from (self.low - reach, self.high + reach)
        for spot in self.spots:
            for reach in (CLEAR_IN, SPOT_CLEAR_IN):
                yield from (spot - reach, spot + reach)

    @cached_property
    def parts(self) -> tuple[tuple[float, float, int], ...]:
        """Open intervals, each with what a joint there costs beside what it costs in those round it."""
        cut = self.low - CLEAR_IN + _TINY, self.high + CLEAR_IN - _TINY
        near = self.low - CROSS_ARM_IN + _TINY, self.high + CROSS_ARM_IN - _TINY
        close, on_spot = (
            _joined(
                (max(spot - reach + _TINY, cut[0]), min(spot + reach - _TINY, cut[1]))
                for spot in self.spots
                if spot - reach < cut[1] and cut[0] < spot + reach
            )
            for reach in (SPOT_CLEAR_IN, CLEAR_IN)
        )
        return (
            (*near, NEAR_HARM),
            (*cut, CIRCLE_HARM - NEAR_HARM),
            *((low, high, CLOSE_HARM) for low, high in close),
            *((low, high, SPOT_HARM - CLOSE_HARM) for low, high in on_spot),
        )


def _joined(intervals: Iterable[tuple[float, float]]) -> list[tuple[float, float]]:
    """The intervals, those that overlap made one."""
    made: list[tuple[float, float]] = []
    for low, high in sorted(intervals):
        if made and low < made[-1][1]:
            made[-1] = (made[-1][0], max(made[-1][1], high))
        else:
            made.append((low, high))
    return made


def harms_at(places: Sequence[float], obstacles: Iterable[Obstacle]) -> list[int]:
    """The harm of each of the rising ``places``: what begins and ends between them, summed up along them."""
    changes = [0] * (len(places) + 1)
    for obstacle in obstacles:
        if places and obstacle.low - CROSS_ARM_IN < places[-1] and places[0] < obstacle.high + CROSS_ARM_IN:
            for low, high, harm in obstacle.parts:
                changes[bisect_right(places, low)] += harm
                changes[bisect_left(places, high)] -= harm
    return list(accumulate(changes[:-1]))
