"""Turns a run of free raceways into the places its placing wants; whether they can stand there, others say.

From an edge: tight, walked from the post toward that edge; the walk starts anew at each pin.

Centred: each stretch tight, and centred in the face by its raceways' outer sides. Without pins that is the
whole row. With a pin to one side the others are centred; with a pin in their midst both parts want the middle
and come to lie tight against the pin, so that the row stays whole.

Spread: equal clear gaps between the stretch's neighbours (pins or limits). A pair that asks for more than the
equal gap gets it, and the others share the rest.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import accumulate

from templates_engine.job.model import FromEdge, Spread
from templates_engine.layout.row.constraints import RowConstraints
from templates_engine.layout.row.free_runs import FreeRun
from templates_engine.layout.row.grid import Grid


def wanted(group: RowConstraints, stretch: FreeRun, grid: Grid) -> tuple[float, ...]:
    """The places wanted for a stretch's raceways, in numbers of the grid."""
    placing = group.row.placing
    if isinstance(placing, FromEdge):
        return (
            _walked_up(group, stretch, grid)
            if placing.edge == "start"
            else _walked_down(group, stretch, grid)
        )
    if isinstance(placing, Spread):
        return tuple(grid.near(place) for place in _spread(group, stretch))
    return _centred(group, stretch, grid)


def steps(group: RowConstraints, stretch: FreeRun, grid: Grid) -> tuple[float, ...]:
    """The required centre distances inside a stretch, in numbers of the grid, never less than asked for."""
    return tuple(grid.up(spacing.centres_in) for spacing in group.spacings[stretch.first : stretch.last])


def _walked_up(group: RowConstraints, stretch: FreeRun, grid: Grid) -> tuple[float, ...]:
    start = grid.up(stretch.low.at_in + stretch.low.clear_in)
    return tuple(accumulate(steps(group, stretch, grid), initial=start))


def _walked_down(group: RowConstraints, stretch: FreeRun, grid: Grid) -> tuple[float, ...]:
    start = grid.down(stretch.high.at_in - stretch.high.clear_in)
    backward = accumulate(
        reversed(steps(group, stretch, grid)), lambda place, step: place - step, initial=start
    )
    return tuple(backward)[::-1]


def _centred(group: RowConstraints, stretch: FreeRun, grid: Grid) -> tuple[float, ...]:
    """
    ::

        |<------ (width - tight) / 2 ------>(  )-( )-(   )<------ the same ------>|
                                            |<- tight ->|
    """
    distances = steps(group, stretch, grid)
    first, last = group.cuts[stretch.first].reach_in, group.cuts[stretch.last].reach_in
    tight_in = first + grid.inches(sum(distances)) + last
    start = grid.near((group.face.width_in - tight_in) / 2 + first)
    return tuple(accumulate(distances, initial=start))


def _spread(group: RowConstraints, stretch: FreeRun) -> tuple[float, ...]:
    low, high = stretch.low_side, stretch.high_side
    diameters = [cut.size.outside_diameter_most_in for cut in group.cuts[stretch.first : stretch.last + 1]]
    inner = [spacing.gap_in for spacing in group.spacings[stretch.first : stretch.last]]
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
