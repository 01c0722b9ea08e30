"""Turns a schedule (CSV, XLSX, ODS) into sheets of cells, values only: no formula is ever run."""

from __future__ import annotations

import csv
import datetime
import io
from collections.abc import Sequence
from pathlib import Path

from templates_engine.errors import Problem, TemplatesError
from templates_engine.job.text.file import file_name
from templates_engine.office.schedules.spreadsheet_scan import (
    DAMAGED,
    MOST_COLUMNS,
    MOST_PACKED,
    MOST_ROWS,
    TOO_LARGE,
    Scan,
    Unusable,
    scan,
)
from templates_engine.values import Struct

Raw = str | float | int | bool | datetime.date | datetime.time | datetime.timedelta
"""A cell's value; a datetime is a date too."""
_DELIMITERS = ",;\t"
_HEADING_LINES = 20
"""How far down the headings are looked for."""


class ScheduleProblems(TemplatesError):
    """A schedule that cannot be used, or cells of it."""


class ScheduleSheet(Struct, frozen=True):
    """One sheet: its cells from the first row and column on, and those that cannot be read, with the reason.

    Cells merged downward all hold what the first does.
    """

    file: str
    name: str
    """Empty for CSV, which has but one."""
    rows: tuple[tuple[Raw, ...], ...]
    unreadable: dict[tuple[int, int], str]


def read_sheets(path: Path) -> tuple[ScheduleSheet, ...]:
    """All sheets of a schedule. Raises ScheduleProblems."""
    file = file_name(path)
    try:
        data = _bytes(path)
        if data.startswith(b"PK"):
            return _packed(data, file)
        return (ScheduleSheet(file, "", _csv_rows(data), {}),)
    except Unusable as error:
        raise ScheduleProblems([Problem(error.message, error.remedy, file)]) from error


def _bytes(path: Path) -> bytes:
    try:
        if path.is_dir():
            raise Unusable("This is a folder, not a schedule.", "Name the schedule inside it.")
        if path.exists() and not path.is_file():
            raise Unusable("This is not an ordinary file.", "Save the schedule as a file and name that.")
        with path.open("rb") as stream:
            data = stream.read(MOST_PACKED + 1)
    except (OSError, ValueError) as error:
        why = getattr(error, "strerror", None) or str(error)
        raise Unusable(
            f"It cannot be read: {why.lower()}.", "Check its name and where it is kept."
        ) from error
    if len(data) > MOST_PACKED:
        raise TOO_LARGE
    return data


# --- XLSX and ODS -------------------------------------------------------------------------------------------


def _packed(data: bytes, file: str) -> tuple[ScheduleSheet, ...]:
    scans = {one.name: one for one in scan(data)}
    return tuple(
        ScheduleSheet(file, name, rows, scans[name].unreadable if name in scans else {})
        for name, rows in _read_packed(data, scans)
    )


def _read_packed(data: bytes, scans: dict[str, Scan]) -> list[tuple[str, tuple[tuple[Raw, ...], ...]]]:
    import python_calamine

    try:
        book = python_calamine.CalamineWorkbook.from_filelike(io.BytesIO(data))
        sheets = []
        for name in book.sheet_names:
            sheet = book.get_sheet_by_name(name)
            merged = [
                (left, top, bottom)
                for (top, left), (bottom, _) in sheet.merged_cell_ranges or ()
                if bottom > top
            ]
            merged += scans[name].merged if name in scans else ()
            rows = [list(row) for row in sheet.to_python(skip_empty_area=False)]
            sheets.append((name, _filled_down(rows, merged)))
    except (KeyboardInterrupt, SystemExit):
        raise
    except BaseException as error:  # the library's own fault is no Exception
        raise DAMAGED from error
    return sheets


def _filled_down(
    rows: list[list[Raw]], merged: Sequence[tuple[int, int, int]]
) -> tuple[tuple[Raw, ...], ...]:
    """The rows with what stands in the first of merged cells in all of them."""
    for column, first, last in merged:
        for row in rows[first + 1 : last + 1]:
            if column < len(row) and row[column] == "":
                row[column] = rows[first][column]
    return tuple(tuple(row) for row in rows)


# --- CSV ----------------------------------------------------------------------------------------------------


def _csv_rows(data: bytes) -> tuple[tuple[Raw, ...], ...]:
    text = _csv_text(data)
    try:
        rows = tuple(
            tuple(row) for row in csv.reader(io.StringIO(text, newline=""), delimiter=_delimiter(text))
        )
    except csv.Error as error:
        raise Unusable(f"It is no table: {error}.", "Save the schedule as CSV once more.") from error
    if len(rows) > MOST_ROWS or max(map(len, rows), default=0) > MOST_COLUMNS:
        raise TOO_LARGE
    return rows


def _csv_text(data: bytes) -> str:
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise Unusable("It is saved as UTF-16.", "Save it as CSV in UTF-8.")
    if data.startswith(b"\xd0\xcf\x11\xe0"):
        raise Unusable("It is an older kind of spreadsheet.", "Save it as .xlsx, .ods or .csv.")
    if b"\0" in data:
        raise Unusable("It is no schedule.", "Save the schedule as .xlsx, .ods or .csv.")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        wrong = f"A character on line {line} is not UTF-8 (byte {data[error.start]:#04x})."
        raise Unusable(wrong, "Save it as CSV in UTF-8.") from error


def _delimiter(text: str) -> str:
    """What parts the cells: the sign of which a line near the beginning has most."""
    lines = text.splitlines()[:_HEADING_LINES]
    return max(_DELIMITERS, key=lambda sign: max((line.count(sign) for line in lines), default=0))
