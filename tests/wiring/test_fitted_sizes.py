"""``size: fit``: the least trade size, and problems where there is none."""

from __future__ import annotations

from typing import Any

import pytest
from factories import make_enclosure, make_face, make_job, make_raceway, make_row

from templates_engine.errors import JobProblems
from templates_engine.job.model import Circuit, ConductorGroup, RacewayWiring, Wire
from templates_engine.wiring import contents_of_raceway, fit_sizes


def conductors(*groups: tuple[int, str]) -> RacewayWiring:
    made = tuple(ConductorGroup(count, Wire(size, "THHN", "Cu"), "phase") for count, size in groups)
    return RacewayWiring((), None, None, None, False, made, None)


def fitted(*raceways: Any) -> list[str]:
    job = fit_sizes(
        make_job(make_face(make_row(*raceways)), enclosure=make_enclosure(system="208Y/120", spaces=42))
    )
    return [raceway.size.trade_size if raceway.size else "" for raceway in job.faces[0].rows[0].raceways]


@pytest.mark.parametrize(
    ("wiring", "type", "size"),
    [
        (conductors((3, "12")), "EMT", "1/2"),
        (conductors((9, "12")), "EMT", "1/2"),
        (conductors((10, "12")), "EMT", "3/4"),
        (conductors((26, "12")), "EMT", "1"),
        (conductors((27, "12")), "EMT", "1-1/4"),
        (conductors((4, "500")), "EMT", "3"),
    ],
)
def test_the_least_size_that_takes_them(wiring, type, size):
    assert fitted(make_raceway(None, type=type, wiring=wiring)) == [size]


def test_the_size_below_would_not_do():
    for count in range(1, 30):
        raceway = make_raceway(None, wiring=conductors((count, "12"), (1, "8")))
        job = fit_sizes(make_job(make_face(make_row(raceway))))
        found = contents_of_raceway(job.faces[0].rows[0].raceways[0], job)
        assert found is not None
        assert found.fill is not None
        assert found.fill.fits


def test_a_nipple_is_fitted_by_its_own_limit():
    assert fitted(make_raceway(None, wiring=conductors((11, "12"), (1, "10")), nipple=True)) == ["1/2"]
    assert fitted(make_raceway(None, wiring=conductors((11, "12"), (1, "10")))) == ["3/4"]


def test_written_sizes_stay_even_when_too_small():
    assert fitted(make_raceway("1/2", wiring=conductors((3, "500")))) == ["1/2"]


@pytest.mark.parametrize(
    ("raceway", "message"),
    [
        (make_raceway(None), "carries nothing"),
        (make_raceway(None, wiring=conductors()), "carries nothing"),
        (make_raceway(None, wiring=conductors((30, "500"))), "no EMT takes its 30 conductors"),
        (make_raceway(None, type="metric", wiring=conductors((3, "12"))), "inside of metric is not listed"),
        (
            make_raceway(
                None, wiring=RacewayWiring((Circuit((1,), None),), None, "own", None, False, (), None)
            ),
            "'wire' is not given",
        ),
    ],
)
def test_what_cannot_be_fitted_is_a_problem(raceway, message):
    with pytest.raises(JobProblems) as caught:
        fitted(raceway)
    problem = caught.value.problems[0]
    assert message in problem.message
    assert problem.remedy
    assert problem.line == 12


def test_all_problems_come_at_once_in_the_files_order():
    impossible = RacewayWiring(
        (Circuit((1, 2), None),), Wire("12", "THHN", "Cu"), "own", None, True, (), None
    )
    with pytest.raises(JobProblems) as caught:
        fitted(make_raceway(None, "A1", line=20), make_raceway("1", "A2", wiring=impossible, line=14))
    assert [problem.line for problem in caught.value.problems] == [14, 20]
