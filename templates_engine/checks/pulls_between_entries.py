"""Checks the distance between the two entries of an angle or U pull."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from templates_engine.checks.model import About, Finding, Outcome
from templates_engine.checks.support.answers import Case, judge, needed, speech_of, there
from templates_engine.checks.support.discs import distance
from templates_engine.checks.support.pulls import BoxPull, box_pulls, opening
from templates_engine.job.model import Enclosure
from templates_engine.layout.model import Layout

TRADE_SIZES = 6
"""Distance in trade sizes of the larger of the two raceways."""

ABOUT = About(
    name="pulls, between entries",
    what="The two raceways of an angle or U pull with conductors of 4 AWG or larger enter far enough from "
    "each other.",
    limit="6 times the trade size of the larger raceway",
    source="NEC 314.28(A)(2)",
    leaves_out="Boxes marked for smaller dimensions (314.28(A)(3)). Measured straight from edge to edge of "
    "the raceways, the stricter reading; the article does not say from where.",
    rests_on="code",
)


def run(layout: Layout) -> Iterable[Finding]:
    speech, enclosure = speech_of(layout.job), layout.job.enclosure
    pulls = [pull for pull in box_pulls(layout) if pull.pull.kind != "straight" and pull.is_ruled]
    for face in dict.fromkeys(pull.start.face.job.face.value for pull in pulls):
        yield from judge(
            ABOUT,
            face,
            _cases([pull for pull in pulls if pull.start.face.job.face.value == face], enclosure),
            when_short=Outcome.FAIL,
            short=lambda case: (
                f"The entries of the pull {case.what} are {there(case, speech)} apart, "
                f"{needed(case, speech)} is needed"
            ),
            fine=lambda case: (
                f"The entries of the pull {case.what} are {there(case, speech)} apart, "
                f"{needed(case, speech)} is needed"
            ),
            remedy="Move the two raceways of the pull farther from each other.",
        )


def _cases(pulls: Sequence[BoxPull], enclosure: Enclosure) -> Iterable[Case]:
    for pull in pulls:
        apart = distance(opening(pull.start, enclosure), opening(pull.end, enclosure))
        required = TRADE_SIZES * max(pull.start.trade_size_in, pull.end.trade_size_in)
        yield Case((pull.start.id, pull.end.id), apart, required, pull.words)
