"""Turns a run of free raceways into the places its placing wants; whether they can stand there, others say.

From an edge: tight, walked from the run's end toward that edge; the walk starts anew at each pin.

Centred: each run tight, and centred in the face by its raceways' outer sides. Without pins that is the
whole row. With a pin to one side the others are centred; with a pin in their midst both parts want the middle
and come to lie tight against the pin, so that the row stays whole.

Spread: equal clear gaps between the run's neighbours (pins or limits). A pair that asks for more than the
equal gap gets it, and the others share the rest.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate

from templates_engine.job.model import FromEdge, Spread
from templates_engine.layout.row.constraints import RowConstraints
from templates_engine.layout.row.exact_search import PlacementProblem
from templates_engine.layout.row.free_runs import FreeRun
from templates_engine.layout.row.snap_grid import SnapGrid


def placement_problem(group: RowConstraints, run: FreeRun, grid: SnapGrid) -> PlacementProblem:
    """A run as a problem for the exact search, in numbers of the grid."""
    distances = tuple(grid.up(spacing.centres_in) for spacing in group.spacings[run.first : run.last])
    return PlacementProblem(
        _wanted(group, run, grid, distances),
        distances,
        tuple(group.allowed(index, grid) for index in run.indexes),
        grid.up(run.lowest_in),
        grid.down(run.highest_in),
    )


def _wanted(
    group: RowConstraints, run: FreeRun, grid: SnapGrid, distances: Sequence[float]
) -> tuple[float, ...]:
    """The places wanted for a run's raceways, in numbers of the grid."""
    placing = group.row.placing
    if isinstance(placing, Spread):
        return tuple(grid.near(place) for place in _spread(group, run))
    if not isinstance(placing, FromEdge):
        return tuple(accumulate(distances, initial=_first_centred(group, run, grid, distances)))
    if placing.edge == "start":
        return tuple(accumulate(distances, initial=grid.up(run.lowest_in)))
    downward = accumulate((-step for step in reversed(distances)), initial=grid.down(run.highest_in))
    return tuple(downward)[::-1]


def _first_centred(group: RowConstraints, run: FreeRun, grid: SnapGrid, distances: Sequence[float]) -> float:
    """
    ::

        |<------ (width - tight) / 2 ------>(  )-( )-(   )<------ the same ------>|
                                            |<- tight ->|
    """
    first, last = group.cuts[run.first].reach_in, group.cuts[run.last].reach_in
    tight_in = first + grid.inches(sum(distances)) + last
    return grid.near((group.face.width_in - tight_in) / 2 + first)


def _spread(group: RowConstraints, run: FreeRun) -> tuple[float, ...]:
    low, high = run.sides
    diameters = [group.cuts[index].size.outside_diameter_most_in for index in run.indexes]
    inner = [spacing.gap_in for spacing in group.spacings[run.first : run.last]]
    gaps = even_gaps([low.gap_in, *inner, high.gap_in], high.at_in - low.at_in - sum(diameters))
    places: list[float] = []
    side = low.at_in
    for gap, diameter in zip(gaps, diameters, strict=False):
        places.append(side + gap + diameter / 2)
        side += gap + diameter
    return tuple(places)


def even_gaps(least: Sequence[float], total: float) -> tuple[float, ...]:
    """Gaps adding up to ``total``, all equal save those that must be larger; ``least`` if too much."""
    larger, rest = 0.0, len(least)
    for gap in sorted(least, reverse=True):
        even = (total - larger) / rest
        if even >= gap:
            return tuple(max(one, even) for one in least)
        larger, rest = larger + gap, rest - 1
        if rest == 0:
            break
    return tuple(least)
