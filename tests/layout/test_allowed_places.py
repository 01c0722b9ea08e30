"""Where a circle may stand beside keep-outs: triangles worked on paper, and the plane's own gap formulas."""

from __future__ import annotations

import pytest
from factories import make_keep_out
from hypothesis import given
from hypothesis import strategies as st
from random_runs import examples

from templates_engine.geometry import Circle, Interval, Point, Rect, gap_between_circles, gap_circle_rect
from templates_engine.job.model import KeepOut
from templates_engine.layout.row.allowed_places import forbidden_stretch, free_stretches


def test_circle_against_circle_is_the_3_4_5_triangle() -> None:
    # Radii 1 and 3 and 1 clear make 5; the centres' lines are 3 apart, so 4 to each side.
    stud = make_keep_out(10.0, 5.0, diameter=6.0, clear=1.0)
    assert forbidden_stretch(2.0, 1.0, stud) == Interval(6.0, 14.0)
    assert forbidden_stretch(8.0, 1.0, stud) == Interval(6.0, 14.0)


def test_circle_beside_a_rectangle_keeps_radius_and_clear() -> None:
    seam = make_keep_out((10.0, 11.0), (0.0, 9.0), clear=0.25)
    assert forbidden_stretch(4.0, 1.0, seam) == Interval(8.75, 12.25)


def test_circle_past_a_rectangles_corner_is_the_3_4_5_triangle() -> None:
    # The circle's line runs 3 in front of the rectangle, radius 4 and 1 clear: 4 beyond each corner.
    block = make_keep_out((10.0, 11.0), (0.0, 2.0), clear=1.0)
    assert forbidden_stretch(5.0, 4.0, block) == Interval(6.0, 15.0)


@pytest.mark.parametrize("v", [0.0, 10.0])
def test_passing_at_exactly_the_clear_distance_is_allowed(v: float) -> None:
    assert forbidden_stretch(v, 1.0, make_keep_out(10.0, 5.0, diameter=6.0, clear=1.0)) is None
    assert forbidden_stretch(v, 1.0, make_keep_out((3.0, 4.0), (3.0, 7.0), clear=2.0)) is None


def test_cutting_out() -> None:
    assert free_stretches(0, 10, []) == (Interval(0, 10),)
    assert free_stretches(0, 10, [Interval(3, 5), Interval(4, 6)]) == (Interval(0, 3), Interval(6, 10))
    assert free_stretches(0, 10, [Interval(4, 6), Interval(-5, 1), Interval(9, 20)]) == (
        Interval(1, 4),
        Interval(6, 9),
    )
    assert free_stretches(0, 10, [Interval(-1, 11)]) == ()
    assert free_stretches(5, 4, []) == ()


def test_the_ends_of_what_is_cut_out_stay() -> None:
    assert free_stretches(0, 10, [Interval(0, 10)]) == (Interval(0, 0), Interval(10, 10))
    assert free_stretches(2, 2, [Interval(2, 3)]) == (Interval(2, 2),)


def clearance(u: float, v: float, radius: float, keep_out: KeepOut) -> float:
    """What is left between the circle and the keep-out beyond its clear distance, by the plane's formulas."""
    circle = Circle(Point(u, v), 2 * radius)
    if keep_out.diameter_in is None:
        rect = Rect(keep_out.u_low_in, keep_out.v_low_in, keep_out.u_high_in, keep_out.v_high_in)
        return gap_circle_rect(circle, rect) - keep_out.clear_in
    middle = Point((keep_out.u_low_in + keep_out.u_high_in) / 2, (keep_out.v_low_in + keep_out.v_high_in) / 2)
    return gap_between_circles(circle, Circle(middle, keep_out.diameter_in)) - keep_out.clear_in


lengths = st.floats(0.05, 6)


@st.composite
def keep_outs(draw: st.DrawFn) -> KeepOut:
    u, v = draw(st.floats(0, 20)), draw(st.floats(0, 8))
    clear = draw(st.sampled_from([0.0, 0.25, 1.0]))
    if draw(st.booleans()):
        return make_keep_out(u, v, diameter=draw(lengths), clear=clear)
    return make_keep_out((u, u + draw(lengths)), (v, v + draw(lengths)), clear=clear)


@examples(300)
@given(keep_outs(), st.floats(0, 8), lengths, st.floats(-0.5, 1.5))
def test_forbidden_exactly_where_the_plane_says_too_near(
    keep_out: KeepOut, v: float, radius: float, share: float
) -> None:
    taken = forbidden_stretch(v, radius, keep_out)
    if taken is None:
        for k in range(101):
            u = keep_out.u_low_in + (keep_out.u_high_in - keep_out.u_low_in) * k / 100
            assert clearance(u, v, radius, keep_out) >= -1e-8
        return
    assert clearance(taken.low, v, radius, keep_out) == pytest.approx(0, abs=1e-7)
    assert clearance(taken.high, v, radius, keep_out) == pytest.approx(0, abs=1e-7)
    u = taken.low + share * (taken.high - taken.low)
    if 0.01 < share < 0.99 and taken.high - taken.low > 1e-3:
        assert clearance(u, v, radius, keep_out) < 0
    elif not 0 <= share <= 1:
        assert clearance(u, v, radius, keep_out) >= -1e-8


@examples(100)
@given(keep_outs(), st.floats(0, 8), lengths, st.integers(-64, 64).map(lambda k: k / 8))
def test_moving_a_keep_out_moves_what_it_forbids(
    keep_out: KeepOut, v: float, radius: float, by: float
) -> None:
    moved = make_keep_out(
        (keep_out.u_low_in + by, keep_out.u_high_in + by),
        (keep_out.v_low_in, keep_out.v_high_in),
        diameter=keep_out.diameter_in,
        clear=keep_out.clear_in,
    )
    here, there = forbidden_stretch(v, radius, keep_out), forbidden_stretch(v, radius, moved)
    assert (here is None) == (there is None)
    if here is not None and there is not None:
        assert there == pytest.approx((here.low + by, here.high + by), abs=1e-7)
