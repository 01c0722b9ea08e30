"""Turns `place` as written into a Placing, and holds pins against its limits; fitting is for the layout."""

from __future__ import annotations

import re

from templates_engine.job.model import Centred, FromEdge, Placing, Raceway, Spread
from templates_engine.job.read.face_scope import FaceScope
from templates_engine.job.read.file_reading import UNREADABLE, FileReading
from templates_engine.job.schema import EDGES, END_POINTS, WrittenPlace, WrittenRow, WrittenSpan
from templates_engine.job.text.key_paths import KeyPath, plain_path, shown
from templates_engine.trade.not_in_tables import listed, nearest

_TOLERANCE_IN = 1e-6
_FIELDS = {"from": "from_"}
_CENTRED = ("centred", "centered", "centre", "center")


def placing(row: WrittenRow, path: KeyPath, scope: FaceScope, reading: FileReading) -> Placing:
    """Where a row stands; it has to be written unless every raceway is pinned."""
    written = row.place
    if not reading.is_sound(path):
        return Centred()
    if written is None:
        if row.raceways is not None and any(
            entry.at is None and entry.factory_knockout is None for entry in row.raceways
        ):
            ways = f"{_whole_place(scope.edges[0])}, `place: {{spread: {{from: 2 in, to: 18 in}}}}`"
            wrong = "`place` is missing; nothing says where along the face the row stands"
            reading.report(path, wrong, f"Write {ways} or `place: centred`.")
        return Centred()
    if isinstance(written, str):
        _check_centred(written, path, scope, reading)
        return Centred()
    if written.spread is None and reading.is_sound((*path, "spread")):
        return _from_edge(written, path, scope, reading)
    for key, value in (("from", written.from_), ("to", written.to), ("distance", written.distance)):
        if value is not None:
            remedy = "Write either `spread:`, or `from:`, `to:` and `distance:`."
            reading.report((*path, key), f"`{key}` does not go with `spread`", remedy)
    span = written.spread or WrittenSpan()
    low, high = limits(span, (*path, "spread"), scope.width_in, scope.start, reading)
    return Spread(low, high)


def _check_centred(written: str, path: KeyPath, scope: FaceScope, reading: FileReading) -> None:
    """One word can only be `centred`; for an edge or a distance alone the whole form is shown."""
    text = reading.value(written, path)
    if text is None or text.lower() in _CENTRED:
        return
    words = text.lower().split()
    if "spread" in words:
        remedy = "Write `place: {spread: {from: 2 in, to: 18 in}}` with the limits of this row."
    elif nearest(text, ("centred",)):
        remedy = "Did you mean `centred`?"
    else:
        edge = next((edge for edge in scope.edges if edge in words), scope.edges[0])
        remedy = f"Write {_whole_place(edge, text)}, or `place: centred`."
    reading.report(path, f"'{shown(text)}' does not say where the row stands", remedy)


def _whole_place(edge: str, text: str = "") -> str:
    """The keys of a row that starts at an edge, with the distance that stands in ``text``, if any does."""
    figures = re.search(r"[0-9].*", text)
    return f"`place: {{from: {edge}, to: centre, distance: {figures.group() if figures else '4-1/2 in'}}}`"


def _from_edge(written: WrittenPlace, path: KeyPath, scope: FaceScope, reading: FileReading) -> Placing:
    missing = [key for key in ("from", "to", "distance") if getattr(written, _FIELDS.get(key, key)) is None]
    if len(missing) > 1 and all(reading.is_sound((*path, key)) for key in ("from", "to", "distance")):
        edge = next((edge for edge in scope.edges if edge == written.from_), scope.edges[0])
        whole = _whole_place(edge, written.distance or "")
        wrong = f"{' and '.join(f'`{key}`' for key in missing)} of the place are missing"
        remedy = f"Write {whole}; `to` is centre or near side, whichever the distance runs to."
        reading.report(path, wrong, remedy)
        return Centred()
    for key, value, how in (
        ("from", written.from_, listed(f"`from: {edge}`" for edge in scope.edges)),
        ("to", written.to, "`to: centre` or `to: near side`, whichever the distance runs to"),
        ("distance", written.distance, "`distance:` with the distance from that edge"),
    ):
        if value is None:
            reading.report((*path, key), f"`{key}` is missing", f"Write {how}.")
    edge = _edge(written.from_, (*path, "from"), scope, reading)
    to = reading.word(written.to, (*path, "to"), END_POINTS, END_POINTS[0], center="centre")
    distance = reading.length(written.distance, (*path, "distance"), allow="zero")
    if distance > scope.width_in:
        wrong = f"{reading.say(distance)} is farther than the face reaches, {reading.say(scope.width_in)}"
        reading.report((*path, "distance"), wrong, "Write the distance from that edge of the enclosure.")
    return FromEdge("start" if edge in ("left", "top") else "end", to, distance)


def _edge(written: str | None, path: KeyPath, scope: FaceScope, reading: FileReading) -> str:
    """An edge's word, refused when it belongs to other faces."""
    word = reading.word(written, path, EDGES, None)
    if word and scope.face and word not in scope.edges:
        wrong = f"The {scope.face.value} face has no {word} edge to start from"
        reading.report(path, wrong, f"Write {listed(scope.edges)}.")
    return word or "left"


def check_pins(
    spread: Spread, members: tuple[Raceway, ...], written: WrittenRow, path: KeyPath, reading: FileReading
) -> None:
    """A pinned raceway of a spread row stands between the row's limits, its sides too."""
    paths = {plain_path((*path, place)): (*path, place) for place in range(len(written.raceways or []))}
    for member in members:
        if member.at_in is None:
            continue
        reach = member.size.outside_diameter_most_in / 2 if member.size else 0.0
        for beyond, side, limit, key in (
            (spread.low_in - (member.at_in - reach), member.at_in - reach, spread.low_in, "from"),
            (member.at_in + reach - spread.high_in, member.at_in + reach, spread.high_in, "to"),
        ):
            if beyond > _TOLERANCE_IN:
                wrong = (
                    f"{member.id} is pinned at {reading.say(member.at_in)} and reaches "
                    f"{reading.say(side)}, past the limit of the spread at {reading.say(limit)}"
                )
                remedy = f"Pin it between the limits, or write another `{key}` under `spread`."
                reading.report((*paths[member.place.key], "at"), wrong, remedy)


def limits(
    written: WrittenSpan, path: KeyPath, most_in: float, from_what: str, reading: FileReading
) -> tuple[float, float]:
    """Two distances in rising order, both on the face."""
    low = reading.length(written.from_, (*path, "from"), UNREADABLE, allow="zero")
    high = reading.length(written.to, (*path, "to"), UNREADABLE, allow="zero")
    if low >= high:
        wrong = f"`from` {reading.say(low)} is not less than `to` {reading.say(high)}"
        reading.report((*path, "from"), wrong, f"Write the one nearer {from_what} as `from`.")
    elif high > most_in:
        wrong = f"{reading.say(high)} is off the face, which ends at {reading.say(most_in)}"
        reading.report((*path, "to"), wrong, f"Measure it from {from_what} of the enclosure.")
    return low, high
