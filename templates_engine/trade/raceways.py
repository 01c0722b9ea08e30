"""Turns a raceway's type and size as written into its outside diameter; leaves its hole to others."""

from __future__ import annotations

import re
from fractions import Fraction
from functools import cache
from typing import Any

from templates_engine.trade.not_in_tables import NotInTables, listed, nearest
from templates_engine.trade.tables import read_table
from templates_engine.units import MM_PER_INCH, LengthError, read_length
from templates_engine.values import Struct

METRIC = "metric"
TYPES: tuple[str, ...]
"""Every type by its name in job files, in the tables' order."""


class RacewaySize(Struct, frozen=True):
    """One trade size of one type; ``outside_diameter_in`` is the mean where a type is made within a range."""

    type: str
    trade_size: str
    metric_designator: int | None
    outside_diameter_in: float
    outside_diameter_most_in: float
    source: str
    provenance: str

    @property
    def raceway_name(self) -> str:
        """As people say it: "2 in EMT", "20 mm conduit"."""
        return raceway_name(self.type, self.trade_size)

    @property
    def trade_size_in(self) -> float:
        """The size's name as a number of inches, for rules that count in trade sizes."""
        if self.type == METRIC:
            return int(self.trade_size) / MM_PER_INCH
        return trade_size_in(self.trade_size)


class TypeFacts(Struct, frozen=True):
    """What rules and fittings ask of a type; ``is_metal`` is None where the type is made of both."""

    is_metal: bool | None
    ends_in_connector: bool


def __getattr__(name: str) -> Any:
    if name == "TYPES":  # read when first asked for, like every table
        return tuple(row.text("type") for row in read_table("raceway_types").rows)
    raise AttributeError(name)


def raceway_name(type: str, trade_size: str) -> str:
    """A raceway as people say it, so that its size is not read as a count: "2 in EMT", "20 mm conduit"."""
    return f"{trade_size} mm conduit" if type == METRIC else f"{trade_size} in {type}"


def trade_size_in(name: str) -> float:
    """A trade size's name in inches: "1-1/4" is 1.25. Raises ValueError when it is no such name."""
    return float(sum(Fraction(part) for part in name.split("-")))


@cache
def facts(type: str) -> TypeFacts:
    """What a type is made of and ends in. Raises NotInTables."""
    name = find_type(type)
    row = next(row for row in read_table("raceway_types").rows if row.text("type") == name)
    metal, end = row.text("metal"), row.text("ends in")
    if metal not in _METAL or end not in ("connector", "thread"):
        raise row.damaged("metal is yes, no or not said; ends in is connector or thread")
    return TypeFacts(_METAL[metal], end == "connector")


_METAL = {"yes": True, "no": False, "not said": None}


def find_type(text: str) -> str:
    """The type's name in the tables for what a person wrote, "GRC" or "Sch 40 PVC". Raises NotInTables."""
    spellings = _spellings()
    words = _one_way(text)
    if words in spellings:
        return spellings[words]
    bare = " ".join(re.sub(r"\b(conduits?|raceways?|pipes?|tubing|tubes?)\b", " ", words).split())
    if bare in spellings:
        return spellings[bare]
    raise _unknown_type(text, words, bare)


def types_meant(text: str) -> tuple[str, ...]:
    """The types that a person's word may mean: one, several as for "PVC", or none."""
    try:
        return (find_type(text),)
    except NotInTables:
        return _SEVERAL.get(_one_way(text), ())


def _unknown_type(text: str, words: str, bare: str) -> NotInTables:
    """What is wrong with a type that no table has; ``bare`` is without words such as conduit."""
    spellings = _spellings()
    types = tuple(dict.fromkeys(spellings.values()))
    if not bare:
        return NotInTables(f"'{text}' does not say which type of raceway it is.", f"Write {listed(types)}.")
    for name in (words, bare):
        if name in _SEVERAL:
            return NotInTables(f"'{text}' may be several types.", f"Write {listed(_SEVERAL[name])}.")
        if name in _NO_FIGURES:
            what = f"'{text}' ({_NO_FIGURES[name]}) is a raceway whose sizes are not known here."
            return NotInTables(what, f"Known are {listed(types)}.")
        if name in _CABLES:
            remedy = f"Take it out; raceways are {listed(types)}."
            return NotInTables(f"'{text}' is a cable, and this lays out raceways.", remedy)
    parted = re.fullmatch(
        r"([0-9][0-9/. ]*)\"?(?: in(?:ch)?)? (.*[a-z].*)|(.*[a-z]) ([0-9][0-9/. ]*)\"?", words
    )
    kind, size = (parted[2] or parted[3], parted[1] or parted[4]) if parted else ("", "")
    if kind in spellings:
        remedy = f"Write `type: {spellings[kind]}` and `size: {'-'.join(size.split())}`."
        return NotInTables(f"'{text}' is a type and a size in one.", remedy)
    like = nearest(words, spellings)
    hint = f"Did you mean {spellings[like]}? " if like else ""
    return NotInTables(f"'{text}' is no raceway type.", f"{hint}Write {listed(types)}.")


