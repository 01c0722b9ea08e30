"""Turns the rows of a schedule into what it says of each enclosure, its faces, rows and raceways."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from templates_engine.errors import Problem
from templates_engine.office.schedules.cell_places import CellPlace, ReadCell, ReadRow
from templates_engine.office.schedules.fields import COUNT, FACE, FIELDS, MARK, RACEWAY, ROW, Level
from templates_engine.office.schedules.same_meaning import is_same, unit_of
from templates_engine.trade.not_in_tables import NotInTables
from templates_engine.trade.raceways import look_up
from templates_engine.units import Unit
from templates_engine.values import Struct


@dataclass
class ScheduledRow:
    """A row of a face: what is said of it, and its raceways in order."""

    letter: str
    cells: list[ReadCell] = field(default_factory=list)
    raceways: list[ScheduledRaceway] = field(default_factory=list)


class ScheduledRaceway(Struct, frozen=True):
    """A raceway, or several alike, with the row of the schedule it stands in."""

    place: CellPlace
    cells: tuple[ReadCell, ...]

    def text(self, heading: str) -> str:
        """What a cell says; empty where there is none."""
        found = next((one.value for one in self.cells if one.field.heading == heading), "")
        return found if isinstance(found, str) else ""


@dataclass
class ScheduledFace:
    """A face: what is said of it, and its rows."""

    word: str
    cells: list[ReadCell] = field(default_factory=list)
    rows: list[ScheduledRow] = field(default_factory=list)


@dataclass
class ScheduledJob:
    """All that a schedule says of one enclosure."""

    mark: str
    first: CellPlace
    cells: list[ReadCell] = field(default_factory=list)
    faces: list[ScheduledFace] = field(default_factory=list)
    is_whole: bool = True
    """Whether every cell of its rows could be read."""

    @property
    def unit(self) -> Unit:
        """The unit of bare numbers in the schedule."""
        return unit_of(next((one.value for one in self.cells if one.field.heading == "units"), None))


def jobs_of(rows: Sequence[ReadRow]) -> tuple[tuple[ScheduledJob, ...], tuple[Problem, ...]]:
    """The enclosures in the order they first come, and what speaks against it."""
    jobs: dict[str, ScheduledJob] = {}
    problems: list[Problem] = []
    for row in rows:
        missing = [one.heading for one in (MARK, FACE) if not row.text(one)]
        if missing and row.is_whole:
            words = " and ".join(missing)
            remedy = "Write it in every row, or once for all under `values:` in a file of --headings."
            problems.append(row.place.problem(f"{words} not given.", remedy))
        mark = row.text(MARK)
        if mark:
            job = jobs.setdefault(_same_mark(mark), ScheduledJob(mark, row.place))
            job.is_whole &= row.is_whole and not missing
            if not missing:
                _add(job, row, problems)
    return tuple(jobs.values()), tuple(problems)


def _same_mark(mark: str) -> str:
    return " ".join(mark.lower().split())


def _add(job: ScheduledJob, row: ReadRow, problems: list[Problem]) -> None:
    """A raceway to its job, with what its row says of job, face and row."""
    for level in ("job", "enclosure"):
        _agree(job.cells, _cells(row, level), job, problems)
    letter = row.text(ROW).upper() or "A"
    if not re.fullmatch("[A-Z]", letter):
        wrong = f"'{row.text(ROW)}' is no row."
        problems.append(row.cells[ROW.heading].place.problem(wrong, "Write A, B, C, ..."))
        job.is_whole = False
        return
    word = row.text(FACE).lower()
    face = next((one for one in job.faces if one.word == word), None)
    if face is None:
        face = ScheduledFace(word)
        job.faces.append(face)
    _agree(face.cells, _cells(row, "face"), job, problems)
    line = next((one for one in face.rows if one.letter == letter), None)
    if line is None:
        line = ScheduledRow(letter)
        face.rows.append(line)
        face.rows.sort(key=lambda one: one.letter)
    _agree(line.cells, _cells(row, "row"), job, problems)
    line.raceways.append(ScheduledRaceway(row.place, tuple(_of_raceway(row))))


def _cells(row: ReadRow, level: Level) -> list[ReadCell]:
    return [
        row.cells[one.heading]
        for one in FIELDS
        if one.level == level and one is not ROW and one.heading in row.cells
    ]


def _agree(
    known: list[ReadCell], cells: Sequence[ReadCell], job: ScheduledJob, problems: list[Problem]
) -> None:
    """Takes up what a row says of the things it shares with others; two rows may not say two things."""
    for cell in cells:
        before = next((one for one in known if one.field is cell.field), None)
        if before is None:
            known.append(cell)
        elif cell.field is not MARK and not is_same(cell.field, before.value, cell.value, job.unit):
            wrong = (
                f"{cell.field.heading} of {job.mark} is '{cell.value}' here, but "
                f"'{before.value}' in {before.place.words}."
            )
            problems.append(cell.place.problem(wrong, "Write the same in both, or in one alone."))
            job.is_whole = False


def _of_raceway(row: ReadRow) -> Iterator[ReadCell]:
    """A raceway's own cells, size and type apart, the size by its name where the type has it."""
    cells = {one.field.heading: one for one in _cells(row, "raceway")}
    both = cells.pop(RACEWAY.heading, None)
    if both is not None and isinstance(both.value, dict):
        for one in FIELDS:
            if one.heading in both.value and one.level == "raceway":
                cells.setdefault(one.heading, ReadCell(one, both.value[one.heading], both.place))
    size, kind = cells.get("size"), cells.get("type")
    if size is not None and kind is not None:
        cells["size"] = ReadCell(size.field, _size_name(str(kind.value), str(size.value)), size.place)
    if COUNT.heading in cells and cells[COUNT.heading].value == "1":
        del cells[COUNT.heading]
    yield from sorted(cells.values(), key=lambda one: FIELDS.index(one.field))


def _size_name(type: str, size: str) -> str:
    try:
        return look_up(type, size).trade_size
    except NotInTables:
        return size
