"""Turns `place` as written into a Placing, and holds pins against its limits; fitting is for the layout."""

from __future__ import annotations

import re

from templates_engine.job.model import Centred, FromEdge, Placing, Raceway, Spread
from templates_engine.job.read.face_scope import FaceScope
from templates_engine.job.schema import EDGES, END_POINTS, WrittenPlace, WrittenRow, WrittenSpan
from templates_engine.job.text.key_paths import plain_path, shown
from templates_engine.job.written_values import WrittenText
from templates_engine.trade.not_in_tables import listed, nearest

_TOLERANCE_IN = 1e-6
_CENTRED = ("centred", "centered", "centre", "center")


def placing(row: WrittenRow, scope: FaceScope) -> Placing:
    """Where a row stands; it has to be written unless every raceway is pinned."""
    written = row.place
    if not written.is_sound:
        return Centred()
    if isinstance(written, WrittenText):
        if written.is_written:
            _check_centred(written, scope)
        elif any(not (entry.at.is_written or entry.factory_knockout.is_written) for entry in row.raceways):
            ways = f"{_whole_place(scope.edges[0])}, `place: {{spread: {{from: 2 in, to: 18 in}}}}`"
            wrong = "`place` is missing; nothing says where along the face the row stands"
            written.report(wrong, f"Write {ways} or `place: centred`.")
        return Centred()
    if written.spread is None and written.under("spread").is_sound:
        return _from_edge(written, scope)
    for one in (written.from_, written.to, written.distance):
        if one.is_written:
            remedy = "Write either `spread:`, or `from:`, `to:` and `distance:`."
            one.report(f"`{one.path[-1]}` does not go with `spread`", remedy)
    span = written.spread or WrittenSpan(written.reading, (*written.path, "spread"))
    return Spread(*limits(span, scope.width_in, scope.start))


def _check_centred(written: WrittenText, scope: FaceScope) -> None:
    """One word can only be `centred`; for an edge or a distance alone the whole form is shown."""
    text = written.value()
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
    written.report(f"'{shown(text)}' does not say where the row stands", remedy)


def _whole_place(edge: str, text: str = "") -> str:
    """The keys of a row that starts at an edge, with the distance that stands in ``text``, if any does."""
    figures = re.search(r"[0-9].*", text)
    return f"`place: {{from: {edge}, to: centre, distance: {figures.group() if figures else '4-1/2 in'}}}`"


def _from_edge(written: WrittenPlace, scope: FaceScope) -> Placing:
    asked = {
        written.from_: listed(f"`from: {edge}`" for edge in scope.edges),
        written.to: "`to: centre` or `to: near side`, whichever the distance runs to",
        written.distance: "`distance:` with the distance from that edge",
    }
    missing = [f"`{one.path[-1]}`" for one in asked if not one.is_written]
    if len(missing) > 1 and all(one.is_sound for one in asked):
        edge = next((edge for edge in scope.edges if edge == written.from_.text), scope.edges[0])
        whole = _whole_place(edge, written.distance.text or "")
        wrong = f"{' and '.join(missing)} of the place are missing"
        remedy = f"Write {whole}; `to` is centre or near side, whichever the distance runs to."
        written.report(wrong, remedy)
        return Centred()
    for one, how in asked.items():
        if not one.is_written:
            one.report(f"`{one.path[-1]}` is missing", f"Write {how}.")
    edge = _edge(written.from_, scope)
    to = written.to.word(END_POINTS, END_POINTS[0], center="centre")
    distance_in = written.distance.length(allow="zero")
    if distance_in > scope.width_in:
        reach = written.say(scope.width_in)
        wrong = f"{written.say(distance_in)} is farther than the face reaches, {reach}"
        written.distance.report(wrong, "Write the distance from that edge of the enclosure.")
    return FromEdge("start" if edge in ("left", "top") else "end", to, distance_in)


def _edge(written: WrittenText, scope: FaceScope) -> str:
    """An edge's word, refused when it belongs to other faces."""
    word = written.word(EDGES, None)
    if word and scope.face and word not in scope.edges:
        wrong = f"The {scope.face.value} face has no {word} edge to start from"
        written.report(wrong, f"Write {listed(scope.edges)}.")
    return word or "left"


def check_pins(spread: Spread, members: tuple[Raceway, ...], written: WrittenRow) -> None:
    """A pinned raceway of a spread row stands between the row's limits, its sides too."""
    entries, say = {plain_path(entry.path): entry for entry in written.raceways}, written.say
    for member in members:
        if member.at_in is None:
            continue
        reach = member.size.outside_diameter_most_in / 2 if member.size else 0.0
        for beyond, side, limit, key in (
            (spread.low_in - (member.at_in - reach), member.at_in - reach, spread.low_in, "from"),
            (member.at_in + reach - spread.high_in, member.at_in + reach, spread.high_in, "to"),
        ):
            if beyond > _TOLERANCE_IN:
                pinned = f"{member.id} is pinned at {say(member.at_in)} and reaches {say(side)}"
                wrong = f"{pinned}, past the limit of the spread at {say(limit)}"
                remedy = f"Pin it between the limits, or write another `{key}` under `spread`."
                entries[member.place.key].at.report(wrong, remedy)


def limits(written: WrittenSpan, most_in: float, from_what: str) -> tuple[float, float]:
    """Two distances in rising order, both on the face."""
    low, high = written.from_.length(allow="zero"), written.to.length(allow="zero")
    if low >= high:
        wrong = f"`from` {written.say(low)} is not less than `to` {written.say(high)}"
        written.from_.report(wrong, f"Write the one nearer {from_what} as `from`.")
    elif high > most_in:
        wrong = f"{written.say(high)} is off the face, which ends at {written.say(most_in)}"
        written.to.report(wrong, f"Measure it from {from_what} of the enclosure.")
    return low, high
