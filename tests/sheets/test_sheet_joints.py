"""Joints along one axis, against brute force and against covering by hand."""

from __future__ import annotations

import itertools
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from templates_engine.geometry import Interval
from templates_engine.sheets.joints import (
    Axis,
    _least_within,
    candidates,
    fewest,
    joint_limits,
    joint_places,
    least_harm,
    least_step,
    windows,
)
from templates_engine.sheets.model import CROSS_ARM_IN
from templates_engine.sheets.obstacles import (
    CIRCLE_HARM,
    CLEAR_IN,
    CLOSE_HARM,
    NEAR_HARM,
    SPOT_CLEAR_IN,
    SPOT_HARM,
    Obstacle,
    harms_at,
)

TINY = 1e-6


def hole(centre: float, diameter: float) -> Obstacle:
    r = diameter / 2
    return Obstacle(centre - r, centre + r, (centre, centre - r, centre + r, centre, centre))


def harm_of(obstacle, place):
    """What a joint at ``place`` costs, case by case."""
    if not obstacle.low - CLEAR_IN + 1e-9 < place < obstacle.high + CLEAR_IN - 1e-9:
        return NEAR_HARM * (obstacle.low - CROSS_ARM_IN + 1e-9 < place < obstacle.high + CROSS_ARM_IN - 1e-9)
    nearest = min((abs(place - spot) for spot in obstacle.spots), default=math.inf)
    if nearest < CLEAR_IN - 1e-9:
        return CIRCLE_HARM + SPOT_HARM
    return CIRCLE_HARM + CLOSE_HARM * (nearest < SPOT_CLEAR_IN - 1e-9)


def harm_at(place, obstacles):
    return sum(harm_of(obstacle, place) for obstacle in obstacles)


def best_joints(axis, obstacles):
    return joint_places(axis, least_harm(axis, obstacles))


def brute_force(extent, view, overlap, obstacles, places):
    """The least (harm, sum of squares) over every choice of one place a joint, by trying them all."""
    best = None
    for joints in itertools.product(*places):
        shown = windows(extent, joints, overlap)
        if any(window.high - window.low > view + 1e-9 for window in shown):
            continue
        if any(b - a < least_step(view, overlap) - 1e-9 for a, b in itertools.pairwise(joints)):
            continue
        harm = sum(harm_at(joint, obstacles) for joint in joints)
        rank = (harm, sum((window.high - window.low) ** 2 for window in shown))
        if best is None or rank < best:
            best = rank
    return best


@pytest.mark.parametrize(
    ("length", "view", "overlap", "expected"),
    [
        (10.0, 10.0, 0.5, 1),
        (10.001, 10.0, 0.5, 2),
        (19.5, 10.0, 0.5, 2),  # two views less one overlap, exactly
        (19.501, 10.0, 0.5, 3),
        (29.0, 10.0, 0.5, 3),
        (0.2, 10.0, 0.5, 1),
    ],
)
def test_fewest_counts_views_less_their_overlaps(length, view, overlap, expected):
    assert fewest(length, view, overlap) == expected


@pytest.mark.parametrize(
    ("length", "view", "holes"),
    [
        (24.8, 13.05, [(2 + 3.3 * i, 1.4) for i in range(7)]),
        (24.8, 10.05, [(2 + 3.3 * i, 1.4) for i in range(7)]),
        (20.8, 7.55, [(5, 4), (10, 4), (15, 4)]),
        (15.0, 8.0, []),
        (17.0, 6.5, [(3, 2.5), (6.1, 2.5), (9, 2.0), (12.2, 3)]),
        (28.4, 10.05, [(8.5, 1.0), (9.8, 0.9), (18.4, 2.4), (19.9, 0.5)]),
    ],
)
def test_joints_are_as_good_as_trying_every_place(length, view, holes):
    overlap, extent = 0.5, Interval(-0.4, length - 0.4)
    obstacles = tuple(hole(*one) for one in holes)
    joints = best_joints(Axis(extent, view, overlap), obstacles)
    count = fewest(length, view, overlap)
    places = [candidates(limits, obstacles) for limits in joint_limits(extent, count, view, overlap)]
    shown = windows(extent, joints, overlap)
    found = (
        sum(harm_at(joint, obstacles) for joint in joints),
        sum((window.high - window.low) ** 2 for window in shown),
    )
    best = brute_force(extent, view, overlap, obstacles, places)
    assert len(joints) == count - 1
    assert found[0] == best[0]
    assert found[1] == pytest.approx(best[1], abs=1e-7)


