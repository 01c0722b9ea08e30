"""Whole plans: counts, coverage, pages, marks, reasons and refusals."""

from __future__ import annotations

import itertools
import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from random_runs import examples
from sheet_layouts import HERE, Drilled, face, layout

from templates_engine.errors import CannotFit
from templates_engine.geometry import Circle, Point, gap_circle_rect
from templates_engine.job.model import Face, KeepOut, MarginsIn, MarkFrom, PaperSize
from templates_engine.layout.frame import to_space
from templates_engine.layout.model import Layout
from templates_engine.sheets import plan
from templates_engine.sheets.model import CROSS_ARM_IN, FacePlan, Joint, SheetPlan
from templates_engine.sheets.paper_notes import LITTLE_IN
from templates_engine.sheets.paper_pages import BAR_STRIP_IN
from templates_engine.sheets.registration_marks import HOLE_CLEAR_IN, LEAST_SHARE, LEAST_SHARE_AT_HOLES
from templates_engine.sheets.tiles import BORDER_IN, LEAST_BORDER_IN
from templates_engine.values import replace

TINY = 1e-6
SEVEN = [Drilled(2.0 + 3.3 * index, 2.5, 1.4) for index in range(7)]
PAPERS = ("letter", "legal", "tabloid", "A4", "A3", "24 x 36 in", "24 in roll")


def sheets_of(made: SheetPlan) -> int:
    return sum(len(one.sheets) for one in made.faces)


def assert_sound(made: SheetPlan) -> None:
    """What must hold for every plan whatever its face and paper."""
    page_view = made.view
    assert made.bar_strip_in in (0.0, BAR_STRIP_IN)
    assert page_view.left == pytest.approx(made.margins.left_in + made.bar_strip_in)
    assert page_view.right == pytest.approx(made.page_width_in - made.margins.right_in)
    assert page_view.top == pytest.approx(made.page_height_in - made.margins.top_in)
    for one in made.faces:
        assert_pages_hold_windows(made, one)
        assert_covered(one)
        assert_joints_are_where_parts_meet(one)
        assert_joints_marked(made, one)


def assert_pages_hold_windows(made: SheetPlan, one: FacePlan) -> None:
    assert [sheet.number for sheet in one.sheets] == list(range(1, len(one.sheets) + 1))
    assert len(one.sheets) + len(one.left_out) == one.columns * one.bands
    places = [(sheet.band, sheet.column) for sheet in one.sheets]
    assert places == sorted(set(places))
    for sheet in one.sheets:
        assert sheet.window.width <= made.view.width + TINY
        assert sheet.window.height <= made.view.height + TINY
        upper_left = sheet.on_page(Point(sheet.window.left, sheet.window.top))
        assert upper_left == pytest.approx((made.view.left, made.view.top))


def assert_covered(one: FacePlan) -> None:
    """The own parts fill the bounds without overlapping; every centre and quarter point is on a sheet."""
    bounds = one.bounds
    assert bounds.left <= -LEAST_BORDER_IN + TINY
    assert bounds.top >= one.plane.depth_in + LEAST_BORDER_IN - TINY
    parts = [*(sheet.own for sheet in one.sheets), *one.left_out]
    assert not any(a.grown(-TINY).overlaps(b) for a, b in itertools.combinations(parts, 2))
    assert sum(part.width * part.height for part in parts) == pytest.approx(bounds.width * bounds.height)
    for sheet in one.sheets:
        assert bounds.grown(TINY).holds(Point(sheet.own.left, sheet.own.bottom))
        assert bounds.grown(TINY).holds(Point(sheet.own.right, sheet.own.top))
    for hole in one.layout.holes:
        for spot in (one.centre_of(hole), *map(one.plane.from_face, hole.quarter_points_in)):
            held = bounds.grown(TINY).holds(spot)
            assert not held or any(sheet.own.grown(TINY).holds(spot) for sheet in one.sheets)


