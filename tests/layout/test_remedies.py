"""What a failed row is offered: every remedy solves, and says what it changes."""

from __future__ import annotations

import pytest
from factories import (
    from_edge,
    make_enclosure,
    make_face,
    make_job,
    make_keep_out,
    make_raceway,
    make_row,
    make_size,
    spread,
)
from hypothesis import given
from random_runs import examples
from test_random_rows import faces

from templates_engine.errors import CannotFit
from templates_engine.job.model import Centred, FaceJob, Job, Lips
from templates_engine.layout import solve
from templates_engine.layout.faces import attempt
from templates_engine.layout.remedies import Remedy, remedies_for
from templates_engine.layout.row.snap_grid import nearest_step
from templates_engine.values import replace


def offered(job: Job) -> tuple[Remedy, ...]:
    """The remedies of the one row that fails, each seen to solve."""
    (failure,) = attempt(job).failures
    remedies = remedies_for(job, failure)
    for remedy in remedies:
        solve(remedy.job)
    return remedies


def words(job: Job) -> list[str]:
    return [remedy.words for remedy in offered(job)]


SEVEN = ("2",) * 7
"""21.651 in from the first knockout's side to the last one's at a gap of 1 in."""


def shallow(*rows: object, **more: object) -> FaceJob:
    """A face with no room for a second row in front."""
    return make_face(*rows, depth=5.0, **more)  # type: ignore[arg-type]


def test_largest_gap_that_fits_and_next_wider_enclosure() -> None:
    # 6 x 2.197 + 2.469 = 15.651; 20 less that leaves 4.349 for six gaps: 0.7248, on the tape 11/16.
    job = make_job(shallow(make_row(*SEVEN, gap=1.0)))
    # Six need 21.651 less 1 + 2.197 (18.454) of 20.
    assert words(job) == [
        "make the gap 11/16 in",
        "take an enclosure 22 in wide",
        "take A7 out of the row (6 of 7 fit: A1 to A6)",
    ]


def test_the_gap_one_graduation_larger_does_not_fit() -> None:
    job = make_job(shallow(make_row(*SEVEN, gap=0.75)))
    assert words(job)[0] == "make the gap 11/16 in"


def test_the_error_carries_lack_and_remedies() -> None:
    with pytest.raises(CannotFit) as error:
        solve(make_job(shallow(make_row(*SEVEN, gap=1.0))))
    (only,) = error.value.problems
    assert only.message == (
        "Row A does not fit: between the left edge and the right edge A1 to A7 need 21-5/8 in (21.651), "
        "there is 20 in; 1.651 in is missing."
    )
    assert only.remedy == (
        "Any one of these makes it fit: make the gap 11/16 in; take an enclosure 22 in wide; "
        "take A7 out of the row (6 of 7 fit: A1 to A6)."
    )
    assert (only.file, only.line, only.key) == ("job.yaml", 10, "rows.A")


def test_a_gap_that_would_let_the_holes_touch_is_not_offered() -> None:
    # 7 x 2.197 + 2.469 = 17.848 fits 19 with gaps of 1/8, but knockouts of 2.469 would overlap by 0.147.
    job = make_job(shallow(make_row(*("2",) * 8, gap=1.0), width=19.0))
    assert not [text for text in words(job) if "gap" in text]


def test_a_gap_of_nothing_is_not_offered() -> None:
    # 4 x 2 + 1.9 = 9.9 fits 10 with the raceways touching, but with gaps of 1/16 it does not.
    raceways = [make_raceway(make_size(2.0), f"A{n}", hole=1.9, cutter="step bit") for n in range(1, 6)]
    assert not [text for text in words(make_job(shallow(make_row(*raceways), width=10.0))) if "gap" in text]


def test_the_enclosure_offered_is_the_least_that_fits() -> None:
    # Past the seam there is room for none, so the keep-out costs more width than the lack alone.
    face = shallow(make_row(*("2",) * 6), keep_outs=[make_keep_out((15.0, 18.0))])
    job = make_job(face)
    (wider,) = [one.job for one in offered(job) if "wide" in one.words]
    width = wider.enclosure.width_in
    narrower = replace(face, width_in=width - 0.5)
    with pytest.raises(CannotFit):
        solve(make_job(narrower))


def test_a_side_face_asks_for_a_higher_enclosure() -> None:
    job = make_job(make_face(make_row(*SEVEN), face="left", width=20.0, depth=5.0))
    assert "take an enclosure 22 in high" in words(job)
    (taller,) = [remedy.job for remedy in offered(job) if "high" in remedy.words]
    assert (taller.enclosure.height_in, taller.faces[0].width_in) == (22.0, 22.0)
    assert taller.enclosure.width_in == job.enclosure.width_in


