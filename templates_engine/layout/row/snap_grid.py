"""Turns inches into the numbers a row is solved in: whole graduations when it snaps, plain inches when not.

Whole numbers keep a metric or any other graduation exact; graduation k lies at k times the step from u = 0.
"""

from __future__ import annotations

import math

from templates_engine.geometry import Interval
from templates_engine.layout.tolerance import TOLERANCE_IN
from templates_engine.values import Struct


class SnapGrid(Struct, frozen=True):
    """Graduations ``step_in`` inches apart, or none at all when it is None."""

    step_in: float | None

    def up(self, place_in: float) -> float:
        """The first graduation at or above a place or a distance."""
        if self.step_in is None or math.isinf(place_in):
            return place_in
        return math.ceil((place_in - TOLERANCE_IN) / self.step_in)

    def down(self, place_in: float) -> float:
        """The last graduation at or below a place."""
        if self.step_in is None or math.isinf(place_in):
            return place_in
        return math.floor((place_in + TOLERANCE_IN) / self.step_in)

    def near(self, place_in: float) -> float:
        """The nearest graduation; from exactly half way, the higher."""
        if self.step_in is None:
            return place_in
        return math.floor((place_in + TOLERANCE_IN) / self.step_in + 0.5)

    def inward(self, stretches: tuple[Interval, ...]) -> tuple[Interval, ...]:
        """The graduations inside each stretch; a stretch without one is left out."""
        if self.step_in is None:
            return stretches
        rounded = (Interval(self.up(low), self.down(high)) for low, high in stretches)
        return tuple(stretch for stretch in rounded if stretch.low <= stretch.high)

    def inches(self, number: float) -> float:
        """A number of graduations as inches."""
        return number if self.step_in is None else number * self.step_in


ANYWHERE = SnapGrid(None)
"""No graduations: the numbers are inches."""