def assert_joints_are_where_parts_meet(one: FacePlan) -> None:
    """Every stretch of line between the own parts of two sheets is a joint, long enough for marks."""
    found = {(joint.first, joint.second): (joint.start, joint.end) for joint in one.joints}
    assert len(found) == len(one.joints)
    for a, b in itertools.combinations(one.sheets, 2):
        left, right = max(a.own.left, b.own.left), min(a.own.right, b.own.right)
        bottom, top = max(a.own.bottom, b.own.bottom), min(a.own.top, b.own.top)
        if right - left > TINY and abs(top - bottom) < TINY:
            expected = ((left, top), (right, top))
        elif top - bottom > TINY and abs(right - left) < TINY:
            expected = ((left, top), (left, bottom))
        else:
            assert (a.number, b.number) not in found
            continue
        start, end = found.pop((a.number, b.number))
        assert start == pytest.approx(expected[0])
        assert end == pytest.approx(expected[1])
    assert not found


def assert_joints_marked(made: SheetPlan, one: FacePlan) -> None:
    by_number = {sheet.number: sheet for sheet in one.sheets}
    names = [mark.name for joint in one.joints for mark in joint.marks]
    assert len(set(names)) == len(names)
    half = made.overlap_in / 2
    for joint in one.joints:
        first, second = by_number[joint.first], by_number[joint.second]
        assert joint in first.joints
        assert joint in second.joints
        assert len(joint.marks) >= 2
        length = math.dist(joint.start, joint.end)
        for mark in joint.marks:
            assert mark.name.startswith(f"{joint.first}-{joint.second}")
            assert first.window.holds(mark.at)
            assert second.window.holds(mark.at)
            ways = math.dist(joint.start, mark.at), math.dist(mark.at, joint.end)
            assert sum(ways) == pytest.approx(length)
            assert min(ways) > 0
        crosses = any(
            near_line(one.centre_of(hole), joint) < hole.hole_diameter_in / 2 + HOLE_CLEAR_IN
            for hole in one.layout.holes
        )
        share = LEAST_SHARE_AT_HOLES if crosses else LEAST_SHARE
        assert math.dist(joint.marks[0].at, joint.marks[-1].at) >= length * share - TINY
        if joint.is_upright:
            assert first.window.right == pytest.approx(joint.start.x + half)
            assert second.window.left == pytest.approx(joint.start.x - half)
            assert first.window.left < second.window.left
            assert joint.start.y > joint.end.y
        else:
            assert first.window.bottom == pytest.approx(joint.start.y - half)
            assert second.window.top == pytest.approx(joint.start.y + half)
            assert first.window.top > second.window.top
            assert joint.start.x < joint.end.x


def near_line(place: Point, joint: Joint) -> float:
    return abs(place.x - joint.start.x) if joint.is_upright else abs(place.y - joint.start.y)


@pytest.mark.parametrize(
    ("paper", "expected"),
    [("letter", 3), ("legal", 2), ("tabloid", 2), ("A4", 3), ("24 x 36 in", 1), ("24 in roll", 1)],
)
def test_seven_holes_on_a_24_by_6_face(paper, expected):
    made = plan(layout([face(24, 6, SEVEN)], [paper]))
    assert sheets_of(made) == expected
    assert_sound(made)


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize(("width", "depth"), [(6, 4), (14.25, 5.75), (36, 12), (20, 20), (4, 30), (300, 40)])
def test_plans_are_sound_on_every_paper(paper, width, depth):
    holes = [Drilled(u * width / 6, v * depth / 4, 1.4) for u in range(1, 6) for v in range(1, 4)]
    for which, mark_from in itertools.product((Face.TOP, Face.LEFT), MarkFrom):
        assert_sound(plan(layout([face(width, depth, holes, which, mark_from)], [paper])))


FACES = st.builds(
    lambda width, depth, spots, which, mark_from: face(
        width, depth, [Drilled(u * width, v * depth, d) for u, v, d in spots], which, mark_from
    ),
    st.floats(2.0, 70.0),
    st.floats(2.0, 30.0),
    st.lists(st.tuples(st.floats(0, 1), st.floats(0, 1), st.floats(0.5, 5.0)), max_size=8),
    st.sampled_from(Face),
    st.sampled_from(MarkFrom),
)


@given(
    st.lists(FACES, min_size=1, max_size=2),
    st.lists(st.sampled_from(PAPERS), min_size=1, max_size=2),
    st.floats(0.1, 1.5),
    st.floats(0.0, 0.6),
)
def test_random_faces_never_lose_a_centre(faces, papers, overlap, margin):
    assert_sound(plan(layout(faces, papers, overlap_in=overlap, margins=margin)))


