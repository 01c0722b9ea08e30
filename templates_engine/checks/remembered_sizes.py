"""Points out raceways whose outside diameter is remembered, or made within a range."""

from __future__ import annotations

from collections.abc import Iterable

from templates_engine.checks.model import About, Finding, Outcome
from templates_engine.checks.support.answers import TOLERANCE_IN, Case, judge, length, speech_of
from templates_engine.layout.model import FaceLayout, Hole, Layout
from templates_engine.units import Speech

ABOUT = About(
    name="raceway sizes known",
    what="Each raceway's outside diameter, which places its hole, was read in a standard and is one figure.",
    limit="none from memory, none made within a range",
    source="the raceway tables' own note of how each figure was had",
    leaves_out="Knockouts, pilots, dies and fittings, whose sources stand beside them.",
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
            fine=lambda case: "Every raceway's outside diameter was read in a standard",
            remedy="Measure the raceway in hand and compare it with the hole table before cutting.",
            unit="doubts",
        )


def _cases(face: FaceLayout, speech: Speech) -> Iterable[Case]:
    for hole in face.holes:
        doubts = _doubts(hole, speech)
        size = f"{hole.id} ({hole.type} {hole.trade_size}) is placed by an outside diameter"
        words = f"{size} {' and '.join(doubts)}"
        yield Case((hole.id,), float(len(doubts)), 0.0, words, label=hole.id, at_most=True)


def _doubts(hole: Hole, speech: Speech) -> list[str]:
    mean, most = hole.outside_diameter_in, hole.outside_diameter_most_in
    doubts = []
    if most - mean > TOLERANCE_IN:
        doubts.append(f"of {length(mean, speech)}, the mean of a range up to {length(most, speech)}")
    if hole.raceway.size is not None and hole.raceway.size.how_had.startswith("from memory"):
        doubts.append(f"of {length(mean, speech)} from memory" if not doubts else "from memory")
    return doubts
