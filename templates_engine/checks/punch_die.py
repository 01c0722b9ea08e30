"""Measures whether the punch's die bears on flat metal all round, clear of other knockouts."""

from __future__ import annotations

from collections.abc import Iterable

from templates_engine.checks.model import About, Finding, Outcome
from templates_engine.checks.support.answers import Case, judge, length, speech_of, unlisted
from templates_engine.checks.support.fittings import (
    REMEDY_FOR_UNLISTED,
    envelope,
    listed_holes,
    unlisted_words,
    with_shop,
)
from templates_engine.checks.support.metal import flat_across, flat_along, gap, is_punched, pairs
from templates_engine.job.model import Job
from templates_engine.layout.model import FaceLayout, Hole, Layout

LEAST_ROOM_IN = 0.0
"""From the die to anything; touching is allowed."""

ABOUT = About(
    name="punch die",
    what="The die, outside round the hole, lies whole on flat metal, clear of the wall and of neighbouring "
    "knockouts.",
    limit="0 in from the die",
    source="usual dies, from memory: verify",
    leaves_out="Neighbours already fitted: punch the whole row first. Cutters other than punches.",
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
                f"Every die lies flat, {case.label}'s with {length(case.provided, speech)} to spare"
            ),
            remedy="Measure the die in hand; where it does not lie flat use a hole saw, or move the row.",
            source=with_shop(ABOUT.source, face, layout.job),
        )
        punched = {hole.id for hole in face.holes if is_punched(hole)}
        unknown = unlisted_words(face, layout.job, "punch die")
        why = {hole: words for hole, words in unknown.items() if hole in punched}
        yield from unlisted(ABOUT, face.job.face.value, why, REMEDY_FOR_UNLISTED)


def _cases(face: FaceLayout, job: Job) -> Iterable[Case]:
    across, along, words = flat_across(face), flat_along(face), face.job.face
    punched = _punched(face, job)
    for hole in punched:
        radius = envelope(hole, "punch die", job).diameter_in / 2
        for edge, room in (
            ("back edge", hole.v_in - radius - across.low),
            ("front edge", across.high - hole.v_in - radius),
            (f"{words.start_edge} edge", hole.u_in - radius - along.low),
            (f"{words.end_edge} edge", along.high - hole.u_in - radius),
        ):
            yield _case(hole, room, f"{hole.id}'s die overhangs the flat metal at the {edge}")
    dies_in = {hole.id: envelope(hole, "punch die", job).diameter_in for hole in punched}
    beside: dict[str, list[Hole]] = {hole.id: [] for hole in face.holes}
    for one, other in pairs(face, max(dies_in.values(), default=0.0)):
        beside[one.id].append(other)
        beside[other.id].append(one)
    for hole in punched:
        for other in beside[hole.id]:
            room = gap(hole, other, dies_in[hole.id], other.hole_diameter_in)
            yield _case(hole, room, f"{hole.id}'s die reaches over the knockout of {other.id}")


def _punched(face: FaceLayout, job: Job) -> tuple[Hole, ...]:
    return tuple(hole for hole in listed_holes(face, job, "punch die") if is_punched(hole))


def _case(hole: Hole, room_in: float, words: str) -> Case:
    return Case((hole.id,), room_in, LEAST_ROOM_IN, words, label=hole.id)
