"""Turns questions the code's tables answer into figures with their edition; leaves judging to the checks."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from typing import Literal

from templates_engine.trade.conductors import find_size, rank, with_unit
from templates_engine.trade.editions import DEFAULT_EDITION, article, find_edition
from templates_engine.trade.not_in_tables import NotInTables
from templates_engine.trade.raceways import find_type
from templates_engine.trade.tables import NOT_GIVEN, TableRow, read_table
from templates_engine.values import Struct


class Figure(Struct, frozen=True):
    """A number a code table gives, in ``unit``."""

    value: float
    unit: Literal["percent", "in"]
    source: str
    provenance: str


class GroundSize(Struct, frozen=True):
    """The least equipment grounding conductor for an overcurrent device, by its size's name."""

    size: str
    source: str
    provenance: str


def _had(row: TableRow, edition: str) -> str:
    """How the figure was had: the tables were read for one edition, the others are remembered to agree."""
    if find_edition(edition) == DEFAULT_EDITION:
        return row.provenance
    return f"from memory that {find_edition(edition)} says the same; {row.provenance} for {DEFAULT_EDITION}"


def _figure(
    row: TableRow, column: str, unit: Literal["percent", "in"], edition: str, place: str = ""
) -> Figure:
    return Figure(
        row.inches(column), unit, f"{find_edition(edition)} {place or row.source}", _had(row, edition)
    )


# --- fill and adjustment ------------------------------------------------------------------------------------


def fill_limit(wires: int, *, nipple: bool = False, edition: str = DEFAULT_EDITION) -> Figure:
    """How much of a raceway's area so many conductors may fill, percent. Raises ValueError under 1."""
    if wires < 1:
        raise ValueError(f"{wires} conductors fill nothing")
    which = "nipple to 24 in" if nipple else {1: "one", 2: "two"}.get(wires, "over two")
    return _figure(
        _only("conduit_fill", lambda row: row.text("wires") == which), "percent", "percent", edition
    )


def adjustment(current_carrying: int, *, edition: str = DEFAULT_EDITION) -> Figure:
    """What is left of the ampacity with so many current-carrying conductors, percent; 100 up to three."""
    place = article("adjustment factors", edition)
    rows = read_table("adjustment_factors").rows
    if current_carrying < rows[0].whole("from"):
        return Figure(100.0, "percent", f"{find_edition(edition)} {place}", _had(rows[0], edition))
    row = _only("adjustment_factors", lambda row: _spans(row, current_carrying))
    return _figure(row, "percent", "percent", edition, place)


def _spans(row: TableRow, count: int) -> bool:
    open_end = row.text("to") == NOT_GIVEN
    return row.whole("from") <= count and (open_end or count <= row.whole("to"))


# --- ampacities and devices ---------------------------------------------------------------------------------

Metal = Literal["Cu", "Al"]
Degrees = Literal[60, 75, 90]


def ampacity(size: str, metal: Metal, degrees: Degrees) -> float:
    """The table's ampacity of a conductor in a raceway, of insulation that stands so many degrees Celsius.

    Raises NotInTables.
    """
    name = find_size(size)
    rows = [row for row in read_table("ampacities").rows if row.group == metal]
    row = next((row for row in rows if row.text("size") == name), None)
    if row is None or row.text(str(degrees)) == NOT_GIVEN:
        what = f"{with_unit(name)} {metal}"
        raise NotInTables(f"No ampacity is listed for {what}.", "Check it by the code that is adopted.")
    return row.inches(str(degrees))


def ampacity_sizes(metal: Metal) -> tuple[str, ...]:
    """The sizes whose ampacity is listed, smallest first."""
    rows = read_table("ampacities").rows
    return tuple(row.text("size") for row in rows if row.group == metal and row.text("75") != NOT_GIVEN)


def ambient_factor(ambient_c: float, degrees: Degrees) -> float:
    """By what an ampacity is multiplied at an ambient temperature, degrees Celsius. Raises NotInTables."""
    row = next((row for row in read_table("ambient_factors").rows if ambient_c <= row.whole("to")), None)
    if row is None or row.text(str(degrees)) == NOT_GIVEN:
        raise NotInTables(
            f"Conductors of {degrees} C have no ampacity at {ambient_c:g} C.",
            "Take insulation that stands more.",
        )
    return row.inches(str(degrees))


