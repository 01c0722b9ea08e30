"""Registration marks on single joints."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from templates_engine.geometry import Circle, Point, Rect
from templates_engine.sheets.registration_marks import (
    EDGE_CLEAR_IN,
    END_CLEAR_IN,
    HOLE_CLEAR_IN,
    MOST_APART_IN,
    marks_on,
)

FACE = Rect(0.0, 0.0, 24.0, 6.0)
TOP, FOOT = Point(12.0, 6.4), Point(12.0, -0.4)


def test_two_marks_on_the_line_clear_of_the_edges_rulers():
    first, second = marks_on(TOP, FOOT, "1-2", (), FACE)
    assert (first.name, second.name) == ("1-2a", "1-2b")
    assert first.at == pytest.approx((12.0, 6.0 - EDGE_CLEAR_IN))
    assert second.at == pytest.approx((12.0, EDGE_CLEAR_IN))


def test_marks_keep_clear_of_a_hole_beside_the_joint():
    hole = Circle(Point(12.6, 5.0), 1.0)
    marks = marks_on(TOP, FOOT, "1-2", (hole,), FACE)
    for mark in marks:
        assert math.dist(mark.at, hole.centre) >= hole.radius + HOLE_CLEAR_IN - 1e-9
    assert marks[0].at.y < 5.0  # the nearest clear place to the back edge is below the hole
    assert math.dist(marks[0].at, hole.centre) == pytest.approx(hole.radius + HOLE_CLEAR_IN)


def test_a_mark_may_stand_inside_a_large_hole_away_from_its_line_and_centre():
    hole = Circle(Point(12.0, 3.0), 5.6)
    marks = marks_on(TOP, FOOT, "1-2", (hole,), FACE)
    distances = [math.dist(mark.at, hole.centre) for mark in marks]
    assert min(distances) >= HOLE_CLEAR_IN - 1e-9
    assert max(distances) <= hole.radius - HOLE_CLEAR_IN + 1e-9
    assert marks[0].at.y - marks[1].at.y >= 3.4


def test_rulers_give_way_before_holes_do():
    """A concentric knockout takes the joint from y = 4.6 up: one mark moves over the ruler."""
    rings = tuple(Circle(Point(12.0, 6.9), 2 * radius) for radius in (2.0, 1.5, 1.0, 0.5, 0.1))
    face = Rect(0.0, 0.0, 24.0, 8.0)
    first, second = marks_on(Point(12.0, 8.4), Point(12.0, -0.4), "1-2", rings, face)
    assert first.at == pytest.approx((12.0, 4.9 - HOLE_CLEAR_IN))
    assert second.at == pytest.approx((12.0, -0.4 + END_CLEAR_IN))


def test_holes_give_way_when_nothing_else_is_left():
    rings = tuple(Circle(Point(12.0, 3.0), 0.5 + 0.5 * step) for step in range(14))
    first, second = marks_on(TOP, FOOT, "1-2", rings, FACE)
    assert first.at == pytest.approx((12.0, 6.4 - END_CLEAR_IN))
    assert second.at == pytest.approx((12.0, -0.4 + END_CLEAR_IN))


def test_a_short_joint_still_gets_two_marks_apart():
    first, second = marks_on(Point(3.0, 0.5), Point(3.0, 0.1), "7-8", (), FACE)
    assert first.at == pytest.approx((3.0, 0.4))
    assert second.at == pytest.approx((3.0, 0.2))


def test_joints_in_the_middle_of_a_face_use_all_their_length():
    face = Rect(0.0, 0.0, 40.0, 40.0)
    first, second = marks_on(Point(10.0, 25.0), Point(10.0, 15.0), "4-5", (), face)
    assert (first.at.y, second.at.y) == (25.0 - END_CLEAR_IN, 15.0 + END_CLEAR_IN)
    first, second = marks_on(Point(10.0, 15.0), Point(20.0, 15.0), "4-7", (), face)
    assert first.at == (10.0 + END_CLEAR_IN, 15.0)
    assert second.at == (20.0 - END_CLEAR_IN, 15.0)


def test_only_edges_the_joint_comes_to_hold_marks_off():
    """The back edge lies 10 in above this joint's start; 10 in below it there is none."""
    face = Rect(0.0, 0.0, 40.0, 40.0)
    _, second = marks_on(Point(10.0, 30.0), Point(10.0, 19.5), "4-5", (), face)
    assert second.at == (10.0, 19.5 + END_CLEAR_IN)


def test_a_long_joint_gets_marks_between():
    marks = marks_on(Point(0.0, 3.0), Point(60.0, 3.0), "1-2", (), Rect(-5.0, 0.0, 65.0, 6.0))
    assert [mark.name for mark in marks] == ["1-2a", "1-2b", "1-2c", "1-2d", "1-2e", "1-2f"]
    steps = [b.at.x - a.at.x for a, b in pairwise(marks)]
    assert max(steps) <= MOST_APART_IN + 1e-9


def test_a_mark_between_moves_off_a_hole():
    hole = Circle(Point(15.0, 3.0), 1.0)
    marks = marks_on(Point(5.0, 3.0), Point(25.0, 3.0), "1-2", (hole,), Rect(0.0, 0.0, 30.0, 6.0))
    assert len(marks) == 3
    assert abs(marks[1].at.x - 15.0) == pytest.approx(0.5 + HOLE_CLEAR_IN)


def test_a_mark_keeps_out_of_a_knockout_the_joint_crosses():
    """A ring and cross inside a knockout could be punched for its centre."""
    hole = Circle(Point(12.0, 5.6), 2.0)
    for mark in marks_on(TOP, FOOT, "1-2", (hole,), FACE):
        assert abs(mark.at.y - hole.centre.y) >= hole.radius + HOLE_CLEAR_IN - 1e-9
