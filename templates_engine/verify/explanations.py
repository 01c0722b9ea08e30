"""How well causes explain readings: each one's amount by least squares, and what is left over."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

from templates_engine.verify.causes import Cause, Effects
from templates_engine.verify.distances import Distance
from templates_engine.verify.readings import Reading

MOST_SUSPECTS_IN_PAIRS = 60
"""All pairs are tried only for templates of few sheets; of many, those with a scale or a turn alone."""


@dataclass(frozen=True)
class Explanation:
    """One or two causes with their amounts (scale as a share, slip in inches), and what they leave over."""

    causes: tuple[Cause, ...]
    amounts: tuple[float, ...]
    left_in: tuple[float, ...]
    within: tuple[float, ...]
    """How far each amount may be off for a reading that is off by one inch, root of squares."""

    @property
    def worst_in(self) -> float:
        return max(map(abs, self.left_in))

    @property
    def squares_in2(self) -> float:
        return sum(left * left for left in self.left_in)

    @property
    def misread(self) -> tuple[int, ...]:
        """The numbers of the readings it takes for wrong."""
        return tuple(one.reading for one in self.causes if one.kind == "misread")

    @property
    def is_told(self) -> bool:
        """Whether it says something of the sheets; a misread reading must be read again first."""
        return not self.misread

    def expected_off_in(self, distance: Distance, cells: Effects) -> float:
        """By how much a reading over a distance would be off."""
        return sum(
            cells.effect(cause, distance) * amount
            for cause, amount in zip(self.causes, self.amounts, strict=True)
        )


def explanations(
    readings: Sequence[Reading], causes: Sequence[Cause], cells: Effects, how_many: int
) -> Iterator[Explanation]:
    """Each plausible way that ``how_many`` causes (one or two) come to the readings, by least squares."""
    columns = {one: _column(one, readings, cells) for one in causes}
    offs = [each.off_in for each in readings]
    for group in _groups(causes, how_many):
        fitted = _least_squares([columns[one] for one in group], offs)
        if fitted is None:
            continue
        amounts, within = fitted
        if all(one.is_plausible(amount) for one, amount in zip(group, amounts, strict=True)):
            sums = (
                sum(columns[one][row] * amount for one, amount in zip(group, amounts, strict=True))
                for row in range(len(readings))
            )
            left = tuple(off - explained for off, explained in zip(offs, sums, strict=True))
            yield Explanation(tuple(group), amounts, left, within)


def _column(cause: Cause, readings: Sequence[Reading], cells: Effects) -> list[float]:
    """The effect of one unit on each reading."""
    if cause.kind == "misread":
        return [float(number == cause.reading) for number in range(len(readings))]
    return [cells.effect(cause, each.distance) for each in readings]


def _groups(causes: Sequence[Cause], how_many: int) -> Iterator[tuple[Cause, ...]]:
    if how_many == 1:
        yield from ((one,) for one in causes)
        return
    few = len(causes) <= MOST_SUSPECTS_IN_PAIRS
    for pair in combinations(causes, 2):
        if few or any(one.kind in ("scale", "turn") for one in pair):
            yield pair


def _least_squares(
    columns: Sequence[Sequence[float]], wanted: Sequence[float]
) -> tuple[tuple[float, ...], tuple[float, ...]] | None:
    """The amounts of one or two columns that leave the least squares, and the root of each one's variance for
    readings of variance 1; None when the readings do not tell them apart."""
    squares = [sum(value * value for value in column) for column in columns]
    if min(squares) < 1e-6:
        return None
    right = [sum(a * b for a, b in zip(column, wanted, strict=True)) for column in columns]
    if len(columns) == 1:
        return (right[0] / squares[0],), (1 / math.sqrt(squares[0]),)
    cross = sum(a * b for a, b in zip(columns[0], columns[1], strict=True))
    determinant = squares[0] * squares[1] - cross * cross
    if determinant < 1e-4 * squares[0] * squares[1]:
        return None
    first = (right[0] * squares[1] - right[1] * cross) / determinant
    second = (right[1] * squares[0] - right[0] * cross) / determinant
    return (first, second), (math.sqrt(squares[1] / determinant), math.sqrt(squares[0] / determinant))
