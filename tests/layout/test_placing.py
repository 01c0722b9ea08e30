"""Places worked on paper, one rule a test; raceways and their holes are 2 in across unless a test says so."""

from __future__ import annotations

import pytest
from factories import (
    from_edge,
    make_face,
    make_job,
    make_keep_out,
    make_raceway,
    make_row,
    make_size,
    spread,
)

from templates_engine.errors import CannotFit
from templates_engine.job.model import FaceJob, KeepOut, Lips, Placing, Raceway, Row
from templates_engine.layout import solve
from templates_engine.layout.model import PlacedRow
from templates_engine.layout.row.wanted_places import even_gaps


def pipe(
    id: str,
    od: float = 2.0,
    *,
    at: float | None = None,
    gap_before: float | None = None,
    most: float | None = None,
) -> Raceway:
    return make_raceway(
        make_size(od, most_in=most), id, at=at, gap_before=gap_before, hole=most or od, cutter="step bit"
    )


def pipes(count: int, pins: dict[int, float] | None = None) -> list[Raceway]:
    return [pipe(f"A{n}", at=(pins or {}).get(n)) for n in range(1, count + 1)]


def face_of(
    row: Row,
    *,
    width: float = 20.0,
    lips: Lips | None = None,
    keep_outs: tuple[KeepOut, ...] = (),
    face: str = "top",
) -> FaceJob:
    return make_face(row, width=width, lips=lips, keep_outs=keep_outs, face=face)


def placed(face: FaceJob) -> PlacedRow:
    return solve(make_job(face)).faces[0].rows[0]


def places(
    raceways: list[Raceway],
    placing: Placing | None = None,
    *,
    gap: float = 1.0,
    snap: float | None = None,
    width: float = 20.0,
    lips: Lips | None = None,
    keep_outs: tuple[KeepOut, ...] = (),
    face: str = "top",
) -> list[float]:
    row = make_row(*raceways, gap=gap, snap=snap, placing=placing)
    return [
        hole.u_in
        for hole in placed(face_of(row, width=width, lips=lips, keep_outs=keep_outs, face=face)).holes
    ]


def problem(face: FaceJob) -> str:
    with pytest.raises(CannotFit) as error:
        solve(make_job(face))
    (only,) = error.value.problems
    assert (only.file, only.line) == ("job.yaml", 10)
    return str(only)


# --- from an edge -------------------------------------------------------------------------------------------


def test_from_the_start_edge_to_the_first_centre() -> None:
    assert places(pipes(3), from_edge(4.5)) == [4.5, 7.5, 10.5]


def test_from_the_start_edge_to_the_near_side() -> None:
    assert places(pipes(3), from_edge(4.5, to="near side")) == [5.5, 8.5, 11.5]


def test_from_the_end_edge_the_last_raceway_is_the_one_measured() -> None:
    assert places(pipes(3), from_edge(4.5, "end")) == [9.5, 12.5, 15.5]
    assert places(pipes(3), from_edge(4.5, "end", "near side")) == [8.5, 11.5, 14.5]


def test_on_a_side_face_the_same_holds_from_the_top_down() -> None:
    assert places(pipes(3), from_edge(4.5), width=30.0, face="left") == [4.5, 7.5, 10.5]
    assert places(pipes(3), from_edge(4.5, "end"), width=30.0, face="right") == [19.5, 22.5, 25.5]


def test_mixed_sizes_keep_the_clear_gap_not_the_centre_distance() -> None:
    assert places([pipe("A1", 2.0), pipe("A2", 4.0), pipe("A3", 1.0)], from_edge(3.0), gap=0.5) == [
        3.0,
        6.5,
        9.5,
    ]


def test_gap_before_holds_for_its_own_pair_alone() -> None:
    row = make_row(pipe("A1"), pipe("A2"), pipe("A3", gap_before=2.5), pipe("A4"), placing=from_edge(3.0))
    done = placed(face_of(row))
    assert [hole.u_in for hole in done.holes] == [3.0, 6.0, 10.5, 13.5]
    assert [(gap.required_in, gap.governed_by) for gap in done.gaps] == [
        (1.0, "gap of the row"),
        (2.5, "gap before A3"),
        (1.0, "gap of the row"),
    ]
    assert [gap.provided_in for gap in done.gaps] == [1.0, 2.5, 1.0]
    assert [(gap.before, gap.after) for gap in done.gaps] == [("A1", "A2"), ("A2", "A3"), ("A3", "A4")]


