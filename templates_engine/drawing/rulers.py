"""Turns a length into a ruler's ticks and numbers, true to scale, for the face's edges and the scale bars."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from templates_engine.drawing.shapes import Line, Shape
from templates_engine.drawing.style import SMALL_PT, TICK, capital_height_in
from templates_engine.drawing.words import width_in
from templates_engine.geometry import Point, Rect
from templates_engine.units import MM_PER_INCH, Unit, feet_inches
from templates_engine.values import Struct

MM_IN = 1 / MM_PER_INCH
NUMBER_GAP_IN = 0.06
"""Between a tick's tip and its number."""


class Graduation(Struct, frozen=True):
    """One tick: its distance from the ruler's zero and its length, inches."""

    at_in: float
    length_in: float
    numbers: tuple[str, ...]
    """What may be written at it, the fullest first; nothing at most ticks."""


def graduations(length_in: float, unit: Unit) -> Iterator[Graduation]:
    """Every 1/16 in with the inches numbered, or every millimetre with the centimetres numbered in mm,
    zero included. From a foot on, every half foot is told in feet and inches too.
    """
    step, levels = (1 / 16, _INCH_TICKS) if unit == "in" else (MM_IN, _MM_TICKS)
    count = int(length_in / step + 1e-6)
    for index in range(count + 1):
        length = next(tick for every, tick in levels if index % every == 0)
        yield Graduation(index * step, length, _numbers(index, unit) if index % levels[0][0] == 0 else ())


def _numbers(index: int, unit: Unit) -> tuple[str, ...]:
    """At an inch, or at a centimetre: "18 = 1'-6\"", "18"."""
    if unit == "mm":
        return (str(index),)
    inches = index // 16
    if inches < 12 or inches % _TOLD_IN_FEET_IN:
        return (str(inches),)
    return f"{inches} = {feet_inches(inches)}", str(inches)


LONGEST_TICK_IN = 0.24
_INCH_TICKS = ((16, LONGEST_TICK_IN), (8, 0.18), (4, 0.13), (2, 0.09), (1, 0.06))
_TOLD_IN_FEET_IN = 6
"""So near each other that most sheets show one."""
_MM_TICKS = ((10, LONGEST_TICK_IN), (5, 0.15), (1, 0.09))


def ticks(
    length_in: float,
    unit: Unit,
    place: Callable[[float, float], Point],
    skip: Callable[[Point], bool] = lambda _: False,
) -> Iterator[Shape]:
    """The ticks along a line.

    ``place(along, across)`` gives the point ``along`` inches from the ruler's zero and ``across`` inches off
    its line, on the side the ticks stand on. Ticks whose tip ``skip`` refuses are left out.
    """
    for mark in graduations(length_in, unit):
        start, tip = place(mark.at_in, 0.0), place(mark.at_in, mark.length_in)
        if not skip(tip):
            yield Line(start, tip, TICK, "ruler")


class RulerNumber(Struct, frozen=True):
    """A number at a tick: where its ink goes for each way to write it, the fullest first."""

    tip: Point
    ways: tuple[tuple[str, Rect], ...]


def numbers(length_in: float, unit: Unit, place: Callable[[float, float], Point]) -> Iterator[RulerNumber]:
    """The level numbers along a line, but for those at its ends."""
    height = capital_height_in(SMALL_PT)
    for mark in graduations(length_in, unit):
        if not mark.numbers or not 0 < mark.at_in < length_in - 0.2:
            continue
        start, tip = place(mark.at_in, 0.0), place(mark.at_in, mark.length_in)
        ways = []
        for number in mark.numbers:
            width = width_in(number, SMALL_PT)
            half = (width if abs(tip.x - start.x) > abs(tip.y - start.y) else height) / 2
            at = place(mark.at_in, mark.length_in + NUMBER_GAP_IN + half)
            box = Rect(at.x - width / 2, at.y - height / 2, at.x + width / 2, at.y + height / 2)
            ways.append((number, box))
        yield RulerNumber(tip, tuple(ways))
