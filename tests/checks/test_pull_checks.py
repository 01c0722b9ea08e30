"""Checks of pulls through a box: straight, angle and U, several rows, and the entries of one pull."""

from __future__ import annotations

import math
from typing import Any

import pytest
from check_cases import conductors, finding, findings, moved, outcome, with_enclosure, words
from factories import make_face, make_job, make_place, make_raceway, make_row
from hypothesis import given
from hypothesis import strategies as st

from templates_engine.checks.openings import Disc, distance
from templates_engine.job.model import FaceJob, Job, Pull
from templates_engine.layout import solve


def face(
    word: str, *raceways: tuple[str, str], length: float = 40.0, wiring: Any = None, row: str = "A"
) -> FaceJob:
    """A face of RMC raceways given as id and trade size."""
    made = [make_raceway(size, id, type="RMC", wiring=wiring) for id, size in raceways]
    return make_face(make_row(*made, name=row), face=word, width=length, depth=10)


def box(*faces: FaceJob, pulls: list[tuple[str, str, str]], width: float = 40.0, height: float = 40.0) -> Job:
    made = tuple(Pull(start, end, kind, make_place("pulls")) for start, end, kind in pulls)  # type: ignore[arg-type]
    return with_enclosure(make_job(*faces), pulls=made, width_in=width, height_in=height)


# --- straight -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("length", "expected"), [(16.01, "ok"), (16.0, "ok"), (15.99, "fail")])
def test_a_straight_pull_needs_eight_trade_sizes(length, expected):
    job = box(
        face("left", ("L1", "2")), face("right", ("R1", "2")), pulls=[("L1", "R1", "straight")], width=length
    )
    found = finding(job, "pulls, straight")
    assert (found.outcome.value, found.required) == (expected, 16)


def test_up_and_down_the_height_counts():
    job = box(
        face("top", ("T1", "3")), face("bottom", ("B1", "2")), pulls=[("T1", "B1", "straight")], height=23
    )
    assert (outcome(job, "pulls, straight"), finding(job, "pulls, straight").required) == ("fail", 24)


def test_small_conductors_are_not_ruled():
    wiring = conductors((3, "6"))
    left, right = face("left", ("L1", "2"), wiring=wiring), face("right", ("R1", "2"), wiring=wiring)
    job = box(left, right, pulls=[("L1", "R1", "straight")], width=10)
    assert outcome(job, "pulls, straight") == "ok"
    assert "4 AWG" in words(job, "pulls, straight")


def test_four_awg_is_ruled():
    wiring = conductors((3, "4"))
    left, right = face("left", ("L1", "2"), wiring=wiring), face("right", ("R1", "2"), wiring=wiring)
    assert outcome(box(left, right, pulls=[("L1", "R1", "straight")], width=10), "pulls, straight") == "fail"


def test_a_pull_box_without_pulls_is_not_checked():
    job = box(face("left", ("L1", "2")), pulls=[])
    assert outcome(job, "pulls as written") == "not checked"
    assert findings(with_enclosure(job, kind="panelboard"), "pulls as written") == []
    assert (
        findings(box(face("left", ("L1", "2"), wiring=conductors((3, "6"))), pulls=[]), "pulls as written")
        == []
    )


@pytest.mark.parametrize(
    ("pull", "told"),
    [
        (("L1", "T1", "straight"), "its walls make it angle"),
        (("L1", "R1", "U"), "its walls make it straight"),
        (("L1", "X9", "angle"), "X9, which is on no face laid out here"),
    ],
)
def test_pulls_that_do_not_stand_are_not_checked_and_say_why(pull, told):
    faces = (face("left", ("L1", "2")), face("right", ("R1", "2")), face("top", ("T1", "2")))
    found = finding(box(*faces, pulls=[pull]), "pulls as written")
    assert found.outcome.value == "not checked"
    assert told in found.message


def test_an_id_on_several_faces_is_not_guessed():
    faces = (face("left", ("A1", "2")), face("right", ("A1", "2")))
    assert "several faces" in words(box(*faces, pulls=[("A1", "A1", "straight")]), "pulls as written")


