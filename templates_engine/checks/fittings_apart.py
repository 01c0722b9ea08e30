"""Measures whether the fittings of neighbouring raceways collide, inside the can and outside."""

from __future__ import annotations

from collections.abc import Iterable

from templates_engine.checks.model import About, Finding, Outcome
from templates_engine.checks.support.answers import Case, judge, length, speech_of, unlisted
from templates_engine.checks.support.fittings import (
    MEASURE_YOUR_OWN,
    REMEDY_FOR_UNLISTED,
    inside,
    listed_holes,
    outside,
    unlisted_words,
    with_shop,
)
from templates_engine.checks.support.metal import gap, pairs
from templates_engine.job.model import Job
from templates_engine.layout.model import FaceLayout, Hole, Layout
from templates_engine.trade.fittings import FittingEnvelope

LEAST_ROOM_IN = 0.0
"""Between two fittings; touching is allowed, though no tool then goes between."""

ABOUT = About(
    name="fittings apart",
    what="Locknuts and bushings inside, connectors, locknuts or hubs outside do not collide with their "
    "neighbours'.",
    limit="0 in between the fittings' envelopes",
    source=MEASURE_YOUR_OWN,
    leaves_out="Room for a tool between them; a bonding bushing's lug, which another check turns about.",
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
            short=lambda case: f"The {case.what} overlap by {length(-case.margin, speech)}",
            fine=lambda case: (
                f"The {case.what} come closest, with {length(case.provided, speech)} between them"
            ),
            remedy="Widen the gap, or measure the fittings in hand and give the gap they need.",
            source=with_shop(ABOUT.source, face, layout.job),
        )
        yield from unlisted(ABOUT, face.job.face.value, unlisted_words(face, layout.job), REMEDY_FOR_UNLISTED)


def _cases(face: FaceLayout, job: Job) -> Iterable[Case]:
    fitted = {hole.id: (inside(hole, job), outside(hole, job)) for hole in listed_holes(face, job)}
    widest_in = max((one.diameter_in for both in fitted.values() for one in both), default=0.0)
    for one, other in pairs(face, widest_in):
        if one.id in fitted and other.id in fitted:
            (one_in, one_out), (other_in, other_out) = fitted[one.id], fitted[other.id]
            yield _case(one, other, one_in, other_in, "inside")
            yield _case(one, other, one_out, other_out, "outside")


def _case(one: Hole, other: Hole, first: FittingEnvelope, second: FittingEnvelope, where: str) -> Case:
    room = gap(one, other, first.diameter_in, second.diameter_in)
    plural = f"{first.kind}s" if first.kind == second.kind else f"{first.kind} and {second.kind}"
    words = f"{plural} {where} at {one.id} and {other.id}"
    return Case((one.id, other.id), room, LEAST_ROOM_IN, words, label=f"{one.id} and {other.id}")
