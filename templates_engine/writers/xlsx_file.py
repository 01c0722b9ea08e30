"""Turns typed tables into a workbook, a sheet each: headings that stay in sight, text that stays text."""

from __future__ import annotations

import datetime
import io
import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

import xlsxwriter

from templates_engine.outputs import BOOK_MARK, MAKER
from templates_engine.writers.typed_table import Cell, TypedTable

if TYPE_CHECKING:
    from xlsxwriter.format import Format
    from xlsxwriter.worksheet import Worksheet

_NO_TIME = datetime.datetime(2000, 1, 1)
"""Same job, same bytes: a workbook says no time of its own."""
_NARROWEST, _WIDEST = 6, 60
"""Characters of a column."""
_LETTER_PAPER = 1
_CHARACTERS_A_PAGE = 200
"""Columns of so many characters side by side on a page are still read; about half the usual size."""


def xlsx_bytes(tables: Sequence[TypedTable]) -> bytes:
    """The workbook; every figure a number, every text a text, whatever it begins with."""
    file = io.BytesIO()
    options = {"in_memory": True, "strings_to_formulas": False, "strings_to_urls": False}
    with xlsxwriter.Workbook(file, options) as book:
        book.set_properties({"author": MAKER, "created": _NO_TIME})
        bold = book.add_format({"bold": True, "bottom": 1, "text_wrap": True, "valign": "top"})
        plain = book.add_format({"valign": "top", "text_wrap": True})
        on_one_line = book.add_format({"text_wrap": False})
        for table in tables:
            _write(book.add_worksheet(table.name), table, bold, plain, on_one_line)
    return _marked(file.getvalue())


def _write(sheet: Worksheet, table: TypedTable, bold: Format, plain: Format, on_one_line: Format) -> None:
    for at, column in enumerate(table.columns):
        sheet.set_column(at, at, _width(table, at), plain)
        _write_cell(sheet, 0, at, column.heading, bold)
    for number, row in enumerate(table.rows, start=1):
        for at, cell in enumerate(row):
            _write_cell(sheet, number, at, cell)
    for number, note in enumerate(table.notes, start=len(table.rows) + 2):
        _write_cell(sheet, number, 0, note, on_one_line)
    sheet.freeze_panes(1, 0)
    if table.rows:
        sheet.autofilter(0, 0, len(table.rows), len(table.columns) - 1)
    _set_up_print(sheet, table)


def _write_cell(sheet: Worksheet, row: int, column: int, cell: Cell, look: Format | None = None) -> None:
    if cell is None or cell == "":
        return
    write = sheet.write_string if isinstance(cell, str) else sheet.write_number
    if write(row, column, cell, look):
        raise ValueError(f"no workbook holds this much: row {row + 1}, {str(cell)[:40]}")


def _set_up_print(sheet: Worksheet, table: TypedTable) -> None:
    """As wide as pages can be read, the headings and the first column on every page."""
    sheet.set_landscape()
    sheet.set_paper(_LETTER_PAPER)
    width = sum(_width(table, at) for at in range(len(table.columns)))
    sheet.fit_to_pages(math.ceil(width / _CHARACTERS_A_PAGE), 0)
    sheet.repeat_rows(0)
    sheet.repeat_columns(0)
    sheet.set_footer(f"&L{table.name}&RPage &P of &N")


def _width(table: TypedTable, at: int) -> int:
    cells = (row[at] for row in table.rows)
    longest = max((len(str(cell)) for cell in cells if cell is not None), default=0)
    return min(max(longest, len(table.columns[at].heading), _NARROWEST) + 2, _WIDEST)


def _marked(data: bytes) -> bytes:
    """The archive with a comment by which a later run knows it as its own."""
    return data[:-2] + len(BOOK_MARK).to_bytes(2, "little") + BOOK_MARK
