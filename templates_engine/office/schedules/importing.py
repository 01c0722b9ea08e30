"""Turns a schedule into new job files, changes of those that are there, and what is wrong with its cells;
writes nothing.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Mapping
from pathlib import Path

from templates_engine.errors import JobProblems, Problem
from templates_engine.job.read.job import read_job_text
from templates_engine.job.shop.find import shop_beside
from templates_engine.job.text.edit import CannotEdit, content
from templates_engine.job.text.file import load_text
from templates_engine.job.text.key_paths import KeyPath, plain_path
from templates_engine.office.building import job_files
from templates_engine.office.schedules.cell_places import CellPlace
from templates_engine.office.schedules.fields import FIELDS
from templates_engine.office.schedules.headings import NO_HEADINGS, Headings
from templates_engine.office.schedules.job_edits import edited
from templates_engine.office.schedules.job_tree import rows_missing, tree_of
from templates_engine.office.schedules.new_file import new_text
from templates_engine.office.schedules.read_sheets import read_sheets
from templates_engine.office.schedules.read_table import read_table
from templates_engine.office.schedules.scheduled_jobs import ScheduledJob, jobs_of
from templates_engine.values import Struct

_MOST_NAME = 60
"""Characters of a file's name; no mark is longer."""
_NO_FILE_NAME = re.compile(r"(con|prn|aux|nul|com[0-9]|lpt[0-9]|shop)", re.IGNORECASE)
"""Names that mean something else: devices of Windows, and the shop file."""


class JobChange(Struct, frozen=True):
    """A job file as it becomes; ``old`` is None for a new one."""

    path: Path
    mark: str
    old: str | None
    text: str
    raceways: int

    @property
    def is_changed(self) -> bool:
        return self.text != self.old

    def difference(self) -> str:
        """The lines that change, a little round them, as the usual two-way difference."""
        lines = difflib.unified_diff(
            (self.old or "").splitlines(),
            self.text.splitlines(),
            f"{self.path} as it is",
            f"{self.path} as the schedule says",
            lineterm="",
            n=1,
        )
        return "\n".join(lines)


class Imported(Struct, frozen=True):
    """What a schedule makes: files that can be written, what is wrong with it, and what is to be told."""

    changes: tuple[JobChange, ...]
    problems: tuple[Problem, ...]
    notes: tuple[str, ...]
    kept_back: tuple[str, ...]
    """Marks of enclosures with problems, of which nothing is to be written."""


def import_schedule(
    schedule: Path, folder: Path, headings: Headings = NO_HEADINGS, sheet: str | None = None
) -> Imported:
    """What the schedule makes of the folder's jobs. Raises ScheduleProblems where nothing can be read."""
    table = read_table(read_sheets(schedule), headings, sheet)
    jobs, problems = jobs_of(table.rows)
    there = _Folder(folder)
    made = [_ImportedEnclosure(job, there, schedule.name) for job in jobs]
    wrong = [*table.problems, *problems, *(problem for one in made for problem in one.problems)]
    return Imported(
        changes=tuple(one.change for one in made if one.change is not None),
        problems=tuple(dict.fromkeys(wrong)),
        notes=(*table.notes, *there.notes, *(note for one in made for note in one.notes)),
        kept_back=tuple(one.mark for one in made if one.change is None),
    )


