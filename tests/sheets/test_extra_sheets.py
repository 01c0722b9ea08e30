"""Sheets beyond the fewest: spent only to spare holes, and offered only where they would."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from random_runs import examples
from sheet_layouts import Drilled, face, layout

from templates_engine.layout.model import Layout
from templates_engine.sheets import plan
from templates_engine.sheets.model import SheetPlan

OFFER = re.compile(r"With extra sheets: (\d) in the job's print settings no joint would cross a hole")


def cut_holes(made: SheetPlan) -> int:
    return sum(len(one.cut_holes) for one in made.faces)


def sheets_of(made: SheetPlan) -> int:
    return sum(len(one.sheets) for one in made.faces)


def with_extra(one: Layout, extra: int) -> Layout:
    return replace(one, job=replace(one.job, printing=replace(one.job.printing, extra_sheets=extra)))


def test_a_sheet_more_spares_the_hole_and_says_so():
    base = layout([face(15.0, 5.0, [Drilled(7.5, 2.5, 3.0)])], ["letter"], "portrait")
    few, more = plan(base), plan(with_extra(base, 2))
    assert (sheets_of(few), cut_holes(few)) == (2, 1)
    assert (sheets_of(more), cut_holes(more)) == (3, 0)
    assert "1 sheet more than the fewest, as the job allows, to spare holes." in more.why
    (offer,) = (sentence for sentence in few.why if OFFER.match(sentence))
    assert OFFER.match(offer)[1] == "1"


def test_sheets_beyond_the_fewest_are_not_taken_for_empty_ones():
    base = layout(
        [face(14.3, 5.0, [Drilled(u, 2.5, 3.0) for u in (2.2, 7.15, 12.1)])], ["letter"], "portrait"
    )
    more = plan(with_extra(base, 1))
    assert (sheets_of(more), cut_holes(more)) == (3, 0)
    assert not any("leave out empty" in sentence for sentence in more.why)


def test_no_sheet_more_is_spent_where_nothing_is_cut():
    base = layout([face(24, 6, [Drilled(2.0 + 3.3 * index, 2.5, 1.4) for index in range(7)])], ["tabloid"])
    assert plan(with_extra(base, 9)) == plan(base)


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


@examples(25)
@given(
    st.floats(8.0, 30.0),
    st.floats(4.0, 20.0),
    st.lists(st.tuples(st.floats(0, 1), st.floats(0, 1), st.floats(1.0, 5.0)), min_size=2, max_size=6),
    st.integers(1, 3),
)
def test_more_sheets_never_cut_more_and_are_never_more_than_allowed(width, depth, spots, extra):
    drilled = [Drilled(u * width, v * depth, diameter) for u, v, diameter in spots]
    base = layout([face(width, depth, drilled)], ["letter"])
    few, more = plan(base), plan(with_extra(base, extra))
    assert sheets_of(few) <= sheets_of(more) <= sheets_of(few) + extra
    assert cut_holes(more) <= cut_holes(few)
    if not cut_holes(few):
        assert more == few
    for sentence in few.why:
        if offer := OFFER.match(sentence):
            assert cut_holes(plan(with_extra(base, int(offer[1])))) == 0