@given(
    st.floats(70.0, 130.0),
    st.lists(st.tuples(st.floats(0, 130), st.floats(0.5, 4.0)), min_size=10, max_size=60),
)
def test_long_axes_against_weighing_every_pair(length, holes):
    """With a dozen joints and more: a plain walk over all pairs of places, harm first, evenness second."""
    axis = Axis(Interval(-0.4, length), 10.0, 0.5)
    obstacles = tuple(hole(*one) for one in holes)
    joints = best_joints(axis, obstacles)
    stages = axis.choices(obstacles)
    ways = {axis.extent.low: (0, 0.0)}
    for number, stage in enumerate((*stages, [axis.extent.high])):
        is_end = number == len(stages)
        following = {}
        for place in stage:
            reached = []
            for before, (harm, uneven) in ways.items():
                ends = (number > 0) + (not is_end)
                shown = place - before + ends * 0.25
                if shown <= 10.0 + 1e-9 and place - before >= 1.0 - 1e-9:
                    reached.append((harm, uneven + (shown - axis.mean_in) ** 2))
            if reached:
                harm, uneven = min(reached)
                following[place] = (harm + (0 if is_end else harm_at(place, obstacles)), uneven)
        ways = following
    harm, uneven = ways[axis.extent.high]
    assert sum(harm_at(joint, obstacles) for joint in joints) == harm
    shown = [window.high - window.low for window in windows(axis.extent, joints, axis.overlap_in)]
    assert sum((one - axis.mean_in) ** 2 for one in shown) == pytest.approx(uneven, abs=1e-6)


def test_no_place_off_the_grid_harms_less():
    """The candidates miss nothing: a walk in steps of 1/200 in over two joints finds no less harm."""
    extent, view, overlap = Interval(-0.4, 17.4), 6.7, 0.5
    obstacles = tuple(hole(*one) for one in [(4.6, 1.9), (6.0, 0.7), (7.0, 1.1), (11.0, 2.2), (12.9, 1.3)])
    joints = best_joints(Axis(extent, view, overlap), obstacles)
    first, second = joint_limits(extent, 3, view, overlap)

    def fine(limits):
        steps = int((limits.high - limits.low) * 200)
        return [limits.low + index / 200 for index in range(steps + 1)]

    least = brute_force(extent, view, overlap, obstacles, [fine(first), fine(second)])
    assert sum(harm_at(joint, obstacles) for joint in joints) == least[0]


def test_joint_moves_off_a_hole_in_the_middle_and_no_further():
    joints = best_joints(Axis(Interval(0, 16), 10.0, 0.5), (hole(8.0, 2.0),))
    assert joints[0] in (pytest.approx(7 - CROSS_ARM_IN), pytest.approx(9 + CROSS_ARM_IN))


def test_a_joint_finds_a_gap_narrower_than_the_grid():
    first, second = hole(6.255, 2.51), hole(9.139, 3.0)  # clear from 7.5725 to 7.5765
    joints = best_joints(Axis(Interval(0, 16), 10.0, 0.5), (first, second))
    assert harm_at(joints[0], (first, second)) == 2 * NEAR_HARM


def test_joints_do_not_crowd_into_one_gap():
    """Both joints would clear the holes from 9.4625 to 10.1375; then the middle sheet adds little."""
    obstacles = (hole(4.95, 8.9), hole(14.6, 8.8))
    first, second = best_joints(Axis(Interval(0.0, 19.6), 10.0, 0.5), obstacles)
    assert second - first >= 1.0 - 1e-9


def test_joint_stays_in_the_middle_without_holes():
    assert best_joints(Axis(Interval(0, 16), 10.0, 0.5), ()) == (8.0,)


def test_a_joint_that_must_cut_spares_centre_and_quarter_points():
    """The hole is wider than the play of the joint, 7.25 to 8.75 in, and its centre in the middle of it."""
    one = hole(8.0, 6.0)
    (joint,) = best_joints(Axis(Interval(0, 16), 9.0, 0.5), (one,))
    assert one.is_cut(joint)
    assert abs(joint - 8.0) >= CLEAR_IN - 1e-9
    assert harm_at(joint, (one,)) == CIRCLE_HARM


