"""Splits a row at its given places into runs of free raceways; what places they want is for others.

::

    edge        pin                             pin        edge
     |   free    ( )   free     free     free    ( )  free   |
     end.........end                             end.......end      each end bounds the centres next to it
"""

from __future__ import annotations

from itertools import pairwise
from typing import Literal

from templates_engine.job.model import Spread
from templates_engine.layout.row.constraints import RowConstraints
from templates_engine.values import Struct


class Side(Struct, frozen=True):
    """The side of a raceway or limit that a run ends at, and the clear gap it asks for, inches."""

    at_in: float
    gap_in: float


class RunEnd(Struct, frozen=True):
    """What bounds a run at one end: the nearest centre keeps ``clear_in`` from ``at_in``.

    ``side`` is None for an edge of the flat, which asks for no clear gap.
    """

    at_in: float
    clear_in: float
    words: str
    side: Side | None = None


class FreeRun(Struct, frozen=True):
    """Free raceways ``first`` .. ``last`` (indexes, both included) and all that bounds them at either end."""

    first: int
    last: int
    low_ends: tuple[RunEnd, ...]
    high_ends: tuple[RunEnd, ...]

    @property
    def indexes(self) -> range:
        return range(self.first, self.last + 1)

    @property
    def low(self) -> RunEnd:
        """What leaves the first centre the least room."""
        return max(self.low_ends, key=lambda end: end.at_in + end.clear_in)

    @property
    def high(self) -> RunEnd:
        """What leaves the last centre the least room."""
        return min(self.high_ends, key=lambda end: end.at_in - end.clear_in)

    @property
    def lowest_in(self) -> float:
        """Where the first centre may stand at the least."""
        return self.low.at_in + self.low.clear_in

    @property
    def highest_in(self) -> float:
        """Where the last centre may stand at the most."""
        return self.high.at_in - self.high.clear_in

    @property
    def sides(self) -> tuple[Side, Side]:
        """The nearest raceways' or limits' sides at both ends; a spread row always has them."""
        low = max((end.side for end in self.low_ends if end.side), key=lambda side: side.at_in)
        return low, min((end.side for end in self.high_ends if end.side), key=lambda side: side.at_in)


def free_runs(group: RowConstraints) -> tuple[FreeRun, ...]:
    """The runs of free raceways between the given ones, with what bounds them."""
    found: list[FreeRun] = []
    for before, after in pairwise([-1, *sorted(group.given), len(group.cuts)]):
        first, last = before + 1, after - 1
        if first > last:
            continue
        low = [_edge(group, first, "start"), *_limit(group, first, "start")]
        high = [_edge(group, last, "end"), *_limit(group, last, "end")]
        if before in group.given:
            low.append(_raceway(group, before, first))
        if after in group.given:
            high.append(_raceway(group, after, last))
        found.append(FreeRun(first, last, tuple(low), tuple(high)))
    return tuple(found)


_End = Literal["start", "end"]


def _edge(group: RowConstraints, index: int, end: _End) -> RunEnd:
    face, lips, flat = group.face.face, group.face.lips, group.face.flat_u
    at_in, word, lip = (
        (flat.low, face.start_edge, lips.start_in)
        if end == "start"
        else (flat.high, face.end_edge, lips.end_in)
    )
    words, lengths = f"the {word} edge", group.lengths
    if lip:
        words = f"the {lengths.say(lip)} lip at {words}"
    elif group.face.metal_in:
        words = f"the {lengths.exact(group.face.metal_in)} {lengths.unit} thick wall at {words}"
    return RunEnd(at_in, group.cuts[index].diameter_in / 2, words)


def _limit(group: RowConstraints, index: int, end: _End) -> list[RunEnd]:
    placing = group.row.placing
    if not isinstance(placing, Spread):
        return []
    at_in = placing.low_in if end == "start" else placing.high_in
    gap_in, reach_in = group.limit_gaps_in[index], group.cuts[index].reach_in
    words = f"the limit at {group.lengths.say(at_in)}"
    return [RunEnd(at_in, gap_in + reach_in, words, Side(at_in, gap_in))]


def _raceway(group: RowConstraints, index: int, neighbour: int) -> RunEnd:
    pair, place = group.spacings[min(index, neighbour)], group.given[index]
    toward = 1 if neighbour > index else -1
    side = Side(place.at_in + toward * group.cuts[index].reach_in, pair.gap_in)
    return RunEnd(place.at_in, pair.centres_in, f"{group.id(index)}, which {place.words},", side)
