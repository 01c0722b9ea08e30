"""Measures whether every knockout lies on flat metal along the face, clear of its ends and their lips."""

from __future__ import annotations

from collections.abc import Iterable

from templates_engine.checks.model import About, Finding, Outcome
from templates_engine.checks.support.answers import Case, judge, length, speech_of
from templates_engine.checks.support.metal import flat_along
from templates_engine.layout.model import FaceLayout, Layout

LEAST_METAL_IN = 0.0
"""From the knockout to where the flat metal ends; touching is allowed here, fittings want more."""

ABOUT = About(
    name="flat metal along the face",
    what="The knockout circle stays between the two ends of the face, or the lips along them.",
    limit="0 in from the circle to the end of the flat metal",
    source="geometry of the face as the job gives it",
    leaves_out="The room that locknuts, bushings and dies need beyond the circle; lips the job does not "
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
            short=lambda case: f"{case.what} runs {length(-case.margin, speech)} past the flat metal",
            fine=lambda case: (
                f"{case.what} keeps {length(case.provided, speech)} of flat metal, the least on this face"
            ),
            remedy="Move the row along the face, close its gaps or take a wider enclosure.",
        )


def _cases(face: FaceLayout) -> Iterable[Case]:
    flat, words = flat_along(face), face.job.face
    for hole in face.holes:
        radius = hole.circle.radius
        for edge, room in (
            (words.start_edge, hole.u_in - radius - flat.low),
            (words.end_edge, flat.high - hole.u_in - radius),
        ):
            yield Case(
                (hole.id,), room, LEAST_METAL_IN, f"{hole.id}'s knockout toward the {edge}", label=hole.id
            )
