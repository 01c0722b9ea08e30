"""Turns a row as numbers into the place of every raceway, or the reason there is none.

What would help is for remedies.py.
"""

from __future__ import annotations

from collections.abc import Sequence

from templates_engine.layout.model import Gap
from templates_engine.layout.row.constraints import RowConstraints
from templates_engine.layout.row.exact_search import PlacementProblem, least_departure
from templates_engine.layout.row.failure import RowError
from templates_engine.layout.row.free_runs import FreeRun, fixed_places, free_runs
from templates_engine.layout.row.infeasibility import reasons_against, told
from templates_engine.layout.row.snap_grid import SnapGrid
from templates_engine.layout.row.wanted_places import steps, wanted
from templates_engine.units import LengthFormat


def place_row(group: RowConstraints, lengths: LengthFormat) -> tuple[float, ...]:
    """Where the row's raceways stand, u in inches: with the least total departure from the wanted places;
    exact, and the same every time.

    Of equal totals the one is taken in which every raceway stands nearest the start edge. A row placed from
    an edge has no equal totals: its wanted places are tight, so a raceway can only give way to one side.
    Raises RowError when there are no places.
    """
    grid = SnapGrid(group.row.snap_in)
    fixed = fixed_places(group, grid, lengths)
    reasons = reasons_against(group, fixed, line_of, grid, lengths)
    first = next(reasons, None)
    if first is not None:
        raise RowError(group.row.place, lambda: told(group, [first, *reasons], lengths), kind="room")
    u_in = {index: place.at_in for index, place in fixed.items()}
    for run in free_runs(group, fixed, lengths):
        numbers = least_departure(line_of(group, run, grid))
        assert numbers is not None, "a run with a reason against it"
        u_in.update(enumerate(map(grid.inches, numbers), start=run.first))
    return tuple(u_in[index] + 0.0 for index in range(len(group.cuts)))  # + 0.0 turns -0.0 into 0.0


def line_of(group: RowConstraints, run: FreeRun, grid: SnapGrid) -> PlacementProblem:
    """A run as a problem for the exact search, in numbers of the grid."""
    return PlacementProblem(
        wanted(group, run, grid),
        steps(group, run, grid),
        tuple(group.allowed(index, grid) for index in range(run.first, run.last + 1)),
        grid.up(run.low.at_in + run.low.clear_in),
        grid.down(run.high.at_in - run.high.clear_in),
    )


def gaps_of(group: RowConstraints, places: Sequence[float]) -> tuple[Gap, ...]:
    """The clear gap between each pair of neighbours as placed, beside what was required."""
    gaps: list[Gap] = []
    for index, spacing in enumerate(group.spacings):
        apart = places[index + 1] - places[index]
        provided = apart - group.cuts[index].reach_in - group.cuts[index + 1].reach_in
        pair = group.id(index), group.id(index + 1)
        gaps.append(Gap(*pair, spacing.gap_in, provided, spacing.governed_by, apart, spacing.fittings))
    return tuple(gaps)