class _Folder:
    """The jobs that are there, by the marks of their enclosures, and the names that are taken."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.notes: list[str] = []
        self._by_mark: dict[str, list[tuple[Path, str]]] = {}
        self._taken: set[str] = set()
        for path in job_files([folder], or_none=True) if folder.is_dir() else ():
            try:
                text = load_text(path)
                mark = content(text).get("enclosure", {}).get("mark", "")
            except (JobProblems, CannotEdit, AttributeError):
                self.notes.append(f"{path}: it cannot be read as a job, and is left alone.")
                continue
            self._by_mark.setdefault(_plain(str(mark)), []).append((path, text))

    def of(self, mark: str) -> list[tuple[Path, str]]:
        """The files of an enclosure with their texts."""
        return self._by_mark.get(_plain(mark), [])

    def new_path(self, mark: str) -> Path | None:
        """Where a new job goes; None where something else has that name."""
        name = re.sub(r"[^\w. -]+", "-", mark)[:_MOST_NAME].strip(" .-") or "enclosure"
        if _NO_FILE_NAME.fullmatch(name):
            name = f"{name}-1"
        path = self.folder / f"{name}.yaml"
        if path.exists() or name.lower() in self._taken:
            return None
        self._taken.add(name.lower())
        return path


def _plain(mark: str) -> str:
    return " ".join(mark.lower().split())


class _ImportedEnclosure:
    """What becomes of one enclosure of a schedule."""

    def __init__(self, job: ScheduledJob, there: _Folder, source: str) -> None:
        self.mark = job.mark
        self.change: JobChange | None = None
        self.notes: list[str] = []
        self.problems: list[Problem] = []
        self._job = job
        found = there.of(job.mark)
        if len(found) > 1:
            words = " and ".join(str(path) for path, _ in found)
            self._refuse(f"{job.mark} is the enclosure of {words}.", "Give each enclosure a mark of its own.")
        elif found:
            self._edit(*found[0])
        else:
            self._start(there, source)

    def _edit(self, path: Path, text: str) -> None:
        edit = edited(text, str(path), self._job)
        self.problems += edit.problems
        self.notes += edit.notes
        self._finish(path, text, edit.text, edit.places)

    def _start(self, there: _Folder, source: str) -> None:
        path = there.new_path(self.mark)
        if path is None:
            wrong = (
                f"A file for {self.mark} would have the name of one that is there, or of another enclosure's."
            )
            self._refuse(wrong, "Give it another mark, or rename that file.")
            return
        self.problems += [problem for face in self._job.faces for problem in rows_missing(face)]
        tree = tree_of(self._job)
        self._finish(path, None, new_text(tree, source), tree.places)

    def _finish(self, path: Path, old: str | None, text: str, places: Mapping[KeyPath, CellPlace]) -> None:
        """Reads the text as the job it will be; it becomes a change only without any problem."""
        raceways = 0
        try:
            read = read_job_text(text, str(path), shop_beside(path))
            raceways = sum(len(row.raceways) for face in read.faces for row in face.rows)
        except JobProblems as error:
            by_words = {plain_path(place): cell for place, cell in places.items()}
            told = (_at_its_cell(problem, by_words, is_new=old is None) for problem in error.problems)
            self.problems += [one for one in told if self._job.is_whole or not _is_missing(one)]
        if not self.problems and self._job.is_whole:
            self.change = JobChange(path, self.mark, old, text, raceways)

    def _refuse(self, message: str, remedy: str) -> None:
        self.problems.append(self._job.first.problem(message, remedy))


# --- what the reader of jobs says, at the cells it is about -------------------------------------------------


def _at_its_cell(problem: Problem, places: Mapping[str, CellPlace], *, is_new: bool) -> Problem:
    """The problem at the cell its value comes from, else in a new file at the row; else as it is."""
    key = problem.key
    while key and key not in places:
        key = key[: max(key.rfind("."), key.rfind("["), 0)]
    place = places.get(key)
    if place is None or not (place.is_cell or is_new):
        return problem
    remedy = _column_remedy(problem) if _is_missing(problem) else problem.remedy
    return place.problem(problem.message, remedy)


def _is_missing(problem: Problem) -> bool:
    return problem.message.endswith(("is missing.", "not given."))


def _column_remedy(problem: Problem) -> str:
    name = problem.key.rpartition(".")[2]
    heading = next((one.heading for one in FIELDS if one.path[-1:] == (name,)), "")
    if not heading:
        return problem.remedy
    return f"Add a column {heading}, or write {heading} under `values:` in a file of --headings."
