"""Measures the room between strapped raceways, in a row and between rows, against what straps take."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import combinations, pairwise

from templates_engine.checks.model import About, Finding, Outcome
from templates_engine.checks.support.answers import Case, judge, needed, speech_of, there
from templates_engine.checks.support.fittings import envelope, with_shop
from templates_engine.geometry import gap_between_circles
from templates_engine.job.model import Job
from templates_engine.layout.model import FaceLayout, Hole, Layout, PlacedRow

ABOUT = About(
    name="straps",
    what="Raceways on strut stand far enough from the next in their row, and from those of other rows, for a "
    "strap each.",
    limit="1-1/8 in of clear gap, as the trade's habit gives it, half of it beside a raceway without strap; "
    "or the straps of the shop file side by side",
    source="common practice, no source",
    leaves_out="The straps in hand, which may be narrower; rows that are neither on strut nor put clear of "
    "one (back line: auto); strut in front of a row behind.",
    rests_on="custom",
)


def run(layout: Layout) -> Iterable[Finding]:
    speech = speech_of(layout.job)
    for face in layout.faces:
        yield from judge(
            ABOUT,
            face.job.face.value,
            [*_in_rows(face, layout.job), *_between_rows(face, layout.job)],
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


def _in_rows(face: FaceLayout, job: Job) -> Iterable[Case]:
    """Neighbours, along the row: their straps lie on one strut."""
    for row in face.rows:
        if row.row.is_strapped:
            for one, other in pairwise(row.holes):
                sides_in = one.body.radius + other.body.radius
                required = _reach(one, row, job) + _reach(other, row, job) - sides_in
                yield _case(one, other, other.u_in - one.u_in - sides_in, required)


def _between_rows(face: FaceLayout, job: Job) -> Iterable[Case]:
    """Each raceway of one row with each of another, the shortest way; beyond the nearest along the row, only
    those whose straps can meet.
    """
    reaches = [[(hole, _reach(hole, row, job)) for hole in row.holes] for row in face.rows]
    for (row, holes), (other_row, others) in combinations(zip(face.rows, reaches, strict=True), 2):
        if not (row.row.is_strapped or other_row.row.is_strapped):
            continue
        for one, reach_in in holes:
            nearest_in = min(abs(one.u_in - other.u_in) for other, _ in others)
            for other, other_reach_in in others:
                if abs(one.u_in - other.u_in) > max(nearest_in, reach_in + other_reach_in):
                    continue
                sides_in = one.body.radius + other.body.radius
                room = gap_between_circles(one.body, other.body)
                yield _case(one, other, room, reach_in + other_reach_in - sides_in)


def _reach(hole: Hole, row: PlacedRow, job: Job) -> float:
    """From a raceway's centre to where its strap's room ends, or to its side where it has none."""
    return envelope(hole, "strap", job).diameter_in / 2 if row.row.is_strapped else hole.body.radius


def _case(one: Hole, other: Hole, room_in: float, required_in: float) -> Case:
    return Case((one.id, other.id), room_in, required_in, f"{one.id} and {other.id}")
