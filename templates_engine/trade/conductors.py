"""Turns a wire's size and insulation as written into its figures; leaves fill to ``wiring``."""

from __future__ import annotations

import math
import re
from functools import cache
from typing import Any, Literal

from templates_engine.trade.not_in_tables import NotInTables, listed, nearest
from templates_engine.trade.tables import NOT_GIVEN, TableRow, read_table
from templates_engine.values import Struct

SIZES: tuple[str, ...]
"""Names of wire sizes, smallest first: "14" ... "1", "1/0" ... "4/0", "250" ... "2000"."""
INSULATIONS: tuple[str, ...]
"""Names of insulations with areas in the tables, "bare" left out."""

BARE = "bare"
BARE_SOLID = "bare solid"
COMPACT = "compact"
"""What the names of compact conductors' insulations begin with."""


class ConductorSize(Struct, frozen=True):
    """One conductor over everything that is round it."""

    size: str
    insulation: str
    diameter_in: float
    area_in2: float
    source: str
    provenance: str


def __getattr__(name: str) -> Any:
    if name == "SIZES":  # read when first asked for, like every table
        return _sizes()
    if name == "INSULATIONS":
        return tuple(_insulations())
    raise AttributeError(name)


@cache
def _sizes() -> tuple[str, ...]:
    return tuple(row.text("size") for row in read_table("wire_sizes").rows)


@cache
def _insulations() -> dict[str, TableRow]:
    return {row.text("insulation"): row for row in read_table("insulations").rows}


# --- names --------------------------------------------------------------------------------------------------


def find_size(text: str) -> str:
    """The size's name for "#12", "12 AWG", "4/0", "500 kcmil" or "500 MCM". Raises NotInTables."""
    match = re.fullmatch(
        r"(?:no\.?\s*|#\s*)?([0-9]+(?:/0)?)\s*(awg|ga\.?|kcmil|mcm)?", text.strip(), re.I | re.A
    )
    if match is None or match[1] not in _sizes():
        raise NotInTables(f"'{text}' is no wire size.", _size_remedy(match[1] if match else text))
    size, unit = match[1], (match[2] or "").lower().rstrip(".")
    if unit and (unit in ("kcmil", "mcm")) != is_kcmil(size):
        right = f"{size} kcmil" if is_kcmil(size) else f"{size} AWG"
        raise NotInTables(f"'{text}' is no wire size.", f"Write {right}.")
    return size


def _size_remedy(text: str) -> str:
    name = text.strip()
    if re.fullmatch("0{1,4}", name):  # "0" and "00" are older writing
        return f"Write {len(name)}/0."
    if name.isascii() and name.isdecimal() and len(name) < 6:
        wanted = int(name)
        same_kind = [size for size in _sizes() if size.isdecimal() and is_kcmil(size) == (wanted > 100)]
        near = sorted(sorted(same_kind, key=lambda size: abs(int(size) - wanted))[:2], key=rank)
        return f"The nearest sizes are {listed(near)}."
    return "Write 14 to 1, 1/0 to 4/0 (AWG), or 250 to 2000 (kcmil)."


def is_kcmil(size: str) -> bool:
    """Whether a size's name counts thousands of circular mils."""
    return size.isdecimal() and int(size) >= 250


def with_unit(size: str) -> str:
    """The size as said to people: "12 AWG", "500 kcmil"."""
    return f"{size} kcmil" if is_kcmil(size) else f"{size} AWG"


def rank(size: str) -> int:
    """The size's place among SIZES; a larger conductor has a larger rank. Raises NotInTables."""
    return _sizes().index(find_size(size))


def is_at_least(size: str, other: str) -> bool:
    """Whether ``size`` is ``other`` or larger. Raises NotInTables."""
    return rank(size) >= rank(other)


def find_insulation(text: str) -> str:
    """The insulation's name for "thwn2", or for "RHW-2*", which is without covering. Raises NotInTables."""
    words = _one_way(text)
    known = {_one_way(name): name for name in (*_insulations(), BARE, BARE_SOLID)}
    if words in known:
        return known[words]
    like = nearest(words, known)
    hint = f"Did you mean {known[like]}? " if like else ""
    raise NotInTables(
        f"'{text}' is no insulation with areas in the tables.",
        f"{hint}Write {listed((*_insulations(), BARE))}.",
    )


def _one_way(text: str) -> str:
    """One spelling for a name: THWN2, thwn-2 and THWN 2; RHW-2* and RHW-2 without outer covering."""
    words = text.strip().lower().replace("*", " without covering").replace("without outer", "without")
    words = re.sub(r"\s*\bwith (outer )?covering$", "", words)  # covered is what plain RHW means
    return re.sub(r"[\s_-]+", "", words)


def circular_mils(size: str) -> int:
    """The conductor's own cross section, without insulation. Raises NotInTables."""
    return read_table("wire_sizes").rows[rank(size)].whole("circular mils")


def temperature(insulation: str, place: Literal["dry", "damp", "wet"]) -> int | None:
    """What the insulation stands in a place, degrees Celsius; None where it is not for it.

    Raises NotInTables.
    """
    row = _insulations()[find_insulation(insulation)]
    return None if row.text(place) == NOT_GIVEN else row.whole(place)


# --- figures ------------------------------------------------------------------------------------------------


def look_up(size: str, insulation: str) -> ConductorSize:
    """A conductor's diameter and area over its insulation; "bare" is class B stranded. Raises NotInTables."""
    name, kind = find_size(size), find_insulation(insulation)
    if kind in (BARE, BARE_SOLID):
        return _bare(name, kind)
    group = _insulations()[kind].text("rows")
    if group.startswith(COMPACT):
        row = _row("compact_conductors", group, name, kind)
        area = row.inches("area")
        how = f"{row.provenance} (area); computed (diameter)"
        return ConductorSize(name, kind, math.sqrt(4 * area / math.pi), area, row.source, how)
    row = _row("conductors", group, name, kind)
    return ConductorSize(name, kind, row.inches("diameter"), row.inches("area"), row.source, row.provenance)


def _bare(size: str, kind: str) -> ConductorSize:
    row = _row("bare_conductors", "solid" if kind == BARE_SOLID else "stranded", size, kind)
    diameter = row.inches("diameter")
    area = round(math.pi / 4 * diameter**2, 4)
    return ConductorSize(
        size, kind, diameter, area, row.source, f"{row.provenance} (diameter); computed (area)"
    )


def _row(table: str, group: str, size: str, kind: str) -> TableRow:
    rows = [row for row in read_table(table).rows if row.group == group]
    found = [row for row in rows if row.text("size") == size]
    if len(found) > 1:
        raise found[1].damaged(f"{group} {size} stands twice")
    if found:
        return found[0]
    ends = with_unit(rows[0].text("size")), with_unit(rows[-1].text("size"))
    raise NotInTables(
        f"{kind} is not listed in {with_unit(size)}.", f"It is listed from {ends[0]} to {ends[1]}."
    )
