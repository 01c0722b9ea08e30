"""A row that fails is told every reason, and nothing that is not so; claims are held against brute force."""

from __future__ import annotations

import pytest
from factories import from_edge, make_enclosure, make_face, make_job, make_keep_out, make_raceway, make_row
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from test_random_rows import faces

from templates_engine.errors import CannotFit
from templates_engine.job.model import FaceJob, Job, Lips, Row
from templates_engine.layout import solve
from templates_engine.layout.faces import attempt
from templates_engine.values import replace

NONE_ALONE = "none of its raceways fits alone"


def told(job: Job) -> list[str]:
    with pytest.raises(CannotFit) as error:
        solve(job)
    return [str(problem) for problem in error.value.problems]


def test_every_pin_that_is_wrong_is_told() -> None:
    pins = [make_raceway("1", f"A{n}", at=at) for n, at in ((1, 0.5), (2, 9.5), (3, 10.5), (4, 19.9))]
    (text,) = told(make_job(make_face(make_row(*pins), keep_outs=[make_keep_out((9, 9.1))])))
    assert "A1 is pinned at 1/2 in, and its hole runs off the flat of the face; 0.1875 in is missing." in text
    assert 'Also, A2 is pinned at 9-1/2 in, and comes too near the keep-out "seam"' in text
    assert "Also, A4 is pinned at 19-7/8 in (19.9), and its hole runs off" in text
    assert (
        "Also, A2 is pinned at 9-1/2 in and A3 is pinned at 10-1/2 in: their centres are 1 in apart" in text
    )
    assert text.count("Also, ") == 3


def test_every_stretch_that_lacks_room_is_told_and_those_that_have_it_are_not() -> None:
    def free(*numbers: int) -> list[object]:
        return [make_raceway("2", f"A{n}") for n in numbers]

    row = make_row(
        *free(1, 2), make_raceway("2", "A3", at=6), *free(4), make_raceway("2", "A5", at=14), *free(6, 7)
    )  # type: ignore[arg-type]
    (text,) = told(make_job(make_face(row, width=19.0)))
    assert "between the left edge and A3, which is pinned at 6 in, A1 and A2 need" in text
    assert "between A5, which is pinned at 14 in, and the right edge A6 and A7 need" in text
    assert "A4" not in text.split(" is missing. ")[0] + text.split("Also, ")[1]


def test_a_stretch_beside_a_pin_that_cannot_stand_is_not_measured() -> None:
    row = make_row(make_raceway("2", "A1", at=0.25), "2", "2", "2")
    (text,) = told(make_job(make_face(row, width=9.0)))
    assert "A1 is pinned" in text
    assert "need" not in text.split("missing.")[0]
    assert "Also" not in text


def test_the_second_row_of_the_second_face_is_told_all_its_reasons_too() -> None:
    bad = make_row(
        make_raceway("1", "B1", at=0.5), make_raceway("1", "B2", at=29.9), name="B", back_line=4.0, strut=None
    )
    job = make_job(make_face(make_row("1")), make_face(make_row("1"), bad, face="left", width=30.0))
    (text,) = told(job)
    assert "Row B does not fit: B1 is pinned" in text
    assert "Also, B2 is pinned" in text


def test_a_raceway_given_two_places_is_told_beside_other_reasons() -> None:
    row = make_row(make_raceway("1", "A1", at=3.0), make_raceway("1", "A2", at=19.9), placing=from_edge(4.0))
    (text,) = told(make_job(make_face(row)))
    assert "A1 is pinned at 3 in, but it also starts the row 4 in from the left edge" in text
    assert "leave out at: of A1, or place: of row A" in text
    assert "Also, A2 is pinned" in text


def test_strut_too_shallow_does_not_hide_a_row_too_long() -> None:
    job = make_job(make_face(make_row(*("2",) * 9, strut=0.8125)), back_gap=1.0)
    shallow, long = told(job)
    assert "3/16 in behind the enclosure's back" in shallow
    assert "Deeper strut reaches the back, but no single change tried makes the row fit on it." in shallow
    assert "A1 to A9 need" in long
    only = told(make_job(make_face(make_row("2", strut=0.8125)), back_gap=1.0))
    assert len(only) == 1


def test_no_strut_is_called_deep_enough_only_where_none_is() -> None:
    (text,) = told(make_job(make_face(make_row("2", strut=3.25)), back_gap=4.0))
    assert "No single strut is deep enough" in text


# --- which raceways fit alone -------------------------------------------------------------------------------


def test_one_in_the_middle_that_fits_alone_is_offered() -> None:
    """From 1/2 in, a 1/2 in EMT fits and a 2 in one runs off the edge; two of them need more than 4 in."""
    row = make_row("2", "1/2", "2", gap=2.0, placing=from_edge(0.5))
    (text,) = told(make_job(make_face(row, width=4.0, depth=5.0)))
    assert "take A1, and A3 out of the row (1 of 3 fits: A2)" in text
    assert NONE_ALONE not in text


