"""Measures whether fittings seat clear of the can's walls and lips, and of the wall behind it."""

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
from templates_engine.checks.support.metal import flat_across, flat_along
from templates_engine.job.model import Job
from templates_engine.layout.model import FaceLayout, Hole, Layout

LEAST_ROOM_IN = 0.0
"""From a fitting to a wall or lip; touching is allowed."""

ABOUT = About(
    name="fittings at walls",
    what="Locknuts and bushings stay clear of the can's walls and lips, and outside fittings clear of the "
    "wall behind.",
    limit="0 in from the fitting's envelope",
    source=MEASURE_YOUR_OWN,
    leaves_out="Interior parts of the panel that the job does not name as keep-outs; room to turn a locknut.",
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
            short=lambda case: f"{case.what} by {length(-case.margin, speech)}",
            fine=lambda case: (
                f"Every fitting is clear of the walls, {case.label}'s by {length(case.provided, speech)}"
            ),
            remedy="Move the row, or take smaller fittings; measure those in hand.",
            source=with_shop(ABOUT.source, face, layout.job),
        )
        yield from unlisted(ABOUT, face.job.face.value, unlisted_words(face, layout.job), REMEDY_FOR_UNLISTED)


def _cases(face: FaceLayout, job: Job) -> Iterable[Case]:
    across, along = flat_across(face), flat_along(face)
    front = min(across.high, face.job.depth_in - (face.job.metal_in or 0.0))  # a closed front is a wall too
    words = face.job.face
    for hole in listed_holes(face, job):
        fitting = inside(hole, job)
        radius = fitting.diameter_in / 2
        for edge, room in (
            ("back", hole.v_in - radius - across.low),
            ("front", front - hole.v_in - radius),
            (words.start_edge, hole.u_in - radius - along.low),
            (words.end_edge, along.high - hole.u_in - radius),
        ):
            yield _case(hole, room, f"{hole.id}'s {fitting.kind} runs into the {edge} of the can")
        body = outside(hole, job)
        room = hole.v_in + job.enclosure.back_gap_in - body.diameter_in / 2
        yield _case(hole, room, f"{hole.id}'s {body.kind} outside runs into the wall")


def _case(hole: Hole, room_in: float, words: str) -> Case:
    return Case((hole.id,), room_in, LEAST_ROOM_IN, words, label=hole.id)
