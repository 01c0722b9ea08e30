"""Turns files and folders into the jobs of a building, one bad job not keeping the others from being read."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import Generic, TypeVar

from templates_engine.errors import JobProblems, Problem, TemplatesError
from templates_engine.job import read_job
from templates_engine.job.model import Job
from templates_engine.values import Struct

SolvedT = TypeVar("SolvedT")
_SUFFIXES = (".yaml", ".yml")
_NO_JOBS = ("shop.yaml", "shop.yml")


class Building(Generic[SolvedT], Struct, frozen=True):
    """What became of every job: what was made of it, by its file, or what is wrong with it."""

    solved: tuple[tuple[Path, SolvedT], ...]
    failed: tuple[tuple[Path, TemplatesError], ...]

    @property
    def problems(self) -> tuple[Problem, ...]:
        """All that is wrong, in the order of the files."""
        return tuple(problem for _, error in self.failed for problem in error.problems)


def read_building(paths: Sequence[Path], solve: Callable[[Job], SolvedT]) -> Building[SolvedT]:
    """Every job of the files and folders with ``solve`` done to it.

    Raises JobProblems where they hold no job at all.
    """
    solved: list[tuple[Path, SolvedT]] = []
    failed: list[tuple[Path, TemplatesError]] = []
    for path in job_files(paths):
        try:
            solved.append((path, solve(read_job(path))))
        except TemplatesError as error:
            failed.append((path, error))
    return Building(tuple(solved), tuple(failed))


class FoundJobs(Struct, frozen=True):
    """The job files that were found, and what is wrong with the places they were looked for in."""

    files: tuple[Path, ...]
    problems: tuple[Problem, ...]


def job_files(paths: Sequence[Path], *, or_none: bool = False) -> tuple[Path, ...]:
    """The files as named, and those of the folders by name, folder after folder; none of them twice.

    Raises JobProblems for a folder that cannot be looked into, since its jobs would be missing, and for one
    without any, unless there may be none.
    """
    found = find_jobs(paths, or_none=or_none)
    if found.problems:
        raise JobProblems(found.problems)
    return found.files


def find_jobs(paths: Sequence[Path], *, or_none: bool = False) -> FoundJobs:
    """The same, what is wrong with one folder not keeping the others from being looked into."""
    found: dict[str, Path] = {}
    problems: list[Problem] = []
    for path in paths:
        inside = list(_jobs_below(path, problems)) if path.is_dir() else [path]
        if not inside and not or_none and not problems:
            remedy = "Name a folder with job files (.yaml) in it."
            problems.append(Problem("no job file is in this folder.", remedy, file=str(path)))
        for one in inside:
            found.setdefault(os.path.realpath(one), one)
    return FoundJobs(tuple(found.values()), tuple(problems))


def _jobs_below(folder: Path, problems: list[Problem]) -> Iterator[Path]:
    """The job files of a folder and of the folders in it, hidden ones left out."""

    def note(error: OSError) -> None:
        why = (error.strerror or "refused").lower()
        remedy = "Ask its owner for permission, or name the other folders one by one."
        problems.append(Problem(f"the folder cannot be read: {why}.", remedy, file=str(error.filename)))

    for place, folders, names in os.walk(folder, onerror=note):
        folders[:] = sorted(name for name in folders if not name.startswith("."))
        for name in sorted(names):
            is_job = name.lower().endswith(_SUFFIXES) and name.lower() not in _NO_JOBS
            if is_job and not name.startswith("."):
                yield Path(place, name)


def name_from(folder: Path, path: Path) -> str:
    """A file's name from a folder on; its whole name where they lie on different disks."""
    whole = os.path.abspath(path)
    try:
        return Path(os.path.relpath(whole, os.path.abspath(folder))).as_posix()
    except ValueError:
        return Path(whole).as_posix()
