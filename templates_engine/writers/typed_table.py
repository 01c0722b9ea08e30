"""Turns a table of typed cells into CSV or text to read; a workbook of them is `xlsx_file.py`'s."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence
from typing import Literal

from templates_engine.outputs import TABLE_CODE, signed_table
from templates_engine.values import Struct
from templates_engine.writers.plain_numbers import number
from templates_engine.writers.text_table import aligned

Cell = str | float | int | None
Kind = Literal["text", "whole", "number", "wide text"]

_STARTS_A_FORMULA = ("=", "+", "-", "@", "＝", "＋", "－", "＠")
_BREAKS = {ord(each): " " for each in "\t\r\n\v\f\0\x85\u2028\u2029"}


class TypedColumn(Struct, frozen=True):
    """A heading and what stands below it; wide text is wrapped where there is a way to."""

    heading: str
    kind: Kind = "text"


class TypedTable(Struct, frozen=True):
    """Rows of cells under headings, with what has to be said of them below."""

    name: str
    columns: tuple[TypedColumn, ...]
    rows: tuple[tuple[Cell, ...], ...]
    notes: tuple[str, ...] = ()


def table_text(table: TypedTable) -> str:
    """Columns to read, numbers in line at their end; those without a single cell are left out."""
    kept = [at for at in range(len(table.columns)) if any(row[at] not in (None, "") for row in table.rows)]
    columns = [table.columns[at] for at in kept]
    right = frozenset(at for at, column in enumerate(columns) if column.kind in ("whole", "number"))
    rows = [[_words(row[at]) for at in kept] for row in table.rows]
    return aligned([column.heading for column in columns], rows, right)


def table_csv(table: TypedTable) -> bytes:
    """The table alone, with a code by which a later run knows that nobody else changed it."""
    headings = [*(column.heading for column in table.columns), TABLE_CODE]
    return signed_table(csv_lines(headings, ([*map(_words, row), ""] for row in table.rows)))


def csv_lines(headings: Iterable[str], rows: Iterable[Sequence[Cell]]) -> bytes:
    """A heading line and a line a row, safe to open in a spreadsheet."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(headings)
    writer.writerows([_csv_cell(cell) for cell in row] for row in rows)
    return text.getvalue().encode("utf-8", "replace")


def _words(cell: Cell) -> str:
    if cell is None:
        return ""
    return cell if isinstance(cell, str) else number(cell)


def _csv_cell(cell: Cell) -> str:
    """A number, or a text on one line with an apostrophe before what a spreadsheet would run as a formula."""
    if not isinstance(cell, str):
        return _words(cell)
    text = cell.translate(_BREAKS)
    return f"'{text}" if text.lstrip(" \N{NO-BREAK SPACE}").startswith(_STARTS_A_FORMULA) else text
