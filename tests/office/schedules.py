"""Small schedules for tests, written by libraries that the program does not read them with."""

from __future__ import annotations

import csv
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import openpyxl
from odf.opendocument import OpenDocumentSpreadsheet
from odf.table import CoveredTableCell, Table, TableCell, TableRow
from odf.text import P

HEADINGS = (
    "Panel", "Job", "Width", "Height", "Depth", "Back gap", "Side", "Row", "Strut", "Gap", "Place",
    "Conduit type", "Trade size", "Qty", "To", "Length (ft)",
)  # fmt: skip
CAN = ("Lakeside school", "20", "40", "5-3/4 in", "1/4 in")
ROW = ("1-5/8 in", "1 in", "centred")


def raceway(mark: str, size: Any, to: Any = "", **other: Any) -> tuple[Any, ...]:
    """One row under HEADINGS; ``other`` by the first word of its heading."""
    row = dict(zip(HEADINGS, (mark, *CAN, "top", "A", *ROW, "EMT", size, "", to, ""), strict=True))
    for word, value in other.items():
        (heading,) = (one for one in HEADINGS if one.split()[0].lower() == word)
        row[heading] = value
    return tuple(row.values())


def write_csv(
    path: Path, rows: Sequence[Sequence[Any]], delimiter: str = ",", encoding: str = "utf-8"
) -> Path:
    with path.open("w", newline="", encoding=encoding) as file:
        csv.writer(file, delimiter=delimiter).writerows(rows)
    return path


def write_xlsx(path: Path, rows: Sequence[Sequence[Any]], *merged: str, sheet: str = "Feeders") -> Path:
    book = openpyxl.Workbook()
    book.active.title = sheet
    for row in rows:
        book.active.append(list(row))
    for cells in merged:
        book.active.merge_cells(cells)
    book.save(path)
    return path


def write_ods(
    path: Path, rows: Sequence[Sequence[Any]], down: dict[tuple[int, int], int] | None = None
) -> Path:
    """``down``: how many rows a cell is merged over, by its row and column from 0."""
    book = OpenDocumentSpreadsheet()
    table = Table(name="Feeders")
    spans = down or {}
    covered = {(row + step, column) for (row, column), rows in spans.items() for step in range(1, rows)}
    for number, row in enumerate(rows):
        line = TableRow()
        for at, value in enumerate(row):
            span = (
                {"numberrowsspanned": spans[number, at], "numbercolumnsspanned": 1}
                if (number, at) in spans
                else {}
            )
            if (number, at) in covered:
                line.addElement(CoveredTableCell())
            elif isinstance(value, int | float):
                line.addElement(TableCell(valuetype="float", value=str(value), **span))
            elif hasattr(value, "isoformat"):
                line.addElement(TableCell(valuetype="date", datevalue=value.isoformat(), **span))
            else:
                cell = TableCell(valuetype="string", **span)
                cell.addElement(P(text=str(value)))
                line.addElement(cell)
        table.addElement(line)
    book.spreadsheet.addElement(table)
    book.save(path)
    return path
