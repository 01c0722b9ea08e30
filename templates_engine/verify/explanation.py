"""Turns readings and what may be wrong into explanations: how large each cause is by least squares, and how
likely the whole is by Bayes' rule.

The normal equations of one or two causes are solved here: a library for them would be three times the size of
this program and take as long to load.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import combinations

from templates_engine.values import Struct
from templates_engine.verify.causes import HOW_LIKELY, Cause, Effects
from templates_engine.verify.distances import Distance
from templates_engine.verify.readings import Reading

MOST_CAUSES_IN_PAIRS = 60
"""All pairs are tried only for templates of few sheets; of many, those with a scale or a turn alone."""


class Explanation(Struct, frozen=True):
    """One or two causes with their amounts (scale as a share, slip in inches), and what they leave over."""

    causes: tuple[Cause, ...]
    amounts: tuple[float, ...]
    left_in: tuple[float, ...]
    within: tuple[float, ...]
    """How far each amount may be off for readings that are off by one inch, root of squares."""
    log_weight: float
    """The logarithm of how likely it is, beside the others of the same readings."""

    @property
    def worst_in(self) -> float:
        return max(map(abs, self.left_in))

    @property
    def misread(self) -> tuple[int, ...]:
        """The numbers of the readings it takes for wrong."""
        return tuple(one.reading for one in self.causes if one.kind == "misread")

    @property
    def is_about_sheets(self) -> bool:
        """Whether it finds the fault in the sheets; a reading taken for misread is to be read again first."""
        return not self.misread

    def expected_off_in(self, distance: Distance, effects: Effects) -> float:
        """By how much a reading over a distance would be off."""
        return sum(
            effects.effect(cause, distance) * amount
            for cause, amount in zip(self.causes, self.amounts, strict=True)
        )

    def includes(self, other: Explanation, within_in: float) -> bool:
        """Whether it says all that the other says, and perhaps more, for readings that are off by that."""
        mine = {cause: (amount, within) for cause, amount, within in self._each()}
        return all(
            cause in mine
            and abs(mine[cause][0] - amount) <= 2 * within_in * math.hypot(mine[cause][1], within)
            for cause, amount, within in other._each()
        )

    def _each(self) -> Iterator[tuple[Cause, float, float]]:
        yield from zip(self.causes, self.amounts, self.within, strict=True)


def explanations(
    readings: Sequence[Reading], causes: Sequence[Cause], effects: Effects, within_in: float
) -> Iterator[Explanation]:
    """Each possible way that one or two causes come to the readings, which are off by ``within_in``."""
    columns = {one: _column(one, readings, effects) for one in causes}
    offs = [each.off_in for each in readings]
    for group in _groups(causes):
        fit = _least_squares([columns[one] for one in group], offs)
        if fit is None:
            continue
        if all(one.is_possible(amount) for one, amount in zip(group, fit.amounts, strict=True)):
            sums = (
                sum(columns[one][row] * amount for one, amount in zip(group, fit.amounts, strict=True))
                for row in range(len(readings))
            )
            left = tuple(off - explained for off, explained in zip(offs, sums, strict=True))
            weight = _log_weight(group, fit, left, within_in)
            yield Explanation(group, fit.amounts, left, fit.within, weight)


def _column(cause: Cause, readings: Sequence[Reading], effects: Effects) -> list[float]:
    """The effect of one unit on each reading."""
    if cause.kind == "misread":
        return [float(number == cause.reading) for number in range(len(readings))]
    return [effects.effect(cause, each.distance) for each in readings]


def _groups(causes: Sequence[Cause]) -> Iterator[tuple[Cause, ...]]:
    yield from ((one,) for one in causes)
    few = len(causes) <= MOST_CAUSES_IN_PAIRS
    for pair in combinations(causes, 2):
        if few or any(one.kind in ("scale", "turn") for one in pair):
            yield pair


def _log_weight(causes: tuple[Cause, ...], fit: _Fit, left_in: Sequence[float], within_in: float) -> float:
    """The causes' odds, what the readings leave over, and the room the readings leave to the amounts.

    That last is what keeps two causes, which fit any readings better than one, from being believed for it.
    """
    odds = sum(one.log_odds(amount) for one, amount in zip(causes, fit.amounts, strict=True))
    misfit = sum(left * left for left in left_in) / (2 * within_in**2)
    # Of an amount that the readings say little of, its usual size is what bounds it.
    known = [
        square / within_in**2 + HOW_LIKELY[one.kind].usual ** -2
        for one, square in zip(causes, fit.squares, strict=True)
    ]
    room = -math.log(math.prod(known) - (fit.cross / within_in**2) ** 2) / 2
    return odds - misfit + room + len(causes) * math.log(2 * math.pi) / 2


class _Fit(Struct, frozen=True):
    amounts: tuple[float, ...]
    within: tuple[float, ...]
    """The root of each amount's variance for readings of variance 1."""
    squares: tuple[float, ...]
    """The normal equations' diagonal, and what stands beside it where there are two."""
    cross: float = 0.0


def _least_squares(columns: Sequence[Sequence[float]], wanted: Sequence[float]) -> _Fit | None:
    """The amounts of one or two columns that leave the least squares; None when the readings do not tell them
    apart."""
    squares = [_dot(column, column) for column in columns]
    if min(squares) < 1e-6:
        return None
    right = [_dot(column, wanted) for column in columns]
    if len(columns) == 1:
        return _Fit((right[0] / squares[0],), (1 / math.sqrt(squares[0]),), tuple(squares))
    cross = _dot(*columns)
    determinant = squares[0] * squares[1] - cross * cross
    if determinant < 1e-4 * squares[0] * squares[1]:
        return None
    first = (right[0] * squares[1] - right[1] * cross) / determinant
    second = (right[1] * squares[0] - right[0] * cross) / determinant
    within = math.sqrt(squares[1] / determinant), math.sqrt(squares[0] / determinant)
    return _Fit((first, second), within, tuple(squares), cross)


def _dot(one: Sequence[float], other: Sequence[float]) -> float:
    return sum(a * b for a, b in zip(one, other, strict=True))
