"""Checks that rest on geometry: each passes, fails, and passes exactly at its limit."""

from __future__ import annotations

import pytest
from check_cases import finding, findings, moved, outcome, solved_row, words
from factories import make_face, make_job, make_keep_out, make_raceway, make_row

from templates_engine.checks import check
from templates_engine.job.model import Lips
from templates_engine.layout import solve
from templates_engine.values import replace

HALF_1_INCH_KNOCKOUT = 1.375 / 2


@pytest.fixture
def row():
    return solved_row("1", "1")


# --- the flat of the face -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("u", "expected"),
    [(5.0, "ok"), (HALF_1_INCH_KNOCKOUT, "ok"), (HALF_1_INCH_KNOCKOUT - 0.001, "fail")],
)
def test_a_knockout_may_touch_the_start_edge_but_not_pass_it(row, u, expected):
    assert outcome(moved(row, "A1", u=u), "flat metal along the face") == expected


def test_a_knockout_past_the_end_edge_says_which_edge_and_by_how_much(row):
    found = finding(moved(row, "A2", u=20 - HALF_1_INCH_KNOCKOUT + 0.25), "flat metal along the face")
    assert found.outcome.value == "fail"
    assert found.holes == ("A2",)
    assert found.provided == pytest.approx(-0.25)
    assert found.message == "A2's knockout toward the right runs 1/4 in past the flat metal."


@pytest.mark.parametrize("lips", [Lips(start_in=0.75), Lips(end_in=0.75)])
def test_a_lip_at_either_end_takes_flat_metal(lips):
    row = solved_row("1", "1", lips=lips)
    edge = 0.75 + HALF_1_INCH_KNOCKOUT
    place = edge if lips.start_in else 20 - edge
    inward = 0.001 if lips.start_in else -0.001
    assert outcome(moved(row, "A1", u=place), "flat metal along the face") == "ok"
    assert outcome(moved(row, "A1", u=place - inward), "flat metal along the face") == "fail"


def test_sides_say_top_and_bottom():
    side = solve(make_job(make_face(make_row("1", "1"), face="left", width=30)))
    assert "toward the top" in words(moved(side, "A1", u=0.5), "flat metal along the face")


def test_a_4_inch_raceway_off_deep_strut_does_not_fit_a_shallow_can():
    job = make_job(make_face(make_row("4"), depth=5.75), back_gap=0.25)
    found = finding(job, "depth of the can")
    assert found.outcome.value == "fail"
    assert found.provided == pytest.approx(5.75 - (1.375 + 2.25 + 4.641 / 2))
    assert "centre 3-5/8 in from the back" in found.message
    assert "5-15/16 in (5.9455)" in found.message
    assert "5-3/4 in" in found.message


@pytest.mark.parametrize(
    ("v", "expected"),
    [
        (8 - HALF_1_INCH_KNOCKOUT, "ok"),
        (8 - HALF_1_INCH_KNOCKOUT + 0.001, "fail"),
        (HALF_1_INCH_KNOCKOUT, "ok"),
        (HALF_1_INCH_KNOCKOUT - 0.001, "fail"),
    ],
)
def test_a_knockout_may_touch_the_back_and_front_edges(row, v, expected):
    assert outcome(moved(row, "A1", v=v), "depth of the can") == expected


@pytest.mark.parametrize(("lips", "v"), [(Lips(back_in=1), 1.6), (Lips(front_in=1), 6.4)])
def test_lips_at_back_and_front_count(lips, v):
    assert outcome(moved(solved_row("1", lips=lips), "A1", v=v), "depth of the can") == "fail"


def test_metric_jobs_are_told_in_millimetres():
    job = make_job(make_face(make_row("4"), depth=5.75), back_gap=0.25, unit="mm")
    assert "146.05 mm" in words(job, "depth of the can")
    assert " in (" not in words(job, "depth of the can")


# --- knockouts and raceways against each other --------------------------------------------------------------


@pytest.mark.parametrize(("apart", "expected"), [(2.0, "ok"), (1.375, "ok"), (1.374, "fail")])
def test_knockouts_may_touch_but_not_overlap(row, apart, expected):
    place = 10 + apart
    assert outcome(moved(moved(row, "A1", u=10), "A2", u=place), "knockouts apart") == expected


@pytest.mark.parametrize(
    ("web", "expected"), [(0.5, "ok"), (0.25, "ok"), (0.249, "caution"), (0.0, "caution")]
)
def test_a_thin_web_is_a_caution(row, web, expected):
    close = moved(moved(row, "A1", u=10), "A2", u=10 + 1.375 + web)
    assert outcome(close, "metal between knockouts") == expected


def test_overlapping_knockouts_are_told_once_and_not_as_a_thin_web(row):
    close = moved(moved(row, "A1", u=10), "A2", u=11)
    assert outcome(close, "knockouts apart") == "fail"
    assert findings(close, "metal between knockouts") == []