@pytest.mark.parametrize("which", Face)
@pytest.mark.parametrize("mark_from", MarkFrom)
def test_sheets_show_the_face_as_its_viewer_sees_it(which, mark_from):
    """Against the frame: two holes' places in space, seen by a person at the face with the back edge up."""
    near, far = Drilled(5.0, 2.0, 1.0), Drilled(25.0, 2.0, 1.0)
    made = plan(layout([face(30, 6, [near, far], which, mark_from)], ["letter"]))
    (one,) = made.faces
    enclosure = layout([face(30, 6)]).job.enclosure
    a, b = (to_space(enclosure, which, hole.centre) for hole in one.layout.holes)
    looks_along = {Face.TOP: (0, -1, 0), Face.BOTTOM: (0, 1, 0), Face.LEFT: (1, 0, 0), Face.RIGHT: (-1, 0, 0)}
    sight = looks_along[which]
    if mark_from is MarkFrom.INSIDE:
        sight = tuple(-part for part in sight)
    up = (0, 0, -1)  # the back edge, toward the wall
    right = (
        sight[1] * up[2] - sight[2] * up[1],
        sight[2] * up[0] - sight[0] * up[2],
        sight[0] * up[1] - sight[1] * up[0],
    )
    seen = sum((q - p) * r for p, q, r in zip(a, b, right, strict=True))
    first_sheet, last_sheet = (
        min(sheet.number for sheet in one.sheets if sheet.window.holds(one.centre_of(hole)))
        for hole in one.layout.holes
    )
    assert (last_sheet > first_sheet) == (seen > 0)
    assert one.centre_of(one.layout.holes[1]).x - one.centre_of(one.layout.holes[0]).x == pytest.approx(seen)


def test_joints_go_between_holes_where_they_can():
    made = plan(layout([face(24, 6, SEVEN)], ["tabloid"]))
    (one,) = made.faces
    assert one.cut_holes == ()
    (joint,) = one.joints
    assert all(abs(one.centre_of(hole).x - joint.start.x) >= 0.7 + 1 / 16 - TINY for hole in one.layout.holes)
    assert "No joint crosses a hole." in made.why


def test_a_hole_that_must_be_cut_is_named_and_so_is_a_paper_that_spares_it():
    """The joint may stand from 10.8 to 13.2 in, all of which A4 takes."""
    wide = [Drilled(hole.u_in, 2.5, 2.6) for hole in SEVEN]
    made = plan(layout([face(24, 6, wide)], ["legal"]))
    assert made.faces[0].cut_holes == ("A4",)
    assert any("hole A4 on the top face" in sentence for sentence in made.why)
    assert any(sentence.startswith("No joint would cross a hole on tabloid") for sentence in made.why)


def test_the_paper_that_cuts_no_hole_wins_among_as_many_sheets():
    wide = [Drilled(hole.u_in, 2.5, 2.6) for hole in SEVEN]
    made = plan(layout([face(24, 6, wide)], ["legal", "tabloid"]))
    assert made.paper_name == "tabloid"


def test_borders_give_way_before_a_hole_is_cut():
    (one,) = plan(layout([face(24, 6, SEVEN)], ["legal"])).faces
    assert one.cut_holes == ()
    assert one.bounds.left == -LEAST_BORDER_IN


def test_level_joints_go_between_holes_where_they_can():
    """The middle, y = 6, lies in the hole; just below it is nearer than just above."""
    (one,) = plan(layout([face(7, 12, [Drilled(3.5, 5.5, 2.0)])], ["letter"], "portrait")).faces
    (joint,) = one.joints
    assert joint.start.y == joint.end.y == 6.5 - 1.0 - CROSS_ARM_IN
    assert one.cut_holes == ()


def test_a_hole_a_level_joint_must_cut_is_named_and_counts_against_the_paper():
    tall = face(7, 12, [Drilled(3.5, 6.0, 5.4)])
    made = plan(layout([tall], ["letter"], "portrait"))
    assert made.faces[0].cut_holes == ("A1",)
    both = plan(layout([tall], ["letter", "legal"], "portrait"))
    assert (both.paper_name, both.faces[0].cut_holes) == ("legal", ())


