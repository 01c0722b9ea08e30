"""Upright scale bars over the face: long enough to show a shrunk print, clear of all that is marked from."""

from __future__ import annotations

import pytest
from factories import make_face, make_job, make_row
from hypothesis import assume, given
from random_jobs import jobs
from random_runs import examples

from templates_engine.drawing.bar_places import BAR_WIDTH_IN, bar_room_in
from templates_engine.drawing.face import face_picture
from templates_engine.drawing.labels import Room
from templates_engine.errors import CannotFit
from templates_engine.geometry import Rect, gap_circle_rect
from templates_engine.job.model import Job
from templates_engine.layout import solve
from templates_engine.sheets import plan
from templates_engine.sheets.model import FacePlan
from templates_engine.units import Speech

LEAST_BAR_IN, SHORTEST_BAR_IN = 3.0, 1.3


def assert_clear(face: FacePlan, room: Room, view: Rect, is_roomy: bool) -> None:
    """By the plan's own holes, joints and marks, not by what the room says of them. A crowded sheet may cross
    its joints for three inches, and has a shorter bar where not even that gives as much.
    """
    assert set(room.bars) == {sheet.number for sheet in face.sheets}
    for sheet in face.sheets:
        strip = room.bars[sheet.number]
        assert strip.width == pytest.approx(BAR_WIDTH_IN)
        assert bar_room_in(strip) >= (LEAST_BAR_IN if is_roomy else SHORTEST_BAR_IN)
        assert view.grown(1e-9).contains(strip.moved(*sheet.offset))
        for hole in face.layout.holes:
            circle = type(hole.circle)(face.centre_of(hole), hole.hole_diameter_in)
            assert gap_circle_rect(circle, strip) > 0, hole.id
        for joint in sheet.joints:
            a, b = joint.start, joint.end
            line = Rect(min(a.x, b.x), min(a.y, b.y), max(a.x, b.x), max(a.y, b.y))
            assert not (is_roomy and strip.overlaps(line))
            assert not any(strip.grown(0.07).holds(mark.at) for mark in joint.marks)


@examples(25)
@given(jobs())
def test_bars_of_random_rows_are_clear_wherever_three_inches_are(job: Job) -> None:
    try:
        planned = plan(solve(job))
    except CannotFit:
        assume(False)
    assume(planned.bar_strip_in == 0.0)
    (face,) = planned.faces
    _, room = face_picture(face, Speech(job.unit, job.denominator), planned.view)
    assert_clear(face, room, planned.view, is_roomy=False)


def test_pages_with_a_strip_for_the_bar_put_none_over_the_face() -> None:
    planned = plan(solve(make_job(make_face(make_row("2", "1"), width=6.0, depth=6.0))))
    assert planned.bar_strip_in > 0
    _, room = face_picture(planned.faces[0], Speech("in", 16))
    assert room.bars == {}


def test_a_bar_stands_between_two_holes_rather_than_over_one() -> None:
    """Holes at 3 and 9 in on a face as deep as the page's view: the strip lies between them."""
    row = make_row("3", "3", gap=3.0)
    planned = plan(solve(make_job(make_face(row, width=20.0, depth=6.0))))
    (face,) = planned.faces
    _, room = face_picture(face, Speech("in", 16), planned.view)
    assert_clear(face, room, planned.view, is_roomy=True)
