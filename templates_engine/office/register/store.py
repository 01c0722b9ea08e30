"""Keeps what was drawn in an SQLite file beside the jobs; many processes may do so at once.

Every entry is one transaction: killed at any moment, a run leaves it whole or not begun.
"""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterator, Sequence
from contextlib import closing, contextmanager
from pathlib import Path

from templates_engine.errors import CannotWrite, JobProblems, Problem, TemplatesError
from templates_engine.office.register.faces import RecordedFace
from templates_engine.values import Struct, as_json, from_json

_OURS = 0x74656D70
"""What tells a register from other files of the kind: an application id of SQLite."""
_VERSION = 1
_WAIT_S = 30.0
"""An entry takes milliseconds; a hundred runs at once take their turns in this time."""
_TABLES = f"""
CREATE TABLE drawn (
    number INTEGER PRIMARY KEY,
    job TEXT NOT NULL, mark TEXT NOT NULL, title TEXT NOT NULL, revision TEXT NOT NULL,
    unit TEXT NOT NULL, denominator INTEGER NOT NULL,
    at TEXT NOT NULL, how TEXT NOT NULL, pdf TEXT NOT NULL, text TEXT NOT NULL
);
CREATE TABLE face (
    drawn INTEGER NOT NULL REFERENCES drawn(number),
    face TEXT NOT NULL, fingerprint TEXT NOT NULL, told TEXT NOT NULL
);
CREATE INDEX drawn_by_job ON drawn(job);
CREATE INDEX face_by_fingerprint ON face(fingerprint);
CREATE INDEX face_by_drawn ON face(drawn);
PRAGMA application_id = {_OURS};
PRAGMA user_version = {_VERSION};
"""
_ENTRY = "job, mark, title, revision, unit, denominator, at, how, pdf, text"
DRAWN, DRAFT, FOUND = "drawn", "draft", "found"
"""How an entry came about: a template, one stamped as a draft, or a job found when the register was rebuilt.
"""


class RegisterEntry(Struct, frozen=True):
    """One drawing of one job; no person is named."""

    job: str
    """Its file, below the register's folder."""
    mark: str
    title: str
    revision: str
    unit: str
    denominator: int
    at: str
    """When, as ISO 8601 with the offset from UTC."""
    how: str
    pdf: str
    text: str
    """The job file."""


class EntryFace(Struct, frozen=True):
    """A face of an entry; of two, the one with the larger number was drawn later."""

    number: int
    entry: RegisterEntry
    face: RecordedFace


class Register:
    """The register of one folder."""

    def __init__(self, file: Path) -> None:
        self.file = file

    @property
    def folder(self) -> Path:
        return self.file.parent

    def create(self) -> None:
        """Makes the file; one that is there must be a register. Raises CannotWrite and JobProblems."""
        with self._open(is_new=True) as connection:
            connection.execute("BEGIN IMMEDIATE")
            if connection.execute("PRAGMA application_id").fetchone()[0] == 0 and not _has_tables(connection):
                for line in _TABLES.split(";"):
                    connection.execute(line)
            connection.execute("COMMIT")
        with self._open():
            pass

    def refuse_unwritable(self) -> None:
        """Raises CannotWrite where nothing could be recorded."""
        if not (os.access(self.file, os.W_OK) and os.access(self.folder, os.W_OK)):
            raise _problem(self.file, sqlite3.OperationalError("readonly"))

    def add(self, entry: RegisterEntry, faces: Sequence[RecordedFace]) -> None:
        """Records one drawing, unless it is the last that is recorded of each of its faces."""
        with self._open() as connection:
            connection.execute("BEGIN IMMEDIATE")
            if _is_known(_last_of(connection, entry.job), entry, faces):
                connection.execute("ROLLBACK")
                return
            add_entry(connection, entry, faces)
            connection.execute("COMMIT")

    def last_of(self, job: str) -> dict[str, EntryFace]:
        """What was drawn last of each face of a job, by the face's word."""
        with self._open() as connection:
            return _last_of(connection, job)

    def last_under(self, job: str, revision: str) -> dict[str, EntryFace]:
        """The same of what was drawn under one revision, drafts left out."""
        with self._open() as connection:
            rows = _faces(connection, "WHERE job = ? AND revision = ? AND how != ?", (job, revision, DRAFT))
            return {one.face.face: one for one in rows}

    def drawings_of(self, job: str, face: str) -> tuple[EntryFace, ...]:
        """Every drawing of a face, the oldest first."""
        with self._open() as connection:
            return tuple(_faces(connection, "WHERE job = ? AND face.face = ?", (job, face)))

    def with_fingerprint(self, fingerprint: str) -> tuple[EntryFace, ...]:
        """Every face that was ever drawn with it, the oldest first."""
        with self._open() as connection:
            return tuple(_faces(connection, "WHERE fingerprint = ?", (fingerprint,)))

    def last_of_all(self, *, drafts: bool = True) -> tuple[EntryFace, ...]:
        """The last drawing of every face of every job; without ``drafts`` the last one to mark from."""
        last = (
            "WHERE (number, face.face) IN (SELECT max(number), face.face FROM drawn "
            "JOIN face ON face.drawn = number WHERE how != ? GROUP BY job, face.face)"
        )
        with self._open() as connection:
            return tuple(_faces(connection, last, ("" if drafts else DRAFT,)))

    def all(self) -> tuple[EntryFace, ...]:
        """Every face ever drawn, the oldest first."""
        with self._open() as connection:
            return tuple(_faces(connection, "", ()))

    @contextmanager
    def _open(self, *, is_new: bool = False) -> Iterator[sqlite3.Connection]:
        """A connection that starts no transaction by itself. Raises CannotWrite and JobProblems."""
        try:
            with closing(connected(self.file, "rwc" if is_new else "rw")) as connection:
                if not is_new:
                    self._refuse_other(connection)
                yield connection
        except sqlite3.Error as error:
            raise _problem(self.file, error) from error
        except ValueError as error:  # what is kept of a face cannot be read
            raise damaged(self.file, str(error)) from error

    def _refuse_other(self, connection: sqlite3.Connection) -> None:
        (application,) = connection.execute("PRAGMA application_id").fetchone()
        (version,) = connection.execute("PRAGMA user_version").fetchone()
        if application == 0 and not _has_tables(connection):
            raise damaged(self.file, "it is empty")
        if application != _OURS:
            words = "this file is no register, though it has the name of one."
            raise JobProblems([Problem(words, "Move it elsewhere.", file=str(self.file))])
        if version > _VERSION:
            words = "this register was written by a later version of the program."
            raise JobProblems([Problem(words, "Use that version here too.", file=str(self.file))])


