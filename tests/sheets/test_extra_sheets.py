"""Sheets beyond the fewest: spent only to spare holes, as few as do; held to an independent solver."""

from __future__ import annotations

import itertools
import re

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from random_runs import examples
from scipy.optimize import Bounds, LinearConstraint, milp
from sheet_layouts import Drilled, face, layout

from templates_engine.layout.model import Layout
from templates_engine.sheets import plan
from templates_engine.sheets.best_page import allowed_extra
from templates_engine.sheets.joints import LEAST_WINDOW_IN
from templates_engine.sheets.model import SheetPlan
from templates_engine.sheets.obstacles import CIRCLE_HARM, CLEAR_IN, CLOSE_HARM, SPOT_CLEAR_IN, SPOT_HARM
from templates_engine.sheets.tiles import LEAST_BORDER_IN
from templates_engine.values import replace

OFFER = re.compile(r"With `extra sheets: (\d+)` no joint would cross a hole")
TINY = 1e-9


def cut_holes(made: SheetPlan) -> int:
    return sum(len(one.cut_holes) for one in made.faces)


def sheets_of(made: SheetPlan) -> int:
    return sum(len(one.sheets) for one in made.faces)


def with_extra(one: Layout, extra: int | None) -> Layout:
    return replace(one, job=replace(one.job, printing=replace(one.job.printing, extra_sheets=extra)))


# --- how many -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("fewest", "asked", "allowed"),
    [
        *((1, None, 1), (4, None, 1), (7, None, 1), (8, None, 2), (12, None, 3), (160, None, 40)),
        *((12, 0, 0), (12, 1, 1), (12, 9, 9)),
    ],
)
def test_one_sheet_in_four_and_at_least_one_or_as_many_as_asked(fewest, asked, allowed):
    assert allowed_extra(fewest, asked) == allowed


def test_a_sheet_more_spares_the_hole_unasked_and_says_so():
    base = layout([face(15.0, 5.0, [Drilled(7.5, 2.5, 3.0)])], ["letter"], "portrait")
    few, more = plan(base), plan(with_extra(base, None))
    assert (sheets_of(few), cut_holes(few)) == (2, 1)
    assert (sheets_of(more), cut_holes(more)) == (3, 0)
    assert more.why[1] == (
        "1 sheet more than the fewest keeps joints off hole A1 on the top face; `extra sheets: 0` gives the "
        "fewest."
    )
    (offer,) = (sentence for sentence in few.why if OFFER.match(sentence))
    assert OFFER.match(offer)[1] == "1"


def test_a_hole_cut_far_from_its_centre_is_spared_too():
    """All of the joint's play, round 7.15 in, is in the circle but clear of centre and quarter points."""
    base = layout([face(14.3, 5.0, [Drilled(6.1, 2.5, 4.0)])], ["letter"], "portrait")
    few, more = plan(base), plan(with_extra(base, None))
    assert [sheets_of(few), sheets_of(more)] == [2, 3]
    assert [cut_holes(few), cut_holes(more)] == [1, 0]


def test_what_is_asked_caps_what_is_spent():
    """Eight sheets allow two more unasked; both faces need one."""
    one = face(15.0, 5.0, [Drilled(7.5, 2.5, 3.0)])
    base = layout([one, one, face(29.0, 5.0)], ["letter"], "portrait")
    found = [plan(with_extra(base, extra)) for extra in (0, 1, 2, None, 9)]
    assert [sheets_of(made) for made in found] == [8, 9, 10, 10, 10]
    assert [cut_holes(made) for made in found] == [2, 1, 0, 0, 0]


def test_sheets_beyond_the_fewest_are_not_taken_for_empty_ones():
    base = layout(
        [face(14.3, 5.0, [Drilled(u, 2.5, 3.0) for u in (2.2, 7.15, 12.1)])], ["letter"], "portrait"
    )
    more = plan(with_extra(base, 1))
    assert (sheets_of(more), cut_holes(more)) == (3, 0)
    assert not any("leave out empty" in sentence for sentence in more.why)


