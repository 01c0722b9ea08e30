"""How well suspects explain readings: each one's amount by least squares, and what is left over."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

from templates_engine.sheets.measured_places import Span
from templates_engine.sheets.readings import Taken
from templates_engine.sheets.suspects import Cells, Suspect

MOST_SUSPECTS_IN_PAIRS = 60
"""All pairs are tried only for templates of few sheets; of many, those with a scale or a turn alone."""


@dataclass(frozen=True)
class Explanation:
    """One or two suspects with their amounts (scale as a share, slip in inches), and what they leave over."""

    suspects: tuple[Suspect, ...]
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
        return tuple(one.reading for one in self.suspects if one.kind == "misread")

    @property
    def is_told(self) -> bool:
        """Whether it says something of the sheets; a misread reading must be read again first."""
        return not self.misread

    def expected_off_in(self, span: Span, cells: Cells) -> float:
        """By how much a reading over a span would be off."""
        return sum(
            cells.effect(suspect, span) * amount
            for suspect, amount in zip(self.suspects, self.amounts, strict=True)
        )


def explanations(
    taken: Sequence[Taken], suspects: Sequence[Suspect], cells: Cells, how_many: int
) -> Iterator[Explanation]:
    """Each plausible way that ``how_many`` suspects (one or two) come to the readings, by least squares."""
    columns = {one: _column(one, taken, cells) for one in suspects}
    offs = [each.off_in for each in taken]
    for group in _groups(suspects, how_many):
        fitted = _least_squares([columns[one] for one in group], offs)
        if fitted is None:
            continue
        amounts, within = fitted
        if all(one.is_plausible(amount) for one, amount in zip(group, amounts, strict=True)):
            sums = (
                sum(columns[one][row] * amount for one, amount in zip(group, amounts, strict=True))
                for row in range(len(taken))
            )
            left = tuple(off - explained for off, explained in zip(offs, sums, strict=True))
            yield Explanation(tuple(group), amounts, left, within)


def _column(suspect: Suspect, taken: Sequence[Taken], cells: Cells) -> list[float]:
    """The effect of one unit on each reading."""
    if suspect.kind == "misread":
        return [float(number == suspect.reading) for number in range(len(taken))]
    return [cells.effect(suspect, each.span) for each in taken]


def _groups(suspects: Sequence[Suspect], how_many: int) -> Iterator[tuple[Suspect, ...]]:
    if how_many == 1:
        yield from ((one,) for one in suspects)
        return
    few = len(suspects) <= MOST_SUSPECTS_IN_PAIRS
    for pair in combinations(suspects, 2):
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