@cache
def device_ratings() -> tuple[int, ...]:
    """The standard ratings of overcurrent devices, amperes, smallest first (NEC 240.6(A))."""
    return tuple(row.whole("rating") for row in read_table("device_ratings").rows)


def small_conductor_limit(size: str, metal: Metal) -> int | None:
    """The largest device for a small conductor, amperes (NEC 240.4(D)); None for a larger one."""
    rows = read_table("small_conductors").rows
    limits = {(row.text("size"), row.text("metal")): row.whole("rating") for row in rows}
    return limits.get((find_size(size), metal))


# --- grounds, bending room, supports ------------------------------------------------------------------------


def equipment_ground(
    overcurrent_amperes: float, metal: Literal["Cu", "Al"] = "Cu", *, edition: str = DEFAULT_EDITION
) -> GroundSize:
    """The least equipment grounding conductor for a device, Table 250.122. Raises NotInTables."""
    if overcurrent_amperes <= 0:
        raise NotInTables(f"A device of {overcurrent_amperes:g} A is none.", "Write its rating in amperes.")
    rows = read_table("equipment_grounds").rows
    row = next((row for row in rows if overcurrent_amperes <= row.whole("rating")), None)
    if row is None:
        raise NotInTables(
            f"Table 250.122 ends under {overcurrent_amperes:g} A.",
            f"It is listed to {rows[-1].text('rating')} A.",
        )
    size = find_size(row.text("copper" if metal == "Cu" else "aluminium"))
    return GroundSize(size, f"{find_edition(edition)} {row.source}", _had(row, edition))


def bending_room(size: str, wires: int, *, opposite: bool, edition: str = DEFAULT_EDITION) -> Figure | None:
    """Room to bend a conductor at its terminal, inches; None where the table gives none.

    ``opposite`` says whether the conductors enter through the wall opposite the terminals (312.6(B)(2)) or
    not (312.6(A)); ``wires`` counts those at one terminal. Raises NotInTables for more than the table has.
    """
    if wires < 1:
        raise ValueError(f"{wires} wires at a terminal need no room")
    group = "312.6(B)(2)" if opposite else "312.6(A)"
    table = article("bending opposite the terminals", edition) if opposite else "Table 312.6(A)"
    row = _only("wire_bending", lambda row: row.group == group and _spans_size(row, size))
    columns = ("one", "two", "three", "four") if opposite else ("one", "two", "three", "four", "five")
    if row.text("one") == NOT_GIVEN:
        return None
    if wires > len(columns) and not opposite:
        raise NotInTables(
            f"{table} has no column for {wires} wires.", "It is listed to five wires a terminal."
        )
    column = columns[min(wires, len(columns)) - 1]
    if row.text(column) == NOT_GIVEN:
        raise NotInTables(
            f"{table} gives no room for {wires} wires of {with_unit(find_size(size))} at one terminal.",
            "Check the number of wires at the terminal.",
        )
    return _figure(row, column, "in", edition, table)


def _spans_size(row: TableRow, size: str) -> bool:
    return rank(row.text("from size")) <= rank(size) <= rank(row.text("to size"))


def first_support(type: str, *, edition: str = DEFAULT_EDITION) -> Figure:
    """How far from the enclosure a raceway's first support may be, inches. Raises NotInTables."""
    name = find_type(type)
    if all(row.text("type") != name for row in read_table("supports").rows):
        raise NotInTables(
            f"No support distance is listed for {name}.", "Check it by the code that is adopted."
        )
    row = _only("supports", lambda row: row.text("type") == name)
    return _figure(row, "first support", "in", edition, row.text("article"))


def _only(table: str, wanted: Callable[[TableRow], bool]) -> TableRow:
    """The one row that is wanted; a table with none or two of it is damaged."""
    rows = [row for row in read_table(table).rows if wanted(row)]
    if len(rows) != 1:
        raise read_table(table).rows[0].damaged(f"{len(rows)} rows where one should answer")
    return rows[0]