def test_the_paper_with_fewest_sheets_wins_then_the_smaller_one():
    wide, small = face(24, 6), face(9, 5)
    assert plan(layout([wide], ["letter", "legal", "A4"])).paper_name == "legal"
    assert plan(layout([small], ["tabloid", "letter", "A3"])).paper_name == "letter"


def test_equal_ways_round_give_portrait():
    made = plan(layout([face(5, 5)], ["letter"]))
    assert (made.orientation, made.page_width_in, made.page_height_in) == ("portrait", 8.5, 11.0)


def test_wider_borders_come_before_portrait():
    made = plan(layout([face(14.25, 5.75)], ["letter"]))
    assert made.orientation == "landscape"
    assert sheets_of(made) == 2


def test_all_faces_share_the_page_that_suits_them_together():
    """The tall face alone would stand upright; two wide ones outvote it."""
    tall = face(7, 8, which=Face.LEFT)
    wide = [face(28, 5, which=which) for which in (Face.TOP, Face.BOTTOM)]
    assert plan(layout([tall], ["letter"])).orientation == "portrait"
    made = plan(layout([tall, *wide], ["letter"]))
    assert [len(one.sheets) for one in made.faces] == [2, 3, 3]
    assert made.orientation == "landscape"
    assert sheets_of(plan(layout([tall, *wide], ["letter"], "portrait"))) == 9


def test_an_orientation_the_job_asks_for_is_kept_and_its_price_told():
    made = plan(layout([face(24, 6, SEVEN)], ["letter"], "portrait"))
    assert made.orientation == "portrait"
    assert made.why[0].startswith("letter, portrait: 4 sheets; 3 with `orientation: either`; ")


def test_the_border_is_full_where_it_costs_nothing():
    (one,) = plan(layout([face(5, 5)], ["letter"])).faces
    assert (one.bounds.left, one.bounds.top) == (-BORDER_IN, 5 + BORDER_IN)


def test_the_border_shrinks_where_it_would_cost_a_sheet_and_only_there():
    made = plan(layout([face(24, 6, SEVEN)], ["letter"]))
    (one,) = made.faces
    assert one.bounds.left == -BORDER_IN
    assert LEAST_BORDER_IN <= one.bounds.top - 6 < BORDER_IN
    assert one.bounds.height <= made.view.height + TINY
    assert one.bounds.height > made.view.height - 0.03  # no narrower than it must be


def test_a_border_too_narrow_to_fold_is_told():
    folds, does_not = (plan(layout([face(24, depth, SEVEN)], ["letter"])) for depth in (6.0, 6.2))
    for made, is_told in ((folds, False), (does_not, True)):
        border = made.faces[0].bounds.top - made.faces[0].plane.depth_in
        assert (border < LITTLE_IN) == is_told
        assert (
            any("Little paper" in sentence and "above and below" in sentence for sentence in made.why)
            == is_told
        )


def test_the_border_is_as_wide_as_the_sheets_leave_it_and_least_where_a_joint_needs_the_room():
    made = plan(layout([face(19.3, 5)], ["letter"]))
    (one,) = made.faces
    assert len(one.sheets) == 2
    left_over = 2 * made.view.width - made.overlap_in - 19.3
    assert left_over / 2 - 0.011 <= -one.bounds.left <= left_over / 2
    assert one.bounds.top == 5 + BORDER_IN
    # The widest border leaves the joint no place but the middle, where this hole is.
    (moved,) = plan(layout([face(19.3, 5, [Drilled(9.965, 2.5, 0.6)])], ["letter"])).faces
    assert len(moved.sheets) == 2
    assert moved.cut_holes == ()
    assert moved.bounds.left == -LEAST_BORDER_IN


def test_marks_stay_clear_of_holes_on_a_plan():
    (one,) = plan(layout([face(24, 6, SEVEN)], ["tabloid"])).faces
    for joint, hole in itertools.product(one.joints, one.layout.holes):
        for mark in joint.marks:
            assert math.dist(mark.at, one.centre_of(hole)) >= hole.hole_diameter_in / 2 + HOLE_CLEAR_IN - TINY