def test_a_wider_enclosure_widens_top_and_bottom_alike() -> None:
    top, bottom = shallow(make_row(*SEVEN)), make_face(make_row("1"), face="bottom", depth=5.0)
    left = make_face(make_row("1"), face="left", width=30.0, depth=5.0)
    (wider,) = [one.job for one in offered(make_job(top, bottom, left)) if "wide" in one.words]
    assert [face.width_in for face in wider.faces] == [22.0, 22.0, 30.0]
    assert wider.enclosure.width_in == 22.0


def test_start_nearer_the_edge_or_centre_it() -> None:
    # Four need 3 x 3.197 + 2.469 / 2 = 10.8255 after the first centre: it may stand at 9.1745, that is 9-1/8.
    job = make_job(shallow(make_row(*("2",) * 4, placing=from_edge(10.0))))
    assert words(job) == [
        "make the gap 11/16 in",
        "start it 9-1/8 in from the left edge",
        "centre the row (place: centred)",
        "take an enclosure 21 in wide",
        "take A4 out of the row (3 of 4 fit: A1 to A3)",
    ]


def test_start_from_the_other_edge_and_to_the_near_side() -> None:
    job = make_job(shallow(make_row(*("2",) * 4, placing=from_edge(10.0, "end", "near side"))))
    # The same 9.1745 less half of 2.197: 8.076, on the tape 8-1/16.
    assert "start it 8-1/16 in from the right edge" in words(job)


def test_start_clear_of_a_keep_out() -> None:
    # The seam to 4 in and half a knockout forbid the centre below 5.2345: 5-1/4.
    face = shallow(make_row("2", "2", placing=from_edge(3.0)), keep_outs=[make_keep_out((1.0, 4.0))])
    assert "start it 5-1/4 in from the left edge" in words(make_job(face))


def test_a_start_off_the_flat_is_moved_onto_it() -> None:
    face = shallow(make_row("2", placing=from_edge(1.0)), lips=Lips(start_in=0.5))
    assert "start it 1-3/4 in from the left edge" in words(make_job(face))


def test_a_pin_in_a_keep_out_is_offered_the_nearest_place() -> None:
    face = shallow(make_row("2", make_raceway("2", "A2", at=9.0)), keep_outs=[make_keep_out((6.0, 8.0))])
    assert "pin A2 at 9-1/4 in" in words(make_job(face))


def test_keep_outs_in_the_way_are_named_and_other_strut_is_tried() -> None:
    # On strut 2-7/16 deep a knockout of 2.469 round a raceway of 2.197 comes to 2.4375 - 0.136 from the back,
    # and so passes a bar that reaches to 1-3/4.
    bar = make_keep_out((2.0, 18.0), (0.0, 1.75), name="hinge")
    job = make_job(make_face(make_row("2", "2", "2", strut=1.625), depth=6.0, keep_outs=[bar]))
    with pytest.raises(CannotFit, match='"hinge"'):
        solve(job)
    assert "use 2-7/16 in strut" in words(job)


def test_spread_too_narrow_is_centred() -> None:
    job = make_job(shallow(make_row(*("2",) * 4, placing=spread(5, 14))))
    assert "centre the row (place: centred)" in words(job)
    assert [one.job.faces[0].rows[0].placing for one in offered(job) if "centre" in one.words] == [Centred()]


def test_snap_is_left_out() -> None:
    # Six of 2-1/2 in EMT at whole inches: centres 4 apart instead of 3.875.
    job = make_job(shallow(make_row(*("2-1/2",) * 4, snap=1.0), width=15.0))
    assert "leave out snap" in words(job)


def test_two_rows_where_the_face_is_deep_enough() -> None:
    job = make_job(make_face(make_row(*SEVEN), depth=9.0))
    (two,) = [one for one in offered(job) if "row of their own" in one.words]
    assert two.words == "put A5 to A7 in a row of their own in front (back line: auto)"
    back, front = solve(two.job).faces[0].rows
    assert [hole.id for hole in back.holes] == ["A1", "A2", "A3", "A4"]
    assert [hole.id for hole in front.holes] == ["A5", "A6", "A7"]
    assert front.row.name == "B"
    assert front.back_line_in == 4.875 + 1.625


def test_no_second_row_where_it_would_run_off_the_front() -> None:
    # In front, on 4-7/8 in of strut, knockouts would reach 4.875 + 1.625 + 1.0985 + 1.2345 = 8.833.
    for depth, fits in ((8.8, False), (8.85, True)):
        told = words(make_job(make_face(make_row(*SEVEN), depth=depth)))
        assert any("front" in one for one in told) == fits


