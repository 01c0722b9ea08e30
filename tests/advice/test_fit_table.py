"""What rows could stand on, against arithmetic written beside each figure."""

from __future__ import annotations

import json

import pytest
from advice_jobs import jobs
from factories import from_edge, make_face, make_job, make_keep_out, make_raceway, make_row, spread
from hypothesis import given
from random_runs import examples

from templates_engine.advice.fit import OnStrut, RowFit, fit_rows
from templates_engine.checks import check
from templates_engine.checks.model import Outcome
from templates_engine.errors import CannotFit
from templates_engine.job.model import CentreLine, FaceJob, Job, Lips
from templates_engine.layout import solve
from templates_engine.layout.faces import attempt
from templates_engine.layout.job_changes import with_row
from templates_engine.values import replace
from templates_engine.writers.fit_table import fit_bytes, fit_text

NEAR = 1e-6


def only(job: Job) -> RowFit:
    (one,) = fit_rows(job)
    return one


def on_strut(fit: RowFit, *depths: float) -> OnStrut:
    (one,) = [each for each in fit.struts if each.strut and each.strut.depths_in == depths]
    return one


def on_face(fit: RowFit, word: str):  # type: ignore[no-untyped-def]
    (one,) = [each for each in fit.faces if each.face == word]
    return one


def shallow(**more: object) -> Job:
    """4 in rigid raceway, 4.5 in outside [ANSI C80.1], its knockout 4.641 [NEMA knockout table]."""
    row = make_row(make_raceway("4", type="RMC"), make_raceway("2", "A2", type="RMC"), placing=from_edge(4.0))
    return make_job(make_face(row, depth=5.75, **more), back_gap=0.25)  # type: ignore[arg-type]


def test_room_in_front_of_and_behind_each_strut() -> None:
    fit = only(shallow())
    # Backs at 1-5/8 - 1/4 = 1.375; centre 3.625, the knockout from 1.3045 to 5.9455 of 5.75.
    # The 2 in raceway, 2.375 outside, knockout 2.469: centre 2.5625, from 1.328; so the 4 in governs both.
    written = on_strut(fit, 1.625)
    assert written.is_written
    assert written.room.line.at_in == pytest.approx(1.375, abs=NEAR)
    assert written.room.back_in == pytest.approx(1.3045, abs=NEAR)
    assert written.room.front_in == pytest.approx(5.75 - 5.9455, abs=NEAR)
    assert written.room.hindrances == ("front",)
    # 13/16 is 13/16 shallower: 0.1955 missing become 0.617 to spare.
    thinner = on_strut(fit, 0.8125)
    assert thinner.room.front_in == pytest.approx(0.8125 - 0.1955, abs=NEAR)
    assert thinner.room.back_in == pytest.approx(1.3045 - 0.8125, abs=NEAR)
    assert thinner.room.takes


def test_lips_count() -> None:
    room = on_strut(only(shallow(lips=Lips(front_in=0.5, back_in=0.25))), 0.8125).room
    assert room.front_in == pytest.approx(0.617 - 0.5, abs=NEAR)
    assert room.back_in == pytest.approx(0.492 - 0.25, abs=NEAR)


def test_room_along_and_the_largest_gap() -> None:
    # A1 at 4; A2 at 4 + 2.25 + 1 + 1.1875 = 8.4375, its knockout to 9.672 of 20: 10.328 left.
    # The gap may be 1 + 10.328 = 11.328, on the tape 11-5/16 (11-3/8 would run 0.047 over).
    written = on_strut(only(shallow()), 1.625)
    assert written.room.along_in == pytest.approx(10.328, abs=NEAR)
    assert written.largest_apart_in == 11.3125


def test_a_row_that_cannot_be_solved_still_gets_its_table() -> None:
    # 6 x (2.197 + 1) + 2.469 = 21.651 of 20: 1.651 missing; gaps of (20 - 15.651) / 6 = 0.7248, 11/16.
    job = make_job(make_face(make_row(*("2",) * 7)))
    with pytest.raises(CannotFit):
        solve(job)
    fit = only(job)
    written = on_strut(fit, 1.625)
    assert written.room.along_in == pytest.approx(-1.651, abs=NEAR)
    assert written.room.hindrances == ("along",)
    assert written.largest_apart_in == 0.6875
    # The sides are 30 high: 8.349 left.
    assert on_face(fit, "left").room.along_in == pytest.approx(30 - 21.651, abs=NEAR)
    assert [each.face for each in fit.faces if each.room.takes] == ["left", "right"]


