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
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Literal

from templates_engine.job import raceway_fittings
from templates_engine.job.model import FaceJob, Job, Row, Spread
from templates_engine.job.shop.model import MEASURED
from templates_engine.layout.hole_spec import HoleSpec
from templates_engine.layout.model import RowLine
from templates_engine.layout.row.failure import RowError
from templates_engine.layout.tolerance import TOLERANCE_IN
from templates_engine.trade.fittings import (
    BETWEEN_FITTINGS,
    Allowance,
    FittingEnvelope,
    FittingKind,
    allowance,
)
from templates_engine.trade.not_in_tables import NotInTables
from templates_engine.values import Struct, replace


class RequiredSpacing(Struct, frozen=True):
    """What a pair's centres must keep, inches, and the fittings that ask for it: with ids, and by kinds."""

    centres_in: float
    words: str
    kinds: str


class FittedRaceway(Struct, frozen=True):
    """A raceway of a row with all that takes room round it."""

    cut: HoleSpec
    inside: tuple[FittingEnvelope, ...]
    outside: FittingEnvelope
    strap: FittingEnvelope | None
    die: FittingEnvelope | None
    lug: Allowance | None
    kept_in: float
    """What stays free between its fittings and a neighbour's."""

    @property
    def id(self) -> str:
        return self.cut.raceway.id

    @property
    def widest_inside(self) -> FittingEnvelope:
        return max(self.inside, key=lambda one: one.diameter_in)

    @property
    def envelopes(self) -> tuple[FittingEnvelope, ...]:
        """Everything round, the fittings inside first."""
        return tuple(one for one in (*self.inside, self.outside, self.strap, self.die) if one is not None)

    @property
    def lug_reach_in(self) -> float:
        """From the centre to the lug's tip; 0 without one."""
        return 0.0 if self.lug is None else self.inside[-1].diameter_in / 2 + self.lug.length_in

    @property
    def farthest_in(self) -> float:
        """From the centre to the farthest point of anything round it."""
        return max(self.lug_reach_in, *(one.diameter_in / 2 for one in self.envelopes))

    @property
    def beside_in(self) -> float:
        """How far its fittings stand out beyond the raceway's side, toward a limit."""
        widest = max(one.diameter_in for one in self.envelopes)
        return max(0.0, widest / 2 - self.cut.reach_in)


# --- what a row's raceways are fitted with ------------------------------------------------------------------


def fitted_row(job: Job, row: Row, cuts: Sequence[HoleSpec]) -> Mapping[int, FittedRaceway]:
    """By index, every raceway of a row whose fittings a gap depends on.

    Raises RowError, naming every figure that neither the shop file nor the tables have.
    """
    asked = _asked(row)
    return _all_fitted(job, row, {index: cut for index, cut in enumerate(cuts) if index in asked}, row)


def fitted_behind(job: Job, row: Row, cuts: Sequence[HoleSpec], front: Row) -> tuple[FittedRaceway, ...]:
    """All raceways of a row that ``front`` is to clear with its fittings; raises RowError like above."""
    return tuple(_all_fitted(job, row, dict(enumerate(cuts)), front).values())


def pair_asks(row: Row, index: int) -> bool:
    """Whether the gap after the raceway at ``index`` is to be worked out from fittings."""
    return row.asked_before(row.raceways[index + 1]).apart == "fittings"


def _asked(row: Row) -> frozenset[int]:
    count = len(row.raceways)
    if row.gap == "fittings" and (isinstance(row.placing, Spread) or row.back_line == "auto"):
        return frozenset(range(count))
    pairs = (index for index in range(count - 1) if pair_asks(row, index))
    return frozenset(one for index in pairs for one in (index, index + 1))


def _all_fitted(job: Job, row: Row, cuts: Mapping[int, HoleSpec], asking: Row) -> dict[int, FittedRaceway]:
    """The raceways of ``row``; ``asking`` is the row to be told of where figures are missing."""
    found: dict[int, FittedRaceway] = {}
    missing: list[tuple[HoleSpec, FittingKind]] = []
    for index, cut in cuts.items():
        kinds = raceway_fittings.kinds(cut.raceway, job, on_strut=row.is_strapped)
        lacking = [(cut, kind) for kind in kinds if not _is_listed(job, cut, kind)]
        missing += lacking
        if not lacking:
            found[index] = _fitted(job, row, cut)
    if missing:
        raise _unknown(asking, row, missing)
    return found


def _is_listed(job: Job, cut: HoleSpec, kind: FittingKind) -> bool:
    try:
        raceway_fittings.envelope(cut.raceway, kind, job)
    except NotInTables:
        return False
    return True


