"""Turns what a schedule says of an enclosure into the nested keys of a job file, each with its cell."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from templates_engine.errors import Problem
from templates_engine.job.text.edit import Value
from templates_engine.job.text.key_paths import KeyPath
from templates_engine.office.schedules.cell_places import CellPlace, ReadCell
from templates_engine.office.schedules.scheduled_jobs import ScheduledFace, ScheduledJob


@dataclass
class JobTree:
    """A whole job as nested keys, and the cells of its values by their paths."""

    content: dict[str, Any]
    places: dict[KeyPath, CellPlace]

    def part(self, path: KeyPath, new_path: KeyPath) -> tuple[Any, dict[KeyPath, CellPlace]]:
        """What stands at a path, with its cells by their paths below another one."""
        value: Any = self.content
        for step in path:
            value = value[step]
        depth = len(path)
        cells = {(*new_path, *key[depth:]): one for key, one in self.places.items() if key[:depth] == path}
        return value, cells


def tree_of(job: ScheduledJob, adapted: Callable[[ReadCell], Value] = lambda cell: cell.value) -> JobTree:
    """The job that a schedule alone makes; ``adapted`` says what is written for a cell."""
    tree = JobTree({}, {(): job.first})
    _put_all(tree, (), job.cells, adapted)
    for at, face in enumerate(job.faces):
        here: KeyPath = ("faces", at)
        tree.places[here] = face.rows[0].raceways[0].place
        _put_all(tree, here, face.cells, adapted)
        for number, row in enumerate(face.rows):
            _put_all(tree, (*here, "rows", number), row.cells, adapted)
            for place, raceway in enumerate(row.raceways):
                path = (*here, "rows", number, "raceways", place)
                tree.places[path] = raceway.place
                _put_all(tree, path, raceway.cells, adapted)
    return tree


def rows_missing(face: ScheduledFace) -> Iterator[Problem]:
    """What is wrong with the letters of a face whose rows all come from the schedule."""
    for at, row in enumerate(face.rows):
        if row.letter != chr(ord("A") + at):
            wrong = f"Row {row.letter} of the {face.word} has no row before it."
            yield row.raceways[0].place.problem(wrong, "Name the rows A, B, C, from the back to the front.")
            return


def _put_all(
    tree: JobTree, path: KeyPath, cells: Sequence[ReadCell], adapted: Callable[[ReadCell], Value]
) -> None:
    for cell in cells:
        full = (*path, *cell.field.path)
        tree.places[full] = cell.place
        _put(tree.content, full, adapted(cell))
    if path[-2:-1] == ("raceways",) and not cells:
        _put(tree.content, (*path, "type"), "")


def _put(tree: Any, path: KeyPath, value: Value) -> None:
    """Puts a value in, making keys and entries on the way; entries come in their order."""
    for step, following in pairwise(path):
        if isinstance(step, int):
            if step == len(tree):
                tree.append([] if isinstance(following, int) else {})
            tree = tree[step]
        else:
            tree = tree.setdefault(step, [] if isinstance(following, int) else {})
    tree[path[-1]] = value
