"""A row in front looks at every row behind it, and at every raceway of each, not the first or last alone."""

from __future__ import annotations

import pytest
from factories import make_face, make_job, make_row

from templates_engine.job.model import Row
from templates_engine.layout import solve


def back_of_last(*rows: Row) -> float:
    return solve(make_job(make_face(*rows, width=30.0, depth=30.0))).faces[0].rows[-1].back_line_in


def in_front(name: str) -> Row:
    return make_row("1", "1", name=name, back_line="auto", strut=None, gap="fittings")


@pytest.mark.parametrize("sizes", [("2", "1/2", "1/2"), ("1/2", "2", "1/2"), ("1/2", "1/2", "2")])
def test_the_largest_fittings_behind_decide_wherever_they_stand(sizes: tuple[str, ...]) -> None:
    wanted = back_of_last(make_row("2", back_line=2.0, strut=None), in_front("B"))
    assert back_of_last(make_row(*sizes, back_line=2.0, strut=None), in_front("B")) == pytest.approx(wanted)
    assert wanted > back_of_last(make_row("1/2", back_line=2.0, strut=None), in_front("B")) + 0.25


@pytest.mark.parametrize("far", [(2.0, 8.0), (8.0, 2.0)])
def test_the_foremost_row_behind_decides_whichever_is_written_last(far: tuple[float, float]) -> None:
    wanted = back_of_last(make_row("2", back_line=8.0, strut=None), in_front("B"))
    rows = [make_row("2", name=name, back_line=at, strut=None) for name, at in zip("AB", far, strict=True)]
    assert back_of_last(*rows, in_front("C")) == pytest.approx(wanted)


@pytest.mark.parametrize("last", ["1", "2"])
def test_so_do_all_raceways_of_the_row_in_front(last: str) -> None:
    row = make_row("1/2", last, name="B", back_line="auto", strut=None, gap="fittings")
    alone = make_row(last, name="B", back_line="auto", strut=None, gap="fittings")
    behind = make_row("2", back_line=2.0, strut=None)
    small = make_row("1/2", name="B", back_line="auto", strut=None, gap="fittings")
    wanted = max(back_of_last(behind, alone), back_of_last(behind, small))
    assert back_of_last(behind, row) == pytest.approx(wanted)
