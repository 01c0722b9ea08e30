"""Whole plans: counts, coverage, pages, marks, reasons and refusals."""

from __future__ import annotations

import itertools
import math
import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sheet_layouts import Drilled, face, layout

from templates_engine.errors import CannotFit
from templates_engine.geometry import Point
from templates_engine.job.model import Face, MarginsIn, MarkFrom
from templates_engine.layout.frame import to_space
from templates_engine.sheets import plan
from templates_engine.sheets.face import BORDER_IN, LEAST_BORDER_IN
from templates_engine.sheets.marks import HOLE_CLEAR_IN
from templates_engine.sheets.model import FacePlan, SheetPlan

TINY = 1e-6
SEVEN = [Drilled(2.0 + 3.3 * index, 2.5, 1.4) for index in range(7)]
PAPERS = ("letter", "legal", "tabloid", "A4", "A3", "24 x 36 in", "24 in roll")


def sheets_of(made: SheetPlan) -> int:
    return sum(len(one.sheets) for one in made.faces)


def assert_sound(made: SheetPlan) -> None:
    """What must hold for every plan whatever its face and paper."""
    page_view = made.view
    assert made.margins.left_in < page_view.left < page_view.right
    assert page_view.right == pytest.approx(made.page_width_in - made.margins.right_in)
    assert page_view.top == pytest.approx(made.page_height_in - made.margins.top_in)
    for one in made.faces:
        assert_pages_hold_windows(made, one)
        assert_covered(one)
        assert_joints_marked(made, one)


def assert_pages_hold_windows(made: SheetPlan, one: FacePlan) -> None:
    assert [sheet.number for sheet in one.sheets] == list(range(1, one.columns * one.bands + 1))
    for sheet in one.sheets:
        assert sheet.number == sheet.band * one.columns + sheet.column + 1
        assert sheet.window.width <= made.view.width + TINY
        assert sheet.window.height <= made.view.height + TINY
        upper_left = sheet.on_page(Point(sheet.window.left, sheet.window.top))
        assert upper_left == pytest.approx((made.view.left, made.view.top))


def assert_covered(one: FacePlan) -> None:
    """Every knot of a net over the bounds lies on a sheet, and so do every centre and quarter point."""
    bounds = one.bounds
    assert bounds.left <= -LEAST_BORDER_IN + TINY
    assert bounds.top >= one.plane.depth_in + LEAST_BORDER_IN - TINY
    xs = [bounds.left + bounds.width * step / 24 for step in range(25)]
    ys = [bounds.bottom + bounds.height * step / 24 for step in range(25)]
    spots = [Point(x, y) for x in xs for y in ys]
    for hole in one.layout.holes:
        spots += [one.centre_of(hole), *map(one.plane.from_face, hole.quarter_points_in)]
    for spot in spots:
        held = bounds.grown(TINY).holds(spot)
        assert not held or any(sheet.window.grown(TINY).holds(spot) for sheet in one.sheets)


def assert_joints_marked(made: SheetPlan, one: FacePlan) -> None:
    by_number = {sheet.number: sheet for sheet in one.sheets}
    names = [mark.name for joint in one.joints for mark in joint.marks]
    assert len(set(names)) == len(names)
    expected = (one.columns - 1) * one.bands + one.columns * (one.bands - 1)
    assert len(one.joints) == expected
    for joint in one.joints:
        first, second = by_number[joint.first], by_number[joint.second]
        assert joint in first.joints
        assert joint in second.joints
        assert len(joint.marks) >= 2
        for mark in joint.marks:
            assert first.window.holds(mark.at)
            assert second.window.holds(mark.at)
            on_line = mark.at.x == joint.start.x if joint.is_upright else mark.at.y == joint.start.y
            assert on_line
        half = made.overlap_in / 2
        if joint.is_upright:
            assert first.window.right == pytest.approx(joint.start.x + half)
            assert second.window.left == pytest.approx(joint.start.x - half)
        else:
            assert first.window.bottom == pytest.approx(joint.start.y - half)
            assert second.window.top == pytest.approx(joint.start.y + half)
        apart = math.dist(joint.marks[0].at, joint.marks[-1].at)
        assert apart >= math.dist(joint.start, joint.end) / 2 - TINY
        if joint.is_upright:
            assert first.window.left < second.window.left
            assert joint.start.y > joint.end.y
        else:
            assert first.window.top > second.window.top
            assert joint.start.x < joint.end.x


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


