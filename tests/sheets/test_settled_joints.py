"""Upright joints of all bands together, against an independent solver (scipy's HiGHS) on a grid of places."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from random_runs import examples
from scipy.optimize import Bounds, LinearConstraint, milp
from test_sheet_bands import field

from templates_engine.sheets.field import Field
from templates_engine.sheets.joints import LEAST_STRETCH_IN, harm_at, joint_limits, least_step
from templates_engine.sheets.settle import Settling

GRID_IN = 0.5
TINY = 1e-9


def least_on_grid(made: Field, level) -> float:
    """The least harm of upright joints on a coarse grid, as a programme of zeros and ones."""
    axis = made.across
    step, most = least_step(axis.view_in, axis.overlap_in), axis.view_in - axis.overlap_in
    bands = [made.band_obstacles(rows) for rows in made.bands(level)]
    limits = list(joint_limits(axis.extent, axis.count, axis.view_in, axis.overlap_in))
    columns = [np.unique([*np.arange(one.low, one.high, GRID_IN), one.high]) for one in limits]
    choices = [
        (band, column, place)
        for band in range(len(bands))
        for column, places in enumerate(columns)
        for place in places
    ]
    costs = np.array([harm_at(place, bands[band]) for band, _, place in choices], dtype=float)
    rows, low, high = [], [], []
    for band, column in itertools.product(range(len(bands)), range(len(columns))):
        rows.append([float((b, c) == (band, column)) for b, c, _ in choices])
        low.append(1.0)
        high.append(1.0)
    for (i, (a, c, p)), (j, (b, d, q)) in itertools.combinations(enumerate(choices), 2):
        in_band = a == b and d == c + 1 and not step - TINY <= q - p <= most + TINY
        # Joints beside meet, or leave a stretch; each band's own joints are further apart than that here.
        across = abs(a - b) == 1 and abs(p - q) > TINY and abs(p - q) < LEAST_STRETCH_IN - TINY
        if in_band or across:
            row = [0.0] * len(choices)
            row[i] = row[j] = 1.0
            rows.append(row)
            low.append(0.0)
            high.append(1.0)
    found = [
        milp(
            costs,
            constraints=LinearConstraint(np.array(rows), low, high),
            integrality=np.ones(len(choices)),
            bounds=Bounds(0, 1),
            options={"presolve": presolve},
        )
        for presolve in (True, False)
    ]
    upright = min((one.fun for one in found if one.success), default=np.inf)
    return upright + sum(harm_at(place, made.level_obstacles) for place in level)


@pytest.mark.parametrize(
    ("width", "height", "level"), [(15.0, 12.0, (6.0,)), (11.0, 18.0, (6.0, 12.0)), (16.0, 18.0, (6.0, 12.0))]
)
@examples(30)
@given(
    holes=st.lists(st.tuples(st.floats(0, 1), st.floats(0, 1), st.floats(1.5, 5.0)), min_size=3, max_size=8)
)
def test_no_joints_on_a_grid_do_less_harm(width, height, level, holes):
    made = field(width, height, (6.5, 7.0), [(u * width, v * height, d) for u, v, d in holes])
    upright = Settling(made, level).better_than(10**9)
    assert upright is not None
    total = sum(harm_at(place, made.level_obstacles) for place in level)
    for rows, places in zip(made.bands(level), upright, strict=True):
        total += sum(harm_at(place, made.band_obstacles(rows)) for place in places)
    for above, below in itertools.pairwise(upright):
        for x, y in itertools.product(above, below):
            assert abs(x - y) < TINY or abs(x - y) >= LEAST_STRETCH_IN - TINY or x in below or y in above
    assert total <= least_on_grid(made, level) + 1e-6


def test_it_says_so_when_nothing_is_better():
    made = field(15.0, 12.0, (6.5, 7.0), [(5.0, 3.0, 4.0), (9.0, 9.0, 4.0)])
    upright = Settling(made, (6.0,)).better_than(10**9)
    assert upright is not None
    harm = sum(
        harm_at(place, made.band_obstacles(rows))
        for rows, places in zip(made.bands((6.0,)), upright, strict=True)
        for place in places
    ) + harm_at(6.0, made.level_obstacles)
    assert Settling(made, (6.0,)).better_than(harm) is None
    assert Settling(made, (6.0,)).better_than(harm + 1) is not None
