"""Measures whether raceways run into each other, in a row or between rows, at their largest diameter."""

from __future__ import annotations

from collections.abc import Iterable

from templates_engine.checks.model import About, Finding, Outcome
from templates_engine.checks.support.answers import Case, judge, length, speech_of
from templates_engine.checks.support.metal import gap, pairs
from templates_engine.layout.model import FaceLayout, Layout

LEAST_ROOM_IN = 0.0
"""Between two bodies; touching is geometry's limit, the gap that a job asks for is another check's."""

ABOUT = About(
    name="raceways apart",
    what="No two raceways through a face overlap, whichever rows they are in.",
    limit="0 in between outside diameters, the largest where a type has a range",
    source="geometry",
    leaves_out="Bends, offsets and what happens away from the face.",
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
            short=lambda case: f"The raceways {case.what} overlap by {length(-case.margin, speech)}",
            fine=lambda case: (
                f"The raceways closest together, {case.what}, are {length(case.provided, speech)} apart"
            ),
            remedy="Widen the gap, or give the front row deeper strut.",
        )


def _cases(face: FaceLayout) -> Iterable[Case]:
    for one, other in pairs(face):
        room = gap(one, other, one.body.diameter, other.body.diameter)
        yield Case((one.id, other.id), room, LEAST_ROOM_IN, f"{one.id} and {other.id}")
