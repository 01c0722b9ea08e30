"""A face as its joints meet it: both axes, the holes, and what joints do to them; bands chooses them.

Places down the face are -y here, so that both axes rise in reading order.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

from templates_engine.geometry import Interval
from templates_engine.sheets.joints import CLEAR_IN, SPOT_CLEAR_IN, Axis, Obstacle, harm_at

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
            if rows.low < spot + SPOT_CLEAR_IN - _TINY and rows.high > spot - SPOT_CLEAR_IN + _TINY
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
