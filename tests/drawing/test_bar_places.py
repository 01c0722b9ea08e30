"""Upright scale bars over the face: long enough to show a shrunk print, clear of all that is marked from."""

from __future__ import annotations

import pytest
from factories import make_face, make_job, make_row
from hypothesis import assume, given
from random_jobs import jobs
from random_runs import examples

from templates_engine.errors import CannotFit
from templates_engine.geometry import Rect, gap_circle_rect
from templates_engine.job.model import Job
from templates_engine.layout import solve
from templates_engine.sheets import plan
from templates_engine.sheets.model import FacePlan
from templates_engine.sheets.scale_bars import BAR_WIDTH_IN, bar_room_in

LEAST_BAR_IN, SHORTEST_BAR_IN = 3.0, 1.3


def assert_clear(face: FacePlan, view: Rect, is_roomy: bool) -> None:
    """By the plan's own holes, joints and marks. A crowded sheet may cross
    its joints for three inches, and has a shorter bar where not even that gives as much.
    """
    for sheet, bars in zip(face.sheets, face.bars, strict=True):
        strip = bars.strip
        assert strip is not None
        assert strip.width == pytest.approx(BAR_WIDTH_IN)
        assert bar_room_in(strip) >= (LEAST_BAR_IN if is_roomy else SHORTEST_BAR_IN)
        assert view.grown(1e-9).contains(strip.moved(*sheet.offset))
        seen = strip.common(sheet.window)  # past its window the page is white, whatever lies there
        for hole in face.layout.holes:
            if seen.width > 0 and seen.height > 0:
                assert gap_circle_rect(face.circle_of(hole), seen) > 0, hole.id
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
    assert_clear(face, planned.view, is_roomy=False)


def test_pages_with_a_strip_for_the_bar_put_none_over_the_face() -> None:
    planned = plan(solve(make_job(make_face(make_row("2", "1"), width=6.0, depth=6.0))))
    assert planned.bar_strip_in > 0
    assert {bars.strip for bars in planned.faces[0].bars} == {None}


def test_a_bar_stands_between_two_holes_rather_than_over_one() -> None:
    """Holes at 3 and 9 in on a face as deep as the page's view: the strip lies between them."""
    row = make_row("3", "3", gap=3.0)
    planned = plan(solve(make_job(make_face(row, width=20.0, depth=6.0))))
    (face,) = planned.faces
    assert_clear(face, planned.view, is_roomy=True)
