"""Turns what cuts a hole into the pilot it starts from; leaves the hole's own diameter to ``knockouts``."""

from __future__ import annotations

from functools import cache
from typing import Literal

from templates_engine.trade.not_in_tables import NotInTables, listed, nearest
from templates_engine.trade.raceways import RacewaySize
from templates_engine.trade.tables import read_table
from templates_engine.units import exact
from templates_engine.values import Struct

CutterWord = Literal["punch", "hole saw", "step bit"]
CUTTERS: tuple[CutterWord, ...] = ("punch", "hole saw", "step bit")


class Pilot(Struct, frozen=True):
    """The hole drilled first, at the centre, inches; ``words`` says it to the person with the drill."""

    diameter_in: float
    words: str
    source: str
    provenance: str


class HoleSaw(Struct, frozen=True):
    """The hole saw usual for a trade size, inches."""

    trade_size: str
    diameter_in: float
    words: str
    source: str
    provenance: str


@cache
def pilot(cutter_word: str, size: RacewaySize, hole_diameter_in: float) -> Pilot:
    """The pilot for a cutter and its hole. Raises NotInTables if no such cutter makes that hole."""
    if cutter_word not in CUTTERS:
        like = nearest(cutter_word, CUTTERS)
        hint = f"Did you mean {like}? " if like else ""
        raise NotInTables(f"'{cutter_word}' is no cutter.", f"{hint}Write {listed(CUTTERS)}.")
    found = _draw_stud_pilot(hole_diameter_in) if cutter_word == "punch" else _drill_pilot(cutter_word)
    if found is None or found.diameter_in >= hole_diameter_in:
        raise NotInTables(
            f"No usual {cutter_word} cuts a hole of {exact(hole_diameter_in)} in.",
            f"Check the hole for trade size {size.trade_size}, or choose another cutter.",
        )
    return found


def _draw_stud_pilot(hole_diameter_in: float) -> Pilot | None:
    for row in read_table("draw_studs").rows:
        if hole_diameter_in <= row.inches("hole up to"):
            return Pilot(row.inches("pilot"), row.text("words"), row.source, row.provenance)
    return None


def _drill_pilot(cutter_word: str) -> Pilot | None:
    for row in read_table("pilot_drills").rows:
        if row.text("cutter") == cutter_word:
            return Pilot(row.inches("pilot"), row.text("words"), row.source, row.provenance)
    return None


def hole_saw(size: RacewaySize) -> HoleSaw:
    """The hole saw usual for a trade size. Raises NotInTables."""
    for row in read_table("hole_saws").rows:
        if row.text("trade size") == size.trade_size:
            diameter = row.inches("diameter")
            return HoleSaw(size.trade_size, diameter, row.text("words"), row.source, row.provenance)
    raise NotInTables(
        f"No usual hole saw is listed for trade size {size.trade_size}.",
        "Write the hole saw's diameter as the hole.",
    )