def _fitted(job: Job, row: Row, cut: HoleSpec) -> FittedRaceway:
    raceway, envelope = cut.raceway, raceway_fittings.envelope
    return FittedRaceway(
        cut,
        inside=raceway_fittings.each_inside(raceway, job),
        outside=raceway_fittings.outside(raceway, job),
        strap=envelope(raceway, "strap", job) if row.is_strapped else None,
        die=envelope(raceway, "punch die", job) if raceway_fittings.is_punched(raceway) else None,
        lug=raceway_fittings.bonding_lug(raceway, job),
        kept_in=max(clearance_in(), row.tool_room_in),
    )


def _unknown(asking: Row, row: Row, missing: Sequence[tuple[HoleSpec, FittingKind]]) -> RowError:
    named = list(
        dict.fromkeys(f"the {kind} of {cut.raceway.id} ({cut.size.raceway_name})" for cut, kind in missing)
    )
    words = named[0] if len(named) == 1 else f"{', '.join(named[:-1])} and {named[-1]}"
    of_row = "" if row.name == asking.name else f" in row {row.name}"
    cut, kind = missing[0]
    type_key = "type: metric, " if cut.size.type == "metric" else ""
    entry = f"fittings: [{{kind: {kind}, {type_key}size: {cut.size.trade_size}, across: ...}}]"
    return RowError(
        asking.place,
        f"Row {asking.name} asks for gaps worked out from its fittings, but no table says how wide "
        f"{words}{of_row} {'is' if len(named) == 1 else 'are'}.",
        "Write the gap as a length, such as gap: 1-1/8 in, or measure and write each in shop.yaml beside the "
        f"job, such as {entry}.",
    )


# --- what a pair needs --------------------------------------------------------------------------------------


LugSide = Literal["back", "front", "along"]
"""Where a lug is turned: to the face's back or front edge, or to either side along the row."""


def lug_side(fitted: FittedRaceway, face: FaceJob, line: RowLine, *, first: bool, last: bool) -> LugSide:
    """Where a bonding bushing's lug has room; ``first`` and ``last`` say which row of the face it is in."""
    v_in, reach = fitted.cut.centre_v(line), fitted.lug_reach_in
    if first and v_in - reach >= face.flat_v.low - TOLERANCE_IN:
        return "back"
    if last and v_in + reach <= face.flat_v.high + TOLERANCE_IN:
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


def strap_reach(job: Job, cut: HoleSpec) -> float:
    """From a raceway's centre to where its strap's room ends; a shop's own strap keeps what fittings keep."""
    strap = raceway_fittings.envelope(cut.raceway, "strap", job)
    return strap.diameter_in / 2 + (clearance_in() / 2 if strap.provenance == MEASURED else 0.0)


def clearance_in() -> float:
    """What is kept between the fittings of neighbours where the row asks for no more."""
    return allowance(BETWEEN_FITTINGS).length_in


def _along(centres_in: float, aside_in: float) -> float:
    """How far apart along u two centres are that stand ``aside_in`` from each other across the row."""
    return math.sqrt(max(0.0, (centres_in - aside_in) * (centres_in + aside_in)))


def _outsides(one: FittedRaceway, other: FittedRaceway) -> RequiredSpacing:
    sides = one.cut.reach_in + other.cut.reach_in
    return RequiredSpacing(sides, f"outsides of {one.id} and {other.id}", "outsides")


def _straps(one: FittedRaceway, other: FittedRaceway) -> Iterator[RequiredSpacing]:
    if one.strap is not None and other.strap is not None:
        is_measured = MEASURED in (one.strap.provenance, other.strap.provenance)
        yield _round(one, one.strap, other, other.strap, "", clearance_in() if is_measured else 0.0)


def _everywhere(one: FittedRaceway, other: FittedRaceway) -> Iterator[RequiredSpacing]:
    """What stands round both, from centre to centre in whatever direction."""
    kept = max(one.kept_in, other.kept_in)
    yield _round(one, one.widest_inside, other, other.widest_inside, " inside", kept)
    yield _round(one, one.outside, other, other.outside, " outside", kept)
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
    one: FittedRaceway,
    first: FittingEnvelope,
    other: FittedRaceway,
    second: FittingEnvelope,
    where: str,
    kept_in: float,
) -> RequiredSpacing:
    if first.kind == second.kind:
        words, kinds = f"{first.kind}s of {one.id} and {other.id}{where}", f"{first.kind}s{where}"
    else:
        words = f"{first.kind} of {one.id} and {second.kind} of {other.id}{where}"
        kinds = f"{first.kind} and {second.kind}{where}"
    return RequiredSpacing((first.diameter_in + second.diameter_in) / 2 + kept_in, words, kinds)
