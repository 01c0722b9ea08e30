"""What moved holes unasked is told with its holes; held against solving the job without each keep-out."""

from __future__ import annotations

from factories import (
    from_edge,
    make_enclosure,
    make_face,
    make_job,
    make_keep_out,
    make_raceway,
    make_row,
    make_size,
)
from hypothesis import HealthCheck, given, settings
from test_random_rows import faces

from templates_engine.errors import CannotFit
from templates_engine.job.model import Centred, DefaultTaken, FaceJob, Job, KeepOut, Raceway
from templates_engine.layout import solve
from templates_engine.layout.model import Note
from templates_engine.values import replace


def silent(keep_out: KeepOut) -> KeepOut:
    return replace(keep_out, clear_in=None)


def notes(*faces: FaceJob) -> tuple[Note, ...]:
    return solve(make_job(*faces)).notes


def snapped(*sizes: str, name: str = "A", **more):  # type: ignore[no-untyped-def]
    return make_row(*sizes, name=name, snap=1 / 16, placing=from_edge(3.0), **more)


def test_nothing_taken_and_nothing_moved_is_nothing_told() -> None:
    far = make_keep_out((18, 19), clear=0.0)
    assert notes(make_face(snapped("1", "1"), keep_outs=[far])) == ()


def test_a_keep_out_that_moves_holes_is_named_with_them_on_the_second_row_of_the_second_face() -> None:
    strip = make_keep_out((5, 5.5), clear=0.25, name="weld")
    front = snapped("1", "1", "1", name="B", back_line=4.0, strut=None)
    second = make_face(snapped("1"), front, face="left", width=30.0, keep_outs=[strip])
    (note,) = notes(make_face(snapped("1")), second)
    assert note == Note('moved by the keep-out "weld", to stay 1/4 in clear', ("B2", "B3"), "left")


def test_each_of_two_keep_outs_has_its_own_holes() -> None:
    keep_outs = [make_keep_out((5.5, 6), name="weld"), make_keep_out((12.5, 13), name="hinge")]
    one, other = notes(make_face(snapped(*("1",) * 4, gap=2.0), keep_outs=keep_outs))
    assert (one.words, one.holes) == ('moved by the keep-out "weld"', ("A2", "A3"))
    assert (other.words, other.holes) == ('moved by the keep-out "hinge"', ("A4",))


def test_two_keep_outs_at_one_place_are_told_together() -> None:
    keep_outs = [make_keep_out((5, 5.5), name="weld"), make_keep_out((5, 5.5), name="seam")]
    (note,) = notes(make_face(snapped("1", "1"), keep_outs=keep_outs))
    assert (note.words, note.holes) == ('moved by the keep-outs "weld" and "seam"', ("A2",))


def test_a_keep_out_without_clear_is_told_whether_it_moved_holes_or_not() -> None:
    at_5, at_18 = silent(make_keep_out((5, 5.5), name="weld")), silent(make_keep_out((18, 19)))
    moved, idle = notes(make_face(snapped("1", "1"), keep_outs=[at_5, at_18]))
    assert moved.holes == ("A2",)
    assert moved.words.startswith('moved by the keep-out "weld", which gives no `clear`, so the room is kept')
    assert idle == Note(
        'the keep-out "seam" gives no `clear`, so the room is kept that the fittings beside need, and moved '
        "no hole",
        (),
        "top",
    )


def test_flexible_raceways_and_rows_without_snap() -> None:
    flexible = make_raceway(make_size(1.0, most_in=1.25), "B2", hole=1.5, cutter="step bit")
    second = make_row(
        make_raceway("1", "B1"),
        flexible,
        name="B",
        back_line=4.0,
        strut=None,
        placing=from_edge(3.0),
        gap=1.0,
    )
    mean, between = notes(make_face(snapped("1"), second))
    assert (mean.holes, mean.face) == (("B2",), "top")
    assert "set by the mean" in mean.words
    assert between.holes == ("B2",)  # B1 stands at 3 in
    assert "no `snap` is given" in between.words


def test_what_the_reading_assumed_is_told_of_the_faces_that_are_solved() -> None:
    job = make_job(make_face(snapped("1")), make_face(snapped("1"), face="left", width=30.0))
    job = replace(
        job, defaults_taken=(DefaultTaken("x", "left", ("A1",)), DefaultTaken("y", "bottom", ("B1",)))
    )
    assert solve(job).notes == (Note("x", ("A1",), "left"),)


def pinned(id: str, at: float) -> Raceway:
    return make_raceway("1", id, at=at)


