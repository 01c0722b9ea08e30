"""Turns a sheet into rows of cells that are understood, and a list of those that are not."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from templates_engine.errors import Problem
from templates_engine.job.text.key_paths import shown
from templates_engine.office.schedules.cell_places import (
    CellPlace,
    ReadCell,
    ReadRow,
    column_letters,
    sheet_words,
)
from templates_engine.office.schedules.cell_values import CellError
from templates_engine.office.schedules.cells import read_cell
from templates_engine.office.schedules.fields import MARK, RACEWAY, SIZE, ScheduleField, known_headings, plain
from templates_engine.office.schedules.headings import Headings
from templates_engine.office.schedules.read_sheets import Raw, ScheduleProblems, ScheduleSheet
from templates_engine.outputs import TABLE_CODE
from templates_engine.trade.not_in_tables import nearest
from templates_engine.values import Struct

_HEADING_ROWS = 20
"""How far down the headings are looked for."""
OWN_SHEET = "raceways"
"""What the sheet of an exported workbook is called that can be read in again."""


class Schedule(Struct, frozen=True):
    """The rows of a schedule, what is wrong with cells, and what is to be told of others."""

    rows: tuple[ReadRow, ...]
    problems: tuple[Problem, ...]
    notes: tuple[str, ...]


class _Column(Struct, frozen=True):
    """A column that is used."""

    at: int
    heading: str
    field: ScheduleField
    unit: str


class _Found(Struct, frozen=True):
    """A sheet with the row its headings stand in, and its columns."""

    sheet: ScheduleSheet
    row: int
    columns: tuple[_Column, ...]


def read_table(
    sheets: Sequence[ScheduleSheet], headings: Headings, sheet_name: str | None = None
) -> Schedule:
    """The schedule in a file's sheets. Raises ScheduleProblems where there is none, or more than one."""
    found = _the_schedule(sheets, headings, sheet_name)
    problems: list[Problem] = []
    notes = [*_other_sheets(sheets, found.sheet), *_not_used(found, headings)]
    _refuse_twice(found, problems)
    rows = []
    for at in range(found.row + 1, len(found.sheet.rows)):
        row = _read_row(found, at, headings, problems, notes)
        if row is not None:
            rows.append(row)
    if not rows and not problems:
        problems.append(
            _place(found.sheet).problem("No raceway stands below the headings.", "Write one a row.")
        )
    return Schedule(tuple(rows), tuple(problems), tuple(notes))


# --- which sheet, which row ---------------------------------------------------------------------------------


def _the_schedule(sheets: Sequence[ScheduleSheet], headings: Headings, sheet_name: str | None) -> _Found:
    if sheet_name is not None:
        sheets = _named(sheets, sheet_name)
    found = [one for sheet in sheets if (one := _with_headings(sheet, headings)) is not None]
    own = [one for one in found if one.sheet.name == OWN_SHEET]
    if len(own or found) == 1:
        return (own or found)[0]
    file = sheets[0].file if sheets else ""
    if found:
        words = ", ".join(one.sheet.name for one in found)
        wrong, remedy = f"Several sheets look like schedules: {words}.", "Name one with --sheet."
    else:
        wrong = f"No row of headings is in the first {_HEADING_ROWS} rows{_best_guess(sheets, headings)}."
        remedy = (
            "Write enclosure, face, type and size above their columns, or name what the schedule calls them "
            "in a file of --headings."
        )
    raise ScheduleProblems([Problem(wrong, remedy, file)])


def _named(sheets: Sequence[ScheduleSheet], name: str) -> list[ScheduleSheet]:
    asked = [sheet for sheet in sheets if sheet.name.lower() == name.strip().lower()]
    if not asked:
        words = ", ".join(sheet.name for sheet in sheets if sheet.name) or "none, as CSV has no sheets"
        raise ScheduleProblems(
            [Problem(f"There is no sheet '{name}'.", f"There are: {words}.", sheets[0].file)]
        )
    return asked


def _with_headings(sheet: ScheduleSheet, headings: Headings) -> _Found | None:
    """The sheet with the row that has most known headings, if those make a schedule."""
    tried = [_Found(sheet, at, tuple(_columns(sheet, at, headings))) for at in range(_looked_at(sheet))]
    best = max(tried, key=lambda one: len({column.field for column in one.columns}), default=None)
    if best is None:
        return None
    known = {column.field.heading for column in best.columns}
    has_mark = MARK.heading in known or MARK.heading in headings.values
    return best if has_mark and known & {SIZE.heading, RACEWAY.heading} else None