def test_four_sheets_at_a_corner_each_have_their_own_marks():
    (one,) = plan(layout([face(14, 14)], ["letter"])).faces
    assert (one.columns, one.bands) == (2, 2)
    assert [(joint.first, joint.second) for joint in one.joints] == [(1, 2), (1, 3), (2, 4), (3, 4)]
    corner = one.joints[0].end
    ends = [end for joint in one.joints for end in (joint.start, joint.end)]
    assert ends.count(corner) == 4


def test_a_roll_is_as_long_as_the_face_needs():
    made = plan(layout([face(60, 12)], ["24 in roll"]))
    assert (made.orientation, made.page_height_in) == ("landscape", 24.0)
    used = 60 + 2 * BORDER_IN + made.margins.left_in + made.margins.right_in + 0.45
    assert used <= made.page_width_in < used + 0.125
    assert sheets_of(made) == 1


def test_a_roll_stops_at_the_longest_pdf_page():
    made = plan(layout([face(300, 12)], ["24 in roll"]))
    assert sheets_of(made) == 2
    assert made.page_width_in <= 200.0
    assert_sound(made)


@pytest.mark.parametrize(
    ("papers", "overlap", "margins", "words"),
    [
        (["5 x 5 in"], 0.5, 0.25, "between its side margins"),
        (["letter"], 0.5, 3.0, "between its side margins"),
        (["letter"], 8.0, 0.25, "with an overlap of 8 in"),
        (["letter"], 0.5, MarginsIn(5.0, 5.0, 0.25, 0.25), "leaves a view of"),
    ],
)
def test_paper_too_small_is_refused_in_words(papers, overlap, margins, words):
    with pytest.raises(CannotFit) as caught:
        plan(layout([face(24, 6)], papers, overlap_in=overlap, margins=margins))
    assert words in str(caught.value)
    assert caught.value.problems[0].file == "job.yaml"
    assert caught.value.problems[0].remedy


def test_one_paper_too_small_of_two_is_passed_over():
    made = plan(layout([face(24, 6)], ["5 x 5 in", "letter"]))
    assert made.paper_name == "letter"
    assert any("5 x 5 in has no room for a view" in sentence for sentence in made.why)


def test_a_template_of_hundreds_of_sheets_is_refused():
    with pytest.raises(CannotFit) as caught:
        plan(layout([face(1200, 1200)], ["letter"]))
    assert "sheets of letter" in str(caught.value)


def test_the_same_layout_gives_the_same_plan():
    assert plan(layout([face(60, 20, SEVEN)])) == plan(layout([face(60, 20, SEVEN)]))


def test_joints_leave_room_for_cross_lines_where_they_can():
    (one,) = plan(layout([face(17, 5, [Drilled(8.5, 2.5, 1.0)])], ["letter"])).faces
    (joint,) = one.joints
    assert abs(joint.start.x - 8.5) >= 0.5 + CROSS_ARM_IN - TINY


# --- the upright bar's strip -------------------------------------------------------------------------------


def test_the_bars_strip_is_given_up_where_it_costs_a_sheet_and_only_there():
    kept, given_up = (plan(layout([face(width, 5)], ["letter"])) for width in (19.3, 20.0))
    assert (sheets_of(kept), kept.bar_strip_in) == (2, BAR_STRIP_IN)
    assert (sheets_of(given_up), given_up.bar_strip_in) == (2, 0.0)
    assert given_up.view.left == given_up.margins.left_in


def test_the_strip_comes_before_wide_borders_where_a_hole_is_cut_either_way():
    made = plan(layout([face(18.9, 5, [Drilled(9.45, 2.5, 5.0)])], ["letter"]))
    assert made.faces[0].cut_holes == ("A1",)
    assert made.bar_strip_in == BAR_STRIP_IN
    assert made.faces[0].bounds.left == -LEAST_BORDER_IN


# --- empty sheets ------------------------------------------------------------------------------------------


def test_nothing_is_left_out_unless_asked():
    made = plan(layout([face(60, 5, [Drilled(2.0, 2.5, 1.0)])], ["letter"]))
    assert made.faces[0].left_out == ()
    assert sheets_of(made) > 5


