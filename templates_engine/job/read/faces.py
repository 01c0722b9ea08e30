"""Turns the faces of a file into FaceJobs: lips, keep-outs, lugs; rows are read in `rows.py`."""

from __future__ import annotations

from collections.abc import Sequence

from templates_engine.job.model import Enclosure, Face, FaceJob, KeepOut, Lips, MarkFrom, Row, TerminalLugs
from templates_engine.job.read.face_scope import FaceScope
from templates_engine.job.read.factory_knockouts import factory_knockouts
from templates_engine.job.read.file_reading import UNREADABLE, FileReading
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
    WrittenSpan,
)
from templates_engine.job.shop.defaults import ShopDefaults
from templates_engine.job.text.key_paths import KeyPath, shown
from templates_engine.trade.not_in_tables import listed

MOST_HOLES = 300
"""In one face; no can has nearly as many (common practice, no source)."""
_MOST_NAME = 60


def faces(
    written: list[WrittenFace], enclosure: Enclosure, usual: ShopDefaults, reading: FileReading
) -> tuple[FaceJob, ...]:
    """All faces of the job, each named once."""
    found: list[FaceJob] = []
    lines: dict[Face, int] = {}
    for place, entry in enumerate(written):
        path = ("faces", place)
        if not reading.is_sound(path):
            continue
        found.append(_face(entry, path, enclosure, usual, lines, reading))
    return tuple(found)


def _face(
    written: WrittenFace,
    path: KeyPath,
    enclosure: Enclosure,
    usual: ShopDefaults,
    lines: dict[Face, int],
    reading: FileReading,
) -> FaceJob:
    _check_one_face(written.face or "", (*path, "face"), reading)
    word = reading.word(written.face, (*path, "face"), FACES, None)
    face = Face(word) if word else None
    if face in lines:
        remedy = "Write all rows of a face under one entry."
        reading.report((*path, "face"), f"The {word} face is on line {lines[face]} already", remedy)
    elif face:
        lines[face] = reading.mark((*path, "face")).line
    scope = _scope(face, enclosure)
    came_with = factory_knockouts(
        written.factory_knockouts or [], (*path, "factory knockouts"), scope, reading
    )
    scope.knockouts.update(came_with)
    placed = rows(written.rows or [], (*path, "rows"), scope, usual, reading)
    _check_how_many(placed, path, reading)
    mark_from = reading.word(written.mark_from, (*path, "mark from"), MARK_FROM, "outside")
    return FaceJob(
        face=face or Face.TOP,
        place=reading.place(path),
        mark_from=MarkFrom(mark_from),
        width_in=scope.width_in,
        depth_in=scope.depth_in,
        lips=_lips(written.lips, (*path, "lips"), scope, reading),
        keep_outs=tuple(
            _keep_out(entry, (*path, "keep out", place), f"keep-out {place + 1}", scope, reading)
            for place, entry in enumerate(written.keep_out or [])
            if reading.is_sound((*path, "keep out", place))
        )
        + tuple(rings_left(scope)),
        rows=placed,
        lugs=_lugs(written.lugs, (*path, "lugs"), reading),
        metal_in=None if enclosure.sheet_metal is None else enclosure.sheet_metal.thickness_in,
    )


def _check_how_many(placed: Sequence[Row], path: KeyPath, reading: FileReading) -> None:
    """More holes than any can has on one face are a slip in some count."""
    count = sum(len(row.raceways) for row in placed)
    if count > MOST_HOLES:
        remedy = f"A face takes at most {MOST_HOLES}: is one of the counts a slip?"
        reading.report((*path, "rows"), f"The face has {count} raceways", remedy)


def _check_one_face(text: str, path: KeyPath, reading: FileReading) -> None:
    """Several faces in one entry, or all of them."""
    named = [word for word in FACES if word in text.lower().replace(",", " ").split()]
    if len(named) > 1 or text.strip().lower() in ("all", "both", "sides"):
        remedy = "Write an entry for each face, `- face: top`, with its own `rows:`."
        reading.report(path, f"'{shown(text)}' is more than one face", remedy)


def _scope(face: Face | None, enclosure: Enclosure) -> FaceScope:
    """The face's size; its width is unknown when the face is."""
    if face is None:
        return FaceScope(None, UNREADABLE, enclosure.depth_in, enclosure.spaces)
    width = enclosure.height_in if face.is_side else enclosure.width_in
    return FaceScope(face, width, enclosure.depth_in, enclosure.spaces)


