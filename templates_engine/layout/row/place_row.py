"""Turns a row as numbers into the place of every raceway, or the reason there is none.

What would help is for remedies.py.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from templates_engine.geometry import TOLERANCE_IN, Interval
from templates_engine.layout.model import Gap
from templates_engine.layout.row.constraints import RowConstraints
from templates_engine.layout.row.exact_search import least_departure, packed_high, packed_low
from templates_engine.layout.row.failure import RowError
from templates_engine.layout.row.free_runs import free_runs
from templates_engine.layout.row.infeasibility import reasons_against, told
from templates_engine.layout.row.wanted_places import placement_problem


def place_row(group: RowConstraints) -> tuple[float, ...]:
    """Where the row's raceways stand, u in inches: with the least total departure from the wanted places;
    exact, and the same every time.

    Of equal totals the one is taken in which every raceway stands nearest the start edge. A row placed from
    an edge has no equal totals: its wanted places are tight, so a raceway can only give way to one side.
    Raises RowError when there are no places.
    """
    reasons = reasons_against(group)
    first = next(reasons, None)
    if first is not None:
        raise RowError(group.row.place, lambda: told(group, [first, *reasons]), kind="room")
    u_in = {index: place.at_in for index, place in group.given.items()}
    for run in free_runs(group):
        numbers = least_departure(placement_problem(group, run, group.grid))
        assert numbers is not None, "a run with a reason against it"
        u_in.update(enumerate(map(group.grid.inches, numbers), start=run.first))
    return tuple(u_in[index] + 0.0 for index in range(len(group.cuts)))  # + 0.0 turns -0.0 into 0.0


def gaps_of(group: RowConstraints, places: Sequence[float]) -> tuple[Gap, ...]:
    """The clear gap between each pair of neighbours as placed, beside what was required."""
    gaps: list[Gap] = []
    pairs = zip(pairwise(group.cuts), pairwise(places), group.spacings, strict=True)
    for (one, other), (low, high), spacing in pairs:
        apart = high - low
        provided = apart - one.reach_in - other.reach_in
        ids = one.raceway.id, other.raceway.id
        gaps.append(Gap(*ids, spacing.gap_in, provided, spacing.governed_by, apart, spacing.fittings))
    return tuple(gaps)


def room_of(group: RowConstraints, index: int) -> tuple[Interval, ...]:
    """The closed stretches of u open to one free raceway, snap left aside; empty when there are none.

    It can stand wherever it is allowed between its place with all packed low and its place with all packed
    high: those before it then stay packed low, those after it packed high.
    """
    group = group.without_snap()
    run = next((run for run in free_runs(group) if index in run.indexes), None)
    if run is None:
        return ()
    problem = placement_problem(group, run, group.grid)
    low, high = packed_low(problem), packed_high(problem)
    if low is None or high is None:
        return ()
    at = index - run.first
    open_to = (Interval(max(a, low[at]), min(b, high[at])) for a, b in problem.allowed[at])
    return tuple(stretch for stretch in open_to if stretch.low <= stretch.high + TOLERANCE_IN)
