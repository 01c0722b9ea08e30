"""Turns what a schedule says of an enclosure into changes of the job file that is there, in its text, so that
all else in it stays.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from templates_engine.errors import Problem
from templates_engine.job.help.key_order import keys_in_order
from templates_engine.job.text.edit import CannotEdit, Value, content, put
from templates_engine.job.text.key_paths import KeyPath, value_at
from templates_engine.office.schedules.cell_places import CellPlace, ReadCell
from templates_engine.office.schedules.ids import RowEntry, entries_of, pair
from templates_engine.office.schedules.job_tree import rows_missing, tree_of
from templates_engine.office.schedules.same_meaning import in_unit, is_same, unit_of
from templates_engine.office.schedules.scheduled_jobs import (
    ScheduledFace,
    ScheduledJob,
    ScheduledRaceway,
    ScheduledRow,
)
from templates_engine.units import Unit

_BY_HAND = "Change it in the job file by hand."
_NOT_COMPARED = ("id", "count")
"""Columns that say which raceways are meant."""


@dataclass
class Edited:
    """A job file's text as it becomes, the cells its new values come from, and what is to be told."""

    text: str
    file: str
    places: dict[KeyPath, CellPlace] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)


def edited(text: str, file: str, job: ScheduledJob) -> Edited:
    """The text with what the schedule says put in. Raises CannotEdit for a text that is no job at all."""
    changes = _Changes(Edited(text, file), job, unit_of(content(text).get("units")))
    changes.make()
    return changes.result


class _Changes:
    """The changes of one file, made one after the other."""

    def __init__(self, result: Edited, job: ScheduledJob, unit: Unit) -> None:
        self.result, self._job, self._unit = result, job, unit
        self._content = content(result.text)
        self._tree = tree_of(job, self._adapted)

    def make(self) -> None:
        self._say_all(
            (), [cell for cell in self._job.cells if cell.field.heading not in ("enclosure", "units")]
        )
        for number, face in enumerate(self._job.faces):
            faces = self._at(("faces",)) or []
            at = next((at for at, one in enumerate(faces) if _word(one, "face") == face.word), len(faces))
            if at == len(faces):
                self.result.problems += rows_missing(face)
                self._put_new(("faces", number), ("faces", at))
            else:
                self._change_face(("faces", at), ("faces", number), face)

    def _change_face(self, path: KeyPath, scheduled: KeyPath, face: ScheduledFace) -> None:
        self._say_all(path, [cell for cell in face.cells if cell.field.heading != "face"])
        for number, row in enumerate(face.rows):
            at, place = ord(row.letter) - ord("A"), row.raceways[0].place
            there = len(self._at((*path, "rows")) or [])
            here = (*scheduled, "rows", number)
            if at < there:
                self._change_row((*path, "rows", at), here, row)
            elif at == there:
                self._put_new(here, (*path, "rows", at))
            else:
                wrong = f"Row {row.letter} of the {face.word} has no row before it in {self.result.file}."
                self.result.problems.append(place.problem(wrong, "Name it as the next row."))

    def _change_row(self, path: KeyPath, scheduled: KeyPath, row: ScheduledRow) -> None:
        """What the schedule says of a row that is there, and of its raceways, which go by their ids."""
        self._say_all(path, row.cells)
        wanted = [RowEntry(one.text("id"), _count(one)) for one in row.raceways]
        pairing = pair(wanted, entries_of(self._at((*path, "raceways")) or []), row.letter)
        if pairing is None:
            wrong = f"{self.result.file} has more raceways in row {row.letter} than the schedule."
            remedy = "Add a column id, so that one can tell which are gone, or take them out of the job file."
            self.result.problems.append(row.raceways[0].place.problem(wrong, remedy))
            return
        for entry, (numbers, is_all) in pairing.known.items():
            self._change_entry((*path, "raceways", entry), [row.raceways[one] for one in numbers], is_all)
        for entry, count in pairing.grown:
            self._put((*path, "raceways", entry, "count"), str(count), row.raceways[-1].place)
        for number in pairing.unclear:
            wrong = (
                "What is new here is not at the end of the row, or only a part of this row of the schedule."
            )
            self.result.problems.append(row.raceways[number].place.problem(wrong, _BY_HAND))
        for number in pairing.new:
            at = len(self._at((*path, "raceways")) or [])
            self._put_new((*scheduled, "raceways", number), (*path, "raceways", at))
        for id in pairing.left:
            where = f"{self.result.file}: {id} of row {row.letter}"
            self.result.notes.append(f"{where} is not in the schedule; it is left as it is.")

    def _change_entry(self, path: KeyPath, said: Sequence[ScheduledRaceway], is_all: bool) -> None:
        """One entry of the file, which may be several raceways alike; ``is_all`` where all are scheduled."""
        by_heading: dict[str, list[ReadCell]] = {}
        for cell in (cell for one in said for cell in one.cells if cell.field.heading not in _NOT_COMPARED):
            by_heading.setdefault(cell.field.heading, []).append(cell)
        for cells in by_heading.values():
            first = cells[0]
            alike = len(cells) == len(said) and all(
                is_same(first.field, first.value, cell.value, self._job.unit) for cell in cells
            )
            if alike and is_all:
                self._say(path, first)
            elif any(self._differs(path, cell) for cell in cells):
                wrong = (
                    f"{self.result.file} has several raceways in one entry, and this changes a part of them."
                )
                self.result.problems.append(first.place.problem(wrong, _BY_HAND))

    # --- single values ---

    def _say_all(self, path: KeyPath, cells: Sequence[ReadCell]) -> None:
        for cell in cells:
            self._say(path, cell)

    def _say(self, path: KeyPath, cell: ReadCell) -> None:
        """Puts a cell's value in where the file says something else."""
        full = (*path, *cell.field.path)
        self.result.places[full] = cell.place
        if self._differs(path, cell):
            self._put(full, self._adapted(cell), cell.place)

    def _differs(self, path: KeyPath, cell: ReadCell) -> bool:
        old = self._at((*path, *cell.field.path))
        return old is None or not is_same(cell.field, old, self._adapted(cell), self._unit)

    def _adapted(self, cell: ReadCell) -> Value:
        return in_unit(cell.field, cell.value, self._job.unit, self._unit)

    def _put_new(self, scheduled: KeyPath, path: KeyPath) -> None:
        """Puts a whole face, row or raceway of the schedule in."""
        value, places = self._tree.part(scheduled, path)
        self.result.places.update(places)
        self._put(path, value, places[path] if path in places else next(iter(places.values())))

    def _put(self, path: KeyPath, value: Value, place: CellPlace) -> None:
        try:
            self.result.text = put(self.result.text, path, value, keys_in_order)
        except CannotEdit as error:
            self.result.problems.append(place.problem(str(error), _BY_HAND))
        self._content = content(self.result.text)

    def _at(self, path: KeyPath) -> Any:
        return value_at(self._content, path)


def _word(table: Any, key: str) -> str:
    return str(table.get(key, "")).lower() if isinstance(table, dict) else ""


def _count(raceway: ScheduledRaceway) -> int:
    text = raceway.text("count")
    return int(text) if text.isascii() and text.isdecimal() and len(text) < 4 else 1
