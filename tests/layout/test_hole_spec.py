"""Hole circles, pilots and quarter points of single raceways."""

from __future__ import annotations

import pytest
from factories import make_face, make_job, make_raceway, make_row, make_size

from templates_engine.errors import CannotFit
from templates_engine.geometry import Point
from templates_engine.job.model import Raceway
from templates_engine.layout import solve
from templates_engine.layout.model import Hole
from templates_engine.trade import cutters, knockouts
from templates_engine.trade.raceways import look_up
from templates_engine.values import replace


def hole(raceway: Raceway) -> Hole:
    (only,) = solve(make_job(make_face(make_row(raceway)))).faces[0].holes
    return only


def problems(*raceways: Raceway) -> list[str]:
    with pytest.raises(CannotFit) as error:
        solve(make_job(make_face(make_row(*raceways))))
    return [str(problem) for problem in error.value.problems]


def test_a_knockout_is_the_standards_nominal_with_its_limits() -> None:
    made, listed = hole(make_raceway("1-1/4")), knockouts.look_up(look_up("EMT", "1-1/4"))
    assert (made.hole_diameter_in, made.hole_least_in, made.hole_most_in) == (
        listed.nominal_in,
        listed.least_in,
        listed.most_in,
    )
    assert listed.source in made.hole_source
    assert listed.provenance in made.hole_source


def test_a_field_punch_cuts_what_it_cuts() -> None:
    made = hole(make_raceway("2", hole="punch"))
    assert made.hole_diameter_in == knockouts.field_punch(look_up("EMT", "2")).nominal_in
    assert made.hole_diameter_in != hole(make_raceway("2")).hole_diameter_in


def test_a_given_diameter_is_taken_as_it_is() -> None:
    made = hole(make_raceway("2", hole=2.5))
    assert (made.hole_least_in, made.hole_diameter_in, made.hole_most_in) == (2.5, 2.5, 2.5)
    assert made.hole_source == "given in the job"


@pytest.mark.parametrize("cutter", ["punch", "hole saw", "step bit"])
def test_the_pilot_is_the_cutters(cutter: str) -> None:
    made = hole(make_raceway("1", cutter=cutter))
    listed = cutters.pilot(cutter, look_up("EMT", "1"), made.hole_diameter_in)
    assert made.cutter == cutter
    assert made.pilot_diameter_in == listed.diameter_in
    assert listed.provenance in made.pilot_source


def test_quarter_points_go_start_end_back_front() -> None:
    made = replace(hole(make_raceway("2")), u_in=10.0, v_in=4.0, hole_diameter_in=3.0)
    assert made.quarter_points_in == (Point(8.5, 4), Point(11.5, 4), Point(10, 2.5), Point(10, 5.5))


def test_a_holes_quarter_points_lie_on_its_circle() -> None:
    made = hole(make_raceway("2"))
    start, end, back, front = made.quarter_points_in
    radius = made.hole_diameter_in / 2
    assert start == Point(made.u_in - radius, made.v_in)
    assert end == Point(made.u_in + radius, made.v_in)
    assert back == Point(made.u_in, made.v_in - radius)
    assert front == Point(made.u_in, made.v_in + radius)


def test_a_flexible_raceway_keeps_mean_and_largest() -> None:
    made = hole(make_raceway(make_size(2.0, most_in=2.5), hole=2.75))
    assert (made.outside_diameter_in, made.outside_diameter_most_in) == (2.0, 2.5)
    assert made.body.diameter == 2.5


def test_every_raceway_without_a_size_is_told_of() -> None:
    told = problems(make_raceway(None, "A1"), make_raceway("1", "A2"), make_raceway(None, "A3"))
    assert len(told) == 2
    assert "A1 has no trade size" in told[0]
    assert "A3 has no trade size" in told[1]
    assert "size: 2" in told[0]


def test_a_size_without_a_listed_hole_is_told_of_with_its_remedy() -> None:
    (told,) = problems(make_raceway(make_size(1.0, trade_size="9/8"), "A1"))
    assert "A1: No hole is listed for trade size 9/8" in told
    assert "job.yaml:12" in told
