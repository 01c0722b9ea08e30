"""Compares each hole with the limits of the standard knockout for its trade size."""

from __future__ import annotations

from collections.abc import Iterable

from templates_engine.checks.model import About, Finding, Outcome
from templates_engine.checks.support.answers import Case, judge, needed, speech_of, there, unlisted
from templates_engine.layout.model import FaceLayout, Hole, Layout
from templates_engine.trade.knockouts import Knockout, look_up
from templates_engine.trade.names import NotListed

ABOUT = About(
    name="hole as the standard",
    what="Each hole is within the limits of the standard knockout for its trade size.",
    limit="the least and the most of the standard knockout",
    source="NEMA knockout dimensions; for metric conduit usual clearance holes, from memory",
    leaves_out="How exactly a cutter cuts.",
    rests_on="custom",
)


def run(layout: Layout) -> Iterable[Finding]:
    speech = speech_of(layout.job)
    for face in layout.faces:
        yield from judge(
            ABOUT,
            face.job.face.value,
            _cases(face),
            when_short=Outcome.CAUTION,
            short=lambda case: (
                f"{case.what} is cut {there(case, speech)}, the standard knockout for {case.extra} is "
                f"{needed(case, speech)} at {'most' if case.at_most else 'least'}"
            ),
            fine=lambda case: "Every hole is within the standard's limits",
            remedy="Check that the fitting seats on this hole, or write hole: knockout.",
        )
        why = {hole.id: words for hole in face.holes if (words := _unlisted(hole))}
        yield from unlisted(ABOUT, face.job.face.value, why, "Check that the fitting seats on this hole.")


def _standard(hole: Hole) -> Knockout:
    if hole.raceway.size is None:
        raise NotListed(f"{hole.id} has no trade size.", "Write its trade size.")
    return look_up(hole.raceway.size)


def _unlisted(hole: Hole) -> str:
    try:
        _standard(hole)
    except NotListed as error:
        return error.message
    return ""


def _cases(face: FaceLayout) -> Iterable[Case]:
    for hole in face.holes:
        if _unlisted(hole):
            continue
        standard, cut = _standard(hole), hole.hole_diameter_in
        yield Case((hole.id,), cut, standard.least_in, hole.id, hole.trade_size)
        yield Case((hole.id,), cut, standard.most_in, hole.id, hole.trade_size, at_most=True)
