"""Turns job files as they are written into the rows of a schedule that can be read in again."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from string import ascii_uppercase
from typing import Any

from templates_engine.job.text.edit import content
from templates_engine.job.text.key_paths import value_at
from templates_engine.office.schedules.cell_values import CellError
from templates_engine.office.schedules.cells import read_cell, with_unit
from templates_engine.office.schedules.fields import (
    COUNT,
    FIELDS,
    ID,
    MARK,
    RACEWAY,
    ROW,
    Level,
    ScheduleField,
)
from templates_engine.office.schedules.ids import counted_out, entries_of
from templates_engine.office.schedules.read_table import OWN_SHEET
from templates_engine.office.schedules.same_meaning import is_same, unit_of
from templates_engine.units import Unit
from templates_engine.values import Struct
from templates_engine.writers.typed_table import Cell, TypedColumn, TypedTable

COLUMNS = tuple(one for one in FIELDS if one is not RACEWAY)
_COLUMN_FOR_FILE = next(one for one in FIELDS if one.heading == "job file")


class ScheduleRows:
    """The table while it is filled, and what of the jobs it does not hold."""

    def __init__(self) -> None:
        self._rows: list[tuple[Cell, ...]] = []
        self.not_told: list[tuple[str, str, str]] = []
        """Enclosure, file and what of it no cell holds."""

    @property
    def table(self) -> TypedTable:
        """All rows, the columns in which nothing stands left out."""
        used = [at for at in range(len(COLUMNS)) if any(row[at] is not None for row in self._rows)]
        columns = tuple(TypedColumn(COLUMNS[at].heading, _kind(COLUMNS[at])) for at in used)
        return TypedTable(OWN_SHEET, columns, tuple(tuple(row[at] for at in used) for row in self._rows))

    def add(self, file: str, mark: str, text: str) -> None:
        """A job's raceways, a row an entry; ``mark`` is what its enclosure is called."""
        job = content(text)
        written = _Written(file, mark, unit_of(job.get("units")), self.not_told)
        shared = {_COLUMN_FOR_FILE: file, **written.cells(job, "job"), **written.cells(job, "enclosure")}
        for face in job["faces"]:
            of_face = written.cells(face, "face")
            for letter, row in zip(ascii_uppercase, face["rows"], strict=False):
                of_row = {**of_face, **written.cells(row, "row"), ROW: letter}
                for id, raceway in zip(_first_ids(row["raceways"], letter), row["raceways"], strict=True):
                    told = {**shared, **of_row, **written.cells(raceway, "raceway"), ID: id, MARK: mark}
                    self._rows.append(tuple(told.get(one) for one in COLUMNS))


class _Written(Struct, frozen=True):
    """A job as it is written."""

    file: str
    mark: str
    unit: Unit
    not_told: list[tuple[str, str, str]]

    def cells(self, table: Any, level: Level) -> dict[ScheduleField, Cell]:
        """The cells of what stands in a table of the job file; what no cell can hold is noted once."""
        cells: dict[ScheduleField, Cell] = {}
        for field in (one for one in COLUMNS if one.level == level and one.path):
            value = value_at(table, field.path)
            cell = None if value is None else _cell(field, value, self.unit, table)
            if cell is not None:
                cells[field] = cell
            elif value is not None:
                words = f"{field.heading} is not in the schedule: no cell holds what the job says"
                note = (self.mark, self.file, words)
                if note not in self.not_told:
                    self.not_told.append(note)
        return cells


def _kind(field: ScheduleField) -> Any:
    return "whole" if field.kind == "number" else "text"


def _first_ids(raceways: Sequence[Any], letter: str) -> list[str]:
    """Each entry's id, that of its first raceway, as the reader of jobs names it."""
    places = counted_out(entries_of(raceways), letter)
    first: dict[int, str] = {}
    for id, place in places.items():
        first.setdefault(place, id)
    return [str(one.get("id", first[at])) for at, one in enumerate(raceways)]


# --- values to cells ----------------------------------------------------------------------------------------


def _cell(field: ScheduleField, value: Any, unit: Unit, table: Any) -> Cell:
    """A value as a cell that is read as the same; None where there is no such cell."""
    words = _words(field, value, unit, table)
    if words is None:
        return None
    try:
        read = read_cell(words, field, "")
    except CellError:
        return None
    if read is None or not is_same(field, value, read.value, unit):
        return None
    return int(words) if field is COUNT or (field.kind == "number" and words.isdecimal()) else words


def _words(field: ScheduleField, value: Any, unit: Unit, table: Any) -> str | None:
    match field.kind:
        case "strut":
            return " + ".join(with_unit(one, unit) for one in (value if isinstance(value, list) else [value]))
        case "length" | "run" if isinstance(value, str):
            return with_unit(value, unit)
        case "place":
            return _place(value, unit)
        case "size" if isinstance(value, str):
            is_metric = str(table.get("type", "")).lower() == "metric"
            return with_unit(value, "mm" if is_metric else "in")
        case "circuits":
            return ", ".join(_circuits(value))
        case "wire" | "ground":
            return _wire(value)
        case "conductors":
            return ", ".join(_conductors(value))
    return value if isinstance(value, str) else None


def _place(value: Any, unit: Unit) -> str:
    if isinstance(value, str):
        return value
    if "spread" in value:
        low, high = (with_unit(value["spread"][key], unit) for key in ("from", "to"))
        return f"spread from {low} to {high}"
    return f"{with_unit(value['distance'], unit)} from {value['from']} to {value['to']}"


def _circuits(value: Any) -> Iterator[str]:
    for one in value:
        if isinstance(one, str):
            yield one
            continue
        breaker = f" at {one['breaker']}" if "breaker" in one else ""
        without = " no neutral" if str(one.get("neutral", "")).lower() in ("no", "false") else ""
        yield "+".join(one["spaces"]) + breaker + without


def _wire(value: Any) -> str:
    if isinstance(value, str):
        return value
    return " ".join(part for key in ("size", "insulation", "metal") if (part := value.get(key)))


def _conductors(value: Any) -> Iterator[str]:
    for one in value:
        parallel = f" {one['in parallel']} in parallel" if "in parallel" in one else ""
        device = f" protected by {one['protected by']}" if "protected by" in one else ""
        yield f"{one['count']} x {_wire(one)} {one.get('use', '')}".rstrip() + parallel + device
