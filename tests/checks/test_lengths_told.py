"""Lengths in the checks' sentences: two that differ never look alike, and a metric job reads no inches."""

from __future__ import annotations

import re

import pytest
from check_cases import finding, moved, one_raceway, solved_row, with_enclosure, words
from factories import make_face, make_job, make_keep_out, make_row

from templates_engine.checks import check
from templates_engine.checks.model import Measurement
from templates_engine.checks.wording import in_millimetres, length, needed, there
from templates_engine.layout import solve
from templates_engine.units import LengthFormat, Unit
from templates_engine.values import replace


def told(provided: float, required: float, unit: Unit = "in") -> tuple[str, str]:
    case, lengths = Measurement(("A1",), provided, required, "A1"), LengthFormat(unit)
    return there(case, lengths), needed(case, lengths)


def test_lengths_of_different_marks_are_told_by_their_marks() -> None:
    assert told(1.0, 1.125) == ("1 in", "1-1/8 in")
    assert told(1.0625, 1.2) == ("1-1/16 in", "1-3/16 in (1.2)")


def test_lengths_of_one_mark_are_told_by_their_decimals() -> None:
    assert told(2.416, 2.453) == ("2.416 in", "2.453 in")
    assert told(1.11, 1.125) == ("1.11 in", "1.125 in")


def test_lengths_alike_to_four_decimals_are_told_by_more() -> None:
    assert told(1.124996, 1.125) == ("1.124996 in", "1.125000 in")
    assert told(1.0, 1.0001, "mm") == ("25.400000 mm", "25.402540 mm")


def test_equal_lengths_are_told_alike() -> None:
    assert told(1.125 + 1e-9, 1.125) == ("1-1/8 in", "1-1/8 in")


@pytest.mark.parametrize(
    ("inches", "unit", "words"),
    [
        (0.00003, "in", "less than 0.0001 in"),
        (0.0001, "mm", "less than 0.01 mm"),
        (0.015, "in", "0.015 in"),
        (1e-9, "in", "0 in"),
    ],
)
def test_a_length_that_is_there_is_never_told_as_nothing(inches: float, unit: Unit, words: str) -> None:
    assert length(inches, LengthFormat(unit)) == words


def test_a_gap_a_hair_too_small_is_told_apart_from_the_one_asked_for() -> None:
    layout = solved_row("1", "1", gap=1.125)
    hole = layout.faces[0].holes[1]
    assert words(moved(layout, "A2", u=hole.u_in - 0.01), "gaps as asked") == (
        "A1 and A2 have 1.115 in between them where 1.125 in is asked (gap of the row)."
    )


def test_a_field_punch_is_told_apart_from_the_standard_knockout() -> None:
    # 2.416 [field punch, read on a public page], least 2.453 [NEMA knockout dimensions]; both near 2-7/16.
    found = finding(one_raceway("2", hole="punch"), "hole as the standard")
    assert found.message == "A1 is cut 2.416 in, the standard knockout for 2 is 2.453 in at least."
    found = finding(one_raceway("2", hole=2.51), "hole as the standard")
    assert found.message == "A1 is cut 2.51 in, the standard knockout for 2 is 2.5 in at most."


def test_a_keep_out_a_hair_too_near_is_told_apart_from_its_clear_distance() -> None:
    keep_out = make_keep_out((12.0, 13.0), clear=0.5)
    layout = solve(make_job(make_face(make_row("1"), keep_outs=(keep_out,))))
    # EMT 1 in its knockout of 1.375: the side 0.6875 from the centre.
    assert "0.49 in apart where 0.5 in is to stay clear" in words(
        moved(layout, "A1", u=12.0 - 0.6875 - 0.49), "keep-outs"
    )


# --- metric jobs --------------------------------------------------------------------------------------------


def test_a_source_is_told_in_whole_millimetres() -> None:
    assert in_millimetres("typical fittings, within about 1/8 in: verify") == (
        "typical fittings, within about 3 mm: verify"
    )
    assert in_millimetres("NEC chapter 9, Tables 1, 4 in the 2023 edition") == (
        "NEC chapter 9, Tables 1, 4 in the 2023 edition"
    )


def test_no_finding_of_a_metric_job_speaks_of_inches() -> None:
    job = with_enclosure(make_job(make_face(make_row("1", "2", "3/4")), unit="mm"), kind="panelboard")
    told_all = [f"{one.message} {one.remedy} {one.source}" for one in check(solve(job))]
    assert any("within about 3 mm" in text for text in told_all)
    assert any("{distance: 300 mm," in text for text in told_all)
    assert not [text for text in told_all if re.search(r"\d in\b|inch", text)]
    inches = [one.source for one in check(solve(replace(job, unit="in")))]
    assert any("within about 1/8 in" in source for source in inches)
