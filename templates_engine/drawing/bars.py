"""Scale bars: as long as fits, inches on one side of the line and millimetres on the other, and what a
rule must read.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from templates_engine.drawing.rulers import MM_IN
from templates_engine.drawing.shapes import Line, Shape, Words
from templates_engine.drawing.style import BAR, SMALL_PT
from templates_engine.geometry import Point

END_TICK_IN = 0.16
TICK_IN = 0.09
HALF_TICK_IN = 0.06


@dataclass(frozen=True)
class BarLengths:
    """What the two sides of a bar must read."""

    inches: int
    millimetres: int

    @property
    def words(self) -> str:
        return f"{self.inches} in and {self.millimetres} mm"


def bar_lengths(room_in: float) -> BarLengths:
    """The longest whole inches and whole centimetres that fit."""
    return BarLengths(int(room_in + 1e-9), int(room_in / MM_IN / 10 + 1e-9) * 10)


def bar(lengths: BarLengths, zero: Point, upright: bool) -> Iterator[Shape]:
    """A bar from ``zero`` to the right, or upward when ``upright``; inch ticks above (left), millimetres
    below (right).
    """

    def place(along: float, across: float) -> Point:
        return Point(zero.x - across, zero.y + along) if upright else Point(zero.x + along, zero.y + across)

    longest = max(float(lengths.inches), lengths.millimetres * MM_IN)
    yield Line(place(0, 0), place(longest, 0), BAR, "ruler")
    for index in range(2 * lengths.inches + 1):
        end = index in (0, 2 * lengths.inches)
        tick = END_TICK_IN if end else TICK_IN if index % 2 == 0 else HALF_TICK_IN
        yield Line(place(index / 2, 0), place(index / 2, tick), BAR, "ruler")
    for index in range(lengths.millimetres // 10 + 1):
        end = index in (0, lengths.millimetres // 10)
        tick = END_TICK_IN if end else TICK_IN if index % 5 == 0 else HALF_TICK_IN
        yield Line(place(index * 10 * MM_IN, 0), place(index * 10 * MM_IN, -tick), BAR, "ruler")
    angle = 90.0 if upright else 0.0
    yield Words(
        place(lengths.inches - 0.06, 0.11), (f"{lengths.inches} in",), SMALL_PT, "ruler", "right", angle=angle
    )
    yield Words(
        place(lengths.millimetres * MM_IN - 0.06, -0.20),
        (f"{lengths.millimetres} mm",),
        SMALL_PT,
        "ruler",
        "right",
        angle=angle,
    )
