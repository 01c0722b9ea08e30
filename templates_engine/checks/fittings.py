"""Measures the room that fittings and straps have: among neighbours, at the can's walls, as the job asks."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from itertools import combinations, pairwise

from templates_engine.checks.checked_face import CheckedFace, gap
from templates_engine.checks.fitting_sizes import (
    MEASURE_YOUR_OWN,
    REMEDY_FOR_UNLISTED,
    Envelopes,
    fitted_holes,
)
from templates_engine.checks.metal import gap_to_keep_out
from templates_engine.checks.model import Answer, Measurement, Outcome, Remark, Rule
from templates_engine.checks.wording import length, unique
from templates_engine.geometry import Circle, Point, gap_between_circles
from templates_engine.job.model import KeepOut
from templates_engine.job.raceway_fittings import bonding_lug, envelope, is_punched
from templates_engine.layout.model import Gap, Hole, PlacedRow
from templates_engine.trade import strut
from templates_engine.trade.fittings import FittingEnvelope
from templates_engine.trade.not_in_tables import listed
from templates_engine.units import LengthFormat

TOUCHING_IN = 0.0
"""Fittings may touch, though no tool then goes between."""

# --- gaps ---------------------------------------------------------------------------------------------------


@Rule(
    name="gaps as asked",
    what="Neighbours of a row stand at least the asked gap apart, raceway to raceway along the row.",
    limit="the row's 'gap' or 'spacing', or 'gap before' or 'spacing before' of the later one; for "
    "'gap: fittings' what the layout took",
    source="the job's gaps",
    leaves_out="Whether the gap suits the fittings, which other checks measure.",
    rests_on="geometry",
    short="{what} have {there} between them where {needed} is asked ({extra})",
    fine="Every gap is at least as asked, the tightest {room} between {what} ({extra})",
    remedy="Ask for a smaller gap, or give the row more room.",
)
def gaps(site: CheckedFace) -> Iterator[Measurement]:
    for row in site.face.rows:
        asked = {(gap.before, gap.after): gap for gap in row.gaps}
        for one, other in pairwise(row.holes):
            required, why = _asked(row, one, other, asked.get((one.id, other.id)), site.lengths)
            room = other.u_in - one.u_in - _sides(one, other)
            yield Measurement((one.id, other.id), room, required, f"{one.id} and {other.id}", why)


def _asked(
    row: PlacedRow, one: Hole, later: Hole, gap: Gap | None, lengths: LengthFormat
) -> tuple[float, str]:
    """The gap before a raceway as the job asks for it, from the layout only where fittings decide."""
    asked = row.row.asked_before(later.raceway)
    if asked.apart == "fittings":
        return (0.0, "fittings") if gap is None else (gap.required_in, gap.governed_by)
    if asked.measured == "centre to centre":
        words = f"{asked.words}, {length(asked.apart, lengths)} centre to centre"
        return asked.apart - _sides(one, later), words
    return asked.apart, asked.words


def _sides(one: Hole, other: Hole) -> float:
    return one.body.radius + other.body.radius


@Rule(
    name="straps",
    what="Raceways on strut stand far enough from the next in their row, and from those of other rows, for a "
    "strap each.",
    limit="1-1/8 in of clear gap, as the trade's habit gives it, half of it beside a raceway without strap; "
    "or the straps of the shop file side by side",
    source="common practice, no source",
    leaves_out="The straps in hand, which may be narrower; rows that are neither on strut nor put clear of "
    "one (back line: auto); strut in front of a row behind.",
    rests_on="custom",
    short="{what} have {there} between them, straps usually take {needed}",
    fine="{what} have {there} between them, {needed} is enough for straps",
    remedy="Widen the gap, or lay the straps in hand side by side and see.",
    names_shop=True,
)
def straps(site: CheckedFace) -> Iterator[Answer]:
    yield from _in_rows(site)
    yield from _between_rows(site)
    yield from _without_straps(site)


def _in_rows(site: CheckedFace) -> Iterator[Measurement]:
    """Neighbours, along the row: their straps lie on one strut."""
    for row in site.face.rows:
        if row.row.is_strapped:
            for one, other in pairwise(row.holes):
                sides_in = _sides(one, other)
                required = _strap_reach(one, row, site) + _strap_reach(other, row, site) - sides_in
                yield _strapped(one, other, other.u_in - one.u_in - sides_in, required)


def _between_rows(site: CheckedFace) -> Iterator[Measurement]:
    """Each raceway of one row with each of another, the shortest way; beyond the nearest along the row, only
    those whose straps can meet.
    """
    rows = site.face.rows
    reaches = [[(hole, _strap_reach(hole, row, site)) for hole in row.holes] for row in rows]
    for (row, holes), (other_row, others) in combinations(zip(rows, reaches, strict=True), 2):
        if not (row.row.is_strapped or other_row.row.is_strapped):
            continue
        for one, reach_in in holes:
            nearest_in = min(abs(one.u_in - other.u_in) for other, _ in others)
            for other, other_reach_in in others:
                if abs(one.u_in - other.u_in) <= max(nearest_in, reach_in + other_reach_in):
                    room = gap_between_circles(one.body, other.body)
                    yield _strapped(one, other, room, reach_in + other_reach_in - _sides(one, other))


def _strap_reach(hole: Hole, row: PlacedRow, site: CheckedFace) -> float:
    """From a raceway's centre to where its strap's room ends, or to its side where it has none."""
    return (
        envelope(hole.raceway, "strap", site.job).diameter_in / 2 if row.row.is_strapped else hole.body.radius
    )


def _strapped(one: Hole, other: Hole, room_in: float, required_in: float) -> Measurement:
    return Measurement((one.id, other.id), room_in, required_in, f"{one.id} and {other.id}")


def _without_straps(site: CheckedFace) -> Iterator[Remark]:
    """Says of rows lined up by their centres that no straps stand between their raceways."""
    rows = [row for row in site.face.rows if row.line.through == "centres"]
    if rows:
        names = listed([row.row.name for row in rows], "and")
        words = f"Row {names} stands" if len(rows) == 1 else f"Rows {names} stand"
        sentence = f"{words} on a centre line without strut, where no straps are needed."
        holes = unique(hole.id for row in rows for hole in row.holes)
        remedy = "Write strut: in place of centre line: where the raceways are strapped."
        yield Remark(Outcome.NOT_CHECKED, sentence, holes, remedy=remedy)


@Rule(
    name="strut that is made",
    what="Every strut named in the job has a depth that strut is made in.",
    limit="the depths of the strut table, within 1/64 in",
    source="MFMA-4, in part from memory: verify",
    leaves_out="Channel of other makes, which may be deeper or shallower; shims.",
    rests_on="custom",
    short="{what}",
    fine="Every strut named is made as deep as that",
    remedy="Measure the channel in hand; every hole of the row stands off the wall by its depth.",
)
def strut_made(site: CheckedFace) -> Iterator[Measurement]:
    lengths = site.lengths
    for row in site.face.rows:
        for depth_in in row.row.strut.depths_in if row.row.strut else ():
            made = strut.look_up(depth_in)
            near = (made,) if made else strut.nearest_depths(depth_in)
            nearest_in = min((one.depth_in for one in near), key=lambda each: abs(each - depth_in))
            depths = listed([lengths.say(one.depth_in) for one in near], "or")
            words = f"No strut {lengths.say(depth_in)} deep is made (row {row.row.name}); {depths} is"
            holes = tuple(hole.id for hole in row.holes)
            yield Measurement(
                holes, depth_in, nearest_in, words, "", f"row {row.row.name}", holds=made is not None
            )


# --- fittings -----------------------------------------------------------------------------------------------


@Rule(
    name="fittings apart",
    what="Locknuts and bushings inside, connectors, locknuts or hubs outside do not collide with their "
    "neighbours'.",
    limit="0 in between the fittings' envelopes",
    source=MEASURE_YOUR_OWN,
    leaves_out="Room for a tool between them; a bonding bushing's lug, which another check turns about.",
    rests_on="custom",
    short="The {what} overlap by {lack}",
    fine="The {what} come closest, with {room} between them",
    remedy="Widen the gap, or measure the fittings in hand and give the gap they need.",
    no_figure_remedy=REMEDY_FOR_UNLISTED,
    names_shop=True,
)
def apart(site: CheckedFace) -> Iterable[Answer]:
    known, unlisted = fitted_holes(site)
    fitted = {hole.id: both for hole, both in known}
    widest_in = max((one.diameter_in for both in fitted.values() for one in both), default=0.0)
    for one, other in site.pairs(widest_in):
        if one.id in fitted and other.id in fitted:
            (one_in, one_out), (other_in, other_out) = fitted[one.id], fitted[other.id]
            yield _between(one, other, one_in, other_in, "inside")
            yield _between(one, other, one_out, other_out, "outside")
    yield from unlisted


def _between(
    one: Hole, other: Hole, first: FittingEnvelope, second: FittingEnvelope, where: str
) -> Measurement:
    room = gap(one, other, first.diameter_in, second.diameter_in)
    plural = f"{first.kind}s" if first.kind == second.kind else f"{first.kind} and {second.kind}"
    words = f"{plural} {where} at {one.id} and {other.id}"
    return Measurement((one.id, other.id), room, TOUCHING_IN, words, label=f"{one.id} and {other.id}")


@Rule(
    name="fittings at keep-outs",
    what="Locknuts and bushings inside, connectors, locknuts or hubs outside, and punch dies stay clear of "
    "keep-outs.",
    limit="0 in from the envelope of the fitting or die, whatever the keep-out's 'clear'",
    source=MEASURE_YOUR_OWN,
    leaves_out="On which side of the metal the keep-out stands; bonding lugs, which can be turned away.",
    rests_on="custom",
    short="{what} by {lack}",
    fine="Every fitting is clear of the keep-outs, {label}'s by {room}",
    remedy="Move the row, or measure the fittings in hand and see on which side of the metal the keep-out "
    "stands.",
    no_figure_remedy=REMEDY_FOR_UNLISTED,
    names_shop=True,
)
def at_keep_outs(site: CheckedFace) -> Iterable[Answer]:
    if not site.face.job.keep_outs:
        return
    known, unlisted = fitted_holes(site)
    dies = {hole.id: both for hole, both in fitted_holes(site, "punch die")[0] if is_punched(hole.raceway)}
    for hole, both in known:
        circles = tuple(_round_it(both, dies.get(hole.id, ())))
        widest_in = max(across_in for _, across_in in circles)
        beside = [
            one for one in site.face.job.keep_outs if not (one.is_factory and hole.raceway.factory_knockout)
        ]
        for keep_out in _near(hole, widest_in, beside):
            for what, across_in in circles:
                room = gap_to_keep_out(Circle(hole.centre, across_in), keep_out)
                words = f"{hole.id}'s {what} overlaps the keep-out '{keep_out.name}'"
                yield Measurement((hole.id,), room, TOUCHING_IN, words, label=hole.id)
    yield from unlisted


def _near(hole: Hole, across_in: float, keep_outs: Sequence[KeepOut]) -> Iterator[KeepOut]:
    """The nearest keep-out, and every other that a circle so wide overlaps; all others are clear as well."""

    def along(keep_out: KeepOut) -> float:
        return max(keep_out.u_low_in - hole.u_in, hole.u_in - keep_out.u_high_in) - across_in / 2

    circle, nearest_in = Circle(hole.centre, across_in), math.inf
    for keep_out in sorted(keep_outs, key=along):
        if along(keep_out) > max(nearest_in, TOUCHING_IN):
            return
        room = gap_to_keep_out(circle, keep_out)
        if room < max(nearest_in, TOUCHING_IN):
            nearest_in = min(nearest_in, room)
            yield keep_out


def _round_it(both: Envelopes, die: Envelopes) -> Iterator[tuple[str, float]]:
    """What stands round a hole inside and outside, with its width."""
    for where, fitting in zip(("inside", "outside", "outside"), (*both, *die), strict=False):
        yield f"{fitting.kind} {where}", fitting.diameter_in


@Rule(
    name="fittings at walls",
    what="Locknuts and bushings stay clear of the can's walls and lips, and outside fittings clear of the "
    "wall behind.",
    limit="0 in from the fitting's envelope",
    source=MEASURE_YOUR_OWN,
    leaves_out="Interior parts of the panel that the job does not name as keep-outs; room to turn a locknut.",
    rests_on="custom",
    short="{what} by {lack}",
    fine="Every fitting is clear of the walls, {label}'s by {room}",
    remedy="Move the row, or take smaller fittings; measure those in hand.",
    no_figure_remedy=REMEDY_FOR_UNLISTED,
    names_shop=True,
)
def at_walls(site: CheckedFace) -> Iterable[Answer]:
    closed_front_in = site.face.job.depth_in - (site.face.job.metal_in or 0.0)
    known, unlisted = fitted_holes(site)
    for hole, (fitting, body) in known:
        radius_in = fitting.diameter_in / 2
        for edge, flat in site.to_edges(hole, radius_in):
            is_front = edge == "front"
            room = min(flat, closed_front_in - hole.v_in - radius_in) if is_front else flat
            yield _at_wall(hole, room, f"{hole.id}'s {fitting.kind} runs into the {edge} of the can")
        room = hole.v_in + site.job.enclosure.back_gap_in - body.diameter_in / 2
        yield _at_wall(hole, room, f"{hole.id}'s {body.kind} outside runs into the wall")
    yield from unlisted


def _at_wall(hole: Hole, room_in: float, words: str) -> Measurement:
    return Measurement((hole.id,), room_in, TOUCHING_IN, words, label=hole.id)


# --- bonding lugs -------------------------------------------------------------------------------------------

_DIRECTIONS = 24
_FAR_REACHES = 4


@Rule(
    name="bonding lugs",
    what="Each bonding bushing can be turned so that its lug, usually 1/2 in beyond its body, meets nothing.",
    limit="0 in from the lug's tip to other fittings and to the can's walls, in the best direction",
    source="common practice, no source",
    leaves_out="Whether a screwdriver and the jumper reach the lug; parts inside the can.",
    rests_on="custom",
    short="The lug of {what}'s bonding bushing has no free direction, it lacks {lack}",
    fine="Every bonding lug has a free direction, {what}'s with {room}",
    remedy="Widen the gap round it, or use a bushing with its lug close to the body.",
    names_shop=True,
)
def lugs(site: CheckedFace) -> Iterator[Measurement]:
    """The free room at each lug's tip in its best direction.

    ::

                tip
                 |          the bushing turns about its centre; the lug stands out on one side only
              .--+--.
             (   o   )
              '-----'
    """
    bodies = {hole.id: Circle(hole.centre, body.diameter_in) for hole, (body, _) in fitted_holes(site)[0]}
    for hole in site.face.holes:
        lug = bonding_lug(hole.raceway, site.job) if hole.id in bodies else None
        if lug is not None:
            reach = envelope(hole.raceway, "bonding bushing", site.job).diameter_in / 2 + lug.length_in
            others = [body for id, body in bodies.items() if id != hole.id and _is_near(hole, body, reach)]
            yield Measurement((hole.id,), _best_room(hole, reach, others, site), TOUCHING_IN, hole.id)


def _is_near(hole: Hole, body: Circle, reach_in: float) -> bool:
    """Whether a fitting can be what stops the lug; farther ones only make the search long."""
    return math.dist(hole.centre, body.centre) - body.radius < _FAR_REACHES * reach_in


def _best_room(hole: Hole, reach_in: float, others: list[Circle], site: CheckedFace) -> float:
    turns = (2 * math.pi * step / _DIRECTIONS for step in range(_DIRECTIONS))
    tips = (
        Point(hole.u_in + reach_in * math.cos(turn), hole.v_in + reach_in * math.sin(turn)) for turn in turns
    )
    return max(_room_at(tip, others, site) for tip in tips)


def _room_at(tip: Point, others: list[Circle], site: CheckedFace) -> float:
    """From the lug's tip to the nearest thing inside, inches."""
    along, across = site.face.job.flat_u, site.face.job.flat_v
    to_walls = (tip.x - along.low, along.high - tip.x, tip.y - across.low, across.high - tip.y)
    to_fittings = (math.dist(tip, other.centre) - other.radius for other in others)
    return min(*to_walls, *to_fittings)
