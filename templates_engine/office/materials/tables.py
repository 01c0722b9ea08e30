"""Turns materials into tables: for each enclosure, in all, and how they were counted."""

from __future__ import annotations

import math
from collections.abc import Iterator

from templates_engine.office.materials.items import Item
from templates_engine.office.materials.needed import EnclosureMaterials, Materials
from templates_engine.units import MM_PER_INCH, Unit
from templates_engine.writers.typed_table import Cell, TypedColumn, TypedTable, table_text

IN_ALL = "in all"
_WHAT = (TypedColumn("group"), TypedColumn("what"), TypedColumn("size"), TypedColumn("detail"))
_LONG: dict[Unit, tuple[str, float]] = {"in": ("ft", 12.0), "mm": ("m", 1000 / MM_PER_INCH)}
"""What long things are counted in, and how many inches it has."""


def in_all_table(needed: Materials, spare_percent: float) -> TypedTable:
    """Everything together, and how much of it to order."""
    columns = (
        *_WHAT,
        TypedColumn("needed", "number"),
        TypedColumn("unit"),
        TypedColumn(_order_heading(spare_percent), "whole"),
    )
    rows = tuple(
        (
            *_what(item),
            *_quantity(item, needed.unit),
            _to_order(item, needed.unit, spare_percent),
            _holes(item),
        )
        for item in needed.in_all
    )
    return TypedTable("materials", (*columns, TypedColumn("holes", "whole")), rows, needed.sources)


def by_enclosure_table(needed: Materials) -> TypedTable:
    """What each enclosure needs, without spare."""
    columns = (
        *(TypedColumn("enclosure"), TypedColumn("job file")),
        *_WHAT,
        *(TypedColumn("needed", "number"), TypedColumn("unit"), TypedColumn("holes", "whole")),
    )
    rows = tuple(
        (one.mark, one.file, *_what(item), *_quantity(item, needed.unit), _holes(item))
        for one in needed.enclosures
        for item in one.items
    )
    return TypedTable("by enclosure", columns, rows)


def not_counted_table(needed: Materials) -> TypedTable:
    """What the jobs leave open."""
    columns = (TypedColumn("enclosure"), TypedColumn("job file"), TypedColumn("not counted"))
    return TypedTable("not counted", columns, needed.not_counted)


def tables(needed: Materials, spare_percent: float) -> tuple[TypedTable, ...]:
    """All of it, a sheet of a workbook each."""
    return in_all_table(needed, spare_percent), by_enclosure_table(needed), not_counted_table(needed)


def one_table(needed: Materials, spare_percent: float) -> TypedTable:
    """The enclosures and then all together in one table, for a file that holds but one."""
    each, together = by_enclosure_table(needed), in_all_table(needed, spare_percent)
    rows = [(*row[:-1], None, row[-1]) for row in each.rows]
    rows += [(IN_ALL, None, *row) for row in together.rows]
    rows += [(mark, file, "not counted", words, *[None] * 6) for mark, file, words in needed.not_counted]
    return TypedTable("materials", (*each.columns[:2], *together.columns), tuple(rows))


def materials_text(needed: Materials, spare_percent: float) -> str:
    """The tables one after another, with what is not counted and how it was counted."""
    parts = (
        [_enclosure_text(one, needed.unit) for one in needed.enclosures] if len(needed.enclosures) > 1 else []
    )
    count = len(needed.enclosures)
    title = f"In all, of {count} enclosures" if count > 1 else _title(needed.enclosures[0])
    parts.append(f"{title}\n{table_text(in_all_table(needed, spare_percent))}")
    if needed.not_counted:
        parts.append("\n".join(["Not counted:", *_not_counted_lines(needed)]) + "\n")
    parts.append("\n".join(["From where, and how it was counted:", *needed.sources]) + "\n")
    return "\n".join(parts)


def _not_counted_lines(needed: Materials) -> Iterator[str]:
    """What is not counted, each sentence once with all it is said of."""
    said: dict[str, list[str]] = {}
    for mark, file, words in needed.not_counted:
        said.setdefault(words, []).append(f"{mark} ({file})" if mark else file)
    for words, whose in said.items():
        yield f"{', '.join(whose)}: {words}"


def _enclosure_text(one: EnclosureMaterials, unit: Unit) -> str:
    columns = (*_WHAT, TypedColumn("needed", "number"), TypedColumn("unit"), TypedColumn("holes", "whole"))
    rows = tuple((*_what(item), *_quantity(item, unit), _holes(item)) for item in one.items)
    return f"{_title(one)}\n{table_text(TypedTable('', columns, rows))}"


def _title(one: EnclosureMaterials) -> str:
    return f"{one.mark} ({one.file})"


def _order_heading(spare_percent: float) -> str:
    return f"with {spare_percent:g} % spare" if spare_percent else "to bring"


def _what(item: Item) -> tuple[Cell, ...]:
    return (item.group, item.what, item.size, item.detail)


def _quantity(item: Item, unit: Unit) -> Iterator[Cell]:
    """How much, and of what: pieces, or feet or metres up to the next tenth."""
    if not item.is_length:
        yield from (int(item.quantity), "each")
        return
    name, inches = _LONG[unit]
    yield from (math.ceil(round(item.quantity / inches * 10, 6)) / 10, name)


def _to_order(item: Item, unit: Unit, spare_percent: float) -> int:
    """In whole pieces, feet or metres."""
    quantity = item.with_spare(spare_percent)
    return math.ceil(round(quantity / _LONG[unit][1], 6)) if item.is_length else int(quantity)


def _holes(item: Item) -> int | None:
    return item.holes or None
