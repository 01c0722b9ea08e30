"""Says how far the corners seen from inside lie in from the edges, for faces that are marked from inside."""

from __future__ import annotations

from collections.abc import Iterable

from templates_engine.checks.model import About, Finding, Outcome
from templates_engine.checks.support.answers import not_checked, speech_of
from templates_engine.job.model import MarkFrom
from templates_engine.layout.model import Layout

ABOUT = About(
    name="marked from inside",
    what="The thickness of the metal is known where a sheet is taped inside, as its corners lie that far in.",
    limit="none: every distance runs from the outside edge, an inside corner stands one thickness from it",
    source="geometry of sheet metal",
    leaves_out="Corner radii, seams and paint; measure the can in hand.",
    rests_on="geometry",
)


def run(layout: Layout) -> Iterable[Finding]:
    speech = speech_of(layout.job)
    for face in layout.faces:
        if face.job.mark_from is not MarkFrom.INSIDE:
            continue
        word = face.job.face.value
        if face.job.metal_in is None:
            yield from not_checked(
                ABOUT,
                word,
                {"sheet metal": []},
                "Write under enclosure sheet metal: 16 ga, or measure from the outside edges.",
            )
            continue
        yield Finding(
            ABOUT.name,
            Outcome.OK,
            word,
            (),
            face.job.metal_in,
            None,
            "in",
            ABOUT.source,
            f"Inside corners stand {speech.exact(face.job.metal_in)} {speech.unit} in from the edges all "
            "distances run from.",
            "",
        )
