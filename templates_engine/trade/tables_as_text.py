"""Turns every table of trade figures into rows of text with their sources; leaves printing them to others."""

from __future__ import annotations

from templates_engine.trade.raceways import METRIC, types_meant
from templates_engine.trade.tables import read_table, table_names
from templates_engine.values import Struct, replace


class Table(Struct, frozen=True):
    """One table as text: its headings and rows, source and how it was had last."""

    name: str
    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    note: str


def tables() -> tuple[Table, ...]:
    """Every table of the package, by name."""
    return tuple(_table(name) for name in table_names())


def rows_of_type(text: str) -> tuple[Table, ...]:
    """Of every table the rows for one raceway type, however the type is written, or for all types it may mean
    ("PVC"); none for another name.
    """
    names = types_meant(text)
    if METRIC in names:
        return tuple(table for table in tables() if table.name == "metric conduit")
    found = (replace(table, rows=tuple(row for row in table.rows if row[0] in names)) for table in tables())
    return tuple(table for table in found if table.rows)


def _table(name: str) -> Table:
    table = read_table(name)
    grouped = any(row.group for row in table.rows)
    headings = (*(("for",) if grouped else ()), *table.columns, "source", "how it was had")
    rows = tuple(
        (*((row.group,) if grouped else ()), *(cell for _, cell in row.cells), row.source, row.provenance)
        for row in table.rows
    )
    note = f"{table.title}. {table.note}".strip()
    return Table(name.replace("_", " "), headings, rows, note)
