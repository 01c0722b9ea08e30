"""Lists, opens and saves the jobs of one folder; a name from outside never reaches the disk as a path."""

from __future__ import annotations

import hashlib
from pathlib import Path

from templates_engine.atomic import write_atomically
from templates_engine.errors import CannotWrite, JobProblems
from templates_engine.job.text.file import load_text
from templates_engine.values import Struct

SUFFIXES = (".yaml", ".yml")
_NOT_JOBS = ("shop.yaml", "shop.yml")
_MOST_LISTED = 500


class FolderProblem(Exception):
    """A job that cannot be opened or saved, in words."""


class OpenedJob(Struct, frozen=True):
    """A job file's text, and the version by which a later save knows that nobody else changed it."""

    name: str
    text: str
    version: str


class Folder:
    """The jobs of a folder, by the names of their files."""

    def __init__(self, place: Path) -> None:
        self.place = place.resolve()

    def names(self) -> tuple[str, ...]:
        """The job files of the folder, by name; what is no ordinary file in it is left out."""
        found = sorted(one.name for one in self.place.iterdir() if self._is_job(one))
        return tuple(found[:_MOST_LISTED])

    def _is_job(self, one: Path) -> bool:
        is_named = (
            one.suffix.lower() in SUFFIXES and one.name not in _NOT_JOBS and not one.name.startswith(".")
        )
        return is_named and one.is_file() and not one.is_symlink()

    def open(self, name: str) -> OpenedJob:
        """A job of the folder. Raises FolderProblem."""
        path = self._path(name)
        if not path.is_file():
            raise FolderProblem(f"There is no job {name} in this folder.")
        try:
            text = load_text(path)
        except JobProblems as error:
            raise FolderProblem(str(error)) from error
        return OpenedJob(name, text, version_of(text))

    def save(self, name: str, text: str, version: str) -> str:
        """Writes a job whole, and only over the text it was opened with; gives its new version.

        ``version`` is "" for a new file. Raises FolderProblem.
        """
        path = self._path(name)
        there = self.open(name).version if path.exists() else ""
        if there != version:
            what = "was changed meanwhile" if version else "is there already"
            raise FolderProblem(f"{name} {what}. Save under another name, or open it again and compare.")
        try:
            write_atomically(path, text.encode())
        except CannotWrite as error:
            raise FolderProblem(str(error)) from error
        return version_of(text)

    def _path(self, name: str) -> Path:
        """The file of that name in this very folder. Raises FolderProblem for any other."""
        path = self.place / name
        plain = name == Path(name).name and "/" not in name and "\\" not in name and "\0" not in name
        if not plain or path.suffix.lower() not in SUFFIXES or name in _NOT_JOBS or name.startswith("."):
            raise FolderProblem("A job's name is letters, digits and spaces, and ends in .yaml.")
        if path.is_symlink() or path.parent.resolve() != self.place:
            raise FolderProblem(f"{name} is a link to somewhere else; open it there.")
        return path


def version_of(text: str) -> str:
    """Tells one text of a job from another."""
    return hashlib.sha256(text.encode()).hexdigest()[:16]
