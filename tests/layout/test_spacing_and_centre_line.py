"""Rows spaced centre to centre, and rows whose centres lie on one line without strut."""

from __future__ import annotations

import pytest
from factories import from_edge, make_face, make_job, make_raceway, make_row, make_size, spread

from templates_engine.errors import CannotFit
from templates_engine.job.model import CentreLine, Row
from templates_engine.layout import solve
from templates_engine.layout.model import PlacedRow
from templates_engine.values import replace


def placed(*rows: Row, width: float = 20.0, depth: float = 8.0, back_gap: float = 0.0) -> PlacedRow:
    """The last row, placed; its face is the job's second, behind a row of its own."""
    first = make_face(make_row("1"), face="bottom", width=width, depth=depth)
    job = make_job(first, make_face(*rows, width=width, depth=depth), back_gap=back_gap)
    return solve(job).faces[1].rows[-1]


def problem(row: Row, width: float = 20.0) -> str:
    with pytest.raises(CannotFit) as error:
        solve(make_job(make_face(row, width=width)))
    (only,) = error.value.problems
    return str(only)


def centres(row: PlacedRow) -> list[float]:
    return [hole.u_in for hole in row.holes]


# --- spacing ------------------------------------------------------------------------------------------------


def test_centres_stand_the_spacing_apart_whatever_the_sizes() -> None:
    row = placed(make_row("2", "1", "1-1/4", spacing=3.0, placing=from_edge(4)))
    assert centres(row) == [4.0, 7.0, 10.0]
    assert [gap.centres_in for gap in row.gaps] == [3.0, 3.0]
    assert row.gaps[1].required_in == pytest.approx(3 - 1.163 / 2 - 1.510 / 2)
    assert {gap.governed_by for gap in row.gaps} == {"spacing of the row"}


def test_one_pair_may_have_its_own_spacing_or_gap() -> None:
    members = [make_raceway("1", f"A{number}") for number in (1, 2, 3, 4)]
    members[2] = replace(members[2], spacing_before_in=3.5)
    members[3] = replace(members[3], gap_before_in=1.0)
    row = placed(make_row(*members, spacing=2.0, placing=from_edge(4)))
    assert centres(row) == pytest.approx([4.0, 6.0, 9.5, 9.5 + 1.163 + 1.0])
    assert [gap.governed_by for gap in row.gaps] == [
        "spacing of the row",
        "spacing before A3",
        "gap before A4",
    ]


def test_a_spacing_of_one_pair_stands_in_a_row_of_gaps_from_fittings() -> None:
    members = [make_raceway("1", f"A{number}") for number in (1, 2, 3)]
    members[2] = replace(members[2], spacing_before_in=3.5)
    row = placed(make_row(*members, gap="fittings", placing=from_edge(4)))
    assert [bool(gap.fittings) for gap in row.gaps] == [True, False]
    assert row.gaps[1].centres_in == pytest.approx(3.5)


def test_a_snapped_row_never_closes_its_spacing() -> None:
    row = placed(make_row("1", "1", "1", spacing=2.03, snap=1 / 16, placing=from_edge(4)))
    assert centres(row) == [4.0, 6.0625, 8.125]


def test_a_spread_row_keeps_at_least_its_spacing_and_its_limits() -> None:
    members = ["1", "1", "1"]
    row = placed(make_row(*members, spacing=2.0, placing=spread(2, 12)))
    gap = (10 - 3 * 1.163) / 4
    assert centres(row) == pytest.approx([2 + gap + 1.163 / 2 + at * (gap + 1.163) for at in range(3)])
    tight = placed(make_row(*members, spacing=4.0, placing=spread(2, 12)))
    assert [gap.centres_in for gap in tight.gaps] == pytest.approx([4.0, 4.0])


