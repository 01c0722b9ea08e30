"""The row solver against examples worked on paper and against a mixed-integer programme."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from brute import AS_GOOD, best_total
from hypothesis import example, given
from hypothesis import strategies as st
from random_runs import examples

from templates_engine.geometry import Interval
from templates_engine.layout.row.allowed_places import free_stretches
from templates_engine.layout.row.exact_search import (
    PlacementProblem,
    least_departure,
    packed_high,
    packed_low,
)
from templates_engine.layout.row.shortfall import least_shortfall

NEAR = 1e-6


def everywhere(low: float, high: float, count: int) -> tuple[tuple[Interval, ...], ...]:
    return ((Interval(low, high),),) * count


def mirrored(line: PlacementProblem) -> PlacementProblem:
    """The same line seen from its other end: every number negated, the order turned round."""
    return PlacementProblem(
        tuple(-want for want in reversed(line.wants)),
        tuple(reversed(line.distances)),
        tuple(
            tuple(Interval(-high, -low) for low, high in reversed(stretches))
            for stretches in reversed(line.allowed)
        ),
        -line.highest,
        -line.lowest,
    )


def highest(line: PlacementProblem) -> tuple[float, ...] | None:
    """The best places with ties going high: those of the mirrored line, mirrored back."""
    places = least_departure(mirrored(line))
    return None if places is None else tuple(-place for place in reversed(places))


def total(line: PlacementProblem, places: tuple[float, ...]) -> float:
    return sum(abs(place - want) for place, want in zip(places, line.wants, strict=True))


def obeys(line: PlacementProblem, places: tuple[float, ...]) -> bool:
    apart = [b - a for a, b in pairwise(places)]
    return (
        all(real >= least - NEAR for real, least in zip(apart, line.distances, strict=True))
        and places[0] >= line.lowest - NEAR
        and places[-1] <= line.highest + NEAR
        and all(
            any(low - NEAR <= place <= high + NEAR for low, high in allowed)
            for place, allowed in zip(places, line.allowed, strict=True)
        )
    )


# --- worked on paper ----------------------------------------------------------------------------------------


def test_wanted_places_that_obey_everything_are_kept_to_the_last_bit() -> None:
    wants = (0.1 + 0.2, 2.3, 7.1)
    line = PlacementProblem(wants, (2.0, 3.0), everywhere(0, 10, 3))
    assert least_departure(line) == wants


def test_one_thing_leaves_a_forbidden_stretch_by_its_nearer_end() -> None:
    allowed = ((Interval(0, 4), Interval(7, 10)),)
    assert least_departure(PlacementProblem((5.0,), (), allowed)) == (4.0,)
    assert least_departure(PlacementProblem((6.0,), (), allowed)) == (7.0,)


def test_of_two_ends_as_near_the_lower_is_taken() -> None:
    line = PlacementProblem((5.0,), (), ((Interval(0, 4), Interval(6, 10)),))
    assert least_departure(line) == (4.0,)
    assert highest(line) == (6.0,)


def test_a_push_travels_along_touching_neighbours() -> None:
    # The first must go from 1 to 3; 2 apart each, so the next stand at 5 and 7; the last has room.
    line = PlacementProblem((1.0, 3.0, 5.0, 20.0), (2.0, 2.0, 2.0), everywhere(0, 30, 4), lowest=3.0)
    assert least_departure(line) == (3.0, 5.0, 7.0, 20.0)


def test_one_moves_far_rather_than_two_moving_more_in_all() -> None:
    # Both want 5; 2 apart. Any split costs 2 in all; the lowest of those answers is (3, 5).
    line = PlacementProblem((5.0, 5.0), (2.0,), everywhere(0, 10, 2))
    assert least_departure(line) == (3.0, 5.0)
    assert highest(line) == (5.0, 7.0)


def test_a_row_that_fits_exactly_fits() -> None:
    line = PlacementProblem((0.0, 0.0, 0.0), (0.1, 0.2), everywhere(0, 0.1 + 0.2, 3), 0.0, 0.3)
    assert least_departure(line) == pytest.approx((0.0, 0.1, 0.3))
    assert least_shortfall(line) == pytest.approx(0.0, abs=1e-12)


def test_a_row_a_little_too_long_does_not_fit_and_the_lack_is_told() -> None:
    line = PlacementProblem((0.0, 0.0, 0.0), (0.1, 0.2), everywhere(0, 1, 3), 0.0, 0.2999)
    assert least_departure(line) is None
    assert least_shortfall(line) == pytest.approx(0.0001, abs=1e-12)


def test_lack_on_both_sides_of_a_forbidden_stretch_is_counted_once_each() -> None:
    # Two on each side of (5, 6) would need 5.1 of 5; all other partings lack more.
    allowed = ((Interval(0, 5), Interval(6, 11)),) * 4
    line = PlacementProblem((0.0,) * 4, (5.1, 0.5, 5.1), allowed, 0.0, 11.0)
    assert least_departure(line) is None
    assert least_shortfall(line) == pytest.approx(0.2)


def test_a_single_point_between_two_forbidden_stretches_is_enough() -> None:
    assert free_stretches(0, 10, [Interval(-1, 4), Interval(4, 11)]) == (Interval(4, 4),)
    assert least_departure(PlacementProblem((9.0,), (), ((Interval(4, 4),),))) == (4.0,)


def test_nothing_to_place() -> None:
    assert least_departure(PlacementProblem((), (), ())) == ()
    assert least_shortfall(PlacementProblem((), (), ())) == 0.0


def test_no_place_at_all_is_an_endless_lack() -> None:
    line = PlacementProblem((1.0,), (), ((),))
    assert least_departure(line) is None
    assert math.isinf(least_shortfall(line))


# --- against the programme ----------------------------------------------------------------------------------


def numbers(low: float, high: float, step: float) -> st.SearchStrategy[float]:
    return st.integers(round(low / step), round(high / step)).map(lambda k: k * step)


@st.composite
def lines(draw: st.DrawFn, step: float = 0.25, most: int = 5) -> PlacementProblem:
    """Rows with forbidden stretches; some things shut in to one place, wants in any order."""
    count = draw(st.integers(1, most))
    width = draw(numbers(4, 20, step))
    distances = tuple(draw(numbers(0, 5, step)) for _ in range(count - 1))
    wants = tuple(draw(numbers(-3, width + 3, step)) for _ in range(count))
    keep_outs = [
        Interval(low, low + length)
        for low, length in draw(
            st.lists(st.tuples(numbers(0, width, step), numbers(step, 5, step)), max_size=3)
        )
    ]
    allowed: list[tuple[Interval, ...]] = []
    for _ in range(count):
        grown = draw(numbers(0, 1, step))
        left = free_stretches(grown, width - grown, [Interval(a - grown, b + grown) for a, b in keep_outs])
        pin = draw(st.one_of(st.none(), st.none(), st.none(), numbers(0, width, step)))
        allowed.append(left if pin is None else tuple(Interval(pin, pin) for a, b in left if a <= pin <= b))
    low, high = draw(st.sampled_from([(-math.inf, math.inf), (0.0, width), (1.0, width - 1.0)]))
    return PlacementProblem(wants, distances, tuple(allowed), low, high)


WIDE = examples(150)


@WIDE
@given(lines())
@example(PlacementProblem((5.0, 5.0), (2.0,), everywhere(0, 10, 2)))
@example(PlacementProblem((2.75,), (), ((Interval(1.5, 1.5), Interval(4.0, 4.75)),), 1.0, 4.0))
def test_same_answer_as_the_programme(line: PlacementProblem) -> None:
    places, best = least_departure(line), best_total(line)
    assert (places is None) == (best is None)
    if places is not None and best is not None:
        assert obeys(line, places)
        assert total(line, places) == pytest.approx(best, abs=AS_GOOD)


@WIDE
@given(lines(step=1))
def test_same_answer_in_whole_steps(line: PlacementProblem) -> None:
    places, best = least_departure(line), best_total(line, whole=[True] * len(line.wants))
    assert (places is None) == (best is None)
    if places is not None and best is not None:
        assert all(place == round(place) for place in places)
        assert total(line, places) == pytest.approx(best, abs=AS_GOOD)


@WIDE
@given(lines())
def test_same_lack_as_the_programme(line: PlacementProblem) -> None:
    lack, best = least_shortfall(line), best_total(line, slack=True)
    if best is None:
        assert math.isinf(lack)
    else:
        assert lack == pytest.approx(best, abs=AS_GOOD)
        assert (least_departure(line) is None) == (lack > NEAR)


@WIDE
@given(lines())
def test_packed_rows_bound_every_answer(line: PlacementProblem) -> None:
    places, low, high = least_departure(line), packed_low(line), packed_high(line)
    assert (places is None) == (low is None) == (high is None)
    if places is not None and low is not None and high is not None:
        assert obeys(line, low)
        assert obeys(line, high)
        for least, place, most in zip(low, places, high, strict=True):
            assert least - NEAR <= place <= most + NEAR


@WIDE
@given(lines())
def test_the_mirrored_row_costs_the_same_and_ties_go_low_for_every_thing_at_once(
    line: PlacementProblem,
) -> None:
    low, high = least_departure(line), highest(line)
    assert (low is None) == (high is None)
    if low is not None and high is not None:
        assert total(line, low) == pytest.approx(total(line, high), abs=NEAR)
        assert all(a <= b + NEAR for a, b in zip(low, high, strict=True))
