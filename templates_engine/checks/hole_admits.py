"""Measures whether the thread of each raceway or connector goes through the hole that is to be cut."""

from __future__ import annotations

from collections.abc import Iterable

from templates_engine.checks.model import About, Finding, Outcome
from templates_engine.checks.support.answers import Case, judge, needed, speech_of, there
from templates_engine.checks.support.threads import thread_in
from templates_engine.layout.model import FaceLayout, Layout

ABOUT = About(
    name="hole takes the thread",
    what="Each hole is at least as wide as the thread that goes through it.",
    limit="the outside diameter of a rigid raceway of that trade size",
    source="ANSI C80.1 outside diameters; geometry",
    leaves_out="How easily it goes; paint and burrs.",
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
                f"{case.what} has a hole of {there(case, speech)} for a thread of {needed(case, speech)}"
            ),
            fine=lambda case: (
                f"Every thread goes through its hole, {case.what}'s with the least room: "
                f"{there(case, speech)} for {needed(case, speech)}"
            ),
            remedy="Write hole: knockout, or the diameter that is really cut.",
        )


def _cases(face: FaceLayout) -> Iterable[Case]:
    for hole in face.holes:
        yield Case((hole.id,), hole.hole_diameter_in, thread_in(hole), hole.id)
