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
from templates_engine.layout.row.free_runs import FreeRun
from templates_engine.layout.row.snap_grid import SnapGrid


def wanted(group: RowConstraints, run: FreeRun, grid: SnapGrid) -> tuple[float, ...]:
    """The places wanted for a run's raceways, in numbers of the grid."""
    placing = group.row.placing
    if isinstance(placing, FromEdge):
        return _walked_up(group, run, grid) if placing.edge == "start" else _walked_down(group, run, grid)
    if isinstance(placing, Spread):
        return tuple(grid.near(place) for place in _spread(group, run))
    return _centred(group, run, grid)


def steps(group: RowConstraints, run: FreeRun, grid: SnapGrid) -> tuple[float, ...]:
    """The required centre distances inside a run, in numbers of the grid, never less than asked for."""
    return tuple(grid.up(spacing.centres_in) for spacing in group.spacings[run.first : run.last])


def _walked_up(group: RowConstraints, run: FreeRun, grid: SnapGrid) -> tuple[float, ...]:
    start = grid.up(run.low.at_in + run.low.clear_in)
    return tuple(accumulate(steps(group, run, grid), initial=start))


def _walked_down(group: RowConstraints, run: FreeRun, grid: SnapGrid) -> tuple[float, ...]:
    start = grid.down(run.high.at_in - run.high.clear_in)
    backward = accumulate(reversed(steps(group, run, grid)), lambda place, step: place - step, initial=start)
    return tuple(backward)[::-1]


def _centred(group: RowConstraints, run: FreeRun, grid: SnapGrid) -> tuple[float, ...]:
    """
    ::

        |<------ (width - tight) / 2 ------>(  )-( )-(   )<------ the same ------>|
                                            |<- tight ->|
    """
    distances = steps(group, run, grid)
    first, last = group.cuts[run.first].reach_in, group.cuts[run.last].reach_in
    tight_in = first + grid.inches(sum(distances)) + last
    start = grid.near((group.face.width_in - tight_in) / 2 + first)
    return tuple(accumulate(distances, initial=start))


def _spread(group: RowConstraints, run: FreeRun) -> tuple[float, ...]:
    low, high = run.low_side, run.high_side
    diameters = [cut.size.outside_diameter_most_in for cut in group.cuts[run.first : run.last + 1]]
    inner = [spacing.gap_in for spacing in group.spacings[run.first : run.last]]
    least = [low.gap_in, *inner, high.gap_in]
    gaps = even_gaps(least, high.at_in - low.at_in - sum(diameters))
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
