"""Measures the gaps of rows on strut against the room that straps take in practice."""

from __future__ import annotations

from collections.abc import Iterable

from templates_engine.checks.model import About, Finding, Outcome
from templates_engine.checks.support.answers import Case, judge, listed, needed, speech_of, there, untold
from templates_engine.checks.support.fittings import envelope, with_shop
from templates_engine.job.model import Job
from templates_engine.layout.model import FaceLayout, Layout

ABOUT = About(
    name="straps",
    what="Neighbours on strut stand far enough apart for a strap each.",
    limit="1-1/8 in of clear gap, as the trade's habit gives it, or the straps of the shop file side by side",
    source="common practice, no source",
    leaves_out="The straps in hand, which may be narrower; rows that are not on strut.",
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
                f"{case.what} have {there(case, speech)} between them, straps usually take "
                f"{needed(case, speech)}"
            ),
            fine=lambda case: (
                f"{case.what} have {there(case, speech)} between them, "
                f"{needed(case, speech)} "
                "is enough for straps"
            ),
            remedy="Widen the gap, or lay the straps in hand side by side and see.",
            source=with_shop(ABOUT.source, face, layout.job),
        )
        yield from _without_strut(face)


def _without_strut(face: FaceLayout) -> Iterable[Finding]:
    """Says of rows lined up by their centres that no straps stand between their raceways."""
    rows = [row for row in face.rows if row.line.through == "centres"]
    if rows:
        names = listed([row.row.name for row in rows])
        words = f"Row {names} stands" if len(rows) == 1 else f"Rows {names} stand"
        holes = [hole.id for row in rows for hole in row.holes]
        sentence = f"{words} on a centre line without strut, where no straps are needed."
        yield from untold(ABOUT, face.job.face.value, holes, sentence, "")


def _cases(face: FaceLayout, job: Job) -> Iterable[Case]:
    for row in face.rows:
        if row.row.strut is None:
            continue
        for one, other in zip(row.holes, row.holes[1:], strict=False):
            sides_in = one.body.radius + other.body.radius
            straps_in = envelope(one, "strap", job).diameter_in + envelope(other, "strap", job).diameter_in
            room, required = other.u_in - one.u_in - sides_in, straps_in / 2 - sides_in
            yield Case((one.id, other.id), room, required, f"{one.id} and {other.id}")
