"""Turns files and folders into an order a job: their folders are mirrored, their files are all apart."""

from __future__ import annotations

import os
import unicodedata
from collections import defaultdict
from collections.abc import Mapping, Sequence
from pathlib import Path

from templates_engine.errors import CannotWrite, JobProblems, Problem, TemplatesError
from templates_engine.office.building import find_jobs
from templates_engine.office.draw.drawn_before import DrawnBefore
from templates_engine.outputs import beside
from templates_engine.values import Struct


class HowToDraw(Struct, frozen=True):
    """What is asked of all templates of a building alike."""

    draft: bool = False
    printer: str | None = None
    again: bool = False
    """Whether unchanged templates are drawn too."""
    overwrite: tuple[Path, ...] = ()
    same_revision: bool = False
    """Whether a layout may have changed under an unchanged revision; see register/recording.py."""


class DrawOrder(Struct, frozen=True):
    """One job, and where its template goes."""

    job: Path
    into: Path
    name: str
    """The template's, below ``into``: "second floor/LP-2.pdf"."""
    how: HowToDraw
    program: str = ""
    before: DrawnBefore | None = None

    @property
    def pdf(self) -> Path:
        return self.into / self.name

    @property
    def files(self) -> tuple[Path, Path]:
        """All that may be written: the template, and cover pages apart where it is on a roll."""
        return self.pdf, beside(self.pdf, "cover")


class DrawOrders(Struct, frozen=True):
    """One a job in the order of the files, those that cannot be taken, and what is wrong with folders."""

    orders: tuple[DrawOrder, ...]
    refused: Mapping[DrawOrder, TemplatesError]
    problems: tuple[Problem, ...]

    @property
    def taken(self) -> tuple[DrawOrder, ...]:
        return tuple(one for one in self.orders if one not in self.refused)


def draw_orders(paths: Sequence[Path], into: Path, how: HowToDraw) -> DrawOrders:
    """An order for every job of the files and folders.

    Names are kept below the folder that holds all that was named. Raises JobProblems where there is no job
    at all, and CannotWrite for a stray name to be written over.
    """
    found = find_jobs(paths)
    if not found.files:
        raise JobProblems(found.problems)
    base = _folder_of_all(paths)
    orders = [DrawOrder(job, into, _name(job, base), how) for job in found.files]
    _refuse_stray_names(orders, how.overwrite)
    return DrawOrders(tuple(orders), _clashes(orders), found.problems)


def _folder_of_all(paths: Sequence[Path]) -> str:
    folders = [os.path.abspath(path if path.is_dir() else path.parent) for path in paths]
    try:
        return os.path.commonpath(folders)
    except ValueError as error:  # different disks, where a system has such
        remedy = "Draw each disk's into a folder of its own."
        raise JobProblems([Problem("the jobs lie on different disks.", remedy)]) from error


def _name(job: Path, base: str) -> str:
    return Path(os.path.relpath(os.path.abspath(job), base)).with_suffix(".pdf").as_posix()


def _clashes(orders: Sequence[DrawOrder]) -> dict[DrawOrder, TemplatesError]:
    """The jobs that would write one file, whatever the case of its letters: which is meant nobody knows."""
    writers: defaultdict[str, list[DrawOrder]] = defaultdict(list)
    for order in orders:
        for file in order.files:
            writers[plain_name(file)].append(order)
    refused: dict[DrawOrder, TemplatesError] = {}
    for both in writers.values():
        for order in both if len(both) > 1 else ():
            others = " and ".join(str(one.job) for one in both if one is not order)
            words = f"its template would have the name of that of {others}."
            refused[order] = CannotWrite([Problem(words, "Rename one of them.", file=str(order.job))])
    return refused


def plain_name(path: Path) -> str:
    """The same for all names that lead to one file on some disk, whatever the case of their letters."""
    return unicodedata.normalize("NFC", os.path.abspath(path)).casefold()


def _refuse_stray_names(orders: Sequence[DrawOrder], overwrite: Sequence[Path]) -> None:
    written = {os.path.realpath(file) for order in orders for file in order.files}
    stray = [path for path in overwrite if os.path.realpath(path) not in written]
    if stray:
        raise CannotWrite(
            Problem(f"--overwrite names {path}, which no job here writes.", "Name another, or leave it out.")
            for path in stray
        )