@pytest.mark.parametrize(
    ("spacing", "said", "how"), [(2.0, "2 in", "touch."), (1.75, "1-3/4 in", "overlap by 0.25 in.")]
)
def test_raceways_may_not_touch(spacing: float, said: str, how: str) -> None:
    members = [make_raceway(make_size(1.0), "A1"), make_raceway(make_size(2.0), "A2")]
    row = make_row(*members, make_raceway(make_size(2.0), "A3"), spacing=spacing)
    assert problem(row) == (
        f"job.yaml:10: rows.A: Row A does not fit: at {said} from centre to centre (spacing of the row) "
        f"A2 (1 in EMT) and A3 (1 in EMT) would {how} "
        "Write `spacing: 2-1/16 in` or more, or `gap:` with the clear distance between raceways."
    )


def test_the_least_spacing_offered_is_one_that_works() -> None:
    members = [make_raceway(make_size(2.0), f"A{number}") for number in (1, 2)]
    assert placed(make_row(*members, spacing=2.0625)).gaps[0].provided_in == pytest.approx(0.0625)


def test_a_pair_that_would_touch_is_told_its_own_key() -> None:
    members = [make_raceway(make_size(2.0), f"A{number}") for number in (1, 2, 3)]
    members[2] = replace(members[2], spacing_before_in=1.5)
    assert "(spacing before A3)" in problem(make_row(*members, spacing=3.0))
    assert "Write `spacing before: 2-1/16 in` or more, or `gap before:`" in problem(
        make_row(*members, spacing=3.0)
    )


def test_a_row_too_long_is_offered_the_largest_spacing_that_fits() -> None:
    text = problem(make_row("1", "1", "1", "1", spacing=5.0), width=12.0)
    fits = 3.5  # three spacings and a 1 in knockout of 1.375 in make 11.875 in
    assert f"make the spacing {3}-1/2 in;" in text
    assert placed(make_row("1", "1", "1", "1", spacing=fits), width=12.0)
    assert "make the spacing" in problem(make_row("1", "1", "1", "1", spacing=fits + 1 / 16), width=12.0)


def test_no_spacing_is_offered_at_which_raceways_would_touch() -> None:
    assert "make the spacing" not in problem(make_row("4", "4", "4", spacing=5.0), width=13.5)


# --- centre line --------------------------------------------------------------------------------------------


def test_all_centres_lie_on_the_centre_line() -> None:
    row = placed(make_row("2", "1", "3/4", back_line=CentreLine(2.5), strut=None), back_gap=0.25)
    assert [hole.v_in for hole in row.holes] == [2.5, 2.5, 2.5]
    assert (row.back_line_in, row.centre_line_in) == (None, 2.5)
    assert row.line.words == "centre line given as 2-1/2 in"


def test_a_row_in_front_clears_the_raceways_on_a_centre_line() -> None:
    behind = make_row("1", "2", back_line=CentreLine(2.0), strut=None)
    front = make_row("1", name="B", back_line="auto", strut=None, gap=0.75)
    assert placed(behind, front).line.at_in == pytest.approx(2.0 + 2.197 / 2 + 0.75)


def test_fittings_on_a_centre_line_stand_straight_beside_each_other() -> None:
    """On strut the centres of two sizes differ in depth, which leaves their fittings room along the row."""
    pair = [make_raceway("2", "A1", bushing="bonding"), make_raceway("1/2", "A2", bushing="bonding")]
    on_line = placed(make_row(*pair, gap="fittings", back_line=CentreLine(3.0), strut=None))
    on_backs = placed(make_row(*pair, gap="fittings", back_line=1.9, strut=None))
    assert on_line.gaps[0].required_in > on_backs.gaps[0].required_in


def test_the_fingerprint_tells_a_centre_line_from_a_back_line() -> None:
    size = make_size(1e-7)  # a raceway of no width has its hole at one place on either line
    rows = [
        make_row(make_raceway(size, hole=1.0, cutter="step bit"), back_line=line, strut=None)
        for line in (CentreLine(2.5), 2.5)
    ]
    marks = {solve(make_job(make_face(row))).faces[0].fingerprint for row in rows}
    assert len(marks) == 2