def test_strut_that_ends_behind_the_enclosure() -> None:
    # 13/16 on the wall and the can 1 in off it: backs 3/16 behind the back, the knockout of 1 in EMT
    # (1.163 outside, 1.375 cut) begins 0.1875 + 0.6875 - 0.5815 = 0.2935 behind it.
    fit = only(make_job(make_face(make_row("1", strut=0.8125)), back_gap=1.0))
    written = on_strut(fit, 0.8125)
    assert written.room.line.at_in == pytest.approx(-0.1875, abs=NEAR)
    assert written.room.back_in == pytest.approx(-0.2935, abs=NEAR)
    assert written.room.hindrances == ("the strut ends behind the enclosure's back",)
    assert on_strut(fit, 1.625).room.takes


def test_faces_of_the_job_count_their_lips_and_rows_and_others_are_bare() -> None:
    # The row needs 2 x 2.197 + 2.469 + 2 = 8.863 of flat metal.
    row = ("2", "2", "2")
    top = make_face(make_row(*row), width=20.0)
    left = make_face(make_row("3/4", placing=from_edge(1.0)), face="left", width=30.0, lips=Lips(end_in=0.5))
    bottom = make_face(make_row(*row), face="bottom", width=20.0)
    fit = fit_rows(make_job(top, left, bottom))[0]
    assert [(one.face, one.is_own, one.is_in_job) for one in fit.faces] == [
        ("top", True, True),
        ("bottom", False, True),
        ("left", False, True),
        ("right", False, False),
    ]
    assert on_face(fit, "top").room.along_in == pytest.approx(20 - 8.863, abs=NEAR)
    assert on_face(fit, "bottom").room.hindrances == ("row A is in the way",)
    assert on_face(fit, "left").room.along_in == pytest.approx(29.5 - 8.863, abs=NEAR)
    assert on_face(fit, "left").room.takes
    assert on_face(fit, "right").room.along_in == pytest.approx(30 - 8.863, abs=NEAR)


def along(face: FaceJob) -> float | None:
    return on_face(only(make_job(face)), "top").room.along_in


def test_room_along_by_the_way_the_row_is_placed() -> None:
    # From the right at 4: the first centre at 16 - 3.197 = 12.803, its knockout from 11.5685.
    from_right = make_face(make_row("2", "2", placing=from_edge(4.0, "end")))
    assert along(from_right) == pytest.approx(11.5685, abs=NEAR)
    # Spread from 2 to 18: 16 less 2 x 2.197 and three gaps of 1.
    assert along(make_face(make_row("2", "2", placing=spread(2, 18)))) == pytest.approx(8.606, abs=NEAR)
    # Centred: all of 20 but 3.197 + 2.469.
    assert along(make_face(make_row("2", "2"))) == pytest.approx(14.334, abs=NEAR)
    # A keep-out over the last 5 in takes those; one from 8 to 9 leaves 8 - 5.666 before it.
    cut = make_face(make_row("2", "2"), keep_outs=[make_keep_out((15.0, 20.0))])
    assert along(cut) == pytest.approx(9.334, abs=NEAR)
    cut = make_face(make_row("2", "2"), keep_outs=[make_keep_out((8.0, 9.0))])
    assert along(cut) == pytest.approx(2.334, abs=NEAR)


def test_room_along_a_row_whose_places_are_all_given() -> None:
    # 2 in EMT at 4 and, pinned, at 9: to 9 + 1.2345 of 20.
    pinned = [make_raceway("2", "A1"), make_raceway("2", "A2", at=9.0)]
    assert along(make_face(make_row(*pinned, placing=from_edge(4.0)))) == pytest.approx(9.7655, abs=NEAR)
    # From the right at 4 one alone stands at 16, its knockout from 14.7655.
    assert along(make_face(make_row("2", placing=from_edge(4.0, "end")))) == pytest.approx(14.7655, abs=NEAR)


