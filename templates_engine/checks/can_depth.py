"""Measures whether raceways on their strut meet the can between its back and its front.

::

      wall |<-- strut -->(  raceway  )
           |   back |<------- can depth ------->| front
                    |<- v ->+<- r ->|                       v + r at most the depth less the front lip
"""

from __future__ import annotations

from collections.abc import Iterable

from templates_engine.checks.model import About, Finding, Outcome
from templates_engine.checks.support.answers import Case, judge, length, speech_of
from templates_engine.checks.support.metal import flat_across
from templates_engine.layout.model import FaceLayout, Layout, PlacedRow
from templates_engine.units import Speech

LEAST_METAL_IN = 0.0
"""From the knockout to where the flat metal ends; touching is allowed here."""

ABOUT = About(
    name="depth of the can",
    what="The knockout circle, with the raceway's back on its strut, stays between the back and the front of "
    "the face, or the lips along them.",
    limit="0 in from the circle to the end of the flat metal",
    source="geometry of strut, stand-off, raceway and can",
    leaves_out="Offsets bent into the raceways; the room that fittings and dies need beyond the circle.",
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
            short=lambda case: f"{case.what}; the flat metal {case.extra}",
            fine=lambda case: (
                f"{case.what}, {length(case.provided, speech)} inside the flat metal, the closest on this "
                f"face"
            ),
            remedy="Take shallower strut, stand the can farther off the wall, offset the raceways or take a "
            "deeper can.",
        )


def _cases(face: FaceLayout, speech: Speech) -> Iterable[Case]:
    for row in face.rows:
        yield from _row_cases(face, row, speech)


def _row_cases(face: FaceLayout, row: PlacedRow, speech: Speech) -> Iterable[Case]:
    flat = flat_across(face)
    for hole in row.holes:
        radius = hole.circle.radius
        words = f"{hole.id} ({hole.type} {hole.trade_size}, {row.line.words}) has its centre"
        where = f"{words} {length(hole.v_in, speech)} from the back, its knockout"
        front = f"{where} reaches {length(hole.v_in + radius, speech)}"
        back = f"{where} begins {length(hole.v_in - radius, speech)} from it"
        yield Case(
            (hole.id,),
            flat.high - hole.v_in - radius,
            LEAST_METAL_IN,
            front,
            f"ends {length(flat.high, speech)} from it",
            hole.id,
        )
        yield Case(
            (hole.id,),
            hole.v_in - radius - flat.low,
            LEAST_METAL_IN,
            back,
            f"begins {length(flat.low, speech)} from it",
            hole.id,
        )