@settings(deadline=None)
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
    made = plan(layout([face(24, 6, SEVEN)], ["legal"]))
    assert made.faces[0].cut_holes == ("A4",)
    assert any("hole A4 on the top face" in sentence for sentence in made.why)
    assert any(sentence.startswith("No joint would cross a hole on tabloid") for sentence in made.why)


def test_the_paper_that_cuts_no_hole_wins_among_as_many_sheets():
    made = plan(layout([face(24, 6, SEVEN)], ["legal", "tabloid"]))
    assert made.paper_name == "tabloid"


def test_level_joints_go_between_holes_where_they_can():
    """The middle, y = 6, lies in the hole; just below it is nearer than just above."""
    (one,) = plan(layout([face(7, 12, [Drilled(3.5, 5.5, 2.0)])], ["letter"], "portrait")).faces
    (joint,) = one.joints
    assert joint.start.y == joint.end.y == 6.5 - 1.0 - 1 / 16
    assert one.cut_holes == ()


def test_a_hole_a_level_joint_must_cut_is_named_and_counts_against_the_paper():
    tall = face(7, 12, [Drilled(3.5, 6.0, 5.0)])
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
    assert made.why[0] == "letter, landscape: 2 sheets; portrait would need as many."


def test_all_faces_share_the_page_that_suits_them_together():
    """The tall face alone would stand upright; two wide ones outvote it."""
    tall = face(7, 8, which=Face.LEFT)
    wide = [face(28, 5, which=which) for which in (Face.TOP, Face.BOTTOM)]
    assert plan(layout([tall], ["letter"])).orientation == "portrait"
    made = plan(layout([tall, *wide], ["letter"]))
    assert [len(one.sheets) for one in made.faces] == [2, 3, 3]
    assert made.why[0] == "letter, landscape: 8 sheets; portrait would need 9."


def test_an_orientation_the_job_asks_for_is_kept_and_its_price_told():
    made = plan(layout([face(24, 6)], ["letter"], "portrait"))
    assert made.orientation == "portrait"
    assert made.why[0] == "letter, portrait: 4 sheets, as the job asks; landscape would need 3."


def test_reasons_name_other_papers_that_need_fewer():
    made = plan(layout([face(24, 6, SEVEN)], ["letter"]))
    assert made.why[0] == "letter, landscape: 3 sheets; portrait would need 4."
    assert "Other paper needs fewer: 2 on legal, 2 on tabloid, 2 on A3, 1 on a 24 in roll." in made.why


def test_reasons_name_what_narrower_margins_would_save():
    made = plan(layout([face(19.3, 5)], ["letter"], margins=0.5))
    count = sheets_of(plan(layout([face(19.3, 5)], ["letter"], margins=0.2)))
    assert count < sheets_of(made)
    assert any(
        sentence.startswith("A printer that leaves margins of 0.2 in") and f"need {count}." in sentence
        for sentence in made.why
    )


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
    assert any("above and below" in sentence for sentence in made.why)


def test_the_border_shrinks_to_the_least_where_joints_need_the_room():
    (one,) = plan(layout([face(19.3, 5)], ["letter"])).faces
    assert len(one.sheets) == 2
    assert one.bounds.left == -LEAST_BORDER_IN
    assert one.bounds.top == 5 + BORDER_IN


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


@pytest.mark.parametrize("paper", ["letter", "A4"])
def test_a_ten_foot_wireway_is_planned_at_once(paper):
    holes = [Drilled(2 + 1.93 * index, 2.5, 1.4) for index in range(60)]
    wireway = layout([face(120, 6, holes)], [paper])
    times = []
    for _ in range(3):
        start = time.perf_counter()
        made = plan(wireway)
        times.append(time.perf_counter() - start)
    assert_sound(made)
    assert min(times) < 0.2
