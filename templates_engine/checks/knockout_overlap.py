"""Measures whether two knockouts of a face run into each other, in one row or between rows."""

from __future__ import annotations

from collections.abc import Iterable

from templates_engine.checks.model import About, Finding, Outcome
from templates_engine.checks.support.answers import Case, judge, length, speech_of
from templates_engine.checks.support.metal import gap, pairs
from templates_engine.layout.model import FaceLayout, Layout

LEAST_METAL_IN = 0.0
"""Between two circles; how wide a strip of metal ought to stay is another check's."""

ABOUT = About(
    name="knockouts apart",
    what="No two knockout circles of a face overlap.",
    limit="0 in between circles",
    source="geometry",
    leaves_out="How strong the strip of metal between them is.",
    rests_on="geometry",
)


def run(layout: Layout) -> Iterable[Finding]:
    speech = speech_of(layout.job)
    for face in layout.faces:
        yield from judge(
            ABOUT,
            face.job.face.value,
            cases(face, LEAST_METAL_IN),
            when_short=Outcome.FAIL,
            short=lambda case: f"The knockouts of {case.what} overlap by {length(-case.margin, speech)}",
            fine=lambda case: (
                f"The knockouts closest together, {case.what}, have {length(case.provided, speech)} between "
                f"them"
            ),
            remedy="Widen the gap, or move one row off the other.",
        )


def cases(face: FaceLayout, required_in: float) -> Iterable[Case]:
    """Every two knockouts of a face with the metal between them."""
    for one, other in pairs(face):
        between = gap(one, other, one.hole_diameter_in, other.hole_diameter_in)
        yield Case((one.id, other.id), between, required_in, f"{one.id} and {other.id}")
