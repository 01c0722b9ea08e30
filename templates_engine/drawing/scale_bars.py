"""Draws scale bars: inches on one side of the line and millimetres on the other, and what a rule must
read.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from templates_engine.drawing.shapes import Line, Shape, Words
from templates_engine.drawing.style import BAR, SMALL_CAPITAL_IN, SMALL_PT
from templates_engine.drawing.words import width_in
from templates_engine.geometry import Point, Rect
from templates_engine.sheets.face_lines import line_rect
from templates_engine.sheets.model import BarLengths
from templates_engine.sheets.scale_bars import BAR_WIDTH_IN
from templates_engine.units import MM_PER_INCH

MM_IN = 1 / MM_PER_INCH
END_TICK_IN = 0.16
assert END_TICK_IN < BAR_WIDTH_IN / 2
TICK_IN = 0.09
HALF_TICK_IN = 0.06
WORDS_BACK_IN, WORDS_STEP_IN = 0.06, 0.05
"""From a bar's end back to its words, and by how much they move back further where a line is in their way."""


def bar(
    lengths: BarLengths,
    zero: Point,
    upright: bool,
    is_free: Callable[[Rect], bool] = lambda _: True,
    name: str = "",
) -> Iterator[Shape]:
    """A bar from ``zero`` to the right, or upward when ``upright``; inch ticks above (left), millimetres
    below (right). Its words stand as near its ends as ``is_free`` lets their rectangles be; its ``name`` goes
    before its inches where there is room.
    """

    def place(along: float, across: float) -> Point:
        return Point(zero.x - across, zero.y + along) if upright else Point(zero.x + along, zero.y + across)

    longest = max(float(lengths.inches), lengths.millimetres * MM_IN)
    yield Line(place(0, 0), place(longest, 0), BAR, "ruler")
    sides = ((2 * lengths.inches, 0.5, 2, 1), (lengths.millimetres // 10, 10 * MM_IN, 5, -1))
    for count, step, every, side in sides:
        for index in range(count + 1):
            tick = END_TICK_IN if index in (0, count) else TICK_IN if index % every == 0 else HALF_TICK_IN
            yield Line(place(index * step, 0), place(index * step, side * tick), BAR, "ruler")
    height, angle = SMALL_CAPITAL_IN, 90.0 if upright else 0.0
    inches, millimetres = f"{lengths.inches} in", f"{lengths.millimetres} mm"
    for texts, end_in, across in (
        ((f"{name} {inches}", inches) if name else (inches,), float(lengths.inches), 0.11),
        ((millimetres,), lengths.millimetres * MM_IN, -0.20),
    ):
        free = (
            (text, end)
            for text in texts
            for end in _ends(text, end_in)
            if is_free(line_rect(place(end - width_in(text, SMALL_PT), across), place(end, across + height)))
        )
        text, end = next(free, (texts[-1], end_in - WORDS_BACK_IN))
        yield Words(place(end, across), (text,), SMALL_PT, "ruler", "right", angle=angle)


def _ends(text: str, end_in: float) -> Iterator[float]:
    """Where along a bar the words may end, the nearest to its end first."""
    steps = int((end_in - width_in(text, SMALL_PT) - 2 * WORDS_BACK_IN) / WORDS_STEP_IN)
    for step in range(max(steps, 0) + 1):
        yield end_in - WORDS_BACK_IN - step * WORDS_STEP_IN
