"""Holds where a cell of a schedule stands, in words, and the cell as read."""

from __future__ import annotations

from templates_engine.errors import Problem
from templates_engine.job.text.edit import Value
from templates_engine.office.schedules.fields import ScheduleField
from templates_engine.values import Struct


class CellPlace(Struct, frozen=True):
    """A cell or a row: the file, and the place in it as one finds it in a spreadsheet program."""

    file: str
    words: str
    """ "sheet Feeders, row 7, column C (size)"."""
    row: int = 0
    is_cell: bool = True
    """Whether it is one cell, not a row."""

    def problem(self, message: str, remedy: str) -> Problem:
        """What is wrong there."""
        return Problem(message, remedy, self.file, key=self.words)

    def note(self, words: str) -> str:
        """What is to be known of it, on a line."""
        return f"{self.file}: {self.words}: {words}"


class ReadCell(Struct, frozen=True):
    """A cell's value as it stands in a job file."""

    field: ScheduleField
    value: Value
    place: CellPlace


class ReadRow(Struct, frozen=True):
    """One raceway of a schedule: its cells by the headings of their columns."""

    place: CellPlace
    cells: dict[str, ReadCell]
    is_whole: bool = True
    """Whether every cell of it could be read."""

    def text(self, field: ScheduleField) -> str:
        """A cell's text; empty where there is none."""
        cell = self.cells.get(field.heading)
        return cell.value if cell is not None and isinstance(cell.value, str) else ""


def sheet_words(sheet: str) -> str:
    """How a place begins that is in a sheet; CSV has none."""
    return f"sheet {sheet}, " if sheet else ""


def column_letters(column: int) -> str:
    """A column's name in a spreadsheet program, from its number from 0: A, B, ..., Z, AA."""
    letters = ""
    column += 1
    while column:
        column, rest = divmod(column - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters
