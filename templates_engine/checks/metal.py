"""Measures knockouts, raceways and the punch's die against the metal of a face, its walls and one another."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from templates_engine.checks.checked_face import CheckedFace, gap
from templates_engine.checks.fitting_sizes import REMEDY_FOR_UNLISTED, fitted_holes
from templates_engine.checks.model import (
    TOLERANCE_IN,
    Answer,
    Measurement,
    MissingInput,
    Outcome,
    Remark,
    Rule,
)
from templates_engine.checks.wording import length
from templates_engine.geometry import Circle, Point, Rect, gap_between_circles, gap_circle_rect
from templates_engine.job.model import KeepOut, MarkFrom
from templates_engine.job.raceway_fittings import is_punched
from templates_engine.layout.model import Hole
from templates_engine.values import replace

TOUCHING_IN = 0.0
"""Things may touch; what they need beyond that is the question of rules about fittings."""
LEAST_WEB_IN = 0.25
"""Metal between two knockouts that stays flat."""
LEAST_AIR_SPACE_IN = 0.25
"""Behind an enclosure in a damp or wet place."""
LEAST_STUD_ROOM_IN = 1.0
"""A driver's body or a wrench's head round the draw stud."""


# --- the metal of the face ----------------------------------------------------------------------------------


@Rule(
    name="depth of the can",
    what="The knockout circle, with the raceway's back on its strut, stays between the back and the front of "
    "the face, or the lips along them.",
    limit="0 in from the circle to the end of the flat metal",
    source="geometry of strut, stand-off, raceway and can",
    leaves_out="Offsets bent into the raceways; the room that fittings and dies need beyond the circle.",
    rests_on="geometry",
    short="{what}; the flat metal {extra}",
    fine="{what}, {room} inside the flat metal, the closest on this face",
    remedy="Take shallower strut, stand the can farther off the wall, offset the raceways or take a "
    "deeper can.",
)
def depth(site: CheckedFace) -> Iterator[Measurement]:
    r"""Both ends of every knockout from back to front.

    ::

          wall |<-- strut -->(  raceway  )
               |   back |<------- can depth ------->| front
                        |<- v ->+<- r ->|                       v + r at most the depth less the front lip
    """
    flat, lengths = site.face.job.flat_v, site.lengths
    for row in site.face.rows:
        for hole in row.holes:
            low, high = hole.v_in - hole.circle.radius, hole.v_in + hole.circle.radius
            words = f"{hole.id} ({hole.type} {hole.trade_size}, {row.line.words}) has its centre"
            where = f"{words} {length(hole.v_in, lengths)} from the back, its knockout"
            ends = f"ends {length(flat.high, lengths)} from it"
            begins = f"begins {length(flat.low, lengths)} from it"
            front = f"{where} reaches {length(high, lengths)}"
            start = f"begins {length(low, lengths)} from it"
            if low < -TOLERANCE_IN:
                start = f"reaches {length(-low, lengths)} behind it"
            back = f"{where} {start}"
            yield Measurement((hole.id,), flat.high - high, TOUCHING_IN, front, ends, hole.id)
            yield Measurement((hole.id,), low - flat.low, TOUCHING_IN, back, begins, hole.id)


@Rule(
    name="flat metal along the face",
    what="The knockout circle stays between the two ends of the face, or the lips along them.",
    limit="0 in from the circle to the end of the flat metal",
    source="geometry of the face as the job gives it",
    leaves_out="The room that locknuts, bushings and dies need beyond the circle; lips the job does not "
    "mention.",
    rests_on="geometry",
    short="{what} runs {lack} past the flat metal",
    fine="{what} keeps {room} of flat metal, the least on this face",
    remedy="Move the row along the face, close its gaps or take a wider enclosure.",
)
def along(site: CheckedFace) -> Iterator[Measurement]:
    for hole in site.face.holes:
        for edge, room in site.to_edges(hole, hole.circle.radius):
            if edge not in ("back", "front"):
                what = f"{hole.id}'s knockout toward the {edge}"
                yield Measurement((hole.id,), room, TOUCHING_IN, what, label=hole.id)


# --- keep-outs ----------------------------------------------------------------------------------------------


def gap_to_keep_out(circle: Circle, keep_out: KeepOut) -> float:
    """Clear distance from a circle on the face (u as x, v as y) to a keep-out, inches."""
    area = Rect(keep_out.u_low_in, keep_out.v_low_in, keep_out.u_high_in, keep_out.v_high_in)
    if keep_out.diameter_in is None:
        return gap_circle_rect(circle, area)
    centre = Point((area.left + area.right) / 2, (area.bottom + area.top) / 2)
    return gap_between_circles(circle, Circle(centre, keep_out.diameter_in))


@Rule(
    name="keep-outs",
    what="Neither the knockout nor the raceway comes nearer to a keep-out than the clear distance it asks "
    "for.",
    limit="the keep-out's 'clear'; 0 in where it gives none, as then its fittings are what keeps off",
    source="the job's keep-outs",
    leaves_out="Fittings and dies, which another check measures; anything in the way that the job does not "
    "mention.",
    rests_on="geometry",
    short="{what}: {there} apart where {needed} is to stay clear",
    fine="{what}: {room} clear, the least against what is asked",
    remedy="Move the row, or pin its raceways on either side of the keep-out.",
)
def keep_outs(site: CheckedFace) -> Iterator[Measurement]:
    """What can be short or closest; a pair that already along the face has more room to spare than another
    is passed over.
    """
    least = math.inf
    circles = [
        (hole.id, max(hole.circle, hole.body, key=lambda one: one.diameter)) for hole in site.face.holes
    ]
    in_factory = {hole.id for hole in site.face.holes if hole.raceway.factory_knockout}
    for keep_out in site.face.job.keep_outs:
        low, high, clear = keep_out.u_low_in, keep_out.u_high_in, keep_out.clear_in or 0.0
        for hole, circle in circles:
            if keep_out.is_factory and hole in in_factory:
                continue
            u = circle.centre.x
            beyond = low - u if u < low else u - high
            if beyond - circle.radius - clear > max(least, 0.0) + TOLERANCE_IN:
                continue
            room = gap_to_keep_out(circle, keep_out)
            least = min(least, room - clear)
            one = Measurement((hole,), room, clear, f"{hole} and the keep-out '{keep_out.name}'")
            reaches = length(-room, site.lengths)
            into = f"{{what}}: it reaches {reaches} into it where {{needed}} is to stay clear"
            yield replace(one, short=into) if room < -TOLERANCE_IN else one


# --- knockouts and raceways among one another ---------------------------------------------------------------


@Rule(
    name="knockouts apart",
    what="No two knockout circles of a face overlap.",
    limit="0 in between circles",
    source="geometry",
    leaves_out="How strong the strip of metal between them is.",
    rests_on="geometry",
    short="The knockouts of {what} overlap by {lack}",
    fine="The knockouts closest together, {what}, have {room} between them",
    remedy="Widen the gap, or move one row off the other.",
)
def knockouts(site: CheckedFace) -> Iterator[Measurement]:
    return _between_knockouts(site)


def _between_knockouts(site: CheckedFace) -> Iterator[Measurement]:
    for one, other in site.pairs():
        between = gap(one, other, one.hole_diameter_in, other.hole_diameter_in)
        yield Measurement((one.id, other.id), between, TOUCHING_IN, f"{one.id} and {other.id}")


@Rule(
    name="metal between knockouts",
    what="The strip of metal between two knockouts of a face is wide enough to stay flat and carry a "
    "locknut.",
    limit="1/4 in between circles",
    source="common practice, no source",
    leaves_out="Overlapping knockouts, which another check fails; the strength of thin or painted metal.",
    rests_on="custom",
    short="Only {there} of metal stays between the knockouts of {what}, {needed} is wanted",
    fine="At least {room} of metal stays between knockouts, at {what}",
    remedy="Widen the gap between these raceways.",
)
def webs(site: CheckedFace) -> Iterator[Measurement]:
    """The same pairs, without those that overlap."""
    for one in _between_knockouts(site):
        if one.provided >= -TOLERANCE_IN:
            yield replace(one, provided=max(one.provided, 0.0), required=LEAST_WEB_IN)


@Rule(
    name="raceways apart",
    what="No two raceways through a face overlap, whichever rows they are in.",
    limit="0 in between outside diameters, the largest where a type has a range",
    source="geometry",
    leaves_out="Bends, offsets and what happens away from the face.",
    rests_on="geometry",
    short="The raceways {what} overlap by {lack}",
    fine="The raceways closest together, {what}, are {room} apart",
    remedy="Widen the gap, or give the front row deeper strut.",
)
def raceways(site: CheckedFace) -> Iterator[Measurement]:
    for one, other in site.pairs():
        room = gap(one, other, one.body.diameter, other.body.diameter)
        yield Measurement((one.id, other.id), room, TOUCHING_IN, f"{one.id} and {other.id}")


# --- the wall behind ----------------------------------------------------------------------------------------


@Rule(
    name="raceways clear of the wall",
    what="No raceway reaches into the wall that the enclosure hangs on.",
    limit="0 in from the raceway's back to the wall",
    source="geometry of strut, stand-off and raceway",
    leaves_out="Straps and fittings, which are wider; walls that are not flat.",
    rests_on="geometry",
    short="{what} would stand {lack} inside the wall",
    fine="{what} is nearest to the wall, {room} from it",
    remedy="Take deeper strut, or a back line or centre line farther from the wall.",
)
def clear_of_wall(site: CheckedFace) -> Iterator[Measurement]:
    for hole in site.face.holes:
        room = hole.v_in - hole.body.radius + site.job.enclosure.back_gap_in
        yield Measurement((hole.id,), room, TOUCHING_IN, hole.id)


AIR_BEHIND = ("panelboard", "cabinet")
"""Kinds of enclosure under NEC article 312; a pull box or wireway must be suited to the place otherwise."""


@Rule(
    name="air space behind",
    what="A surface cabinet or panelboard in a damp or wet place stands off the wall.",
    limit="1/4 in of air between enclosure and wall; none for pull boxes and wireways",
    source="NEC 312.2; pull boxes and wireways 314.15, 300.6",
    leaves_out="Flush mounting; nonmetallic enclosures on concrete, masonry or tile, which may stand "
    "without; whether a pull box or wireway is listed for the place, and drained.",
    rests_on="code",
    short="The enclosure stands {room} off the wall; {what}",
    remedy="Stand the enclosure off the wall on spacers, and write the 'back gap'.",
    missing_remedy="Write location: dry, damp or wet under 'enclosure'.",
    once_a_job=True,
)
def air_space(site: CheckedFace) -> Iterator[Answer]:
    enclosure = site.job.enclosure
    if enclosure.kind not in AIR_BEHIND:
        words = f"no air space is asked for behind a {enclosure.kind}"
        yield Measurement((), enclosure.back_gap_in, 0.0, words)
        return
    if enclosure.location is None:
        yield MissingInput("location")
        return
    required = 0.0 if enclosure.location == "dry" else LEAST_AIR_SPACE_IN
    asked = f"{length(required, site.lengths)} is asked for" if required else "no air space is asked for"
    yield Measurement((), enclosure.back_gap_in, required, f"in a {enclosure.location} place {asked}")


@Rule(
    name="marked from inside",
    what="The thickness of the metal is known where a sheet is taped inside, as its corners lie that far in.",
    limit="none: every distance runs from the outside edge, an inside corner stands one thickness from it",
    source="geometry of sheet metal",
    leaves_out="Corner radii, seams and paint; measure the can in hand.",
    rests_on="geometry",
    missing_remedy="Write under enclosure sheet metal: 16 ga, or measure from the outside edges.",
    at_worst=Outcome.NOT_CHECKED,
)
def inside_corners(site: CheckedFace) -> Iterator[Answer]:
    face, lengths = site.face.job, site.lengths
    if face.mark_from is not MarkFrom.INSIDE:
        return
    if face.metal_in is None:
        yield MissingInput("sheet metal")
        return
    words = (
        f"Inside corners stand {lengths.exact(face.metal_in)} {lengths.unit} in from the edges all distances "
        "run from."
    )
    yield Remark(Outcome.OK, words, provided=face.metal_in)


# --- the punch ----------------------------------------------------------------------------------------------


@Rule(
    name="draw stud access",
    what="A wrench or driver fits on the draw stud outside, between hole centre and wall.",
    limit="1 in from the hole's centre to the wall behind the enclosure",
    source="common practice, no source",
    leaves_out="Larger drivers; punching before the enclosure hangs, which needs no such room; other "
    "cutters.",
    rests_on="custom",
    short="{what} has its centre {there} from the wall, a driver takes {needed}",
    fine="{what} has its centre nearest to the wall, {room} from it",
    remedy="Punch before the enclosure hangs, or use a hole saw or step bit.",
)
def draw_studs(site: CheckedFace) -> Iterator[Measurement]:
    for hole in site.face.holes:
        if is_punched(hole.raceway):
            room = hole.v_in + site.job.enclosure.back_gap_in
            yield Measurement((hole.id,), room, LEAST_STUD_ROOM_IN, hole.id)


@Rule(
    name="punch die",
    what="The die, outside round the hole, lies whole on flat metal, clear of the wall and of neighbouring "
    "knockouts.",
    limit="0 in from the die",
    source="usual dies, from memory: verify",
    leaves_out="Neighbours already fitted: punch the whole row first. Cutters other than punches.",
    rests_on="custom",
    short="{what} by {lack}",
    fine="Every die lies flat, {label}'s with {room} to spare",
    remedy="Measure the die in hand; where it does not lie flat use a hole saw, or move the row.",
    no_figure_remedy=REMEDY_FOR_UNLISTED,
    names_shop=True,
)
def dies(site: CheckedFace) -> Iterable[Answer]:
    punched = {hole.id for hole in site.face.holes if is_punched(hole.raceway)}
    fitted, unlisted = fitted_holes(site, "punch die")
    dies = [(hole, die.diameter_in) for hole, (die,) in fitted if hole.id in punched]
    for hole, die_in in dies:
        for edge, room in site.to_edges(hole, die_in / 2):
            yield _die(hole, room, f"{hole.id}'s die overhangs the flat metal at the {edge} edge")
    beside: dict[str, list[Hole]] = {hole.id: [] for hole in site.face.holes}
    for one, other in site.pairs(max((die_in for _, die_in in dies), default=0.0)):
        beside[one.id].append(other)
        beside[other.id].append(one)
    for hole, die_in in dies:
        for other in beside[hole.id]:
            room = gap(hole, other, die_in, other.hole_diameter_in)
            yield _die(hole, room, f"{hole.id}'s die reaches over the knockout of {other.id}")
    yield from (one for one in unlisted if one.hole in punched)


def _die(hole: Hole, room_in: float, what: str) -> Measurement:
    return Measurement((hole.id,), room_in, TOUCHING_IN, what, label=hole.id)
