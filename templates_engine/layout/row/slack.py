"""Turns one raceway into every place it can take while its row still fits; which is best, others say."""

from __future__ import annotations

import math
from collections.abc import Sequence

from templates_engine.layout.row.constraints import RowConstraints
from templates_engine.layout.row.exact_search import packed_high, packed_low
from templates_engine.layout.row.free_runs import fixed_places, free_runs
from templates_engine.layout.row.place_row import line_of
from templates_engine.layout.row.snap_grid import SnapGrid
from templates_engine.layout.tolerance import TOLERANCE_IN
from templates_engine.units import LengthFormat


def room_of(group: RowConstraints, index: int, lengths: LengthFormat) -> tuple[tuple[float, float], ...]:
    """The closed stretches of u open to one free raceway, snap left aside; empty when there are none.

    It can stand wherever it is allowed between its place with all packed low and its place with all packed
    high: those before it then stay packed low, those after it packed high.
    """
    free = SnapGrid(None)
    fixed = fixed_places(group, free, lengths)
    for run in free_runs(group, fixed, lengths):
        if run.first <= index <= run.last:
            line = line_of(group, run, free)
            low, high = packed_low(line), packed_high(line)
            if low is None or high is None:
                return ()
            at = index - run.first
            cut = ((max(a, low[at]), min(b, high[at])) for a, b in line.allowed[at])
            return tuple((a, b) for a, b in cut if a <= b + TOLERANCE_IN)
    return ()


def nearest_step(room: Sequence[tuple[float, float]], wanted_in: float, step_in: float) -> float | None:
    """The whole number of steps inside ``room`` nearest to ``wanted_in``, as inches; of two, the lower."""
    best: float | None = None
    for low, high in room:
        first, last = math.ceil((low - TOLERANCE_IN) / step_in), math.floor((high + TOLERANCE_IN) / step_in)
        if first > last:
            continue
        place = min(max(round(wanted_in / step_in), first), last) * step_in
        if best is None or abs(place - wanted_in) < abs(best - wanted_in) - TOLERANCE_IN:
            best = place
    return best
