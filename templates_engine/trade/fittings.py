"""Turns a fitting's kind and a raceway's size into the room it takes; leaves gaps to the layout.

::

          .-----.     .-------.
         (   +   )   (    +    )      each circle is an envelope, ``diameter_in`` across, round its raceway's
          '-----'     '-------'       centre +; neighbours' centres need half the one and half the other
"""

from __future__ import annotations

from typing import Literal, get_args

from templates_engine.trade.not_in_tables import NotInTables, listed, nearest
from templates_engine.trade.raceways import RacewaySize, facts
from templates_engine.trade.tables import TableRow, read_table
from templates_engine.values import Struct

FittingKind = Literal[
    "locknut",
    "plain bushing",
    "insulated bushing",
    "bonding bushing",
    "hub",
    "connector",
    "strap",
    "punch die",
]
KINDS: tuple[FittingKind, ...] = get_args(FittingKind)


class FittingEnvelope(Struct, frozen=True):
    """The circle round the raceway's centre that a fitting or die takes, inches."""

    kind: FittingKind
    trade_size: str
    diameter_in: float
    source: str
    provenance: str


class HabitGap(Struct, frozen=True):
    """A clear gap between raceways that practice uses, inches."""

    what_for: str
    gap_in: float
    words: str
    source: str
    provenance: str


class Allowance(Struct, frozen=True):
    """A length added for a fitting, or kept between fittings, inches."""

    what_for: str
    length_in: float
    source: str
    provenance: str


BONDING_LUG = "bonding lug"
BETWEEN_FITTINGS = "between fittings"


def look_up(kind: str, size: RacewaySize) -> FittingEnvelope:
    """The room a fitting or die takes round a raceway of that size. Raises NotInTables.

    A strap's is the raceway's largest diameter and half the habitual strap gap on each side. A plain bushing
    is taken as large as an insulated one.
    """
    if kind == "strap":
        gap = habit_gap("strut straps")
        room = size.outside_diameter_most_in + gap.gap_in
        return FittingEnvelope("strap", size.trade_size, room, gap.source, gap.provenance)
    known: FittingKind | None = next((each for each in KINDS if each == kind), None)
    if known is None:
        like = nearest(kind, KINDS)
        hint = f"Did you mean {like}? " if like else ""
        raise NotInTables(f"'{kind}' is no fitting in the tables.", f"{hint}Write {listed(KINDS)}.")
    return _bushing_for_plain(size) if known == "plain bushing" else _listed_envelope(known, size)


def _listed_envelope(kind: FittingKind, size: RacewaySize) -> FittingEnvelope:
    row = _row("fittings", size, f"The size of a {kind}", kind)
    return FittingEnvelope(kind, size.trade_size, row.inches("diameter"), row.source, row.provenance)


def _bushing_for_plain(size: RacewaySize) -> FittingEnvelope:
    insulated = _listed_envelope("insulated bushing", size)
    how = f"{insulated.provenance}; an insulated bushing's, which is no smaller"
    return FittingEnvelope("plain bushing", size.trade_size, insulated.diameter_in, insulated.source, how)


def kinds_inside(bushing: str | None) -> tuple[FittingKind, ...]:
    """What stands inside the can: the locknut, and the bushing where one is named (by its job word)."""
    return ("locknut",) if bushing is None else ("locknut", _BUSHINGS[bushing])


def kind_outside(raceway_type: str, *, wet: bool) -> FittingKind:
    """What stands outside the can: connector or locknut, in a wet place a hub."""
    if wet:
        return "hub"
    return "connector" if facts(raceway_type).ends_in_connector else "locknut"


_BUSHINGS: dict[str, FittingKind] = {
    "plain": "plain bushing",
    "insulated": "insulated bushing",
    "bonding": "bonding bushing",
}


def habit_gaps() -> tuple[HabitGap, ...]:
    """The clear gaps practice uses, by what they leave room for."""
    return tuple(
        HabitGap(row.text("what for"), row.inches("gap"), row.text("words"), row.source, row.provenance)
        for row in read_table("habit_gaps").rows
    )


def habit_gap(what_for: str) -> HabitGap:
    """The clear gap practice uses to leave room for ``what_for``. Raises NotInTables."""
    gaps = {gap.what_for: gap for gap in habit_gaps()}
    if what_for not in gaps:
        raise NotInTables(f"No habitual gap is listed for '{what_for}'.", f"There are: {listed(gaps)}.")
    return gaps[what_for]


def allowance(what_for: str) -> Allowance:
    """The allowance for BONDING_LUG or BETWEEN_FITTINGS. Raises NotInTables."""
    for row in read_table("allowances").rows:
        if row.text("what for") == what_for:
            return Allowance(what_for, row.inches("allowance"), row.source, row.provenance)
    raise NotInTables(
        f"No allowance is listed for '{what_for}'.", f"There are: {BONDING_LUG}, {BETWEEN_FITTINGS}."
    )


def _row(table: str, size: RacewaySize, what: str, group: str = "") -> TableRow:
    rows = [row for row in read_table(table).rows if row.group == group]
    found = [row for row in rows if row.text("trade size") == size.trade_size]
    if len(found) > 1:
        raise found[1].damaged(f"{size.trade_size} stands twice")
    if not found:
        raise NotInTables(
            f"{what} for {size.raceway_name} is not in the tables.",
            "Measure the fittings and write the gap as a length.",
        )
    return found[0]
