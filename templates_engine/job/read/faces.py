"""Turns the faces of a file into FaceJobs: lips, keep-outs, lugs; rows are read in `rows.py`."""

from __future__ import annotations

from collections.abc import Sequence

from templates_engine.job.model import Enclosure, Face, FaceJob, KeepOut, Lips, MarkFrom, Row, TerminalLugs
from templates_engine.job.read.face_scope import FaceScope
from templates_engine.job.read.factory_knockouts import check_on_face, factory_knockouts
from templates_engine.job.read.in_knockouts import rings_left
from templates_engine.job.read.placing import limits
from templates_engine.job.read.rows import rows
from templates_engine.job.schema import (
    FACES,
    MARK_FROM,
    WrittenFace,
    WrittenKeepOut,
    WrittenLips,
    WrittenLugs,
    WrittenRow,
    WrittenSpan,
)
from templates_engine.job.shop.defaults import ShopDefaults
from templates_engine.job.text.key_paths import shown
from templates_engine.job.written_values import UNREADABLE, WrittenList, WrittenText
from templates_engine.trade.not_in_tables import listed

MOST_HOLES = 300
"""In one face; no can has nearly as many (common practice, no source)."""
_MOST_NAME = 60


def faces(
    written: WrittenList[WrittenFace], enclosure: Enclosure, usual: ShopDefaults
) -> tuple[FaceJob, ...]:
    """All faces of the job, each named once."""
    lines: dict[Face, int] = {}
    return tuple(
        _face(entry, _face_named(entry.face, lines), enclosure, usual) for entry in written if entry.is_sound
    )


def _face_named(written: WrittenText, lines: dict[Face, int]) -> Face | None:
    """Which face it is; ``lines`` are those of the faces before it."""
    _check_one_face(written)
    word = written.word(FACES, None)
    face = Face(word) if word else None
    if face in lines:
        remedy = "Write all rows of a face under one entry."
        written.report(f"The {word} face is on line {lines[face]} already", remedy)
    elif face:
        lines[face] = written.line
    return face


def _face(written: WrittenFace, face: Face | None, enclosure: Enclosure, usual: ShopDefaults) -> FaceJob:
    scope = _scope(face, enclosure, written)
    scope.knockouts.update(factory_knockouts(written.factory_knockouts, scope))
    placed = rows(written.rows, scope, usual)
    _check_how_many(placed, written.rows)
    keep_outs = [
        _keep_out(entry, f"keep-out {number}", scope)
        for number, entry in enumerate(written.keep_out, start=1)
        if entry.is_sound
    ]
    return FaceJob(
        face=face or Face.TOP,
        place=written.where,
        mark_from=MarkFrom(written.mark_from.word(MARK_FROM, "outside")),
        width_in=scope.width_in,
        depth_in=scope.depth_in,
        lips=_lips(written.lips, scope),
        keep_outs=(*keep_outs, *rings_left(scope)),
        rows=placed,
        lugs=_lugs(written.lugs),
        metal_in=None if enclosure.sheet_metal is None else enclosure.sheet_metal.thickness_in,
    )


def _check_how_many(placed: Sequence[Row], written: WrittenList[WrittenRow]) -> None:
    """More holes than any can has on one face are a slip in some count."""
    count = sum(len(row.raceways) for row in placed)
    if count > MOST_HOLES:
        remedy = f"A face takes at most {MOST_HOLES}: is one of the counts a slip?"
        written.report(f"The face has {count} raceways", remedy)


def _check_one_face(written: WrittenText) -> None:
    """Several faces in one entry, or all of them."""
    named = [word for word in FACES if word in written.spelled.replace(",", " ").split()]
    if len(named) > 1 or written.spelled in ("all", "both", "sides"):
        remedy = "Write an entry for each face, `- face: top`, with its own `rows:`."
        written.report(f"'{shown(written.text or '')}' is more than one face", remedy)