def _lips(written: WrittenLips | None, path: KeyPath, scope: FaceScope, reading: FileReading) -> Lips:
    """The lips along a face's four edges; each two opposite ones must leave metal between."""
    if written is None or not reading.is_sound(path):
        return Lips()
    width: dict[str, float] = {}
    for key in ("front", "back", "left", "right", "top", "bottom"):
        text = getattr(written, key)
        width[key] = reading.length(text, (*path, key), 0.0, allow="zero")
        if text is not None and scope.face and key not in ("front", "back", *scope.edges):
            wrong = f"The {scope.face.value} face has no {key} edge"
            reading.report((*path, key), wrong, f"Write {listed(('front', 'back', *scope.edges))}.")
    start, end = scope.edges[:2]
    for first, second, whole in (("front", "back", scope.depth_in), (start, end, scope.width_in)):
        total = width[first] + width[second]
        if total >= whole:
            wrong = f"The lips along {first} and {second} take {reading.say(total)} of {reading.say(whole)}"
            reading.report(path, wrong, "Write how far each lip reaches in from its edge.")
    return Lips(width["back"], width["front"], width[start], width[end])


def _lugs(written: WrittenLugs | None, path: KeyPath, reading: FileReading) -> TerminalLugs | None:
    if written is None or not reading.is_sound(path):
        return None
    return TerminalLugs(
        distance_in=reading.length(written.distance, (*path, "distance")),
        wires=reading.whole(written.wires, (*path, "wires"), most=20),
        opposite=reading.yes_no(written.opposite, (*path, "opposite"), False),
    )


# --- keep-outs ----------------------------------------------------------------------------------------------


def _keep_out(
    written: WrittenKeepOut, path: KeyPath, name: str, scope: FaceScope, reading: FileReading
) -> KeepOut:
    is_circle = written.diameter is not None
    spans = _circle(written, path, scope, reading) if is_circle else _rectangle(written, path, scope, reading)
    return KeepOut(
        reading.text(written.name, (*path, "name"), name, _MOST_NAME) or name,
        reading.place(path),
        *spans,
        reading.length(written.diameter, (*path, "diameter")) if is_circle else None,
        None if written.clear is None else reading.length(written.clear, (*path, "clear"), allow="zero"),
    )


def _rectangle(
    written: WrittenKeepOut, path: KeyPath, scope: FaceScope, reading: FileReading
) -> tuple[float, float, float, float]:
    """u and v limits; the whole depth where ``from back`` is left out."""
    along = _span(written.along, (*path, "along"), scope.width_in, scope.start, reading)
    if written.from_back is None:
        return *along, 0.0, scope.depth_in
    return *along, *_span(written.from_back, (*path, "from back"), scope.depth_in, "the back edge", reading)


def _span(
    written: str | WrittenSpan | None, path: KeyPath, most_in: float, from_what: str, reading: FileReading
) -> tuple[float, float]:
    if isinstance(written, WrittenSpan):
        return limits(written, path, most_in, from_what, reading)
    if written is not None:
        remedy = "Write {from: ..., to: ...}, or give a `diameter:` too if it is round."
        reading.report(path, "One distance is no stretch to keep out of", remedy)
    return UNREADABLE, UNREADABLE


def _circle(
    written: WrittenKeepOut, path: KeyPath, scope: FaceScope, reading: FileReading
) -> tuple[float, float, float, float]:
    """The square round a circle; its centre must be on the face."""
    radius = reading.length(written.diameter, (*path, "diameter")) / 2
    u = _centre(written.along, (*path, "along"), scope.width_in, scope.start, reading)
    v = _centre(written.from_back, (*path, "from back"), scope.depth_in, "the back edge", reading)
    return u - radius, u + radius, v - radius, v + radius


def _centre(
    written: str | WrittenSpan | None, path: KeyPath, most_in: float, from_what: str, reading: FileReading
) -> float:
    if written is None:
        reading.report(
            path, "The centre of a round keep-out is missing", f"Write its distance from {from_what}."
        )
        return UNREADABLE
    if isinstance(written, WrittenSpan):
        remedy = "Write the centre as one distance, or take `diameter:` out for a rectangle."
        reading.report(path, "A round keep-out has a centre, not a stretch", remedy)
        return UNREADABLE
    centre = reading.length(written, path, allow="zero")
    if centre > most_in:
        wrong = f"The centre at {reading.say(centre)} is off the face, which ends at {reading.say(most_in)}"
        reading.report(path, wrong, f"Measure it from {from_what} of the enclosure.")
    return centre
