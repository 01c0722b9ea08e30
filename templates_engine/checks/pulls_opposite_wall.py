"""Checks the distance from the entries of angle and U pulls to the wall opposite them.

::

        +--------------------------------+
        |<- 6 x largest + the others --->|     one row of one wall at a time; the row that asks for most
        counts
       (o) A1  3
       (o) A2  2          6 x 3 + 2 = 20
        +--------------------------------+
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from templates_engine.checks.model import About, Finding, Outcome
from templates_engine.checks.support.answers import Case, judge, needed, speech_of, there
from templates_engine.checks.support.pulls import BoxPull, End, box_pulls, to_opposite_wall
from templates_engine.job.model import Enclosure
from templates_engine.layout.model import Layout

TRADE_SIZES = 6
"""Distance in trade sizes of the row's largest raceway, to which the others' trade sizes are added."""

ABOUT = About(
    name="pulls, angle and U",
    what="Where conductors of 4 AWG or larger turn in a box, the wall opposite each entry is far enough "
    "away.",
    limit="6 times the trade size of the largest raceway in a row, plus the sizes of the others in that row",
    source="NEC 314.28(A)(2)",
    leaves_out="Entries opposite a removable cover; boxes marked for smaller dimensions (314.28(A)(3)); "
    "metal thickness: the enclosure's nominal size is taken.",
    rests_on="code",
)


def run(layout: Layout) -> Iterable[Finding]:
    speech = speech_of(layout.job)
    turning = [end for pull in box_pulls(layout) if pull.pull.kind != "straight" for end in _ruled_ends(pull)]
    for face in dict.fromkeys(end.face.job.face.value for end in turning):
        yield from judge(
            ABOUT,
            face,
            _cases([end for end in turning if end.face.job.face.value == face], layout.job.enclosure),
            when_short=Outcome.FAIL,
            short=lambda case: (
                f"{case.what} needs {needed(case, speech)} to the wall opposite ({case.extra}), "
                f"{there(case, speech)} is there"
            ),
            fine=lambda case: (
                f"{case.what} has {there(case, speech)} to the wall opposite, "
                f"{needed(case, speech)} is needed ({case.extra})"
            ),
            remedy="Take a larger box, or split the row over two walls or two rows.",
        )


def _ruled_ends(pull: BoxPull) -> tuple[End, ...]:
    return (pull.start, pull.end) if pull.is_ruled else ()


def _cases(turning: Sequence[End], enclosure: Enclosure) -> Iterable[Case]:
    for name in dict.fromkeys(end.row.row.name for end in turning):
        end = next(end for end in turning if end.row.row.name == name)
        sizes = sorted(
            (hole.raceway.size.trade_size_in for hole in end.row.holes if hole.raceway.size), reverse=True
        )
        required = TRADE_SIZES * sizes[0] + sum(sizes[1:])
        words = f"Row {name}"
        extra = " + ".join([f"{TRADE_SIZES} x {sizes[0]:g}", *(f"{size:g}" for size in sizes[1:])])
        holes = tuple(hole.id for hole in end.row.holes)
        yield Case(holes, to_opposite_wall(end.face.job.face, enclosure), required, words, extra)
