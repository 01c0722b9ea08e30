"""Checks the air space behind an enclosure in damp and wet places."""

from __future__ import annotations

from collections.abc import Iterable

from templates_engine.checks.model import About, Finding, Outcome
from templates_engine.checks.support.answers import TOLERANCE_IN, length, not_checked, speech_of
from templates_engine.layout.model import Layout

LEAST_AIR_SPACE_IN = 0.25

ABOUT = About(
    name="air space behind",
    what="A surface enclosure in a damp or wet place stands off the wall.",
    limit="1/4 in of air between enclosure and wall",
    source="NEC 312.2",
    leaves_out="Flush mounting; nonmetallic enclosures on concrete, masonry or tile, which may stand "
    "without; fittings for wet places above live parts.",
    rests_on="code",
)


def run(layout: Layout) -> Iterable[Finding]:
    enclosure, speech = layout.job.enclosure, speech_of(layout.job)
    if enclosure.location is None:
        yield from not_checked(
            ABOUT, "", {"location": []}, "Write location: dry, damp or wet under 'enclosure'."
        )
        return
    required = 0.0 if enclosure.location == "dry" else LEAST_AIR_SPACE_IN
    there = length(enclosure.back_gap_in, speech)
    short = enclosure.back_gap_in < required - TOLERANCE_IN
    asked = "no air space is asked for" if not required else f"{length(required, speech)} is asked for"
    yield Finding(
        check=ABOUT.name,
        outcome=Outcome.FAIL if short else Outcome.OK,
        face="",
        holes=(),
        provided=enclosure.back_gap_in,
        required=required,
        unit="in",
        source=ABOUT.source,
        message=f"The enclosure stands {there} off the wall; in a {enclosure.location} place {asked}.",
        remedy="Stand the enclosure off the wall on spacers, and write the 'back gap'." if short else "",
    )