def _scope(face: Face | None, enclosure: Enclosure, written: WrittenFace) -> FaceScope:
    """The face's size; its width is unknown when the face is."""
    width_in = UNREADABLE if face is None else enclosure.height_in if face.is_side else enclosure.width_in
    are_sound = written.factory_knockouts.is_sound
    return FaceScope(face, width_in, enclosure.depth_in, enclosure.spaces, knockouts_are_sound=are_sound)


def _lips(written: WrittenLips | None, scope: FaceScope) -> Lips:
    """The lips along a face's four edges; each two opposite ones must leave metal between."""
    if written is None or not written.is_sound:
        return Lips()
    lips = (written.front, written.back, written.left, written.right, written.top, written.bottom)
    width = {str(lip.path[-1]): lip.length(0.0, allow="zero") for lip in lips}
    known = ("front", "back", *scope.edges)
    for lip in lips:
        if lip.is_written and scope.face and lip.path[-1] not in known:
            wrong = f"The {scope.face.value} face has no {lip.path[-1]} edge"
            lip.report(wrong, f"Write {listed(known)}.")
    start, end = scope.edges[:2]
    for first, second, whole in (("front", "back", scope.depth_in), (start, end, scope.width_in)):
        total = width[first] + width[second]
        if total >= whole:
            wrong = f"The lips along {first} and {second} take {written.say(total)} of {written.say(whole)}"
            written.report(wrong, "Write how far each lip reaches in from its edge.")
    return Lips(width["back"], width["front"], width[start], width[end])


def _lugs(written: WrittenLugs | None) -> TerminalLugs | None:
    if written is None or not written.is_sound:
        return None
    return TerminalLugs(
        distance_in=written.distance.length(),
        wires=written.wires.whole(most=20),
        opposite=written.opposite.yes_no(False),
    )


# --- keep-outs ----------------------------------------------------------------------------------------------


def _keep_out(written: WrittenKeepOut, name: str, scope: FaceScope) -> KeepOut:
    spans = _circle(written, scope) if written.diameter.is_written else _rectangle(written, scope)
    return KeepOut(
        written.name.printed(name, _MOST_NAME) or name,
        written.where,
        *spans,
        written.diameter.length_or_none(),
        written.clear.length_or_none(allow="zero"),
    )


def _rectangle(written: WrittenKeepOut, scope: FaceScope) -> tuple[float, float, float, float]:
    """u and v limits; the whole depth where ``from back`` is left out."""
    along = _span(written.along, scope.width_in, scope.start)
    if not written.from_back.is_written:
        return *along, 0.0, scope.depth_in
    return *along, *_span(written.from_back, scope.depth_in, "the back edge")


def _span(written: WrittenText | WrittenSpan, most_in: float, from_what: str) -> tuple[float, float]:
    if isinstance(written, WrittenSpan):
        return limits(written, most_in, from_what)
    if written.is_written:
        remedy = "Write {from: ..., to: ...}, or give a `diameter:` too if it is round."
        written.report("One distance is no stretch to keep out of", remedy)
    return UNREADABLE, UNREADABLE


def _circle(written: WrittenKeepOut, scope: FaceScope) -> tuple[float, float, float, float]:
    """The square round a circle; its centre must be on the face."""
    radius = written.diameter.length() / 2
    u = _centre(written.along, scope.width_in, scope.start)
    v = _centre(written.from_back, scope.depth_in, "the back edge")
    return u - radius, u + radius, v - radius, v + radius


def _centre(written: WrittenText | WrittenSpan, most_in: float, from_what: str) -> float:
    if isinstance(written, WrittenSpan):
        remedy = "Write the centre as one distance, or take `diameter:` out for a rectangle."
        written.report("A round keep-out has a centre, not a stretch", remedy)
        return UNREADABLE
    if not written.is_written:
        remedy = f"Write its distance from {from_what}."
        written.report("The centre of a round keep-out is missing", remedy)
        return UNREADABLE
    centre_in = written.length(allow="zero")
    check_on_face(written, centre_in, most_in, from_what)
    return centre_in