def test_no_sheet_more_is_spent_where_nothing_is_cut():
    base = layout([face(24, 6, [Drilled(2.0 + 3.3 * index, 2.5, 1.4) for index in range(7)])], ["tabloid"])
    for extra in (None, 9):
        assert plan(with_extra(base, extra)).faces == plan(base).faces


def test_two_faces_share_what_is_allowed():
    """Each needs a sheet more: with one allowed one of them is spared, with two both are."""
    one = face(15.0, 5.0, [Drilled(7.5, 2.5, 3.0)])
    base = layout([one, one], ["letter"], "portrait")
    found = [plan(with_extra(base, extra)) for extra in range(4)]
    assert [cut_holes(made) for made in found] == [2, 1, 0, 0]
    assert [sheets_of(made) for made in found] == [4, 5, 6, 6]


@pytest.mark.parametrize("leave_out_empty", [False, True])
def test_left_out_sheets_do_not_count_as_spent(leave_out_empty):
    base = layout(
        [face(60.0, 5.0, [Drilled(9.9, 2.5, 3.0)])], ["letter"], "landscape", leave_out_empty=leave_out_empty
    )
    made = plan(with_extra(base, 1))
    assert cut_holes(made) == 0
    assert sheets_of(made) <= sheets_of(plan(base)) + 1


SPOTS = st.lists(st.tuples(st.floats(0, 1), st.floats(0, 1), st.floats(1.0, 5.0)), min_size=2, max_size=6)


@examples(20)
@given(st.floats(8.0, 30.0), st.floats(4.0, 20.0), SPOTS, st.sampled_from([None, 1, 3]))
def test_more_sheets_never_cut_more_and_are_never_more_than_allowed(width, depth, spots, extra):
    drilled = [Drilled(u * width, v * depth, diameter) for u, v, diameter in spots]
    base = layout([face(width, depth, drilled)], ["letter"])
    few, more = plan(base), plan(with_extra(base, extra))
    assert sheets_of(few) <= sheets_of(more) <= sheets_of(few) + allowed_extra(sheets_of(few), extra)
    if not cut_holes(few):
        assert more.faces == few.faces
    for sentence in few.why:
        if offer := OFFER.match(sentence):
            assert cut_holes(plan(with_extra(base, int(offer[1])))) == 0


# --- against an independent solver --------------------------------------------------------------------------
# Holes stand on sixteenths, and so do all places where the harm to them changes: a grid of sixteenths, with
# the ends of a joint's play, holds the best joints there are.

OVERLAP = 0.5
VIEW_WIDTH, VIEW_HEIGHT = 7.55, 8.95
"""Of letter paper, upright, with margins of 1/4 in and the strip for the upright bar."""
VIEW_WITHOUT_STRIP = 8.0


