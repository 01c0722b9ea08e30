"""Measures the room to turn a punch's draw stud, from the hole's centre to the wall behind."""

from __future__ import annotations

from collections.abc import Iterable

from templates_engine.checks.model import About, Finding, Outcome
from templates_engine.checks.support.answers import Case, judge, length, needed, speech_of, there
from templates_engine.checks.support.metal import is_punched
from templates_engine.layout.model import FaceLayout, Layout

LEAST_ROOM_IN = 1.0
"""A driver's body or a wrench's head round the stud."""

ABOUT = About(
    name="draw stud access",
    what="A wrench or driver fits on the draw stud outside, between hole centre and wall.",
    limit="1 in from the hole's centre to the wall behind the enclosure",
    source="common practice, no source",
    leaves_out="Larger drivers; punching before the enclosure hangs, which needs no such room; other "
    "cutters.",
    rests_on="custom",
)


def run(layout: Layout) -> Iterable[Finding]:
    speech = speech_of(layout.job)
    for face in layout.faces:
        yield from judge(
            ABOUT,
            face.job.face.value,
            _cases(face, layout.job.enclosure.back_gap_in),
            when_short=Outcome.CAUTION,
            short=lambda case: (
                f"{case.what} has its centre {there(case, speech)} from the wall, a driver takes "
                f"{needed(case, speech)}"
            ),
            fine=lambda case: (
                f"{case.what} has its centre nearest to the wall, {length(case.provided, speech)} from it"
            ),
            remedy="Punch before the enclosure hangs, or use a hole saw or step bit.",
        )


def _cases(face: FaceLayout, off_wall_in: float) -> Iterable[Case]:
    for hole in face.holes:
        if is_punched(hole):
            yield Case((hole.id,), hole.v_in + off_wall_in, LEAST_ROOM_IN, hole.id)
