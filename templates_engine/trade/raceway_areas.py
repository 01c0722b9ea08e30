"""Turns a raceway's type and trade size into the room inside it; leaves what fills it to ``wiring``."""

from __future__ import annotations

from templates_engine.trade.not_in_tables import NotInTables, listed
from templates_engine.trade.raceways import METRIC, find_type, look_up
from templates_engine.trade.tables import TableRow, read_table
from templates_engine.values import Struct


class InternalArea(Struct, frozen=True):
    """The inside of a raceway, all of it; how much of it may be filled is the code's business."""

    diameter_in: float
    area_in2: float
    source: str
    provenance: str


def internal(type: str, trade_size: str) -> InternalArea:
    """The inside of a type and trade size as written. Raises NotInTables.

    LFNC-A and LFNC-B differ; for plain LFNC the smaller of the two is taken.
    """
    name = find_type(type)
    if name == METRIC:
        raise NotInTables(
            "The inside of metric conduit is not listed.",
            "Check the fill by the conduit's own data; it is not computed.",
        )
    size = look_up(name, trade_size).trade_size
    found = [row for group in _groups(name, type) for row in _rows(group) if row.text("trade size") == size]
    if not found:
        sizes = listed(row.text("trade size") for row in _rows(_groups(name, type)[0]))
        raise NotInTables(
            f"The inside of {name} of trade size {size} is not listed.", f"It is listed for {sizes}."
        )
    row = min(found, key=lambda row: row.inches("area"))
    how = f"{row.provenance}; the smaller of A and B" if len(found) > 1 else row.provenance
    return InternalArea(row.inches("diameter"), row.inches("area"), row.source, how)


def _groups(name: str, as_written: str) -> tuple[str, ...]:
    if name == "aluminium RMC":
        return ("RMC",)
    if name == "LFNC":
        letter = as_written.strip().upper()[-1:]
        return (f"LFNC-{letter}",) if letter in ("A", "B") else ("LFNC-A", "LFNC-B")
    return (name,)


def _rows(group: str) -> list[TableRow]:
    rows = [row for row in read_table("raceway_areas").rows if row.group == group]
    sizes = [row.text("trade size") for row in rows]
    for row, size in zip(rows, sizes, strict=True):
        if sizes.count(size) > 1:
            raise row.damaged(f"{group} {size} stands twice")
    return rows