def test_a_metric_job_is_offered_whole_millimetres() -> None:
    job = make_job(shallow(make_row(*SEVEN, gap=1.0)), unit="mm")
    # 4.349 / 6 in is 18.4 mm; 508 + 41.9 mm is 549.9, so 550.
    assert words(job)[:2] == ["make the gap 18 mm", "take an enclosure 550 mm wide"]


def test_an_enclosure_as_wide_as_needed_to_the_dot_is_offered() -> None:
    # Two pins' worth: 14 and 2.469 / 2 either side, wanted in 16.469 - it is missing 0.469 of 16, so 16-1/2.
    raceways = [make_raceway("2", "A1", at=1.2345), make_raceway("2", "A2", at=15.2345)]
    job = make_job(shallow(make_row(*raceways), width=16.0))
    assert "take an enclosure 16-1/2 in wide" in words(job)


def test_two_rows_that_fail_each_have_their_own_remedies() -> None:
    front = make_row(*("2",) * 9, name="B", back_line=5.0, strut=None)
    job = make_job(make_face(make_row(*SEVEN), front, depth=9.0))
    for failure in attempt(job).failures:
        remedies = remedies_for(job, failure)
        assert remedies
        for remedy in remedies:
            left = {(one.face, one.row) for one in attempt(remedy.job).failures}
            assert (failure.face, failure.row) not in left
            assert left <= {(0, 0), (0, 1)}


def test_a_remedy_that_drives_holes_into_another_row_is_not_offered() -> None:
    # Row B stands just in front: a gap that lets row A fit would still put its knockouts into row B's.
    front = make_row(*("2",) * 6, name="B", back_line=2.0, strut=None, gap=1.0)
    assert words(make_job(make_face(make_row(*SEVEN), front, depth=12.0))) == []


def test_a_row_beyond_help_says_so() -> None:
    # A 4 in raceway on 1-5/8 strut in a can 5-3/4 deep: its knockout would reach 1.625 + 2.25 + 2.32 = 6.2.
    face = make_face(make_row("4", placing=from_edge(0.5)), depth=5.75)
    with pytest.raises(CannotFit, match="No single change tried makes it fit"):
        solve(make_job(face))


def test_nearest_step_inside() -> None:
    assert nearest_step([(1.01, 2.0)], 0.5, 1 / 16) == 1.0625
    assert nearest_step([(0.0, 1.0), (3.0, 4.0)], 2.4, 1.0) == 3.0
    assert nearest_step([(0.0, 1.0), (3.0, 4.0)], 2.0, 1.0) == 1.0
    assert nearest_step([(1.01, 1.02)], 1.0, 1.0) is None
    assert nearest_step([], 1.0, 1.0) is None


@examples(60)
@given(faces())
def test_every_remedy_offered_solves(face: FaceJob) -> None:
    job = make_job(face, enclosure=make_enclosure(width=face.width_in))
    for failure in attempt(job).failures:
        for remedy in remedies_for(job, failure):
            solve(remedy.job)
            assert replace(remedy.job, faces=(), enclosure=job.enclosure) == replace(job, faces=())


def test_the_most_that_fit_from_either_end_of_the_row() -> None:
    # First centre at 2.5; 1/2 in EMT 0.706 in a hole of 0.875, so 1.706 from centre to centre. Eight of them
    # reach 2.5 + 7 x 1.706 + 0.4375 = 14.88; behind a 2 in EMT (2.197) only six, from 2.5 + 2.4515 on.
    large_first = make_job(shallow(make_row("2", *("1/2",) * 9, gap=1.0, placing=from_edge(2.5)), width=14.9))
    assert words(large_first)[-1] == "take A1 and A2 out of the row (8 of 10 fit: A3 to A10)"
    # Six 1/2 in and one 2 in: 2.5 + 5 x 1.706 + 2.4515 + 1.2345 = 14.716; one 2 in more takes 3.197.
    small_first = make_job(
        shallow(make_row(*("1/2",) * 6, "2", "2", "2", gap=1.0, placing=from_edge(2.5)), width=16.0)
    )
    assert words(small_first)[-1] == "take A8 and A9 out of the row (7 of 9 fit: A1 to A7)"


def test_one_that_fits_alone_is_named() -> None:
    job = make_job(shallow(make_row("2", "2", gap=1.0), width=4.0))
    assert words(job)[-1] == "take A2 out of the row (1 of 2 fits: A1)"


def test_no_enclosure_is_offered_that_no_job_may_have() -> None:
    # 51 raceways 21 + 2.197 apart need more than the 1200 in a job file takes.
    job = make_job(shallow(make_row(*("2",) * 60, gap=21.0), width=1190.0))
    assert not [text for text in words(job) if "enclosure" in text]
