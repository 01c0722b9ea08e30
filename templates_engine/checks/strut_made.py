"""Looks every named strut depth up among those that are made."""

from __future__ import annotations

from collections.abc import Iterable

from templates_engine.checks.model import About, Finding, Outcome
from templates_engine.checks.support.answers import Case, judge, listed, speech_of
from templates_engine.layout.model import FaceLayout, Layout
from templates_engine.trade import strut
from templates_engine.units import Speech

ABOUT = About(
    name="strut that is made",
    what="Every strut named in the job has a depth that strut is made in.",
    limit="the depths of the strut table, within 1/64 in",
    source="MFMA-4, in part from memory: verify",
    leaves_out="Channel of other makes, which may be deeper or shallower; shims.",
    rests_on="custom",
)


def run(layout: Layout) -> Iterable[Finding]:
    speech = speech_of(layout.job)
    for face in layout.faces:
        yield from judge(
            ABOUT,
            face.job.face.value,
            _cases(face, speech),
            when_short=Outcome.CAUTION,
            short=lambda case: case.what,
            fine=lambda case: "Every strut named is made as deep as that",
            remedy="Measure the channel in hand; every hole of the row stands off the wall by its depth.",
        )


def _cases(face: FaceLayout, speech: Speech) -> Iterable[Case]:
    for row in face.rows:
        if row.row.strut is None:
            continue
        holes = tuple(hole.id for hole in row.holes)
        for depth_in in row.row.strut.depths_in:
            near = strut.nearest_depths(depth_in)
            nearest_in = min((one.depth_in for one in near), key=lambda made: abs(made - depth_in))
            depths = listed([speech.say(one.depth_in) for one in near], "or")
            words = f"No strut {speech.say(depth_in)} deep is made (row {row.row.name}); {depths} is"
            is_made = strut.look_up(depth_in) is not None
            yield Case(holes, depth_in, nearest_in, words, holds=is_made, label=f"row {row.row.name}")
