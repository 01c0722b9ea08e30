"""Measures raceways and knockouts against the keep-outs of their face, from the finished places alone."""

from __future__ import annotations

from collections.abc import Iterable

from templates_engine.checks.model import About, Finding, Outcome
from templates_engine.checks.support.answers import (
    TOLERANCE_IN,
    Case,
    judge,
    length,
    needed,
    speech_of,
    there,
)
from templates_engine.geometry import Circle, Point, Rect, gap_between_circles, gap_circle_rect
from templates_engine.job.model import KeepOut
from templates_engine.layout.model import FaceLayout, Layout
from templates_engine.units import Speech

ABOUT = About(
    name="keep-outs",
    what="Neither the knockout nor the raceway comes nearer to a keep-out than the clear distance it asks "
    "for.",
    limit="the keep-out's 'clear'; 0 in where it gives none, as then its fittings are what keeps off",
    source="the job's keep-outs",
    leaves_out="Fittings and dies, which another check measures; anything in the way that the job does not "
    "mention.",
    rests_on="geometry",
)


def run(layout: Layout) -> Iterable[Finding]:
    speech = speech_of(layout.job)
    for face in layout.faces:
        yield from judge(
            ABOUT,
            face.job.face.value,
            _cases(face),
            when_short=Outcome.FAIL,
            short=lambda case: (
                f"{case.what}: {_room(case, speech)} where {needed(case, speech)} is to stay clear"
            ),
            fine=lambda case: (
                f"{case.what}: {length(case.provided, speech)} clear, the least against what is asked"
            ),
            remedy="Move the row, or pin its raceways on either side of the keep-out.",
        )


def _room(case: Case, speech: Speech) -> str:
    return (
        f"it reaches {length(-case.provided, speech)} into it"
        if case.provided < -TOLERANCE_IN
        else f"{there(case, speech)} apart"
    )


def _cases(face: FaceLayout) -> Iterable[Case]:
    for keep_out in face.job.keep_outs:
        for hole in face.holes:
            widest = max(hole.circle, hole.body, key=lambda circle: circle.diameter)
            room = gap_to(widest, keep_out)
            yield Case(
                (hole.id,), room, keep_out.clear_in or 0.0, f"{hole.id} and the keep-out '{keep_out.name}'"
            )


def gap_to(circle: Circle, keep_out: KeepOut) -> float:
    """Clear distance from a circle on the face (u as x, v as y) to a keep-out, inches."""
    area = Rect(keep_out.u_low_in, keep_out.v_low_in, keep_out.u_high_in, keep_out.v_high_in)
    if keep_out.diameter_in is None:
        return gap_circle_rect(circle, area)
    centre = Point((area.left + area.right) / 2, (area.bottom + area.top) / 2)
    return gap_between_circles(circle, Circle(centre, keep_out.diameter_in))
