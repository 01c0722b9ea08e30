"""Checks the length of a pull box for straight pulls."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from templates_engine.checks.model import About, Finding, Outcome
from templates_engine.checks.support.answers import Case, judge, needed, not_checked, speech_of, there
from templates_engine.checks.support.pulls import BoxPull, box_pulls, ends, misfits, to_opposite_wall
from templates_engine.job.model import Enclosure
from templates_engine.layout.model import Layout

TRADE_SIZES = 8
"""Box length in trade sizes of the largest raceway."""

ABOUT = About(
    name="pulls, straight",
    what="A box through which conductors of 4 AWG or larger are pulled straight is long enough from wall to "
    "wall.",
    limit="8 times the trade size of the largest raceway of the pull",
    source="NEC 314.28(A)(1)",
    leaves_out="Boxes marked for smaller dimensions (314.28(A)(3)); metal thickness: the enclosure's nominal "
    "size is taken; pulls to or from the back.",
    rests_on="code",
)


def run(layout: Layout) -> Iterable[Finding]:
    speech, enclosure = speech_of(layout.job), layout.job.enclosure
    yield from _no_pulls(layout)
    pulls = [pull for pull in box_pulls(layout) if pull.pull.kind == "straight"]
    for face in dict.fromkeys(pull.start.face.job.face.value for pull in pulls):
        yield from judge(
            ABOUT,
            face,
            _cases([pull for pull in pulls if pull.start.face.job.face.value == face], enclosure),
            when_short=Outcome.FAIL,
            short=lambda case: (
                f"The straight pull {case.what} needs {needed(case, speech)} of box from wall to "
                f"wall, "
                f"{there(case, speech)} is there"
            ),
            fine=lambda case: (
                f"The straight pull {case.what} has {there(case, speech)} of box from wall to "
                f"wall, "
                f"{needed(case, speech)} is needed{case.extra}"
            ),
            remedy="Take a longer box, or smaller raceways.",
        )


def _cases(pulls: Sequence[BoxPull], enclosure: Enclosure) -> Iterable[Case]:
    for pull in pulls:
        largest = max(pull.start.trade_size_in, pull.end.trade_size_in)
        required = TRADE_SIZES * largest if pull.is_ruled else 0.0
        extra = "" if pull.is_ruled else ": no conductor is as large as 4 AWG"
        length = to_opposite_wall(pull.start.face.job.face, enclosure)
        yield Case((pull.start.id, pull.end.id), length, required, pull.words, extra)


def _no_pulls(layout: Layout) -> Iterable[Finding]:
    """What stops all checks of pulls, told once, here."""
    enclosure = layout.job.enclosure
    if enclosure.kind == "pull box" and not enclosure.pulls and _may_be_ruled(layout):
        remedy = "Write under 'enclosure' pulls: [{from: A1, to: B1, kind: angle}], one for each pull."
        yield from not_checked(ABOUT, "", {"pulls": []}, remedy)
    for words in misfits(layout):
        yield Finding(
            check=ABOUT.name,
            outcome=Outcome.NOT_CHECKED,
            face="",
            holes=(),
            provided=None,
            required=None,
            unit="",
            source=ABOUT.source,
            message=f"{words[0].upper()}{words[1:]}.",
            remedy="Write the kind its walls make: straight to the wall opposite, U on one wall, else angle.",
        )


def _may_be_ruled(layout: Layout) -> bool:
    """Whether any raceway has conductors of 4 AWG or larger, or does not say."""
    return any(end.loaded.has_large is not False for end in ends(layout))