_SEVERAL = {
    "pvc": ("PVC 40", "PVC 80"),
    "plastic": ("PVC 40", "PVC 80"),
    **dict.fromkeys(("liquidtight", "liquid tight", "liquidtight flexible", "sealed flex"), ("LFMC", "LFNC")),
    **dict.fromkeys(("flexible", "flexible metal or nonmetallic"), ("FMC", "LFMC", "LFNC")),
    **dict.fromkeys(("metal", "steel", "galvanized"), ("EMT", "IMC", "RMC")),
    **dict.fromkeys(("aluminum", "aluminium"), ("EMT", "aluminium RMC")),
}
"""Words that leave open which of these types is meant."""
_NO_FIGURES = {
    "hdpe": "high density polyethylene conduit",
    "rtrc": "reinforced thermosetting resin conduit",
    "fiberglass": "reinforced thermosetting resin conduit",
    "fibreglass": "reinforced thermosetting resin conduit",
    "nucc": "nonmetallic underground conduit with conductors",
    "fmt": "flexible metallic tubing",
}
"""Raceways of other articles of the National Electrical Code (353, 355, 354, 360; from memory)."""
_CABLES = (
    "mc",
    "mc cable",
    "ac",
    "ac cable",
    "bx",
    "nm",
    "nm b",
    "nm cable",
    "uf",
    "se",
    "ser",
    "seu",
    "tc",
    "so cord",
)


def _one_way(text: str) -> str:
    return " ".join(re.split(r"[\s_-]+", text.strip().lower()))


@cache
def _spellings() -> dict[str, str]:
    found: dict[str, str] = {}
    for row in read_table("raceway_types").rows:
        name = row.text("type")
        for spelling in (name, *row.text("spellings").split(";")):
            if found.setdefault(_one_way(spelling), name) != name:
                raise row.damaged(f"'{spelling.strip()}' stands for two types")
    return found


@cache
def sizes(type: str) -> tuple[RacewaySize, ...]:
    """All sizes of a type, smallest first. Raises NotInTables."""
    name = find_type(type)
    found = _metric_sizes() if name == METRIC else _trade_sizes(name)
    return tuple(sorted(found, key=lambda size: size.trade_size_in))


def _trade_sizes(name: str) -> list[RacewaySize]:
    found: dict[str, RacewaySize] = {}
    for row in read_table("raceways").rows:
        if row.group not in _spellings().values():
            raise row.damaged(f"unknown raceway type '{row.group}'")
        if row.group != name:
            continue
        size, least, most = row.text("trade size"), row.inches("least"), row.inches("most")
        if size in found or least > most:
            raise row.damaged("a size twice, or its least diameter over its most")
        mean = round((least + most) / 2, 6)
        found[size] = RacewaySize(
            name, size, row.whole("metric designator"), mean, most, row.source, row.provenance
        )
    return list(found.values())


def _metric_sizes() -> list[RacewaySize]:
    found: dict[str, RacewaySize] = {}
    for row in read_table("metric_conduit").rows:
        size = row.text("size")
        diameter_in = row.inches("diameter") / MM_PER_INCH
        if size in found:
            raise row.damaged("a size twice")
        found[size] = RacewaySize(METRIC, size, None, diameter_in, diameter_in, row.source, row.provenance)
    return list(found.values())


def look_up(type: str, size: str) -> RacewaySize:
    """The row for a type and a size as written: "1-1/4", "1.25", "MD 35", "35 mm"; metric type "20", "M20".

    Raises NotInTables.
    """
    name = find_type(type)
    rows = sizes(name)
    found = _metric_match(rows, size) if name == METRIC else _trade_match(rows, size)
    if found is None:
        raise NotInTables(f"{name} has no size '{size}'.", _other_sizes(name, rows, size))
    return found


_DESIGNATOR = re.compile(
    r"(?:md|metric designator|metric)[ -]?([0-9]{1,4})(?: ?mm)?|([0-9]{1,4}) ?mm", re.I | re.A
)
_METRIC_SIZE = re.compile(r"(?:m|metric)? ?([0-9]{1,4}) ?(?:mm)?", re.I | re.A)


def _metric_match(rows: tuple[RacewaySize, ...], text: str) -> RacewaySize | None:
    match = _METRIC_SIZE.fullmatch(" ".join(text.split()))
    return next((row for row in rows if match and row.trade_size == match[1]), None)


def _trade_match(rows: tuple[RacewaySize, ...], text: str) -> RacewaySize | None:
    match = _DESIGNATOR.fullmatch(" ".join(text.split()))
    if match:
        designator = int(match[1] or match[2])
        return next((row for row in rows if row.metric_designator == designator), None)
    if re.search(r"[mf]|(?<!')'(?!')", text, re.I):
        return None  # a trade size is a name in inches; millimetres or feet are a slip
    try:
        wanted = read_length(text)
    except LengthError as error:
        raise NotInTables(error.message, f"{error.remedy} A trade size is written like 1-1/4.") from error
    return next((row for row in rows if row.trade_size_in == wanted), None)


def _other_sizes(name: str, rows: tuple[RacewaySize, ...], text: str) -> str:
    if name == METRIC:
        return f"Write {listed(row.trade_size for row in rows)}."
    designators = {str(row.metric_designator): row.trade_size for row in rows}
    number = text.strip()
    if number in designators:
        return f"Write {designators[number]}, or MD {number}, if the metric designator is meant."
    return f"Write {listed(row.trade_size for row in rows)}{_nearest_size(rows, text)}."


def _nearest_size(rows: tuple[RacewaySize, ...], text: str) -> str:
    try:
        wanted = read_length(text)
    except LengthError:
        return ""
    return f"; the nearest is {min(rows, key=lambda row: abs(row.trade_size_in - wanted)).trade_size}"
