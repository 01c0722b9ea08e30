"""Turns raceways in factory knockouts into ones that stand there, and what is left of the knockouts into
keep-outs.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from templates_engine.job.model import CentreLine, FactoryKnockout, KeepOut, KnockoutRing, Raceway, Row
from templates_engine.job.read.face_scope import FaceScope
from templates_engine.job.schema import WrittenRaceway, WrittenRow
from templates_engine.job.written_values import WrittenText
from templates_engine.trade import knockouts
from templates_engine.trade.not_in_tables import NotInTables, listed
from templates_engine.values import replace

_TOLERANCE_IN = 1e-6


def in_knockout(raceway: Raceway, written: WrittenRaceway, scope: FaceScope) -> Raceway:
    """The raceway with its centre, and its hole's kind, from the factory knockout that it names."""
    named = written.factory_knockout
    if not named.is_written:
        return raceway
    name = named.value()
    _check_alone(written)
    knockout = scope.knockouts.get((name or "").lower())
    if name is None or knockout is None:
        if name is not None and scope.knockouts_are_sound:
            _report_unknown(name, named, scope)
        return raceway
    other = scope.used.get(name.lower())
    if other is not None:
        wrong = f"{other.id} on line {other.place.line} goes through {knockout.name} already"
        named.report(wrong, "Write another factory knockout, or take it out.")
        return raceway
    ring = _ring_for(raceway, knockout, written)
    if ring is not None:
        scope.used[name.lower()] = raceway = replace(
            raceway,
            at_in=ring.u_in,
            centre_v_in=ring.v_in,
            factory_knockout=knockout.name,
            knockout="single" if ring is knockout.rings[-1] else knockout.kind,
            hole=ring.diameter_in if raceway.has_reducing_washers else raceway.hole,
        )
    return raceway


def _check_alone(written: WrittenRaceway) -> None:
    """Nothing else says where it goes or what makes its hole."""
    for one in (written.at, written.cutter, written.hole, written.knockout):
        if one.is_written:
            wrong = f"`{one.path[-1]}` does not go with `factory knockout`"
            one.report(wrong, "Take it out: the knockout says it.")
    for one in (written.gap_before, written.spacing_before):
        if one.is_written:
            wrong = f"`{one.path[-1]}` does not go with `factory knockout`"
            one.report(wrong, "Take it out: the knockout does not move.")


def _report_unknown(name: str, named: WrittenText, scope: FaceScope) -> None:
    names = [one.name for one in scope.knockouts.values()]
    remedy = f"Write {listed(names)}." if names else "List it under `factory knockouts:` of the face."
    named.report(f"The face has no factory knockout '{name}'", remedy)


def _ring_for(raceway: Raceway, knockout: FactoryKnockout, written: WrittenRaceway) -> KnockoutRing | None:
    """The ring of a raceway's size, or with reducing washers the next larger one."""
    if raceway.size is None:
        wrong = f"{raceway.id} has no trade size yet, and each ring of {knockout.name} is for one"
        written.size.report(wrong, "Write its trade size, such as size: 1.")
        return None
    try:
        needed_in = knockouts.look_up(raceway.size).nominal_in
    except NotInTables as error:
        written.size.report(error.message, error.remedy)
        return None
    for ring in knockout.rings:
        if abs(ring.diameter_in - needed_in) < _TOLERANCE_IN:
            return ring
    serves = listed(ring.trade_size for ring in knockout.rings)
    wrong = f"{knockout.name} has no ring of trade size {raceway.size.trade_size}: it serves {serves}"
    larger = next((ring for ring in knockout.rings if ring.diameter_in > needed_in), None)
    if larger is not None and raceway.has_reducing_washers:
        return larger
    remedy = "Write another, or take `factory knockout:` out for a hole that is cut."
    if larger is not None:
        remedy = f"Write another, or `reducing washers: yes` for its ring of {larger.trade_size}."
    written.factory_knockout.report(wrong, remedy)
    return None


def centre_line(written: Sequence[WrittenRaceway], members: Sequence[Raceway]) -> CentreLine | None:
    """The centre line of a row that names none, where all its raceways are in factory knockouts."""
    if not written or not all(entry.factory_knockout.is_written for entry in written):
        return None
    return CentreLine(next((one.centre_v_in for one in members if one.centre_v_in is not None), math.nan))


def check_on_line(row: Row, written: WrittenRow) -> None:
    """The factory knockouts of a row that is lined up by its centres lie on that line."""
    if not isinstance(row.back_line, CentreLine):
        return
    line_in, say = row.back_line.at_in, written.say
    for one in row.raceways:
        if one.centre_v_in is not None and abs(one.centre_v_in - line_in) > _TOLERANCE_IN:
            puts = f"{one.factory_knockout} puts {one.id}'s centre {say(one.centre_v_in)} from the back"
            wrong = f"{puts}, and the row's centre line is at {say(line_in)}"
            written.centre_line.report(wrong, f"Put {one.id} in a row of its own.")
            return


# --- what is left of them -----------------------------------------------------------------------------------


def rings_left(scope: FaceScope) -> Iterator[KeepOut]:
    """A keep-out for each knockout that nothing uses, and for the rings that stay round a smaller one."""
    for name, knockout in scope.knockouts.items():
        user, ring = scope.used.get(name), knockout.rings[-1]
        if user is not None and user.knockout == "single":
            continue
        half = ring.diameter_in / 2
        yield KeepOut(
            f"factory knockout {knockout.name}" if user is None else f"rings of {knockout.name}",
            knockout.place,
            ring.u_in - half,
            ring.u_in + half,
            ring.v_in - half,
            ring.v_in + half,
            ring.diameter_in,
            None,
            is_factory=True,
        )
