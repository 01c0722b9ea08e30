"""Measures whether raceways stand clear of the wall behind the enclosure, at their largest diameter."""

from __future__ import annotations

from collections.abc import Iterable

from templates_engine.checks.model import About, Finding, Outcome
from templates_engine.checks.support.answers import Case, judge, length, speech_of
from templates_engine.layout.model import FaceLayout, Layout

LEAST_ROOM_IN = 0.0
"""From the raceway's back to the wall; lying on it is allowed here."""

ABOUT = About(
    name="raceways clear of the wall",
    what="No raceway reaches into the wall that the enclosure hangs on.",
    limit="0 in from the raceway's back to the wall",
    source="geometry of strut, stand-off and raceway",
    leaves_out="Straps and fittings, which are wider; walls that are not flat.",
    rests_on="geometry",
)


def run(layout: Layout) -> Iterable[Finding]:
    speech = speech_of(layout.job)
    off_wall = layout.job.enclosure.back_gap_in
    for face in layout.faces:
        yield from judge(
            ABOUT,
            face.job.face.value,
            _cases(face, off_wall),
            when_short=Outcome.FAIL,
            short=lambda case: f"{case.what} would stand {length(-case.margin, speech)} inside the wall",
            fine=lambda case: f"{case.what} is nearest to the wall, {length(case.provided, speech)} from it",
            remedy="Take deeper strut, or a back line or centre line farther from the wall.",
        )


def _cases(face: FaceLayout, off_wall_in: float) -> Iterable[Case]:
    for hole in face.holes:
        yield Case((hole.id,), hole.v_in - hole.body.radius + off_wall_in, LEAST_ROOM_IN, hole.id)