# --- angle and U --------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("width", "expected"), [(20.01, "ok"), (20.0, "ok"), (19.99, "fail")])
def test_an_angle_pull_needs_six_of_the_largest_and_the_others(width, expected):
    left, top = face("left", ("L1", "3"), ("L2", "2")), face("top", ("T1", "1/2"), length=width)
    found = [
        each
        for each in findings(box(left, top, pulls=[("L1", "T1", "angle")], width=width), "pulls, angle and U")
        if each.face == "left"
    ]
    assert [(each.outcome.value, each.required) for each in found] == [(expected, 20)]
    assert "6 x 3 + 2" in found[0].message


def test_both_walls_of_an_angle_pull_are_measured():
    job = box(face("left", ("L1", "2")), face("top", ("T1", "2")), pulls=[("L1", "T1", "angle")])
    assert {each.face for each in findings(job, "pulls, angle and U")} == {"left", "top"}


def test_each_row_is_taken_alone_and_the_one_that_asks_for_most_counts():
    rows = [
        make_row(make_raceway("4", "A1", type="RMC"), name="A", strut=None, back_line=1.0),
        make_row(
            *[make_raceway("3", f"B{number}", type="RMC") for number in (1, 2, 3)],
            name="B",
            strut=None,
            back_line=8.0,
        ),
    ]
    left = make_face(*rows, face="left", width=40, depth=16)
    top = make_face(make_row(make_raceway("2", "T1")), width=40, depth=16)
    job = box(left, top, pulls=[("A1", "T1", "angle"), ("B1", "T1", "angle")])
    found = next(each for each in findings(job, "pulls, angle and U") if each.face == "left")
    assert found.required == 24  # both ask for it: 6 x 4, and 6 x 3 + 3 + 3
    only_b = box(left, top, pulls=[("B1", "T1", "angle")])
    found = next(each for each in findings(only_b, "pulls, angle and U") if each.face == "left")
    assert (found.required, found.holes) == (24, ("B1", "B2", "B3"))


def test_a_u_pull_measures_to_the_opposite_wall_and_between_its_entries():
    left = face("left", ("L1", "2"), ("L2", "2"))
    job = box(left, pulls=[("L1", "L2", "U")], width=14)
    assert (outcome(job, "pulls, angle and U"), finding(job, "pulls, angle and U").required) == ("ok", 14)
    assert outcome(with_enclosure(job, width_in=13.9), "pulls, angle and U") == "fail"
    near = moved(moved(solve(job), "L1", u=10), "L2", u=10 + 12 + 2.375)
    found = finding(near, "pulls, between entries")
    assert (found.outcome.value, found.required) == ("ok", 12)
    assert found.provided == pytest.approx(12)
    assert outcome(moved(near, "L2", u=10 + 12 + 2.37), "pulls, between entries") == "fail"


def test_entries_round_a_corner_are_measured_straight_through_the_box():
    job = box(face("left", ("L1", "3")), face("top", ("T1", "3")), pulls=[("L1", "T1", "angle")])
    # edges 3 in from the corner one way and 4 the other: 5 apart
    layout = moved(moved(solve(job), "L1", u=3 + 1.75, v=4), "T1", u=4 + 1.75, v=4)
    assert finding(layout, "pulls, between entries").provided == pytest.approx(5)


# --- the distance between discs -----------------------------------------------------------------------------

AXES = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0))
NUMBERS = st.floats(-20, 20, allow_nan=False)


@given(
    st.tuples(NUMBERS, NUMBERS, NUMBERS),
    st.tuples(NUMBERS, NUMBERS, NUMBERS),
    st.sampled_from(AXES),
    st.sampled_from(AXES),
    st.floats(0.1, 3),
    st.floats(0.1, 3),
)
def test_no_two_points_of_two_discs_are_nearer_than_their_distance(one, other, first, second, small, large):
    a, b = Disc(one, first, small), Disc(other, second, large)
    found = distance(a, b)
    assert found <= math.dist(one, other) + 1e-9
    assert found >= math.dist(one, other) - small - large - 1e-9
    steps = [2 * math.pi * number / 24 for number in range(24)]
    nearest = min(math.dist(p, q) for p in rim(a, steps) for q in rim(b, steps))
    assert found <= nearest + 1e-6


def rim(disc: Disc, steps: list[float]) -> list[tuple[float, float, float]]:
    x, y, z = disc.centre
    across = disc.normal[0] == 1
    return [
        (x, y + disc.radius * math.cos(step), z + disc.radius * math.sin(step))
        if across
        else (x + disc.radius * math.cos(step), y, z + disc.radius * math.sin(step))
        for step in steps
    ]
