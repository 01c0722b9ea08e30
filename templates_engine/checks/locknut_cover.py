"""Measures whether the smallest locknut covers the largest knockout, the raceway pushed to one side.

::

         knockout, at its largest
        (----------------------------)
        [ raceway at one side ]            cover = locknut / 2 - (knockout - raceway / 2)
     {------- smallest locknut ------}
"""

from __future__ import annotations

from collections.abc import Iterable

from templates_engine.checks.model import About, Finding, Outcome
from templates_engine.checks.support.answers import Case, judge, length, speech_of
from templates_engine.checks.support.fittings import envelope, listed_holes, with_shop
from templates_engine.checks.support.threads import thread_in
from templates_engine.job.model import Job
from templates_engine.job.shop import MEASURED
from templates_engine.layout.model import FaceLayout, Layout

LEAST_COVER_IN = 0.0
LOCKNUTS_VARY_IN = 0.125
"""How much smaller a locknut may be than the typical one of the table, as the table's note says.

A shop's own locknut is taken as it gives it.
"""

ABOUT = About(
    name="locknut covers the hole",
    what="The smallest locknut covers the largest knockout, however far off centre the raceway stands.",
    limit="0 in of cover on the open side",
    source="NEMA bulletin 71, text; typical locknuts, within about 1/8 in: verify",
    leaves_out="Reducing washers; holes cut worse than their limits.",
    rests_on="custom",
)


def run(layout: Layout) -> Iterable[Finding]:
    speech = speech_of(layout.job)
    for face in layout.faces:
        yield from judge(
            ABOUT,
            face.job.face.value,
            _cases(face, layout.job),
            when_short=Outcome.CAUTION,
            short=lambda case: (
                f"{case.what} may leave an opening of {length(-case.margin, speech)} beside a small locknut"
            ),
            fine=lambda case: (
                f"A small locknut covers every hole, {case.what}'s with {length(case.provided, speech)} to "
                f"spare"
            ),
            remedy="Centre the raceway in its hole, or use a larger locknut or a washer.",
            source=with_shop(ABOUT.source, face, layout.job),
        )


def _cases(face: FaceLayout, job: Job) -> Iterable[Case]:
    for hole in listed_holes(face, job, "locknut"):
        locknut = envelope(hole, "locknut", job)
        varies_in = 0.0 if locknut.how_had == MEASURED else LOCKNUTS_VARY_IN
        smallest = locknut.diameter_in - varies_in
        cover = smallest / 2 - (hole.hole_most_in - thread_in(hole) / 2)
        yield Case((hole.id,), cover, LEAST_COVER_IN, hole.id)