@pytest.mark.parametrize(("apart", "expected"), [(2.0, "ok"), (1.163, "ok"), (1.162, "fail")])
def test_raceways_may_touch_but_not_overlap(row, apart, expected):
    close = moved(moved(row, "A1", u=10), "A2", u=10 + apart)
    assert outcome(close, "raceways apart") == expected


def test_rows_are_measured_against_each_other():
    rows = (make_row("2", name="A", strut=0.8125), make_row("2", name="B", strut=3.25))
    layout = solve(make_job(make_face(*rows, depth=12)))
    assert outcome(layout, "raceways apart") == "ok"
    assert outcome(moved(layout, "B1", v=3.0), "raceways apart") == "fail"
    assert outcome(moved(layout, "B1", v=4.0), "knockouts apart") == "fail"


def test_flexible_raceways_are_taken_at_their_largest(row):
    apart = moved(moved(row, "A1", u=10), "A2", u=11.2)
    assert outcome(apart, "raceways apart") == "ok"
    assert outcome(moved(apart, "A2", outside_diameter_most_in=1.3), "raceways apart") == "fail"


# --- keep-outs ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("clear", "expected"), [(0.0, "ok"), (0.25, "ok"), (0.251, "fail")])
def test_a_keep_out_keeps_its_clear_distance(clear, expected):
    job = make_job(make_face(make_row(make_raceway("1", at=5)), keep_outs=[make_keep_out((9, 10))]))
    layout = moved(solve(job), "A1", u=9 - HALF_1_INCH_KNOCKOUT - 0.25)
    face = layout.faces[0]
    keep_outs = (replace(face.job.keep_outs[0], clear_in=clear),)
    layout = replace(layout, faces=(replace(face, job=replace(face.job, keep_outs=keep_outs)),))
    assert outcome(layout, "keep-outs") == expected


def test_a_round_keep_out_is_measured_round():
    job = make_job(
        make_face(make_row(make_raceway("1", at=5)), keep_outs=[make_keep_out(12, 2.0, diameter=1.0)])
    )
    # 3-4-5: centre 1.5 along and 2 across is 2.5 from the keep-out's centre
    layout = moved(solve(job), "A1", u=10.5, v=4.0)
    found = finding(layout, "keep-outs")
    assert found.outcome.value == "ok"
    assert found.provided == pytest.approx(2.5 - 0.5 - HALF_1_INCH_KNOCKOUT)
    assert outcome(moved(layout, "A1", u=12, v=2.2), "keep-outs") == "fail"


def test_a_face_without_keep_outs_says_nothing_of_them(row):
    assert findings(row, "keep-outs") == []


# --- gaps, wall ---------------------------------------------------------------------------------------------


def test_the_gap_as_asked_passes_and_a_closed_one_fails(row):
    assert outcome(row, "gaps as asked") == "ok"
    second = row.faces[0].holes[1].u_in
    found = finding(moved(row, "A2", u=second - 0.125), "gaps as asked")
    assert found.outcome.value == "fail"
    assert (found.provided, found.required) == (pytest.approx(0.875), 1.0)
    assert "gap of the row" in found.message


def test_gap_before_counts_for_its_pair():
    row = make_row(make_raceway("1", "A1"), make_raceway("1", "A2", gap_before=3.0), gap=1.0)
    layout = solve(make_job(make_face(row)))
    found = finding(moved(layout, "A2", u=layout.faces[0].holes[1].u_in - 1), "gaps as asked")
    assert found.outcome.value == "fail"
    assert (found.provided, found.required) == (pytest.approx(2.0), 3.0)


@pytest.mark.parametrize(("v", "expected"), [(2.0, "ok"), (1.163 / 2 - 0.25, "ok"), (0.3, "fail")])
def test_raceways_stay_out_of_the_wall(v, expected):
    layout = solve(make_job(make_face(make_row("1")), back_gap=0.25))
    assert outcome(moved(layout, "A1", v=v), "raceways clear of the wall") == expected


@pytest.mark.parametrize(("hole", "expected"), [(2.0, "ok"), (1.315, "ok"), (1.3, "fail")])
def test_a_hole_takes_the_rigid_thread_even_for_thin_tubing(row, hole, expected):
    assert outcome(moved(row, "A1", hole_diameter_in=hole), "hole takes the thread") == expected


def test_findings_come_gravest_first_then_by_name(row):
    found = check(moved(moved(row, "A1", u=10), "A2", u=10.5))
    keys = [(each.outcome.gravity, each.check, each.face) for each in found]
    assert keys == sorted(keys)
    assert found[0].outcome.value == "fail"
    assert found[-1].outcome.value == "ok"


def test_many_alike_holes_make_one_finding():
    layout = solved_row(*["1/2"] * 10)
    for number in range(1, 11):
        layout = moved(layout, f"A{number}", v=0.1)
    found = finding(layout, "depth of the can")
    assert len(found.holes) == 10
    assert found.message.endswith("(also A2, A3, A4, A5 and 5 more).")
