"""Turns a YAML file of published figures into rows, each with its source; reads it when first asked for.

Every scalar is read as text and converted on purpose: a trade size and a wire size are names, not numbers.
Leaves to each table's own module what its columns mean.

A table file::

    title: ...                  shown above the table
    note: ...                   may be left out
    columns: [size, diameter]   how many cells each row has, and their names
    blocks:
      - group: EMT              may be left out; what the rows of this block belong to
        source: ANSI C80.3      title, edition, place
        how: read ...           begins with one of HOW_HAD
        rows:
          - [1/2, 0.706]
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

from templates_engine.errors import Problem, TemplatesError
from templates_engine.values import Struct

_FOLDER = Path(__file__).resolve().parent / "tables"
HOW_HAD = ("read", "computed", "from memory", "common practice, no source")
NOT_GIVEN = "-"
"""What a cell holds where the source gives no figure."""


class DamagedTable(TemplatesError):
    """A table of this package is not as it must be: a defect of the installation, not of the job."""

    def __init__(self, message: str) -> None:
        super().__init__([Problem(f"{message}.", "Install templates-engine again, or mend the table.")])


class TableRow(Struct, frozen=True):
    """One row as text; ``line`` counts from 1."""

    table: str
    line: int
    group: str
    cells: tuple[tuple[str, str], ...]
    source: str
    provenance: str

    def text(self, column: str) -> str:
        """The cell as written."""
        for name, cell in self.cells:
            if name == column:
                return cell
        raise DamagedTable(f"{self.table}.yaml has no column '{column}'")

    def inches(self, column: str) -> float:
        """The cell as a positive decimal number. Raises DamagedTable."""
        cell = self.text(column)
        whole, point, part = cell.partition(".")
        if not (whole.isdecimal() and cell.isascii() and (part.isdecimal() if point else True)):
            raise self.damaged(f"'{cell}' is no decimal number")
        value = float(cell)
        if value <= 0:
            raise self.damaged(f"'{cell}' must be more than zero")
        return value

    def whole(self, column: str) -> int:
        """The cell as a whole number. Raises DamagedTable."""
        cell = self.text(column)
        if not (cell.isascii() and cell.isdecimal()):
            raise self.damaged(f"'{cell}' is no whole number")
        return int(cell)

    def damaged(self, what: str) -> DamagedTable:
        """The error that says where this row stands."""
        return DamagedTable(f"{self.table}.yaml:{self.line}: {what}")


class TableFile(Struct, frozen=True):
    """A whole table as text."""

    name: str
    title: str
    note: str
    columns: tuple[str, ...]
    rows: tuple[TableRow, ...]


def table_names() -> tuple[str, ...]:
    """The names of all tables, sorted."""
    return tuple(sorted(path.stem for path in _FOLDER.glob("*.yaml")))


@cache
def read_table(name: str) -> TableFile:
    """The table of that name, read once. Raises DamagedTable."""
    path = _FOLDER / f"{name}.yaml"
    try:
        text = path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as error:
        raise DamagedTable(f"{name}.yaml cannot be read ({error})") from error
    return parse_table(name, text)


def parse_table(name: str, text: str) -> TableFile:
    """A table file's text as rows. Raises DamagedTable."""
    import yaml

    loader = getattr(yaml, "CBaseLoader", yaml.BaseLoader)  # the C loader is absent from some builds
    try:
        node = yaml.compose(text, Loader=loader)
    except yaml.YAMLError as error:
        raise DamagedTable(f"{name}.yaml: {error}") from error
    top = _mapping(name, node, {"title", "columns", "blocks"}, {"note"})
    columns = tuple(_scalar(name, cell) for cell in _items(name, top["columns"]))
    rows = tuple(row for block in _items(name, top["blocks"]) for row in _block(name, block, columns))
    note = _scalar(name, top["note"]) if "note" in top else ""
    return TableFile(name, _scalar(name, top["title"]), note, columns, rows)


def _block(name: str, node: Any, columns: tuple[str, ...]) -> list[TableRow]:
    keys = _mapping(name, node, {"source", "how", "rows"}, {"group"})
    group = _scalar(name, keys["group"]) if "group" in keys else ""
    source, provenance = _scalar(name, keys["source"]), _scalar(name, keys["how"])
    if not provenance.startswith(HOW_HAD):
        raise _damaged(name, keys["how"], f"how '{provenance}' begins with none of {HOW_HAD}")
    rows = []
    for row in _items(name, keys["rows"]):
        cells = tuple(_scalar(name, cell) for cell in _items(name, row))
        if len(cells) != len(columns):
            raise _damaged(name, row, f"{len(cells)} cells for {len(columns)} columns")
        line = row.start_mark.line + 1
        rows.append(TableRow(name, line, group, tuple(zip(columns, cells, strict=True)), source, provenance))
    return rows


def _damaged(name: str, node: Any, what: str) -> DamagedTable:
    line = f":{node.start_mark.line + 1}" if node is not None else ""
    return DamagedTable(f"{name}.yaml{line}: {what}")


def _mapping(name: str, node: Any, needed: set[str], others: set[str]) -> dict[str, Any]:
    """The keys of a mapping, each once, all needed ones there and no unknown one."""
    if node is None or node.id != "mapping":
        raise _damaged(name, node, "keys and values should stand here")
    keys: dict[str, Any] = {}
    for key_node, value in node.value:
        key = _scalar(name, key_node)
        if key in keys or key not in needed | others:
            raise _damaged(name, key_node, f"unknown or repeated key '{key}'")
        keys[key] = value
    if missing := needed - keys.keys():
        raise _damaged(name, node, f"missing: {', '.join(sorted(missing))}")
    return keys


def _items(name: str, node: Any) -> list[Any]:
    if node.id != "sequence" or not node.value:
        raise _damaged(name, node, "a list with entries should stand here")
    return list(node.value)


def _scalar(name: str, node: Any) -> str:
    if node.id != "scalar" or not node.value.strip():
        raise _damaged(name, node, "a word or number should stand here")
    return str(node.value)