def test_the_part_round_the_first_that_fits_alone_is_as_long_as_can_be() -> None:
    sizes = ("2", "1/2", "1/2", "1/2", "2")
    row = make_row(*sizes, gap=0.5, placing=from_edge(0.5))
    (text,) = told(make_job(make_face(row, width=3.5, depth=5.0)))
    assert "(3 of 5 fit: A2 to A4)" in text


def test_none_alone_is_said_where_that_is_so_and_not_of_one_raceway() -> None:
    row = make_row("2", "2", placing=from_edge(0.5))
    (text,) = told(make_job(make_face(row, width=144.0, depth=3.0)))
    assert text.endswith(f"No single change tried makes it fit, and {NONE_ALONE}.")
    (text,) = told(make_job(make_face(make_row("2", placing=from_edge(0.5)), width=144.0, depth=3.0)))
    assert text.endswith("No single change tried makes it fit.")


def fits_alone(job: Job, row: Row, index: int) -> bool:
    """Whether one raceway of the job's only row has its place and lies on the flat, back to front too."""
    face = job.faces[0]
    one = make_row(
        row.raceways[index], strut=row.strut.depths_in if row.strut else None, gap=1.0,
        snap=row.snap_in, placing=row.placing,
    )  # fmt: skip
    changed = make_face(
        one, width=face.width_in, depth=face.depth_in, lips=face.lips, keep_outs=face.keep_outs
    )
    tried = attempt(make_job(changed, enclosure=job.enclosure))
    return not tried.failures and all(
        hole.v_in - hole.hole_diameter_in / 2 >= -1e-9
        and hole.v_in + hole.hole_diameter_in / 2 <= face.depth_in + 1e-9
        for hole in tried.faces[0].holes
    )


@settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(faces(), st.sampled_from((2.5, 3.0, 3.5, 4.0)))
def test_what_is_said_of_raceways_alone_is_so(face: FaceJob, depth: float) -> None:
    """Shallow faces, so that few rows can be helped; every raceway is tried alone."""
    row = face.rows[0]
    face = make_face(row, width=face.width_in, depth=depth, lips=Lips(), keep_outs=face.keep_outs)
    job = make_job(face, enclosure=make_enclosure(width=face.width_in, depth=depth))
    try:
        solve(job)
    except CannotFit as error:
        text = str(error)
        alone = [fits_alone(job, row, index) for index in range(len(row.raceways))]
        if len(alone) > 1:
            assert (NONE_ALONE in text or "No single change tried" in text) <= (not any(alone))
            assert ("out of the row (" in text) == any(alone) or "Any one" in text or "This makes" in text


def test_what_keep_outs_and_graduations_take_of_a_row_too_long_is_told_in_the_second_row_too() -> None:
    """All that is missing is worked out here, for 2 in EMT 1.5 in apart in knockouts of 2.469 in."""
    apart, knockout = 2.197 + 1.5, 2.469
    fine = make_row("1", back_line=0.5)
    long = make_row(*["2"] * 4, name="B", gap=1.5, back_line=4.0, strut=None)
    needed = 3 * apart + knockout

    seam = make_keep_out((5, 7))
    (text,) = told(make_job(make_face(fine, long, width=12.0, depth=9.0, keep_outs=[seam])))
    beside_it = 2 * (apart + knockout - 5)  # two of them on the 5 in at either side of the seam
    assert f'keeping off the keep-out "seam" takes {beside_it - (needed - 12):.3f}' in text
    assert f"; {beside_it:.3f} in is missing" in text
    assert "graduations" not in text

    snapped = replace(long, snap_in=0.25)
    (text,) = told(make_job(make_face(fine, snapped, width=12.0, depth=9.0)))
    on_tape = 1.25 + 3 * 3.75 + 1.25  # every length rounded up to quarters of an inch
    assert f"and standing on graduations of 1/4 in takes {round(on_tape - needed, 3):g} in" in text
    assert f"; {on_tape - 12:g} in is missing" in text
    assert "keeping off" not in text


def test_a_start_from_the_near_side_says_its_centre_once() -> None:
    near = replace(from_edge(4.0), to="near side")
    row = make_row(make_raceway("1", "B1", at=3.0), "1", name="B", placing=near, back_line=4.0, strut=None)
    (text,) = told(make_job(make_face(make_row("1"), row, depth=9.0)))
    assert "but it also starts the row 4 in from the left edge with its near side" in text
    assert text.count("centre at") == 1


def test_a_raceway_that_no_graduation_has_room_for_is_told_with_the_graduation() -> None:
    """1 in EMT, its knockout 1.362 in: no quarter of an inch serves left of the seam."""
    first = make_row("1/2", back_line=0.5, placing=from_edge(8.0))
    second = make_row("1", name="B", back_line=4.0, strut=None, snap=0.25)
    face = make_face(first, second, width=10.0, depth=8.0, keep_outs=[make_keep_out((1.4, 10), (4, 8))])
    (text,) = told(make_job(face))
    assert "Row B does not fit: B1 has no place on a graduation of 1/4 in." in text
