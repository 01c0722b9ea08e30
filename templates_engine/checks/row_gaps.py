"""Measures the clear gap between neighbours of a row against the gap the job asks for."""

from __future__ import annotations

from collections.abc import Iterable

from templates_engine.checks.model import About, Finding, Outcome
from templates_engine.checks.support.answers import Case, judge, length, needed, speech_of, there
from templates_engine.layout.model import FaceLayout, Gap, Hole, Layout, PlacedRow
from templates_engine.units import Speech

ABOUT = About(
    name="gaps as asked",
    what="Neighbours of a row stand at least the asked gap apart, raceway to raceway along the row.",
    limit="the row's 'gap' or 'spacing', or 'gap before' or 'spacing before' of the later one; for "
    "'gap: fittings' what the layout took",
    source="the job's gaps",
    leaves_out="Whether the gap suits the fittings, which other checks measure.",
    rests_on="geometry",
)


def run(layout: Layout) -> Iterable[Finding]:
    speech = speech_of(layout.job)
    for face in layout.faces:
        yield from judge(
            ABOUT,
            face.job.face.value,
            _cases(face, speech),
            when_short=Outcome.FAIL,
            short=lambda case: (
                f"{case.what} have {there(case, speech)} between them where "
                f"{needed(case, speech)} is asked ({case.extra})"
            ),
            fine=lambda case: (
                f"Every gap is at least as asked, the tightest {length(case.provided, speech)} between "
                f"{case.what} ({case.extra})"
            ),
            remedy="Ask for a smaller gap, or give the row more room.",
        )


def _cases(face: FaceLayout, speech: Speech) -> Iterable[Case]:
    for row in face.rows:
        asked = {(gap.before, gap.after): gap for gap in row.gaps}
        for one, other in zip(row.holes, row.holes[1:], strict=False):
            required, why = _required(row, one, other, asked.get((one.id, other.id)), speech)
            room = other.u_in - one.u_in - _sides(one, other)
            yield Case((one.id, other.id), room, required, f"{one.id} and {other.id}", why)


def _required(row: PlacedRow, one: Hole, later: Hole, gap: Gap | None, speech: Speech) -> tuple[float, str]:
    """The gap before a raceway as the job asks for it, from the layout only where fittings decide."""
    asked = row.row.asked_before(later.raceway)
    if asked.apart == "fittings":
        return (0.0, "fittings") if gap is None else (gap.required_in, gap.governed_by)
    if asked.measured == "centre to centre":
        words = f"{asked.words}, {length(asked.apart, speech)} centre to centre"
        return asked.apart - _sides(one, later), words
    return asked.apart, asked.words


def _sides(one: Hole, other: Hole) -> float:
    return one.body.radius + other.body.radius
