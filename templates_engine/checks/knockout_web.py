"""Measures the strip of metal between two knockouts against a width that does not tear or bend."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from templates_engine.checks.knockout_overlap import cases
from templates_engine.checks.model import About, Finding, Outcome
from templates_engine.checks.support.answers import TOLERANCE_IN, judge, length, needed, speech_of, there
from templates_engine.layout.model import Layout

LEAST_WEB_IN = 0.25

ABOUT = About(
    name="metal between knockouts",
    what="The strip of metal between two knockouts of a face is wide enough to stay flat and carry a "
    "locknut.",
    limit="1/4 in between circles",
    source="common practice, no source",
    leaves_out="Overlapping knockouts, which another check fails; the strength of thin or painted metal.",
    rests_on="custom",
)


def run(layout: Layout) -> Iterable[Finding]:
    speech = speech_of(layout.job)
    for face in layout.faces:
        apart = [
            replace(case, provided=max(case.provided, 0.0))
            for case in cases(face, LEAST_WEB_IN)
            if case.provided >= -TOLERANCE_IN
        ]
        yield from judge(
            ABOUT,
            face.job.face.value,
            apart,
            when_short=Outcome.CAUTION,
            short=lambda case: (
                f"Only {there(case, speech)} of metal stays between the knockouts of {case.what}, "
                f"{needed(case, speech)} is wanted"
            ),
            fine=lambda case: (
                f"At least {length(case.provided, speech)} of metal stays between knockouts, at {case.what}"
            ),
            remedy="Widen the gap between these raceways.",
        )
