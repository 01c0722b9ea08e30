"""Turns a raceway's size into the hole it needs in sheet metal; leaves pilots and cutters to ``cutters``."""

from __future__ import annotations

from functools import cache

from templates_engine.trade.not_in_tables import NotInTables
from templates_engine.trade.raceways import METRIC, RacewaySize
from templates_engine.trade.tables import TableRow, read_table
from templates_engine.units import MM_PER_INCH
from templates_engine.values import Struct


class Knockout(Struct, frozen=True):
    """A hole for a trade size: the diameter drawn and the limits it may be made to, inches."""

    trade_size: str
    nominal_in: float
    least_in: float
    most_in: float
    source: str
    provenance: str


@cache
def look_up(size: RacewaySize) -> Knockout:
    """The standard knockout for a trade size; for metric conduit the clearance hole. Raises NotInTables."""
    if size.type == METRIC:
        row = _find("metric_holes", "size", size)
        scale = MM_PER_INCH
    else:
        row = _find("knockouts", "trade size", size)
        scale = 1.0
    nominal, least, most = (row.inches(column) / scale for column in ("nominal", "least", "most"))
    if not least <= nominal <= most:
        raise row.damaged("the nominal stands outside its limits")
    return Knockout(size.trade_size, nominal, least, most, row.source, row.provenance)


@cache
def field_punch(size: RacewaySize) -> Knockout:
    """The hole a usual field punch of that size cuts; its limits, unknown, equal it. Raises NotInTables."""
    if size.type == METRIC:
        row = _find("metric_holes", "size", size)
        diameter = row.inches("punch") / MM_PER_INCH
    else:
        row = _find("field_punches", "trade size", size)
        diameter = row.inches("diameter")
    return Knockout(size.trade_size, diameter, diameter, diameter, row.source, row.provenance)


def _find(table: str, column: str, size: RacewaySize) -> TableRow:
    rows = [row for row in read_table(table).rows if row.text(column) == size.trade_size]
    if len(rows) > 1:
        raise rows[1].damaged(f"size {size.trade_size} stands twice")
    if rows:
        return rows[0]
    if table == "field_punches":
        raise NotInTables(
            f"What a field punch of trade size {size.trade_size} cuts is not known.",
            "Measure the punch and write its diameter, or write hole: knockout for the standard knockout.",
        )
    raise NotInTables(f"No hole is listed for trade size {size.trade_size}.", "Write the hole's diameter.")
