"""Splits a row at its given places into runs of free raceways; what places they want is for others.

::

    edge        pin                             pin        edge
     |   free    ( )   free     free     free    ( )  free   |
     end........end                             end.......end       each end bounds the centres next to it
"""

from __future__ import annotations

from collections.abc import Mapping
from itertools import pairwise

from templates_engine.job.model import FromEdge, Raceway, Spread
from templates_engine.layout.row.constraints import RowConstraints
from templates_engine.layout.row.snap_grid import SnapGrid
from templates_engine.units import LengthFormat
from templates_engine.values import Struct


class GivenPlace(Struct, frozen=True):
    """A place given by the job, u in inches, and how it was given."""

    at_in: float
    words: str


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
    def low(self) -> RunEnd:
        """The end that leaves the first centre the least room."""
        return max(self.low_ends, key=lambda end: end.at_in + end.clear_in)

    @property
    def high(self) -> RunEnd:
        """The end that leaves the last centre the least room."""
        return min(self.high_ends, key=lambda end: end.at_in - end.clear_in)

    @property
    def low_side(self) -> Side:
        """The nearest raceway's or limit's side at the low end; a spread row always has one."""
        return max((end.side for end in self.low_ends if end.side), key=lambda side: side.at_in)

    @property
    def high_side(self) -> Side:
        """The nearest raceway's or limit's side at the high end; a spread row always has one."""
        return min((end.side for end in self.high_ends if end.side), key=lambda side: side.at_in)


def start_of(group: RowConstraints, grid: SnapGrid, lengths: LengthFormat) -> dict[int, GivenPlace]:
    """The end raceway that starts the row from an edge, at its place; empty for other placings.

    To its centre the job's distance is kept as written. To its near side, a row that snaps starts on the
    next graduation away from the edge.
    """
    placing, cuts = group.row.placing, group.cuts
    if not isinstance(placing, FromEdge) or not cuts:
        return {}
    index, edge = (0, "start") if placing.edge == "start" else (len(cuts) - 1, "end")
    distance_in = placing.distance_in + (cuts[index].reach_in if placing.to == "near side" else 0.0)
    at_in = distance_in if edge == "start" else group.face.width_in - distance_in
    if placing.to == "near side":
        at_in = grid.inches(grid.up(at_in) if edge == "start" else grid.down(at_in))
    face = group.face.face
    edge_word = face.start_edge if edge == "start" else face.end_edge
    words = f"starts the row {lengths.say(placing.distance_in)} from the {edge_word} edge"
    if placing.to == "near side":
        words += f" with its near side, centre at {lengths.say(at_in)}"
    return {index: GivenPlace(at_in, words)}


def fixed_places(group: RowConstraints, grid: SnapGrid, lengths: LengthFormat) -> dict[int, GivenPlace]:
    """Every raceway whose place the job gives; where it gives one two places, the pin."""
    pins = {
        index: GivenPlace(cut.raceway.at_in, _pinned(cut.raceway, lengths.say(cut.raceway.at_in)))
        for index, cut in enumerate(group.cuts)
        if cut.raceway.at_in is not None
    }
    return start_of(group, grid, lengths) | pins


def _pinned(raceway: Raceway, at: str) -> str:
    knockout = raceway.factory_knockout
    return f"is in the factory knockout {knockout} at {at}" if knockout else f"is pinned at {at}"


def free_runs(
    group: RowConstraints, fixed: Mapping[int, GivenPlace], lengths: LengthFormat
) -> tuple[FreeRun, ...]:
    """The runs of free raceways between the fixed ones, with what bounds them."""
    found: list[FreeRun] = []
    ends = [-1, *sorted(fixed), len(group.cuts)]
    for before, after in pairwise(ends):
        first, last = before + 1, after - 1
        if first > last:
            continue
        low = [_edge(group, first, "start", lengths), *_limit(group, first, "start", lengths)]
        high = [_edge(group, last, "end", lengths), *_limit(group, last, "end", lengths)]
        if before in fixed:
            low.append(_raceway(group, before, first, fixed[before]))
        if after in fixed:
            high.append(_raceway(group, after, last, fixed[after]))
        found.append(FreeRun(first, last, tuple(low), tuple(high)))
    return tuple(found)


def _edge(group: RowConstraints, index: int, end: str, lengths: LengthFormat) -> RunEnd:
    face, lips, flat = group.face.face, group.face.lips, group.face.flat_u
    at_start = end == "start"
    word, lip = (face.start_edge, lips.start_in) if at_start else (face.end_edge, lips.end_in)
    if lip:
        words = f"the {lengths.say(lip)} lip at the {word} edge"
    elif group.face.metal_in:
        words = f"the {lengths.exact(group.face.metal_in)} {lengths.unit} thick wall at the {word} edge"
    else:
        words = f"the {word} edge"
    at_in = flat.low if at_start else flat.high
    return RunEnd(at_in, group.cuts[index].diameter_in / 2, words)


def _limit(group: RowConstraints, index: int, end: str, lengths: LengthFormat) -> list[RunEnd]:
    placing = group.row.placing
    if not isinstance(placing, Spread):
        return []
    at_in = placing.low_in if end == "start" else placing.high_in
    gap_in = group.limit_gaps_in[index]
    reach = group.cuts[index].reach_in
    return [RunEnd(at_in, gap_in + reach, f"the limit at {lengths.say(at_in)}", Side(at_in, gap_in))]


def _raceway(group: RowConstraints, index: int, neighbour: int, fixed: GivenPlace) -> RunEnd:
    pair = group.spacings[min(index, neighbour)]
    toward = 1 if neighbour > index else -1
    side = Side(fixed.at_in + toward * group.cuts[index].reach_in, pair.gap_in)
    return RunEnd(fixed.at_in, pair.centres_in, f"{group.id(index)}, which {fixed.words},", side)
