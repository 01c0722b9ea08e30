"""Holds the columns a schedule may have: headings, where the values stand in a job file, how they read."""

from __future__ import annotations

import re
from functools import cache
from typing import Literal

from templates_engine.job.text.key_paths import KeyPath
from templates_engine.values import Struct

Level = Literal["job", "enclosure", "face", "row", "raceway", "none"]
"""What a column is about; of "none" it is for people alone."""
Kind = Literal[
    "text",
    "date",
    "word",
    "number",
    "length",
    "run",
    "strut",
    "place",
    "size",
    "raceway",
    "circuits",
    "wire",
    "ground",
    "conductors",
]


class ScheduleField(Struct, frozen=True):
    """One column: its heading, its place below its job, face, row or raceway, and other headings for it."""

    heading: str
    level: Level
    kind: Kind
    path: KeyPath
    others: tuple[str, ...] = ()


def _field(
    heading: str, level: Level, kind: Kind, *others: str, path: KeyPath | None = None
) -> ScheduleField:
    return ScheduleField(heading, level, kind, (heading,) if path is None else path, others)


def _of_can(heading: str, kind: Kind, *others: str, key: str = "") -> ScheduleField:
    return ScheduleField(heading, "enclosure", kind, ("enclosure", key or heading), others)


def _lip(edge: str) -> ScheduleField:
    return ScheduleField(f"{edge} lip", "face", "length", ("lips", edge), (f"lip {edge}", f"lips {edge}"))


FIELDS: tuple[ScheduleField, ...] = (
    _of_can(
        "enclosure", "text", "panel", "panel name", "enclosure mark", "equipment", "box", "can", key="mark"
    ),
    _field("job", "job", "text", "project", "job name", "project name", "job title"),
    _field("revision", "job", "text", "rev", "rev."),
    _field("date", "job", "date", "issue date"),
    _field("code", "job", "word", "code edition", "NEC edition"),
    _field("units", "job", "word", "unit"),
    _field("tape", "job", "text", "tape graduation"),
    _field("paper", "job", "text", "paper size", path=("print", "paper")),
    _of_can("kind", "word", "enclosure kind", "enclosure type", "kind of enclosure"),
    _of_can("width", "length", "enclosure width", "panel width"),
    _of_can("height", "length", "enclosure height", "panel height"),
    _of_can("depth", "length", "enclosure depth", "panel depth"),
    _of_can("back gap", "length", "gap behind", "off the wall", "stand-off", "air space"),
    _of_can("sheet metal", "text", "gauge", "metal", "metal gauge"),
    _of_can("finish", "word"),
    _of_can("paint at fittings", "word"),
    _of_can("location", "word"),
    _of_can("system", "text", "voltage", "supply"),
    _of_can("spaces", "number", "pole spaces", "panel spaces"),
    _of_can("numbering", "word"),
    _of_can("service", "word", "service equipment"),
    _of_can("gutter", "length"),
    _of_can("nonlinear loads", "word", "nonlinear"),
    _of_can("terminals", "word", "terminal temperature"),
    _of_can("ambient", "word", "ambient temperature"),
    _field("face", "face", "word", "side", "enters", "entry"),
    _field("mark from", "face", "word", "marked from"),
    *map(_lip, ("front", "back", "left", "right", "top", "bottom")),
    _field("row", "row", "text", "row letter", path=()),
    _field("strut", "row", "strut", "strut depth"),
    _field("shim", "row", "length"),
    _field("back line", "row", "length"),
    _field("centre line", "row", "length", "center line"),
    _field("gap", "row", "length", "clear gap"),
    _field("spacing", "row", "length", "on centres", "on centers", "centre to centre", "center to center"),
    _field("tool room", "row", "length"),
    _field("snap", "row", "length"),
    _field("place", "row", "place"),
    _field("id", "raceway", "text", "hole", "hole id", "raceway id"),
    _field("raceway", "raceway", "raceway", "conduit", "raceway size and type", path=()),
    _field("type", "raceway", "text", "raceway type", "conduit type"),
    _field("size", "raceway", "size", "trade size", "raceway size", "conduit size"),
    _field("count", "raceway", "number", "qty", "quantity", "number", "how many", "no. of"),
    _field("at", "raceway", "length", "centre at", "center at"),
    _field("gap before", "raceway", "length"),
    _field("spacing before", "raceway", "length"),
    _field("cutter", "raceway", "word"),
    _field("hole cut", "raceway", "length", path=("hole",)),
    _field("to", "raceway", "text", "feeds", "goes to", "destination", "load"),
    _field("bushing", "raceway", "word"),
    _field("nipple", "raceway", "word"),
    _field("spare", "raceway", "word"),
    _field("raceway nonlinear loads", "raceway", "word", path=("nonlinear loads",)),
    _field("knockout", "raceway", "word"),
    _field("factory knockout", "raceway", "text"),
    _field("reducing washers", "raceway", "word"),
    _field("first support", "raceway", "length"),
    _field("run length", "raceway", "run", "length", "length of run", "raceway length", "conduit length"),
    _field("circuits", "raceway", "circuits", "circuit", "circuit numbers", "ckt", "ckts"),
    _field("wire", "raceway", "wire", "wire of circuits"),
    _field("neutrals", "raceway", "word"),
    _field("ground", "raceway", "ground", "equipment ground", "EGC"),
    _field("conductors", "raceway", "conductors", "conductor", "wires", "feeder"),
    _field("simultaneous disconnect", "raceway", "word"),
    _field("breaker", "raceway", "text", "breaker size", "OCPD"),
    _field("parallel set of", "raceway", "text", "parallel set"),
    _field("raceway ambient", "raceway", "word", path=("ambient",)),
    _field("straight run", "raceway", "length"),
    _field("temperature range", "raceway", "word"),
    _field("expansion fitting", "raceway", "word"),
    _field("job file", "none", "text", path=()),
)
MARK, FACE, ROW, ID, SIZE, TYPE, RACEWAY, COUNT = (
    next(one for one in FIELDS if one.heading == heading)
    for heading in ("enclosure", "face", "row", "id", "size", "type", "raceway", "count")
)

_UNIT_BEHIND = re.compile(r"\s*[(\[]?\b(in|inch|inches|ft|feet|mm|m)\b\.?[)\]]?$")
_UNITS = {"inch": "in", "inches": "in", "feet": "ft"}


def field_for(heading: str) -> tuple[ScheduleField, str] | None:
    """The column a heading means, and the unit it gives: "Length (ft)" is the run length in feet."""
    words = plain(heading)
    known = _by_words()
    if words in known:
        return known[words], ""
    match = _UNIT_BEHIND.search(words)
    found = known.get(words[: match.start()].strip()) if match else None
    if match is None or found is None or found.kind not in ("length", "run", "strut", "size"):
        return None
    return found, _UNITS.get(match[1], match[1])


def plain(heading: str) -> str:
    """A heading's words, however they are spaced, capitals or not, over several lines or with lines under."""
    return " ".join(heading.replace("_", " ").lower().split()).rstrip(":")


@cache
def _by_words() -> dict[str, ScheduleField]:
    known: dict[str, ScheduleField] = {}
    for one in FIELDS:
        for words in (one.heading, *one.others):
            if plain(words) in known:
                raise ValueError(f"two columns are called {words}")
            known[plain(words)] = one
    return known


def known_headings() -> tuple[str, ...]:
    """Every heading that is known, plain."""
    return tuple(_by_words())
