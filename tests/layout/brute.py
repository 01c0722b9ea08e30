"""A second way to place ordered things on a line: a mixed-integer programme, written from the rules alone."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp

from templates_engine.layout.row.exact_search import PlacementProblem

AS_GOOD = 1e-3
"""How far the totals may be trusted: the method takes a millionth for none, times a large factor."""

OPTIMAL, IMPOSSIBLE, GAVE_UP = 0, 2, 4
"""How a run of the programme ends."""


def best_total(line: PlacementProblem, *, whole: Sequence[bool] = (), slack: bool = False) -> float | None:
    """The least total departure, or with ``slack`` the least total shrinking of distances; else None.

    Unknowns: x (places), e (departures), s (shrinkings, of the two end distances too), z (which allowed
    stretch).
    """
    count = len(line.wants)
    big = _beyond(line)
    stretches = [(thing, low, high) for thing, allowed in enumerate(line.allowed) for low, high in allowed]
    x, e, s, z = 0, count, 2 * count, 3 * count + 1
    size = z + len(stretches)
    rows: list[np.ndarray] = []
    least: list[float] = []

    def at_least(bound: float, **terms: float) -> None:
        row = np.zeros(size)
        for name, factor in terms.items():
            row[int(name[1:])] += factor
        rows.append(row)
        least.append(bound)

    for i in range(count):
        at_least(-line.wants[i], **{f"_{e + i}": 1, f"_{x + i}": -1})
        at_least(line.wants[i], **{f"_{e + i}": 1, f"_{x + i}": 1})
    for i, distance in enumerate(line.distances):
        at_least(distance, **{f"_{x + i + 1}": 1, f"_{x + i}": -1, f"_{s + i + 1}": 1})
    if math.isfinite(line.lowest):
        at_least(line.lowest, **{f"_{x}": 1, f"_{s}": 1})
    if math.isfinite(line.highest):
        at_least(-line.highest, **{f"_{x + count - 1}": -1, f"_{s + count}": 1})
    for k, (thing, low, high) in enumerate(stretches):
        at_least(low - 2 * big, **{f"_{x + thing}": 1, f"_{z + k}": -2 * big})
        at_least(-high - 2 * big, **{f"_{x + thing}": -1, f"_{z + k}": -2 * big})
    for i in range(count):
        mine = {f"_{z + k}": 1.0 for k, (thing, _, _) in enumerate(stretches) if thing == i}
        if not mine:
            return None
        at_least(1, **mine)
    cost = np.zeros(size)
    low_bounds, high_bounds = np.full(size, -big), np.full(size, big)
    low_bounds[e:z] = 0
    high_bounds[e:z] = big
    low_bounds[z:], high_bounds[z:] = 0, 1
    if slack:
        cost[s:z] = 1
    else:
        cost[e:s] = 1
        high_bounds[s:z] = 0
    integral = np.zeros(size, dtype=np.int64)
    integral[z:] = 1
    for i, only_whole in enumerate(whole):
        integral[x + i] = int(only_whole)
    # HiGHS now and then gives up ("Solve error") or calls 1 the least where 0 is reached; every answer it
    # gives is reached by some places, so the least of two runs is the better reference. Where both give up,
    # the same programme with other weights is solved: given up is not impossible.
    for weight in (1.0, 0.37, 0.61):
        found: list[float] = []
        has_answer = False
        for presolve in (True, False):
            answer = milp(
                weight * cost,
                constraints=LinearConstraint(np.array(rows), np.array(least), np.inf),
                bounds=Bounds(low_bounds, high_bounds),
                integrality=integral,
                options={"mip_rel_gap": 0.0, "presolve": presolve},
            )
            assert answer.status in (OPTIMAL, IMPOSSIBLE, GAVE_UP), answer.message
            has_answer = has_answer or answer.status != GAVE_UP
            if answer.status == OPTIMAL:
                found.append(float(answer.fun) / weight)
        if has_answer:
            return min(found, default=None)
    raise AssertionError("the programme gives up whatever the weights")


def _beyond(line: PlacementProblem) -> float:
    """A number larger than any place, departure or shrinking the line can call for."""
    ends = [end for allowed in line.allowed for stretch in allowed for end in stretch]
    bounds = [bound for bound in (line.lowest, line.highest) if math.isfinite(bound)]
    return 2 * max(map(abs, [*line.wants, *ends, *bounds, 1.0])) + sum(line.distances) + 10
