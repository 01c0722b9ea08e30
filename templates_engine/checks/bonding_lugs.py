"""Looks for a free direction for each bonding bushing's lug, clear of other fittings and of the walls.

::

            tip
             |          the bushing turns about its centre; the lug stands out on one side only
          .--+--.
         (   o   )
          '-----'
"""

from __future__ import annotations

import math
from collections.abc import Iterable

from templates_engine.checks.model import About, Finding, Outcome
from templates_engine.checks.support.answers import Case, judge, length, speech_of
from templates_engine.checks.support.fittings import envelope, inside, listed_holes, with_shop
from templates_engine.checks.support.metal import flat_across, flat_along
from templates_engine.geometry import Circle, Point
from templates_engine.job.fitted import bonding_lug
from templates_engine.job.model import Job
from templates_engine.layout.model import FaceLayout, Hole, Layout

LEAST_ROOM_IN = 0.0
_DIRECTIONS = 24
_FAR_REACHES = 4

ABOUT = About(
    name="bonding lugs",
    what="Each bonding bushing can be turned so that its lug, usually 1/2 in beyond its body, meets nothing.",
    limit="0 in from the lug's tip to other fittings and to the can's walls, in the best direction",
    source="common practice, no source",
    leaves_out="Whether a screwdriver and the jumper reach the lug; parts inside the can.",
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
                f"The lug of {case.what}'s bonding bushing has no free direction, it lacks "
                f"{length(-case.margin, speech)}"
            ),
            fine=lambda case: (
                f"Every bonding lug has a free direction, {case.what}'s with {length(case.provided, speech)}"
            ),
            remedy="Widen the gap round it, or use a bushing with its lug close to the body.",
            source=with_shop(ABOUT.source, face, layout.job),
        )


def _cases(face: FaceLayout, job: Job) -> Iterable[Case]:
    bodies = {hole.id: Circle(hole.centre, inside(hole, job).diameter_in) for hole in listed_holes(face, job)}
    for hole in face.holes:
        lug = bonding_lug(hole.raceway, job) if hole.id in bodies else None
        if lug is not None:
            reach = envelope(hole, "bonding bushing", job).diameter_in / 2 + lug.length_in
            others = [body for id, body in bodies.items() if id != hole.id and _is_near(hole, body, reach)]
            yield Case((hole.id,), _best_room(hole, reach, others, face), LEAST_ROOM_IN, hole.id)


def _is_near(hole: Hole, body: Circle, reach_in: float) -> bool:
    """Whether a fitting can be what stops the lug; farther ones only make the search long."""
    return math.dist(hole.centre, body.centre) - body.radius < _FAR_REACHES * reach_in


def _best_room(hole: Hole, reach_in: float, others: list[Circle], face: FaceLayout) -> float:
    turns = (2 * math.pi * step / _DIRECTIONS for step in range(_DIRECTIONS))
    tips = (
        Point(hole.u_in + reach_in * math.cos(turn), hole.v_in + reach_in * math.sin(turn)) for turn in turns
    )
    return max(_room(tip, others, face) for tip in tips)


def _room(tip: Point, others: list[Circle], face: FaceLayout) -> float:
    """From the lug's tip to the nearest thing inside, inches."""
    across, along = flat_across(face), flat_along(face)
    to_walls = (tip.x - along.low, along.high - tip.x, tip.y - across.low, across.high - tip.y)
    to_fittings = (math.dist(tip, other.centre) - other.radius for other in others)
    return min(*to_walls, *to_fittings)
