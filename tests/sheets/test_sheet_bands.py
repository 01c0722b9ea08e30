"""Joints of both axes together, against brute force on small faces and against bounds on large ones."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from random_runs import examples

from templates_engine.geometry import Interval, Point
from templates_engine.sheets.bands import best_joints
from templates_engine.sheets.field import Field, HoleSpots, Joints
from templates_engine.sheets.joints import (
    CIRCLE_HARM,
    CLEAR_IN,
    LEAST_STRETCH_IN,
    Axis,
    Obstacle,
    candidates,
    harm_at,
    joint_limits,
    joint_places,
)

OVERLAP = 0.5


def spots(x: float, y: float, diameter: float) -> HoleSpots:
    r = diameter / 2
    return HoleSpots(
        Obstacle(x - r, x + r, (x, x - r, x + r, x, x)), Obstacle(y - r, y + r, (y, y, y, y - r, y + r))
    )


def field(width: float, height: float, view: tuple[float, float], holes) -> Field:
    across = Axis(Interval(0.0, width), view[0], OVERLAP)
    down = Axis(Interval(0.0, height), view[1], OVERLAP)
    return Field(across, down, tuple(spots(*hole) for hole in holes))


def joint_lines(made: Field, joints: Joints):
    """Every joint as two ends."""
    for y in joints.level:
        yield Point(made.across.extent.low, y), Point(made.across.extent.high, y)
    for rows, places in zip(made.bands(joints.level), joints.upright, strict=True):
        for x in places:
            yield Point(x, rows.low), Point(x, rows.high)


def distance_to_line(place: Point, start: Point, end: Point) -> float:
    nearest = Point(
        min(max(place.x, start.x), end.x),
        min(max(place.y, start.y), end.y),
    )
    return math.dist(place, nearest)


def cut_by_distance(made: Field, joints: Joints, holes) -> list[int]:
    """The holes whose circle, CLEAR_IN round it, a joint reaches: found by distance alone."""
    return [
        index
        for index, (x, y, diameter) in enumerate(holes)
        if any(
            distance_to_line(Point(x, y), *line) < diameter / 2 + CLEAR_IN - 1e-6
            for line in joint_lines(made, joints)
        )
    ]


def least_harm(made: Field) -> int:
    """Over every level joint and every upright joint of either band, two by two; one joint an axis."""
    (level_limits,), (upright_limits,) = (
        joint_limits(axis.extent, 2, axis.view_in, axis.overlap_in) for axis in (made.down, made.across)
    )
    own = candidates(upright_limits, tuple(hole.across for hole in made.holes))
    shifted = {place + by for place in own for by in (-LEAST_STRETCH_IN, 0.0, LEAST_STRETCH_IN)}
    places = [place for place in sorted(shifted) if upright_limits.low <= place <= upright_limits.high]
    least = None
    for level in candidates(level_limits, made.level_obstacles):
        above, below = (
            [harm_at(place, made.band_obstacles(rows)) for place in places] for rows in made.bands((level,))
        )
        own_harm = harm_at(level, made.level_obstacles)
        for (a, harm_a), (b, harm_b) in itertools.product(
            zip(places, above, strict=True), zip(places, below, strict=True)
        ):
            if a == b or abs(a - b) >= LEAST_STRETCH_IN - 1e-9:
                total = own_harm + harm_a + harm_b
                least = total if least is None or total < least else least
    assert least is not None
    return least


SMALL_HOLES = st.lists(
    st.tuples(st.floats(2.0, 12.0), st.floats(2.0, 10.0), st.floats(0.8, 4.0)), min_size=1, max_size=5
)


@examples(150)
@given(SMALL_HOLES)
@example([(5.0, 2.0, 3.0), (8.0, 6.0, 3.0)])
@example([(5.0, 7.0, 2.0), (4.875, 7.0, 3.125), (7.75, 5.0, 2.5)])
def test_two_by_two_against_brute_force(holes):
    made = field(14.0, 12.0, (8.0, 7.0), holes)
    joints = best_joints(made)
    assert made.harm(joints) == least_harm(made)


@given(SMALL_HOLES)
def test_what_is_said_to_be_cut_is_what_lies_at_a_joint(holes):
    """A hole that a joint only passes by its corner may be counted as cut, never the other way round."""
    made = field(14.0, 12.0, (8.0, 7.0), holes)
    joints = best_joints(made)
    said = [index for index, hole in enumerate(made.holes) if made.cuts(joints, hole)]
    found = cut_by_distance(made, joints, holes)
    assert set(found) <= set(said)
    if made.harm(joints) < CIRCLE_HARM:
        assert said == found == []


LARGE_HOLES = st.lists(
    st.tuples(st.floats(1.0, 59.0), st.floats(1.0, 29.0), st.floats(0.8, 5.0)), min_size=5, max_size=40
)


@examples(25)
@given(LARGE_HOLES)
def test_large_faces_keep_within_bounds(holes):
    """Never worse than joints straight through, nor better than each band alone between its level joints."""
    made = field(60.0, 30.0, (10.5, 6.5), holes)
    joints = best_joints(made)
    level = joint_places(made.down, made.level_obstacles)
    straight = joint_places(made.across, tuple(hole.across for hole in made.holes))
    assert made.harm(joints) <= made.harm(Joints(level, (straight,) * made.down.count))
    alone = sum(harm_at(place, made.level_obstacles) for place in joints.level)
    for rows in made.bands(joints.level):
        obstacles = made.band_obstacles(rows)
        alone += sum(harm_at(place, obstacles) for place in joint_places(made.across, obstacles))
    assert made.harm(joints) >= alone
    for above, below in itertools.pairwise(joints.upright):
        for a, b in itertools.product(above, below):
            assert a == b or abs(a - b) >= LEAST_STRETCH_IN - 1e-6


def test_level_joints_are_chosen_with_the_bands_in_mind():
    """Below both holes a level joint is freer and makes more even sheets; but no upright joint passes both.

    ::

        |  (  a  )       |
        |     (  b  )    |      so the level joint goes into the narrow gap between a and b
        |                |
    """
    holes = [(6.0, 2.2, 3.2), (7.7, 5.65, 3.2)]
    made = field(14.0, 12.0, (8.6, 10.0), holes)
    joints = best_joints(made)
    assert joint_places(made.down, made.level_obstacles)[0] > 7.25
    assert 3.8 < joints.level[0] < 4.05
    assert made.harm(joints) < CIRCLE_HARM


@pytest.mark.parametrize("clear", [1.0, 1.49])
def test_upright_joints_of_neighbouring_bands_never_leave_a_stretch_too_short(clear):
    """Each band alone would put its joint beside its hole, the two less than a stretch apart."""
    holes = [(7.0 - clear / 2, 3.0, 1.0), (7.0 + clear / 2, 9.0, 1.0)]
    made = field(14.0, 12.0, (7.9, 7.0), holes)
    above, below = (places[0] for places in best_joints(made).upright)
    assert above == below or abs(above - below) >= LEAST_STRETCH_IN - 1e-9


@examples(150)
@given(
    st.floats(10.0, 30.0),
    st.floats(12.0, 30.0),
    st.lists(st.tuples(st.floats(0, 1), st.floats(0, 1), st.floats(1.0, 5.0)), min_size=3, max_size=9),
)
def test_no_stretch_between_staggered_joints_is_too_short_for_marks(width, height, holes):
    """Pieces of level joint between an upright one above and one below; a band's own joints set the least."""
    made = field(width, height, (7.0, 7.5), [(u * width, v * height, d) for u, v, d in holes])
    joints = best_joints(made)
    for above, below in itertools.pairwise(joints.upright):
        for x, y in itertools.product(above, below):
            # Where one goes on in the other band, the piece is as long as that band's own sheet is wide.
            assert x in below or y in above or abs(x - y) >= LEAST_STRETCH_IN - 1e-9