def connected(file: Path, mode: str) -> sqlite3.Connection:
    """A connection without transactions of its own."""
    address = f"{file.absolute().as_uri()}?mode={mode}"
    return sqlite3.connect(address, timeout=_WAIT_S, isolation_level=None, uri=True)


def add_entry(connection: sqlite3.Connection, entry: RegisterEntry, faces: Sequence[RecordedFace]) -> None:
    """Within a transaction of the caller's."""
    values = tuple(getattr(entry, name) for name in _ENTRY.split(", "))
    places = ", ".join("?" * len(values))
    number = connection.execute(f"INSERT INTO drawn ({_ENTRY}) VALUES ({places})", values).lastrowid
    connection.executemany(
        "INSERT INTO face VALUES (?, ?, ?, ?)",
        [(number, one.face, one.fingerprint, as_json(one)) for one in faces],
    )


def faces_where(connection: sqlite3.Connection, number: int) -> list[EntryFace]:
    """The faces of one entry. Raises sqlite3.Error and ValueError."""
    return _faces(connection, "WHERE number = ?", (number,))


def _faces(connection: sqlite3.Connection, where: str, values: Sequence[str | int]) -> list[EntryFace]:
    columns = ", ".join(f"drawn.{name}" for name in _ENTRY.split(", "))
    rows = connection.execute(
        f"SELECT number, {columns}, told FROM drawn JOIN face ON face.drawn = drawn.number {where} "
        "ORDER BY number, face.rowid",
        values,
    ).fetchall()  # before any is read: an error then would keep the file locked
    return [
        EntryFace(number, RegisterEntry(*entry), from_json(told, RecordedFace))
        for number, *entry, told in rows
    ]


def _last_of(connection: sqlite3.Connection, job: str) -> dict[str, EntryFace]:
    return {one.face.face: one for one in _faces(connection, "WHERE job = ?", (job,))}


def _is_known(last: dict[str, EntryFace], entry: RegisterEntry, faces: Sequence[RecordedFace]) -> bool:
    told = (entry.mark, entry.title, entry.revision, entry.how)
    before = [(one, last[one.face]) for one in faces if one.face in last]
    return len(before) == len(faces) and all(
        (was.entry.mark, was.entry.title, was.entry.revision, was.entry.how) == told and was.face == one
        for one, was in before
    )


def _has_tables(connection: sqlite3.Connection) -> bool:
    return bool(connection.execute("SELECT count(*) FROM sqlite_master").fetchone()[0])


# --- what goes wrong ----------------------------------------------------------------------------------------

_CANNOT = {
    "locked": ("other runs have been writing to it for half a minute", "Run again once they are done."),
    "readonly": ("it cannot be written to", "Ask its owner for permission."),
    "full": ("the disk is full", "Free some space, then run again: what is drawn is left alone."),
    "disk i/o": ("the disk refuses to write", "Free some space or mend the disk, then run again."),
    "unable to open": ("it cannot be opened", "Ask its owner for permission to its folder."),
}


def _problem(file: Path, error: sqlite3.Error) -> TemplatesError:
    told = str(error).lower()
    for word, (why, remedy) in _CANNOT.items():
        if isinstance(error, sqlite3.OperationalError) and word in told:
            return CannotWrite([Problem(f"nothing could be recorded: {why}.", remedy, file=str(file))])
    return damaged(file, str(error))


def damaged(file: Path, why: str) -> JobProblems:
    """What is said of a register that cannot be read."""
    words = f"the register is damaged: {why}."
    remedy = f'Run: templates-engine register rebuild "{file.parent}". The damaged file is kept aside.'
    return JobProblems([Problem(words, remedy, file=str(file))])
