"""Turns the tables of `schema.py` into a JSON Schema, so that an editor completes keys and shows help."""

from __future__ import annotations

from typing import Any

from templates_engine.job.schema import WrittenJob
from templates_engine.job.shop.schema import WrittenShop
from templates_engine.job.written_tables import Key, Way, WrittenTable

_DIALECT = "https://json-schema.org/draft/2020-12/schema"


def json_schema() -> dict[str, Any]:
    """The schema of a job file; takes numbers and truth values where an editor reads them from plain text."""
    return _file(WrittenJob, "Job file")


def shop_json_schema() -> dict[str, Any]:
    """The schema of a shop file, made alike."""
    return _file(WrittenShop, "Shop file")


def _file(root: type[WrittenTable], title: str) -> dict[str, Any]:
    parts = {table.__name__: _table(table) for table in root.tables() if table is not root}
    return {"$schema": _DIALECT, "title": title, **_table(root), "$defs": parts}


def _table(table: type[WrittenTable]) -> dict[str, Any]:
    """Keys may be left out, but not written without a value: there is no null."""
    keys = table.keys_by_name().values()
    needed = {"required": list(table.needed)} if table.needed else {}
    return {
        "type": "object",
        "description": table.__doc__,
        "properties": {key.name: _key(key) for key in keys},
        "additionalProperties": False,
        **needed,
    }


def _key(key: Key) -> dict[str, Any]:
    return {**_one_of(key.ways), "description": key.help, "examples": list(key.examples)}


def _one_of(ways: tuple[Way, ...]) -> dict[str, Any]:
    made = [_way(way) for way in ways]
    return made[0] if len(made) == 1 else {"oneOf": made}


def _way(way: Way) -> dict[str, Any]:
    if way.table:
        return {"$ref": f"#/$defs/{way.table.__name__}"}
    return way.text.schema if way.text else {"type": "array", "items": _one_of(way.entries)}
