"""Turns raceways with their fittings into the distances their centres must keep; the row is placed elsewhere.

::

          .-----.  c  .-------.
         (  + o==)---(    +    )      each a circle round its raceway's centre +, ``c`` kept between the two;
          '-----'     '-------'       o== a bonding bushing's lug, where it cannot be turned out of the row

Straps stand between raceways on strut, locknuts and bushings inside the can, connectors, locknuts or hubs
outside, and a punch's die beside the neighbour's knockout. A habitual strap gap has its own room in it, so
``c`` is not added to it.

A lug is turned to the back edge of the face where it has room there, in the face's first row; else to the
front edge, in its last row. Where neither will do it points along the row, and the gaps on both its sides are
made for it, each for one lug.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from typing import Literal

from templates_engine.geometry import TOLERANCE_IN
from templates_engine.job.model import FaceJob, Row
from templates_engine.job.shop.model import MEASURED
from templates_engine.layout.model import RowLine
from templates_engine.layout.row.fitted_row import FittedRaceway, clearance_in
from templates_engine.trade.fittings import FittingEnvelope
from templates_engine.values import Struct, replace


class RequiredSpacing(Struct, frozen=True):
    """What a pair's centres must keep, inches, and the fittings that ask for it: with ids, and by kinds."""

    centres_in: float
    words: str
    kinds: str


LugSide = Literal["back", "front", "along"]
"""Where a lug is turned: to the face's back or front edge, or to either side along the row."""


def lug_side(fitted: FittedRaceway, face: FaceJob, row: Row, line: RowLine) -> LugSide:
    """Where the lug of a bonding bushing in a row of the face has room."""
    v_in, reach = fitted.cut.centre_v(line), fitted.lug_reach_in
    if row is face.rows[0] and v_in - reach >= face.flat_v.low - TOLERANCE_IN:
        return "back"
    if row is face.rows[-1] and v_in + reach <= face.flat_v.high + TOLERANCE_IN:
        return "front"
    return "along"


def side_by_side(
    one: FittedRaceway, other: FittedRaceway, line: RowLine, sides: tuple[LugSide, LugSide]
) -> RequiredSpacing:
    """What two raceways of a row need along u; ``sides`` says where their lugs are turned.

    ::

            +  other          the envelopes need ``centres`` between the centres, which stand ``aside`` from
           /| aside           each other across the row where only the raceways' backs are in line
          + |
        one -- along u
    """
    aside = other.cut.centre_v(line) - one.cut.centre_v(line)
    round_ = (replace(need, centres_in=_along(need.centres_in, aside)) for need in _everywhere(one, other))
    needs = (*_straps(one, other), *round_, *_lugs(one, other, aside, sides), _outsides(one, other))
    return max(needs, key=lambda need: need.centres_in)


def one_of_each(fitted: Iterable[FittedRaceway]) -> Sequence[FittedRaceway]:
    """The first of those that take the same room, straight in front of another row or behind it."""
    found: dict[object, FittedRaceway] = {}
    for one in fitted:
        found.setdefault((one.cut.size, one.cut.diameter_in, one.inside, one.outside, one.die), one)
    return tuple(found.values())


def in_front(behind: FittedRaceway, front: FittedRaceway) -> RequiredSpacing:
    """What a raceway needs straight in front of one of another row."""
    needs = (*_everywhere(behind, front), _outsides(behind, front))
    return max(needs, key=lambda need: need.centres_in)


def _along(centres_in: float, aside_in: float) -> float:
    """How far apart along u two centres are that stand ``aside_in`` from each other across the row."""
    return math.sqrt(max(0.0, (centres_in - aside_in) * (centres_in + aside_in)))


def _outsides(one: FittedRaceway, other: FittedRaceway) -> RequiredSpacing:
    sides = one.cut.reach_in + other.cut.reach_in
    return RequiredSpacing(sides, f"outsides of {one.id} and {other.id}", "outsides")


def _straps(one: FittedRaceway, other: FittedRaceway) -> Iterator[RequiredSpacing]:
    if one.strap is not None and other.strap is not None:
        is_measured = MEASURED in (one.strap.provenance, other.strap.provenance)
        yield _round((one, other), (one.strap, other.strap), "", clearance_in() if is_measured else 0.0)


def _everywhere(one: FittedRaceway, other: FittedRaceway) -> Iterator[RequiredSpacing]:
    """What stands round both, from centre to centre in whatever direction."""
    kept = max(one.kept_in, other.kept_in)
    yield _round((one, other), (one.widest_inside, other.widest_inside), " inside", kept)
    yield _round((one, other), (one.outside, other.outside), " outside", kept)
    for punched, beside in ((one, other), (other, one)):
        if punched.die is not None:
            room = (punched.die.diameter_in + beside.cut.diameter_in) / 2 + kept
            words = f"punch die of {punched.id} beside the knockout of {beside.id}"
            yield RequiredSpacing(room, words, "punch die and knockout")


def _lugs(
    one: FittedRaceway, other: FittedRaceway, aside_in: float, sides: tuple[LugSide, LugSide]
) -> Iterator[RequiredSpacing]:
    """What each lug needs from the fitting beside it, along u.

    ::

        o==)      (   )     along the row: the tip stands between the two
        o
        |                   turned out of it: the tip stands over its own centre
        +        (    )
    """
    for side, lugged, beside, aside in (
        (sides[0], one, other, aside_in),
        (sides[1], other, one, -aside_in),
    ):
        if lugged.lug is None:
            continue
        reach = lugged.lug_reach_in
        out, across = (reach, 0.0) if side == "along" else (0.0, -reach if side == "back" else reach)
        kept = max(one.kept_in, other.kept_in)
        room = out + _along(beside.widest_inside.diameter_in / 2 + kept, aside - across)
        words = f"lug of {lugged.id}'s bonding bushing, and {beside.widest_inside.kind} of {beside.id} inside"
        yield RequiredSpacing(room, words, f"bonding lug and {beside.widest_inside.kind} inside")


def _round(
    pair: tuple[FittedRaceway, FittedRaceway],
    fittings: tuple[FittingEnvelope, FittingEnvelope],
    where: str,
    kept_in: float,
) -> RequiredSpacing:
    """What a fitting of each of two raceways asks for."""
    (one, other), (first, second) = pair, fittings
    if first.kind == second.kind:
        words, kinds = f"{first.kind}s of {one.id} and {other.id}{where}", f"{first.kind}s{where}"
    else:
        words = f"{first.kind} of {one.id} and {second.kind} of {other.id}{where}"
        kinds = f"{first.kind} and {second.kind}{where}"
    return RequiredSpacing((first.diameter_in + second.diameter_in) / 2 + kept_in, words, kinds)