def test_a_strut_that_pushes_the_row_in_front_off_the_face_is_no_help() -> None:
    front = make_row("2", name="B", back_line="auto", strut=1.625)
    fit = fit_rows(make_job(make_face(make_row("2"), front, depth=9.0)))[0]
    # In front, on 4-7/8 in of strut: 4.875 + 1.625 + 1.0985 + 1.2345 = 8.833; on 2-7/16 that takes 5-11/16.
    assert on_strut(fit, 1.625).room.takes
    assert on_strut(fit, 2.4375).room.hindrances == ("row B in front does not fit",)


def test_only_stacks_that_take_the_row_are_listed_and_all_single_struts() -> None:
    fit = only(make_job(make_face(make_row("1", strut=(1.0, 1.0)), depth=4.0)))
    # On 2 in the knockout reaches 2 + 0.5815 + 0.6875 = 3.269; on 2-3/4 it is 4.019, too far for 4.
    depths = [each.strut.depths_in for each in fit.struts if each.strut]
    assert depths == [
        (1.0, 1.0),
        (0.8125,),
        (0.875,),
        (1.0,),
        (1.375,),
        (1.625,),
        (0.8125, 0.8125),
        (0.875, 0.875),
        (2.4375,),
        (0.8125, 1.625),
        (3.25,),
    ]
    assert fit.struts[0].is_written


# --- random jobs --------------------------------------------------------------------------------------------

GEOMETRY = ("depth of the can", "flat metal along the face", "keep-outs", "knockouts apart", "raceways apart")


def stands(job: Job, row_index: int) -> bool | None:
    """Whether the solver and the checks take a row, None where its holes just touch others."""
    tried = attempt(job)
    if (0, row_index) not in tried.rows:
        return False
    if tried.failures:
        return None  # another row fails, so that the checks cannot be asked
    layout = solve(job)
    mine = {hole.id for hole in layout.faces[0].rows[row_index].holes}
    answers = [one for one in check(layout) if one.check in GEOMETRY]
    touching = [one for one in answers if one.check != "depth of the can" and one.provided == one.required]
    if any(mine & set(one.holes) for one in touching):
        return None
    return not any(one.outcome is Outcome.FAIL and mine & set(one.holes) for one in answers)


@examples(40)
@given(jobs())
def test_the_table_says_what_the_solver_and_the_checks_say(job: Job) -> None:
    for index, fit in enumerate(fit_rows(job)):
        for one in fit.struts:
            row = job.faces[0].rows[index]
            if not one.is_written:
                row = replace(row, strut=one.strut, back_line="auto" if row.back_line == "auto" else "strut")
            changed = with_row(job, 0, index, row)
            truth = stands(changed, index)
            in_front = any("in front" in each for each in one.room.hindrances)
            if truth is not None and not in_front:
                assert one.room.takes == truth, (one, row)
            if one.largest_apart_in is not None:
                for more, fits in ((0.0, True), (1 / 16, False)):
                    wider = with_row(job, 0, index, replace(row, gap=one.largest_apart_in + more))
                    assert ((0, index) in attempt(wider).rows) == fits
            if one.room.along_in is not None and one.room.along_in < 0:
                assert not one.room.takes


def test_a_row_by_its_centres_is_told_with_its_spacing_and_without_backs() -> None:
    back = make_row("1", name="A")
    row = make_row("1", "1", name="B", back_line=CentreLine(5.0), strut=None, spacing=3.0)
    job = make_job(make_face(back, row, depth=8.0))
    fitted = fit_rows(job)[1]
    text = fit_text(job, [fitted])
    assert text.startswith("top, row B: B1 to B2, 3 in from centre to centre\n")
    assert "largest spacing" in text
    assert "largest gap" not in text
    written = fitted.struts[0]
    # two 1 in knockouts of 1.375 in at the ends of a 20 in face: 18.625 between them
    assert written.largest_apart_in == 18.625
    cells = next(line for line in text.splitlines() if line.startswith("as written, centres at 5 in"))
    assert cells.split("  ")[1].strip() == ""
    (data,) = json.loads(fit_bytes(job, [fitted]))["rows"]
    first = data["struts"][0]
    assert (first["back_line_in"], first["centre_line_in"]) == (None, 5.0)
    assert (first["largest_gap_in"], first["largest_spacing_in"]) == (None, 18.625)
    assert data["struts"][1]["back_line_in"] is not None