def test_the_far_end_is_left_out_and_the_rest_hangs_together():
    made = plan(layout([face(60, 5, [Drilled(25.0, 2.5, 1.0)])], ["letter"], leave_out_empty=True))
    (one,) = made.faces
    assert_sound(made)
    assert len(one.sheets) == 3
    assert [joint.first for joint in one.joints] == [1, 2]
    assert len(one.left_out) == one.columns - 3
    assert min(part.left for part in one.left_out) == pytest.approx(one.sheets[-1].own.right)
    assert f"{len(one.left_out)} sheets more, with nothing to cut on them, left out." in made.why


@pytest.mark.parametrize("which", Face)
@pytest.mark.parametrize("mark_from", MarkFrom)
def test_the_corner_where_the_rulers_begin_is_kept_and_the_chain_reaches_it(which, mark_from):
    """Sheets are taped with the ruler's zero at the can's corner: u and v both 0 there."""
    for at_in, expected in ((50.0, 6), (3.0, 1)):
        drilled = [Drilled(at_in, 2.5, 1.0)]
        made = plan(layout([face(60, 5, drilled, which, mark_from)], ["letter"], leave_out_empty=True))
        (one,) = made.faces
        assert_sound(made)
        assert len(one.sheets) == expected
        assert any(sheet.own.holds(one.plane.from_face(Point(0.0, 0.0))) for sheet in one.sheets)


def test_arms_on_a_sheet_keep_it():
    """The joint stands at 9.75 in at the most. Circles end on sheet 1 both times, a cross-line only once."""
    there, beyond = ([face(19.0, 5, [Drilled(7.3 + by, 2.5, 4.0)])] for by in (0.0, 0.35))
    kept, longer = (plan(layout(faces, ["letter"], leave_out_empty=True)) for faces in (there, beyond))
    assert (sheets_of(kept), sheets_of(longer)) == (1, 2)
    assert longer.faces[0].cut_holes == ()


def test_a_keep_out_holds_a_sheet_as_a_hole_does():
    far = KeepOut("bus", HERE, 55.0, 58.0, 1.0, 3.0, None, 0.0)
    plain = face(60, 5, [Drilled(2.0, 2.5, 1.0)])
    kept = replace(plain, job=replace(plain.job, keep_outs=(far,)))
    assert sheets_of(plan(layout([plain], ["letter"], leave_out_empty=True))) == 1
    assert plan(layout([kept], ["letter"], leave_out_empty=True)).faces[0].left_out == ()


@pytest.mark.parametrize(("from_back", "sheets"), [(1.0, 1), (14.5, 2)])
def test_a_keep_out_holds_the_sheet_of_its_own_depth_alone(from_back, sheets):
    """Letter sheets in two bands: the hole is on the first, the keep-out there too or on the second."""
    keep_out = KeepOut("bus", HERE, 4.0, 5.0, from_back, from_back + 0.5, None, 0.0)
    plain = face(7, 16, [Drilled(2.0, 2.5, 1.0)])
    kept = replace(plain, job=replace(plain.job, keep_outs=(keep_out,)))
    whole = plan(layout([kept], ["letter"], orientation="portrait"))
    assert (sheets_of(whole), whole.faces[0].columns) == (2, 1)
    assert sheets_of(plan(layout([kept], ["letter"], orientation="portrait", leave_out_empty=True))) == sheets


def test_the_paper_with_fewest_printed_sheets_wins():
    """Two letters show the hole near a corner and all its arms; a tabloid does alone, and is chosen."""
    one_hole = [face(60, 12, [Drilled(11.0, 3.0, 1.0)])]
    made = plan(layout(one_hole, ["letter", "tabloid"], leave_out_empty=True))
    assert (made.paper_name, sheets_of(made)) == ("tabloid", 1)