def test_a_flexible_raceway_keeps_its_gap_at_its_largest() -> None:
    assert places([pipe("A1", 2.0, most=3.0), pipe("A2", 2.0, most=3.0)], from_edge(4.0)) == [4.0, 8.0]


def test_after_a_pin_the_row_goes_on_tight() -> None:
    assert places(pipes(4, {3: 12.0}), from_edge(3.0)) == [3.0, 6.0, 12.0, 15.0]
    assert places(pipes(4, {2: 8.0}), from_edge(3.0, "end")) == [5.0, 8.0, 14.0, 17.0]


def test_the_start_may_be_pinned_to_the_same_place_but_not_to_another() -> None:
    assert places(pipes(2, {1: 3.0}), from_edge(3.0)) == [3.0, 6.0]
    with pytest.raises(
        CannotFit, match=r"A1 is pinned at 4 in, but it also starts the row 3 in from the left edge"
    ):
        places(pipes(2, {1: 4.0}), from_edge(3.0))


# --- centred ------------------------------------------------------------------------------------------------


def test_centred_by_the_outer_sides() -> None:
    # 2 + 1 + 4 = 7 wide, 6.5 left on each side.
    assert places([pipe("A1", 2.0), pipe("A2", 4.0)]) == [7.5, 11.5]


def test_centred_between_the_edges_though_one_lip_is_deeper() -> None:
    assert places(pipes(3), lips=Lips(start_in=4.0)) == [7.0, 10.0, 13.0]


def test_centred_moves_off_a_lip_only_as_far_as_it_must() -> None:
    assert places(pipes(3), lips=Lips(start_in=7.0)) == [8.0, 11.0, 14.0]


def test_a_pin_to_one_side_leaves_the_others_centred() -> None:
    assert places(pipes(3, {1: 2.0})) == [2.0, 8.5, 11.5]


def test_a_pin_amid_the_row_keeps_the_row_whole() -> None:
    assert places(pipes(5, {3: 10.25})) == [4.25, 7.25, 10.25, 13.25, 16.25]
    assert places(pipes(5, {3: 7.5})) == [1.5, 4.5, 7.5, 10.5, 13.5]


# --- spread -------------------------------------------------------------------------------------------------


def test_spread_makes_all_clear_gaps_equal_to_the_limits_too() -> None:
    # 16 between the limits less 3 + 2 + 1 leaves 10 for four gaps of 2.5.
    raceways = [pipe("A1", 3.0), pipe("A2", 2.0), pipe("A3", 1.0)]
    assert places(raceways, spread(2, 18)) == [6.0, 11.0, 15.0]


def test_spread_with_gaps_just_as_wide_as_asked_fits() -> None:
    assert places(pipes(3), spread(2, 12), gap=1.0) == [4.0, 7.0, 10.0]


def test_spread_with_too_little_between_its_limits_says_how_much() -> None:
    text = problem(face_of(make_row(*pipes(3), gap=1.125, placing=spread(2, 12))))
    assert "between the limit at 2 in and the limit at 12 in A1 to A3 need 10-1/2 in, there is 10 in" in text
    assert "0.5 in is missing" in text


def test_each_raceway_and_both_limits_of_a_spread_row_have_room_of_their_own() -> None:
    """Limits 2 and 8.25 apart 6.25, raceways 2 + 1 + 2: 1.25 for four gaps of 0.3125, the last one too."""
    raceways = [pipe("A1"), pipe("A2", 1.0), pipe("A3")]
    assert places(raceways, spread(2, 8.25), gap=0.3) == [3.3125, 5.125, 6.9375]
    text = problem(face_of(make_row(*raceways, gap=0.3, placing=spread(2, 8.1))))
    assert "0.1 in is missing" in text