def _looked_at(sheet: ScheduleSheet) -> int:
    return min(_HEADING_ROWS, len(sheet.rows))


def _columns(sheet: ScheduleSheet, row: int, headings: Headings) -> Iterator[_Column]:
    for at, cell in enumerate(sheet.rows[row]):
        meant = headings.column_of(cell) if isinstance(cell, str) else None
        if meant is not None and meant[0] is not None:
            yield _Column(at, " ".join(str(cell).split()), meant[0], meant[1])


def _best_guess(sheets: Sequence[ScheduleSheet], headings: Headings) -> str:
    """What headings were found after all, in words."""
    known = {
        column.field.heading
        for sheet in sheets
        for row in range(_looked_at(sheet))
        for column in _columns(sheet, row, headings)
    }
    return f"; found were only: {', '.join(sorted(known))}" if known else ""


def _refuse_twice(found: _Found, problems: list[Problem]) -> None:
    """One column a heading: which of two would hold?"""
    seen: dict[str, _Column] = {}
    for column in found.columns:
        first = seen.setdefault(column.field.heading, column)
        if first is not column:
            wrong = (
                f"Column {column_letters(first.at)} ({first.heading}) means the same: {column.field.heading}."
            )
            remedy = "Keep one, or say in a file of --headings which is not used."
            problems.append(_place(found.sheet, found.row, column).problem(wrong, remedy))


def _other_sheets(sheets: Sequence[ScheduleSheet], used: ScheduleSheet) -> Iterator[str]:
    for sheet in sheets:
        if sheet is not used and sheet.rows and used.name != OWN_SHEET:
            yield f"{sheet.file}: sheet {sheet.name} is not read."


def _not_used(found: _Found, headings: Headings) -> Iterator[str]:
    """The columns that are left alone though something stands in them."""
    used = {column.at for column in found.columns}
    headings_row = found.sheet.rows[found.row]
    for at in range(max(map(len, found.sheet.rows))):
        below = [row[at] for row in found.sheet.rows[found.row + 1 :] if at < len(row) and row[at] != ""]
        heading = str(headings_row[at]) if at < len(headings_row) else ""
        is_ours = heading.startswith(TABLE_CODE)
        if at in used or not below or is_ours or headings.column_of(heading) == (None, ""):
            continue
        near = nearest(plain(heading), known_headings()) if heading else None
        end = f"; did you mean {near}?" if near else "."
        name = f" ({shown(heading)})" if heading else ", which has no heading,"
        place = f"{found.sheet.file}: {sheet_words(found.sheet.name)}column {column_letters(at)}{name}"
        yield f"{place} is not used{end}"


# --- rows ---------------------------------------------------------------------------------------------------


def _read_row(
    found: _Found, at: int, headings: Headings, problems: list[Problem], notes: list[str]
) -> ReadRow | None:
    """A row's cells, None for an empty one; adds what is wrong and what is to be told."""
    if found.sheet.rows[at] == found.sheet.rows[found.row]:  # headings once more, as on a new page
        return None
    cells: dict[str, ReadCell] = {}
    is_whole = True
    for column in found.columns:
        place = _place(found.sheet, at, column)
        try:
            why = found.sheet.unreadable.get((at, column.at))
            if why:
                raise CellError(f"The cell {why}.", "Type what it should say, or mend and save it again.")
            cell = read_cell(_raw(found.sheet, at, column.at), column.field, column.unit)
        except CellError as error:
            problems.append(place.problem(error.message, error.remedy))
            is_whole = False
            continue
        if cell is not None:
            cells[column.field.heading] = ReadCell(column.field, cell.value, place)
            if cell.told:
                notes.append(place.note(cell.told))
    if not cells and is_whole:
        return None
    return ReadRow(_place(found.sheet, at), {**headings.values, **cells}, is_whole)


def _raw(sheet: ScheduleSheet, row: int, column: int) -> Raw:
    cells = sheet.rows[row]
    return cells[column] if column < len(cells) else ""


def _place(sheet: ScheduleSheet, row: int | None = None, column: _Column | None = None) -> CellPlace:
    parts = [f"sheet {sheet.name}"] if sheet.name else []
    parts += [f"row {row + 1}"] if row is not None else []
    parts += [f"column {column_letters(column.at)} ({column.heading})"] if column else []
    return CellPlace(sheet.file, ", ".join(parts), 0 if row is None else row + 1, column is not None)