def test_holes_that_a_pinned_neighbour_moves_are_told_on_the_second_row_of_the_second_face() -> None:
    """Placed from 3 in, 1 in EMT (1.163 in outside) with 1 in between: 3, 5-3/16, 7-3/8, 9-9/16."""
    rows = snapped("1"), snapped("1", "1", pinned("B3", 9.0), "1", name="B", back_line=4.0, strut=None)
    second = make_face(*rows, face="left", width=30.0)
    (note,) = notes(make_face(snapped("1", pinned("A2", 12.0))), second)
    assert note == Note("moved by `at` of B3", ("B4",), "left")


def test_pins_that_move_nothing_are_not_told() -> None:
    assert notes(make_face(snapped("1", "1", pinned("A3", 7.375), "1", gap=1.0))) == ()
    assert notes(make_face(snapped(pinned("A1", 3.0), "1"))) == ()


def test_each_of_two_pins_has_its_own_holes() -> None:
    row = snapped("1", pinned("A2", 8.0), "1", pinned("A4", 15.0), "1")
    one, other = notes(make_face(row, width=30.0))
    assert (one.words, one.holes) == ("moved by `at` of A2", ("A3",))
    assert (other.words, other.holes) == ("moved by `at` of A4", ("A5",))


def test_pins_that_move_holes_only_together_or_are_many_are_named_together() -> None:
    tight = snapped("1", pinned("A2", 8.0), pinned("A3", 10.1875), "1", gap=1.0)
    (note,) = notes(make_face(tight))
    assert (note.words, note.holes) == ("moved by `at` of A2 and A3", ("A4",))
    many = snapped(*(pinned(f"A{at}", 3.0 * at) for at in range(1, 14)), "1")
    (note,) = notes(make_face(many, width=60.0))
    assert note.words == f"moved by `at` of {', '.join(f'A{at}' for at in range(1, 13))} and A13"
    assert note.holes == ("A14",)


def test_a_row_that_fits_only_round_its_pin_off_the_graduations_is_no_trouble() -> None:
    tight = make_row("1", pinned("A2", 2.12), snap=0.25, gap=0.1, placing=Centred())
    assert [one for one in notes(make_face(tight, width=3.0)) if "`at`" in one.words] == []


def without_pin(face: FaceJob, row: int, index: int) -> FaceJob:
    raceways = [
        replace(one, at_in=None) if at == index else one for at, one in enumerate(face.rows[row].raceways)
    ]
    rows = [replace(one, raceways=tuple(raceways)) if at == row else one for at, one in enumerate(face.rows)]
    return replace(face, rows=tuple(rows))


@settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(faces())
def test_the_holes_told_are_those_that_stand_elsewhere_without_the_pin(face: FaceJob) -> None:
    """Each pin is taken out of the job, and the job is solved anew."""
    enclosure = make_enclosure(width=face.width_in)
    try:
        layout = solve(make_job(face, enclosure=enclosure))
    except CannotFit:
        return
    told = {note.words: note.holes for note in layout.notes}
    for at, row in enumerate(layout.faces[0].rows):
        for index, hole in enumerate(row.holes):
            if hole.raceway.at_in is None:
                continue
            try:
                other = solve(make_job(without_pin(face, at, index), enclosure=enclosure))
            except CannotFit:
                continue
            pairs = zip(row.holes, other.faces[0].rows[at].holes, strict=True)
            moved = [
                one.id for one, two in pairs if abs(one.u_in - two.u_in) > 1e-9 and one.raceway.at_in is None
            ]
            assert list(told.get(f"moved by `at` of {hole.id}", ())) == moved


def by_brute_force(job: Job, keep_outs: tuple[KeepOut, ...]) -> dict[str, float]:
    face = replace(job.faces[0], keep_outs=keep_outs)
    return {hole.id: hole.u_in for hole in solve(replace(job, faces=(face,))).faces[0].holes}


@settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(faces())
def test_the_holes_told_are_those_that_stand_elsewhere_without_the_keep_out(face: FaceJob) -> None:
    named = [replace(one, name=f"K{at}") for at, one in enumerate(face.keep_outs)]
    face = replace(face, keep_outs=tuple(named))
    job = make_job(face, enclosure=make_enclosure(width=face.width_in))
    try:
        layout = solve(job)
    except CannotFit:
        return
    placed = {hole.id: hole.u_in for hole in layout.faces[0].holes}
    told = {note.words: note.holes for note in layout.notes if note.words.startswith("moved by the keep-out")}
    for one in named:
        without = by_brute_force(job, tuple(other for other in named if other is not one))
        elsewhere = tuple(id for id in placed if abs(placed[id] - without[id]) > 1e-9)
        mine = [ids for words, ids in told.items() if f'the keep-out "{one.name}"' in words]
        assert mine == ([elsewhere] if elsewhere else [])
    bare = by_brute_force(job, ())
    assert bool(told) == any(abs(placed[id] - bare[id]) > 1e-9 for id in placed)