def cost_in_circles(place: float, centre: float, radius: float) -> int:
    """0 clear of a circle, 1 in it, 2 close to its centre or a quarter point, 3 on it."""
    if abs(place - centre) >= radius + CLEAR_IN - TINY:
        return 0
    nearest = min(abs(place - spot) for spot in (centre, centre - radius, centre + radius))
    if nearest < CLEAR_IN - TINY:
        return (CIRCLE_HARM + SPOT_HARM) // CIRCLE_HARM
    return 1 + (CLOSE_HARM // CIRCLE_HARM if nearest < SPOT_CLEAR_IN - TINY else 0)


def least_cost(length: float, view: float, count: int, holes: list[tuple[float, float]]) -> float:
    """Of ``count`` windows over a length with the narrowest borders, as a programme of zeros and ones."""
    low, high = -LEAST_BORDER_IN, length + LEAST_BORDER_IN
    if count == 1:
        return 0.0
    step, most = min(LEAST_WINDOW_IN, (view - OVERLAP) / 2), view - OVERLAP
    if high - low < count * step:
        return np.inf
    columns = []
    for index in range(1, count):
        first = max(low + index * step, high - OVERLAP / 2 - (count - index) * most)
        last = min(high - (count - index) * step, low + OVERLAP / 2 + index * most)
        places = np.arange(np.ceil(first * 16) / 16, last + TINY, 1 / 16)
        columns.append(sorted({first, *places, last}))
    names = [(index, place) for index, places in enumerate(columns) for place in places]
    costs = np.array([sum(cost_in_circles(place, *hole) for hole in holes) for _, place in names], float)
    rows, lows, highs = [], [], []
    for index in range(len(columns)):
        rows.append([float(name[0] == index) for name in names])
        lows.append(1.0)
        highs.append(1.0)
    for index, place in names:
        if index + 1 < len(columns):  # who stands here is followed by one in reach
            row = [
                float(after == index + 1 and step - TINY <= next_place - place <= most + TINY)
                for after, next_place in names
            ]
            row[names.index((index, place))] = -1.0
            rows.append(row)
            lows.append(0.0)
            highs.append(np.inf)
    found = milp(
        costs,
        constraints=LinearConstraint(np.array(rows), lows, highs),
        integrality=np.ones(len(names)),
        bounds=Bounds(0, 1),
    )
    return found.fun if found.success else np.inf


def best_by_solver(
    width: float, depth: float, drilled: list[Drilled], extra: int | None
) -> tuple[float, int]:
    """The least cost in circles, and the fewest sheets that come to it, on letter paper upright."""

    def least_windows(length: float, view: float) -> int:
        return max(1, int(np.ceil((length + 2 * LEAST_BORDER_IN - OVERLAP - TINY) / (view - OVERLAP))))

    views = (VIEW_WIDTH, VIEW_WITHOUT_STRIP)
    bands = least_windows(depth, VIEW_HEIGHT)
    fewest = min(least_windows(width, view) for view in views) * bands
    most = fewest + allowed_extra(fewest, extra)
    across = [(one.u_in, one.diameter_in / 2) for one in drilled]
    down = [(one.v_in, one.diameter_in / 2) for one in drilled]
    found = []
    for view in views:
        for more_across, more_down in itertools.product(range(most - fewest + 1), repeat=2):
            columns, rows = least_windows(width, view) + more_across, bands + more_down
            if columns * rows <= most:
                cost = least_cost(width, view, columns, across) + least_cost(depth, VIEW_HEIGHT, rows, down)
                found.append((round(cost, 6), columns * rows))
    return min(found)


SIXTEENTHS = st.lists(
    st.tuples(st.integers(8, 300), st.integers(8, 180), st.integers(6, 40)), min_size=1, max_size=6
)


@examples(60)
@given(st.integers(6 * 16, 20 * 16), st.integers(4 * 16, 12 * 16), SIXTEENTHS, st.sampled_from([None, 0, 2]))
def test_no_joints_within_the_sheets_allowed_cost_less_nor_do_fewer_sheets(width, depth, holes, extra):
    drilled = [Drilled(u % width / 16, v % depth / 16, d / 8) for u, v, d in holes]
    made = plan(layout([face(width / 16, depth / 16, drilled)], ["letter"], "portrait", extra_sheets=extra))
    (one,) = made.faces
    uprights = {joint.start.x for joint in one.joints if joint.is_upright}
    levels = {one.plane.depth_in - joint.start.y for joint in one.joints if not joint.is_upright}
    cost = sum(
        cost_in_circles(place, at, hole.diameter_in / 2)
        for hole in drilled
        for places, at in ((uprights, hole.u_in), (levels, hole.v_in))
        for place in places
    )
    assert (cost, sheets_of(made)) == best_by_solver(width / 16, depth / 16, drilled, extra)
