"""Measures fittings and dies against the keep-outs of their face, from the finished places alone."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from templates_engine.checks.keep_outs import gap_to
from templates_engine.checks.model import About, Finding, Outcome
from templates_engine.checks.support.answers import Case, judge, length, speech_of, unlisted
from templates_engine.checks.support.fittings import (
    MEASURE_YOUR_OWN,
    REMEDY_FOR_UNLISTED,
    envelope,
    inside,
    listed_holes,
    outside,
    unlisted_words,
    why_unlisted,
    with_shop,
)
from templates_engine.checks.support.metal import is_punched
from templates_engine.geometry import Circle
from templates_engine.job.model import Job, KeepOut
from templates_engine.layout.model import FaceLayout, Hole, Layout

LEAST_ROOM_IN = 0.0
"""From a fitting or die to a keep-out; touching is allowed."""

ABOUT = About(
    name="fittings at keep-outs",
    what="Locknuts and bushings inside, connectors, locknuts or hubs outside, and punch dies stay clear of "
    "keep-outs.",
    limit="0 in from the envelope of the fitting or die, whatever the keep-out's 'clear'",
    source=MEASURE_YOUR_OWN,
    leaves_out="On which side of the metal the keep-out stands; bonding lugs, which can be turned away.",
    rests_on="custom",
)


def run(layout: Layout) -> Iterable[Finding]:
    speech = speech_of(layout.job)
    for face in layout.faces:
        if not face.job.keep_outs:
            continue
        word = face.job.face.value
        yield from judge(
            ABOUT,
            word,
            _cases(face, layout.job),
            when_short=Outcome.CAUTION,
            short=lambda case: f"{case.what} by {length(-case.margin, speech)}",
            fine=lambda case: (
                f"Every fitting is clear of the keep-outs, {case.label}'s by {length(case.provided, speech)}"
            ),
            remedy="Move the row, or measure the fittings in hand and see on which side of the metal the "
            "keep-out stands.",
            source=with_shop(ABOUT.source, face, layout.job),
        )
        yield from unlisted(ABOUT, word, unlisted_words(face, layout.job), REMEDY_FOR_UNLISTED)


def _cases(face: FaceLayout, job: Job) -> Iterable[Case]:
    for hole in listed_holes(face, job):
        circles = tuple(_circles(hole, job))
        widest_in = max(across_in for _, across_in in circles)
        for keep_out in _near(hole, widest_in, face.job.keep_outs):
            for what, across_in in circles:
                room = gap_to(Circle(hole.centre, across_in), keep_out)
                words = f"{hole.id}'s {what} overlaps the keep-out '{keep_out.name}'"
                yield Case((hole.id,), room, LEAST_ROOM_IN, words, label=hole.id)


def _near(hole: Hole, across_in: float, keep_outs: Sequence[KeepOut]) -> Iterable[KeepOut]:
    """The nearest keep-out, and every other that a circle so wide overlaps; all others are clear as well."""

    def along(keep_out: KeepOut) -> float:
        return max(keep_out.u_low_in - hole.u_in, hole.u_in - keep_out.u_high_in) - across_in / 2

    circle, nearest_in = Circle(hole.centre, across_in), math.inf
    for keep_out in sorted(keep_outs, key=along):
        if along(keep_out) > max(nearest_in, LEAST_ROOM_IN):
            return
        room = gap_to(circle, keep_out)
        if room < max(nearest_in, LEAST_ROOM_IN):
            nearest_in = min(nearest_in, room)
            yield keep_out


def _circles(hole: Hole, job: Job) -> Iterable[tuple[str, float]]:
    """What stands round a hole, with its width."""
    for where, fitting in (("inside", inside(hole, job)), ("outside", outside(hole, job))):
        yield f"{fitting.kind} {where}", fitting.diameter_in
    if is_punched(hole) and not why_unlisted(hole, job, "punch die"):
        yield "punch die outside", envelope(hole, "punch die", job).diameter_in