@examples(40)
@given(
    st.floats(20.0, 70.0),
    st.floats(5.0, 40.0),
    st.lists(st.tuples(st.floats(0, 1), st.floats(0, 1), st.floats(0.5, 3.0)), max_size=4),
)
def test_left_out_sheets_show_no_hole_and_leave_one_chain_with_a_corner(width, depth, spots):
    holes = [Drilled(u * width, v * depth, d) for u, v, d in spots]
    made = plan(layout([face(width, depth, holes)], ["letter"], leave_out_empty=True))
    assert_sound(made)
    (one,) = made.faces
    for hole, part in itertools.product(one.layout.holes, one.left_out):
        reach = Circle(one.centre_of(hole), hole.hole_diameter_in + 2 * CROSS_ARM_IN)
        assert gap_circle_rect(reach, part) >= -TINY
    chain, joints = {1}, list(one.joints)
    for _ in joints:
        chain |= {
            end
            for joint in joints
            for end in (joint.first, joint.second)
            if chain & {joint.first, joint.second}
        }
    assert chain == {sheet.number for sheet in one.sheets}
    assert any(sheet.own.holds(one.plane.from_face(Point(0.0, 0.0))) for sheet in one.sheets)


# --- why ---------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("width", [20.0, 24.0, 60.0, 100.0])
@pytest.mark.parametrize("leave_out_empty", [False, True])
def test_there_are_few_reasons_and_each_is_a_plain_sentence(width, leave_out_empty):
    holes = [Drilled(2.0 + 3.3 * index, 2.5, 3.0) for index in range(6)]
    papers = ["letter", "A4", "5 x 5 in"]
    made = plan(layout([face(width, 6, holes)], papers, margins=0.5, leave_out_empty=leave_out_empty))
    assert 1 <= len(made.why) <= 5
    assert all(sentence.endswith(".") and len(sentence) < 200 for sentence in made.why)


def test_a_small_face_has_little_to_explain():
    made = plan(layout([face(5, 5)], ["letter"]))
    assert made.why == ("letter, portrait: 1 sheet.",)


def test_what_paper_costs_and_what_saves_some_is_said_first():
    made = plan(layout([face(60.0, 12.0, [Drilled(3.0, 2.5, 1.0), Drilled(25.0, 2.5, 1.0)])], ["letter"]))
    assert made.why[0] == (
        "letter, landscape: 12 sheets; 3 with `leave out empty sheets: yes`; 10 on legal; 6 on tabloid; "
        "1 on a 24 in roll."
    )


def test_papers_of_the_job_s_own_family_are_offered():
    said = plan(layout([face(60.0, 5.0)], ["A4"])).why[0]
    assert " on A3" in said
    assert "tabloid" not in said
    assert "A3" not in plan(layout([face(60.0, 5.0)], ["letter"])).why[0]


def test_a_plotter_is_not_worth_going_to_for_a_few_sheets():
    assert "roll" not in plan(layout([face(24.0, 6.0, SEVEN)], ["letter"])).why[0]


def assert_savings_are_true(base: Layout) -> None:
    made = plan(base)
    head, *savings = made.why[0].rstrip(".").split("; ")
    assert head.endswith(f"{sheets_of(made)} sheets" if sheets_of(made) > 1 else "1 sheet")
    for saving in savings:
        count, how = saving.split(" ", 1)
        changed = plan(with_settings(base, **CHANGES[how]))
        assert sheets_of(changed) == int(count) < sheets_of(made)
        assert holes_cut(changed) <= holes_cut(made)


def with_settings(base: Layout, **changes: Any) -> Layout:
    return replace(base, job=replace(base.job, printing=replace(base.job.printing, **changes)))


def holes_cut(made: SheetPlan) -> int:
    return sum(len(one.cut_holes) for one in made.faces)


CHANGES: dict[str, dict[str, Any]] = {
    "with `leave out empty sheets: yes`": {"leave_out_empty": True},
    "with `orientation: either`": {"orientation": "either"},
    "on legal": {"papers": (PaperSize("legal", 8.5, 14.0),), "orientation": "either"},
    "on tabloid": {"papers": (PaperSize("tabloid", 11.0, 17.0),), "orientation": "either"},
    "on a 24 in roll": {"papers": (PaperSize("24 in roll", 24.0, None),), "orientation": "either"},
}


@examples(75)
@given(
    st.lists(FACES, min_size=1, max_size=2),
    st.sampled_from(["either", "portrait", "landscape"]),
    st.sampled_from([None, 0, 2]),
)
def test_every_saving_that_is_said_is_what_that_plan_takes(faces, orientation, extra):
    assert_savings_are_true(layout(faces, ["letter"], orientation, extra_sheets=extra))
