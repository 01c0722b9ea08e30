"""Makes a damaged register anew: what can still be read of it, and what the jobs give today."""

from __future__ import annotations

import contextlib
import os
import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

from templates_engine.atomic import cannot_write, draft_beside
from templates_engine.errors import CannotWrite, Problem, TemplatesError
from templates_engine.job.text.file import load_text
from templates_engine.office.building import name_from
from templates_engine.office.register.faces import RecordedFace
from templates_engine.office.register.find_register import jobs_of
from templates_engine.office.register.recording import now
from templates_engine.office.register.store import (
    FOUND,
    EntryFace,
    Register,
    RegisterEntry,
    add_entry,
    connected,
    faces_where,
)
from templates_engine.office.register.today import JobToday, jobs_today
from templates_engine.values import Struct, replace

_JOURNALS = ("-journal", "-wal", "-shm")
_MOST_LOST = 1000
"""Entries in a row that cannot be read before no more are looked for."""


class Rebuilt(Struct, frozen=True):
    """What became of a register."""

    kept_aside: Path | None
    entries: int
    """Drawings that were saved."""
    found: int
    """Jobs that are known only as they are today: whether they were drawn so, nobody knows."""
    problems: tuple[Problem, ...]


def rebuild(file: Path) -> Rebuilt:
    """Makes a register anew, the old file kept aside. Raises CannotWrite."""
    Register(file).refuse_unwritable()
    try:
        return _rebuilt(file)
    except CannotWrite as error:  # which names the file in the making
        raise CannotWrite(replace(one, file=str(file)) for one in error.problems) from error
    except (OSError, sqlite3.Error) as error:
        reason = error if isinstance(error, OSError) else OSError(0, str(error))
        raise cannot_write(file, reason) from error


def _rebuilt(file: Path) -> Rebuilt:
    saved = list(_saved(file))
    part = draft_beside(file)
    try:
        made = Register(part)
        made.create()
        with closing(connected(part, "rw")) as connection:
            connection.execute("BEGIN IMMEDIATE")
            for entry, faces in saved:
                add_entry(connection, entry, faces)
            connection.execute("COMMIT")
        found, problems = _add_today(made, Register(file))
        aside = _kept_aside(file)
        os.replace(part, file)
    finally:
        part.unlink(missing_ok=True)
    return Rebuilt(aside, len(saved), found, problems)


# --- what can still be read ---------------------------------------------------------------------------------


def _saved(file: Path) -> Iterator[tuple[RegisterEntry, list[RecordedFace]]]:
    """Every entry that can be read whole, one by one."""
    if not file.is_file():
        return
    with contextlib.suppress(sqlite3.Error), closing(connected(file, "ro")) as connection:
        number, lost = 0, 0
        while lost < _MOST_LOST:
            number += 1
            rows = _rows(connection, number)
            lost = 0 if rows else lost + 1
            if rows:
                yield rows[0].entry, [one.face for one in rows]


def _rows(connection: sqlite3.Connection, number: int) -> list[EntryFace]:
    with contextlib.suppress(sqlite3.Error, ValueError):
        return faces_where(connection, number)
    return []


# --- what the jobs are today --------------------------------------------------------------------------------


def _add_today(made: Register, final: Register) -> tuple[int, tuple[Problem, ...]]:
    """Adds the jobs of which nothing was saved, or something else than they are today."""
    found = jobs_of(final.file)
    problems = list(found.problems)
    count = 0
    for file, told in jobs_today(found):
        if isinstance(told, TemplatesError):
            problems += told.problems
            continue
        job = name_from(final.folder, file)
        last = made.last_of(job)
        new = [face for face in told.faces if not _is_known(last.get(face.face), face, told)]
        if new:
            made.add(_entry(job, file, told), new)
            count += 1
    return count, tuple(problems)


def _is_known(last: EntryFace | None, face: RecordedFace, told: JobToday) -> bool:
    return last is not None and (last.entry.revision, last.face.fingerprint) == (
        told.job.revision,
        face.fingerprint,
    )


def _entry(name: str, file: Path, told: JobToday) -> RegisterEntry:
    job = told.job
    return RegisterEntry(
        name, job.enclosure.mark, job.title, job.revision, job.unit, job.denominator, now(), FOUND, "",
        load_text(file),
    )  # fmt: skip


# --- the old file -------------------------------------------------------------------------------------------


def _kept_aside(file: Path) -> Path | None:
    """A copy of the old file under a free name; the journals go with it, for they are not the new one's."""
    if not file.exists():
        return None
    number = 1
    while (aside := file.with_name(f"register-kept-aside-{number}.sqlite")).exists():
        number += 1
    try:
        shutil.copy2(file, aside)
    except OSError:
        aside.unlink(missing_ok=True)
        raise
    for ending in _JOURNALS:
        journal = file.with_name(file.name + ending)
        if journal.exists():
            os.replace(journal, aside.with_name(aside.name + ending))
    return aside
