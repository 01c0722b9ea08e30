"""Turns a small file that says what a schedule calls its columns, and what holds for all rows, into both."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from templates_engine.errors import JobProblems, Problem
from templates_engine.job.text.file import FileKind, file_name, load_text
from templates_engine.job.text.yaml_tree import YamlTree, parse
from templates_engine.office.schedules.cell_places import CellPlace, ReadCell
from templates_engine.office.schedules.cell_values import CellError
from templates_engine.office.schedules.cells import read_cell
from templates_engine.office.schedules.fields import ScheduleField, field_for, known_headings, plain
from templates_engine.trade.not_in_tables import nearest
from templates_engine.values import Struct

NOT_USED = "not used"
_KIND = FileKind(
    "headings",
    "Begin with `headings:` or `values:` at the start of a line.",
    "Keep the headings that the schedule has.",
)
_PARTS = ("headings", "values")


class Headings(Struct, frozen=True):
    """What a schedule's headings mean, and cells for rows that have none of their own."""

    columns: Mapping[str, tuple[ScheduleField | None, str]]
    """By the plain heading: the column with its unit, or None where it is not to be used."""
    values: Mapping[str, ReadCell]
    """By the column's own heading."""

    def column_of(self, heading: str) -> tuple[ScheduleField | None, str] | None:
        """The column of a heading, by the file before the usual words; None where nobody knows it."""
        return self.columns.get(plain(heading)) or field_for(heading)


NO_HEADINGS = Headings({}, {})


def read_headings(path: Path) -> Headings:
    """The file's headings and values. Raises JobProblems with everything that is wrong."""
    file = file_name(path)
    tree = parse(load_text(path, _KIND), file, _KIND)
    problems = [problem for _, problem in tree.problems]
    for part, inside in tree.content.items():
        if part not in _PARTS or not isinstance(inside, dict):
            remedy = "Write `headings:` or `values:`, and below it what is what, such as `Panel: enclosure`."
            problems.append(_problem(tree, file, (part,), "This is not known here.", remedy))
    columns = dict(_columns(tree, file, problems))
    values = dict(_values(tree, file, problems))
    if problems:
        raise JobProblems(problems)
    return Headings(columns, values)


def _columns(tree: YamlTree, file: str, problems: list[Problem]) -> Any:
    for name, meant in _part(tree, "headings").items():
        found = field_for(meant) if isinstance(meant, str) else None
        if found is None and plain(str(meant)) != NOT_USED:
            remedy = f"{_hint(str(meant))}Write the heading of a column, or: {NOT_USED}."
            path = ("headings", name)
            problems.append(_problem(tree, file, path, f"'{meant}' is no column of a schedule.", remedy))
            continue
        yield plain(name), found or (None, "")


def _values(tree: YamlTree, file: str, problems: list[Problem]) -> Any:
    for name, text in _part(tree, "values").items():
        path = ("values", name)
        found = field_for(name)
        if found is None or not isinstance(text, str):
            remedy = f"{_hint(name)}Write the heading of a column, and one value."
            problems.append(_problem(tree, file, path, f"'{name}' is no column of a schedule.", remedy))
            continue
        try:
            cell = read_cell(text, *found)
        except CellError as error:
            problems.append(_problem(tree, file, path, error.message, error.remedy))
            continue
        if cell is not None:
            place = CellPlace(file, f"line {tree.keys[path].line}, values ({name})")
            yield found[0].heading, ReadCell(found[0], cell.value, place)


def _part(tree: YamlTree, name: str) -> dict[str, Any]:
    part = tree.content.get(name)
    return part if isinstance(part, dict) else {}


def _problem(tree: YamlTree, file: str, path: tuple[str, ...], message: str, remedy: str) -> Problem:
    return Problem(message, remedy, file, tree.keys[path].line, ".".join(path))


def _hint(word: str) -> str:
    near = nearest(plain(word), known_headings())
    return f"Did you mean {near}? " if near else ""