def test_spread_starts_anew_at_a_pin() -> None:
    # Left of the pin's side at 11: 10 less 2 leaves two gaps of 4. Right of 13: 6 less 2, two gaps of 2.
    assert places(pipes(3, {2: 12.0}), spread(1, 19)) == [6.0, 12.0, 16.0]


def test_a_pair_that_needs_more_than_the_equal_gap_gets_it_and_the_rest_is_shared() -> None:
    # 16 less 6 leaves 10; the pair takes 4, three gaps of 2 remain.
    raceways = [pipe("A1"), pipe("A2", gap_before=4.0), pipe("A3")]
    row = make_row(*raceways, placing=spread(2, 18))
    assert [hole.u_in for hole in placed(face_of(row)).holes] == [5.0, 11.0, 15.0]


def test_evened_gaps() -> None:
    assert even_gaps([1, 1, 1], 9) == (3, 3, 3)
    assert even_gaps([5, 1, 1], 9) == (5, 2, 2)
    assert even_gaps([5, 3, 1], 9) == (5, 3, 1)
    assert even_gaps([5, 3, 2], 9) == (5, 3, 2)


def test_spread_limits_must_lie_on_the_face() -> None:
    text = problem(face_of(make_row(*pipes(2), placing=spread(2, 25))))
    assert "spread from 2 in to 25 in, but the top face runs from 0 to 20 in" in text


# --- keep-outs ----------------------------------------------------------------------------------------------


def test_a_raceway_steps_aside_by_the_shorter_way_and_the_others_stay() -> None:
    # Wanted 7, 10, 13. The seam with 1/4 clear forbids 9.5 - 1.25 to 9.9 + 1.25: the middle one must go below
    # 8.25, which pushes the first to 5.25 (3.5 in all), or above 11.15, which pushes the last to 14.15 (2.3).
    seam = make_keep_out((9.5, 9.9), clear=0.25)
    row = make_row(*pipes(3))
    done = placed(face_of(row, keep_outs=(seam,)))
    assert [hole.u_in for hole in done.holes] == pytest.approx([7.0, 11.15, 14.15])


def test_touching_a_keep_out_is_allowed() -> None:
    assert places(pipes(3), from_edge(4.0), keep_outs=(make_keep_out((0, 3)), make_keep_out((11, 12)))) == [
        4,
        7,
        10,
    ]


def test_a_keep_out_behind_the_row_is_passed_by() -> None:
    # Raceways on 1-5/8 strut: nothing nearer the back than 1-5/8.
    assert places(pipes(3), keep_outs=(make_keep_out((0, 20), (0, 1.625)),)) == [7, 10, 13]


def test_the_larger_of_hole_and_raceway_keeps_clear() -> None:
    seam = make_keep_out((0, 3))
    thin_hole = make_raceway(make_size(2.0), hole=1.0, cutter="step bit")
    wide_hole = make_raceway(make_size(2.0), hole=3.0, cutter="step bit")
    assert places([thin_hole], from_edge(4.0), keep_outs=(seam,)) == [4.0]
    assert "comes too near the keep-out" in problem(
        face_of(make_row(thin_hole, placing=from_edge(3.9)), keep_outs=(seam,))
    )
    assert "comes too near the keep-out" in problem(
        face_of(make_row(wide_hole, placing=from_edge(4.0)), keep_outs=(seam,))
    )


# --- pins ---------------------------------------------------------------------------------------------------


def test_a_pin_is_kept_to_the_last_bit() -> None:
    assert places(pipes(2, {2: 0.1 + 0.2 + 11}))[1] == 0.1 + 0.2 + 11


def test_pins_too_close_say_how_much() -> None:
    text = problem(face_of(make_row(*pipes(2, {1: 5.0, 2: 7.5}))))
    assert "A1 is pinned at 5 in and A2 is pinned at 7-1/2 in" in text
    assert "their centres are 2-1/2 in apart and need 3 in; 0.5 in is missing" in text


def test_pins_exactly_far_enough_pass() -> None:
    assert places(pipes(2, {1: 5.0, 2: 8.0})) == [5.0, 8.0]


def test_pins_in_the_wrong_order_are_told_so() -> None:
    assert "that is the wrong order" in problem(face_of(make_row(*pipes(2, {1: 8.0, 2: 5.0}))))