def test_a_joint_just_clear_of_a_circle_does_not_cut_it():
    one = hole(5.0, 2.0)
    assert not one.is_cut(6 + CLEAR_IN)
    assert one.is_cut(6 + CLEAR_IN - 0.001)
    assert harms_at([6 + CLEAR_IN], (one,))[0] == harms_at([6 + CROSS_ARM_IN - 0.001], (one,))[0] == NEAR_HARM
    assert harms_at([6 + CROSS_ARM_IN], (one,))[0] == harms_at([4 - CROSS_ARM_IN], (one,))[0] == 0
    assert harms_at([5.5], (one,))[0] == CIRCLE_HARM
    assert harms_at([5.05], (one,))[0] == harms_at([5.95], (one,))[0] == CIRCLE_HARM + SPOT_HARM


LENGTHS = st.floats(1.0, 150.0)
VIEWS = st.floats(3.0, 40.0)
OVERLAPS = st.floats(0.1, 1.9)
HOLES = st.lists(st.tuples(st.floats(0, 150), st.floats(0.5, 6.0)), max_size=12)


@given(LENGTHS, VIEWS, OVERLAPS, HOLES)
def test_windows_cover_everything_fit_the_view_and_overlap(length, view, overlap, holes):
    extent = Interval(0.0, length)
    obstacles = tuple(hole(*one) for one in holes if one[0] < length)
    joints = best_joints(Axis(extent, view, overlap), obstacles)
    shown = windows(extent, joints, overlap)
    assert len(shown) == max(1, math.ceil((length - overlap) / (view - overlap) - 1e-9))
    assert shown[0].low == 0.0
    assert shown[-1].high == length
    assert all(window.high - window.low <= view + TINY for window in shown)
    for before, after in itertools.pairwise(shown):
        assert before.high - after.low == pytest.approx(overlap, abs=TINY)
    for joint, (before, after) in zip(joints, itertools.pairwise(shown), strict=True):
        assert before.low < joint - overlap / 2 + TINY
        assert after.high > joint + overlap / 2 - TINY


@given(LENGTHS, VIEWS, OVERLAPS)
def test_only_neighbours_overlap_where_the_view_allows(length, view, overlap):
    joints = best_joints(Axis(Interval(0.0, length), view, overlap), ())
    for before, after in itertools.pairwise(joints):
        assert after - before >= least_step(view, overlap) - TINY


def test_a_joint_that_must_cut_a_circle_keeps_off_its_centre_and_quarter_points() -> None:
    """A punch set on paper a sixteenth from a taped edge tears it."""
    hole = Obstacle(4.0, 12.0, (4.0, 8.0, 12.0))
    clear, close, on = (
        harms_at([8.0 + off], (hole,))[0] for off in (SPOT_CLEAR_IN, SPOT_CLEAR_IN - 0.01, 0.01)
    )
    assert harms_at([6.0], (hole,))[0] == clear < close < on
    assert harms_at([8.0 + CLEAR_IN], (hole,))[0] == close


@given(st.lists(st.floats(0, 30)), st.lists(st.tuples(st.floats(0, 30), st.floats(0.5, 5.0)), max_size=8))
def test_the_harm_of_many_places_is_that_of_each(places, holes):
    obstacles = tuple(hole(*one) for one in holes)
    rising = sorted(places)
    assert harms_at(rising, obstacles) == [harm_at(place, obstacles) for place in rising]


@given(
    st.lists(st.integers(0, 9), min_size=1, max_size=20),
    st.lists(st.tuples(st.integers(0, 20), st.integers(0, 20)), min_size=1, max_size=12),
)
def test_the_least_within_spans_is_what_looking_at_each_gives(values, ends):
    firsts, lasts = (sorted(min(one, len(values)) for one in side) for side in zip(*ends, strict=True))
    spans = [(min(first, last), last) for first, last in zip(firsts, lasts, strict=True)]
    expected = [min(values[first:last], default=math.inf) for first, last in spans]
    assert _least_within(values, iter(spans)) == expected
