"""Back lines from strut, stacked strut, shims and rows behind; and centres in front of them."""

from __future__ import annotations

import pytest
from factories import make_face, make_job, make_raceway, make_row, make_size, spread

from templates_engine.errors import CannotFit
from templates_engine.job.model import Row
from templates_engine.layout import solve
from templates_engine.layout.model import PlacedRow


def placed(*rows: Row, back_gap: float = 0.0, depth: float = 16.0) -> tuple[PlacedRow, ...]:
    return solve(make_job(make_face(*rows, depth=depth), back_gap=back_gap)).faces[0].rows


def problem(*rows: Row, back_gap: float = 0.0) -> str:
    with pytest.raises(CannotFit) as error:
        solve(make_job(make_face(*rows), back_gap=back_gap))
    (only,) = error.value.problems
    return str(only)


def test_strut_less_the_back_gap() -> None:
    (row,) = placed(make_row("2"), back_gap=0.25)
    assert row.line.at_in == 1.375
    assert row.line.words == "1-5/8 in strut less 1/4 in off the wall"


def test_strut_alone_when_the_enclosure_stands_on_the_wall() -> None:
    (row,) = placed(make_row("2", strut=0.8125))
    assert (row.line.at_in, row.line.words) == (0.8125, "13/16 in strut")


def test_stacked_strut_and_shim_add_up() -> None:
    (row,) = placed(make_row("2", strut=(1.625, 0.8125), shim=0.125), back_gap=0.25)
    assert row.line.at_in == 1.625 + 0.8125 + 0.125 - 0.25
    assert row.line.words == ("1-5/8 in and 13/16 in strut with 1/8 in of shim less 1/4 in off the wall")


def test_strut_just_as_deep_as_the_back_gap_puts_the_backs_on_the_back_edge() -> None:
    (row,) = placed(make_row("2", strut=0.8125, shim=0.1875), back_gap=1.0)
    assert row.line.at_in == 0.0


def test_strut_too_shallow_names_the_lack_and_the_depths_that_work() -> None:
    text = problem(make_row("2", strut=0.8125), back_gap=1.0)
    assert "13/16 in strut" in text
    assert "1 in off the wall" in text
    assert "3/16 in behind" in text
    # 1 in strut reaches the back edge, but the knockout is larger than the raceway and would run off it.
    assert "use 1-3/8 in strut; use 1-5/8 in strut" in text
    assert "use 1 in strut" not in text


def test_back_line_given() -> None:
    (row,) = placed(make_row("2", back_line=1.4375, strut=None))
    assert (row.line.at_in, row.line.words) == (1.4375, "given as 1-7/16 in")


def test_backs_line_up_whatever_the_sizes() -> None:
    (row,) = placed(make_row("2", "1-1/4", "1/2", "1"), back_gap=0.25)
    assert [hole.v_in for hole in row.holes] == [1.375 + od / 2 for od in (2.197, 1.510, 0.706, 1.163)]


def test_a_flexible_raceways_centre_is_by_its_mean() -> None:
    (row,) = placed(make_row(make_raceway(make_size(2.0, most_in=2.5), hole=2.75)))
    assert row.holes[0].v_in == 1.625 + 1.0


def test_auto_clears_the_largest_of_the_row_behind_by_the_gap() -> None:
    behind, front = placed(
        make_row("1", "2"), make_row("1", name="B", back_line="auto", strut=None, gap=0.75), back_gap=0.25
    )
    assert behind.line.at_in == 1.375
    assert front.line.at_in == 1.375 + 2.197 + 0.75
    assert front.line.words == "clear of row A, whose front is at 3-9/16 in (3.572), plus 3/4 in gap"


def test_auto_with_its_own_strut_takes_the_larger_of_strut_and_gap() -> None:
    own = [
        placed(make_row("2"), make_row("1", name="B", back_line="auto", strut=depth, gap=1.0))[1]
        for depth in (1.625, 0.8125)
    ]
    assert [row.line.at_in for row in own] == [1.625 + 2.197 + 1.625, 1.625 + 2.197 + 1.0]
    assert own[0].line.words.endswith("plus 1-5/8 in strut")
    assert own[1].line.words.endswith("plus 1 in gap")


def test_auto_clears_the_foremost_of_all_rows_before_it() -> None:
    rows = placed(
        make_row("2", back_line=4.0, strut=None),
        make_row("2", name="B", back_line=0.5, strut=None),
        make_row("2", name="C", back_line="auto", strut=None, gap=1.0),
    )
    assert rows[2].line.at_in == 4.0 + 2.197 + 1.0
    assert "row A" in rows[2].line.words


def test_auto_takes_a_flexible_raceway_at_its_largest() -> None:
    flexible = make_raceway(make_size(2.0, most_in=2.5), hole=2.75)
    rows = placed(
        make_row(flexible, back_line=1.0, strut=None),
        make_row("1", name="B", back_line="auto", strut=None, gap=0.0, placing=spread(0, 20)),
    )
    assert rows[1].line.at_in == 1.0 + 2.5


def test_auto_in_the_first_row_has_nothing_to_clear() -> None:
    text = problem(make_row("2", back_line="auto"))
    assert "no row stands before it" in text
    assert "back line:" in text


def test_auto_behind_a_failed_row_is_not_told_of_twice() -> None:
    text = problem(make_row("2", strut=0.8125), make_row("2", name="B", back_line="auto"), back_gap=1.0)
    assert "Row A" in text
    assert "Row B" not in text


def test_neither_strut_nor_back_line() -> None:
    assert "neither its strut nor its back line" in problem(make_row("2", strut=None))


def test_back_line_behind_the_back() -> None:
    assert "1/2 in behind the enclosure's back" in problem(make_row("2", back_line=-0.5))