def test_too_little_between_two_pins_names_them() -> None:
    text = problem(face_of(make_row(*pipes(3, {1: 5.0, 3: 10.0}))))
    assert (
        "between A1, which is pinned at 5 in, and A3, which is pinned at 10 in, A2 needs 6 in, there is 5 in"
        in text
    )
    assert "1 in is missing" in text
    assert "pin A1 at 4 in" in text
    assert "pin A3 at 11 in" in text


def test_a_pin_off_the_flat_says_by_how_much() -> None:
    text = problem(face_of(make_row(*pipes(1, {1: 1.25})), lips=Lips(start_in=0.5)))
    assert "A1 is pinned at 1-1/4 in, and its hole runs off the flat of the face; 0.25 in is missing" in text


# --- snap ---------------------------------------------------------------------------------------------------


def test_snap_rounds_distances_up_and_never_closes_a_gap() -> None:
    raceways = [make_raceway("2", f"A{n}") for n in range(1, 5)]
    row = make_row(*raceways, gap=1.125, snap=1 / 16, placing=from_edge(4.0))
    done = placed(face_of(row))
    # 2.197 + 1.125 = 3.322, on the tape 3-3/8.
    assert [hole.u_in for hole in done.holes] == [4.0, 7.375, 10.75, 14.125]
    assert all(gap.provided_in >= 1.125 for gap in done.gaps)


def test_a_start_to_centre_is_kept_as_written_and_the_next_goes_to_the_tape() -> None:
    assert places(pipes(3), from_edge(4.03), snap=1 / 16) == [4.03, 7.0625, 10.0625]


def test_a_start_to_the_near_side_moves_away_from_the_edge() -> None:
    # 1.03 + 1 = 2.03, up to 2-1/16; from the end 20 - 2.03 = 17.97, down to 17-15/16.
    assert places(pipes(2), from_edge(1.03, to="near side"), snap=1 / 16) == [2.0625, 5.0625]
    assert places(pipes(2), from_edge(1.03, "end", "near side"), snap=1 / 16) == [14.9375, 17.9375]


def test_a_pin_is_kept_as_written_when_the_row_snaps() -> None:
    assert places(pipes(3, {2: 9.01}), from_edge(3.0), snap=1 / 16) == [3.0, 9.01, 12.0625]


def test_a_metric_graduation_is_met_exactly() -> None:
    millimetre = 1 / 25.4
    us = places([make_raceway("2", f"A{n}") for n in range(1, 4)], snap=millimetre)
    # 2.197 + 1 in is 81.2 mm, so 82; 164 and the raceways' 55.8 mm are centred in 508 mm.
    assert us == [k * millimetre for k in (172, 254, 336)]


def test_a_row_that_fits_only_off_the_tape_says_so() -> None:
    text = problem(face_of(make_row(*pipes(6), gap=1.0, snap=0.3), width=17.0))
    assert "not with every centre on a graduation" in text
    assert "leave out snap" in text


# --- nothing to place ---------------------------------------------------------------------------------------


def test_a_hole_wider_than_the_flat() -> None:
    text = problem(face_of(make_row(pipe("A1", 4.0)), width=3.0))
    assert "A1 needs a hole of 4 in, but the flat of the top face is 3 in wide; 1 in is missing" in text


def test_keep_outs_everywhere() -> None:
    text = problem(face_of(make_row(pipe("A1")), keep_outs=(make_keep_out((0, 20), name="hinge"),)))
    assert 'A1 has no place at all on the top face: the keep-out "hinge"' in text


def test_every_failing_row_of_every_face_is_told_of() -> None:
    top = make_face(make_row(*pipes(9)), make_row(*pipes(2), name="B"), make_row(*pipes(8), name="C"))
    left = make_face(make_row(*pipes(11), line=30), face="left", width=30.0)
    with pytest.raises(CannotFit) as error:
        solve(make_job(top, left))
    assert [problem.line for problem in error.value.problems] == [10, 10, 30]


def test_a_pin_pushes_what_comes_after_it() -> None:
    assert places(pipes(4, {3: 12.0}), from_edge(3.0)) == [3.0, 6.0, 12.0, 15.0]
